"""Whether one exit always comes before another, where conditions remember and groups ask first."""

from __future__ import annotations

import pytest
from asked_of import conditions
from demo import check_text, names_of

from planner.graph.possible import implies


@pytest.mark.parametrize(
    ("first", "then", "expected"),
    [
        ("bumper pressed for 0.3 s", "bumper pressed for 0.2 s", True),
        ("bumper pressed for 0.2 s", "bumper pressed for 0.3 s", False),
        ("bumper pressed for 0.2 s", "bumper pressed", True),
        ("bumper pressed", "bumper pressed for 0.2 s", False),
        ("bumper pressed", "once bumper pressed", True),
        ("once bumper pressed", "bumper pressed", False),
        ("bumper pressed for 4 of 5 looks", "bumper pressed for 3 of 5 looks", True),
        ("bumper pressed for 3 of 5 looks", "bumper pressed for 4 of 5 looks", False),
        ("bumper pressed for 3 of 5 looks", "bumper pressed for 3 of 4 looks", False),
        ("arm done and bumper pressed", "arm done", True),
        ("arm done", "arm done or bumper pressed", True),
        ("match > 20 s", "match > 10 s", True),
        ("match > 10 s", "match > 20 s", False),
    ],
)
def test_what_is_remembered(first: str, then: str, expected: bool) -> None:
    """Conditions on several passes are compared by how long and how often they ask."""
    assert expected == implies(*conditions(first, then))


GROUPED = """start A
group Cycle
  when GROUP, go to F
  after 5 s, go to G
  step A
    drive forward 40 %
    when STEP, go to G
    after 3 s, go to G
finish F
finish G
"""


@pytest.mark.parametrize(
    ("group", "step", "expected"),
    [
        ("bumper pressed", "bumper pressed and arm done", ["shadowed-exit"]),
        ("bumper pressed", "bumper pressed", ["shadowed-exit"]),
        ("bumper pressed", "range_front < 8 cm", []),
        # A group counts its readings from its own entry.
        ("drive travelled > 20 cm", "drive travelled > 30 cm", []),
        ("range_front < 20 cm", "range_front < 8 cm", ["shadowed-exit"]),
        ("tin_gate broken", "bumper pressed for 3 s", ["shadowed-exit"]),
        ("tin_gate broken for 5 s", "bumper pressed", ["shadowed-exit"]),
        ("tin_gate broken for 4.9 s", "bumper pressed for 2.9 s", ["never-in-time"]),
        # What a step remembers, its group remembers as well; not the other way round.
        ("bumper pressed for 0.2 s", "bumper pressed for 0.3 s", ["shadowed-exit"]),
        ("bumper pressed for 0.3 s", "bumper pressed for 0.2 s", []),
        ("once tin_gate broken", "once tin_gate broken and bumper pressed", ["shadowed-exit"]),
        ("range_front < 20 cm", "range_front > 10 cm", ["exits-overlap"]),
    ],
)
def test_a_group_is_asked_before_its_steps(group: str, step: str, expected: list[str]) -> None:
    """M4: what a group waits for comes before what its steps wait for, and so does its limit."""
    text = GROUPED.replace("GROUP", group).replace("STEP", step)
    assert expected == [n for n in names_of(check_text(text)) if n != "wait-never-commanded"]
