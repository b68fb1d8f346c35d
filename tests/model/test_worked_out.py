"""Numbers that are added up: exact before the start, or worked out from what is remembered."""

from __future__ import annotations

from fractions import Fraction

import pytest
from demo import moth_robot

from planner.model.condition import Compare, Reckoned
from planner.model.memory import Computed
from planner.model.routine import Routine
from planner.model.units import UNITS, Amount
from planner.pipeline import check_routine
from planner.text import Source

HEAD = """routine example
robot moth
limit 30 s
choose delay: 1 s to 3 s, normally 2 s
setting far = 60 cm
setting slow = 1.5 s
setting power = 40 %
memory way = 10 cm
start A
step A
"""
TAIL = """
  remember drive travelled + way as way
  after 9 s, go to B
finish B
"""


def routine(line: str) -> Routine:
    """A routine whose first step holds a line."""
    source = Source("example.routine", f"{HEAD}  {line}{TAIL}")
    return check_routine(source, lambda _name: moth_robot()).plan.routine


# An inch is 2.54 cm exactly, a foot twelve inches (the agreement of 1959).
@pytest.mark.parametrize(
    ("sum_", "number", "unit"),
    [
        ("far - 5 cm", "55", "cm"),
        ("1 in + 1 cm", "3.54", "cm"),
        ("1 ft - 12 in", "0", "in"),
        ("0.5 * far", "30", "cm"),
        ("far - 2 * 5 cm - -far", "110", "cm"),
        ("-far + 100 mm", "-50", "cm"),
        ("-2 * 3 cm", "-6", "cm"),
    ],
)
def test_what_is_known_becomes_one_amount(sum_: str, number: str, unit: str) -> None:
    """A sum without a memory is one exact number, as if it had been written."""
    when = routine(f"when drive travelled > {sum_}, go to B").steps["A"].whens[0]
    assert isinstance(when.condition, Compare)
    assert Amount(Fraction(number), UNITS[unit]).base == when.condition.threshold.base


@pytest.mark.parametrize(
    ("sum_", "limit_us"), [("slow + 0.5 s", 2_000_000), ("2 * slow - 1 ms", 2_999_000)]
)
def test_a_time_may_be_a_sum(sum_: str, limit_us: int) -> None:
    """A time limit that is added up is as exact as one that is written."""
    assert limit_us == routine(f"after {sum_}, go to B").steps["A"].exits[0].limit_us  # type: ignore[union-attr]


def test_a_choice_may_stand_in_a_sum() -> None:
    """A number that is chosen before the start is known before the start."""
    assert 2_500_000 == routine("after delay + 500 ms, go to B").steps["A"].afters[0].limit_us


def test_what_cancels_out_is_known() -> None:
    """A memory taken away from itself leaves a number that is known."""
    when = routine("when drive travelled > way + 5 cm - way, go to B").steps["A"].whens[0]
    assert isinstance(when.condition, Compare)
    assert 50 == when.condition.threshold.base


def test_what_is_remembered_stays_a_sum() -> None:
    """A number with a memory in it keeps its parts, and how the plan wrote it."""
    when = routine("when drive travelled > 2 * way - 1 in, go to B").steps["A"].whens[0]
    assert isinstance(when.condition, Reckoned)
    number = when.condition.number
    assert isinstance(number, Computed)
    assert "2 * way - 1 in" == number.written
    assert (Fraction("-2.54"), Fraction(2)) == (number.fixed.number, number.parts[0].factor)
    assert "-(2 * way - 1 in)" == number.negated().written
    assert number == number.negated().negated()
