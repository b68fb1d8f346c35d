"""How far the search of all runs goes while a plan is checked."""

from __future__ import annotations

import pytest
from demo import moth_robot
from grown import lanes, skipping

from planner.checks.timing import MOST_STATES, bounds_for
from planner.pipeline import check_routine
from planner.text import Source


@pytest.mark.parametrize(
    ("text", "states"),
    [(skipping(3), MOST_STATES), (lanes(2, 1), MOST_STATES), (lanes(3, 1), 12_500)],
)
def test_more_clocks_fewer_states(text: str, states: int) -> None:
    """Each state costs more with more clocks, so there are fewer: 216/343 with seven for six."""
    plan = check_routine(Source("x.routine", text), lambda _name: moth_robot()).plan
    assert states == bounds_for(plan).states
