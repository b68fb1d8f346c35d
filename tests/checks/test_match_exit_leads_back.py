"""When a match-clock exit behind its own step is told of, and when it is not."""

from __future__ import annotations

import pytest
from demo import check, names_of

PLAN = """at 8 s of match, go to Home
start Approach
step Approach
  drive forward 40 %
  when bumper pressed, go to Home
  after 4 s, go to Home
step Home
  drive forward -40 %
  when drive travelled < -60 cm, go to Fold
  after 4 s, go to GiveUp
step Fold
  arm to 0 ticks
  when arm done, go to Parked
  after 4 s, go to GiveUp
finish Parked
finish GiveUp
"""
NAME = "match-exit-leads-back"


def found(text: str) -> bool:
    """Whether the plan has the finding."""
    return NAME in names_of(check(text).findings)


def test_found() -> None:
    """It is found where the step measures, and shown with the steps it acts in."""
    (one,) = [f for f in check(PLAN).findings if f.check == NAME]
    assert ("Home", "Fold") == one.steps


@pytest.mark.parametrize(
    ("line", "instead"),
    [
        # Nothing is measured, so that nothing is driven twice.
        ("  when drive travelled < -60 cm, go to Fold\n", "  when tin_gate broken, go to Fold\n"),
        # The clock has been waited for before.
        (
            "when drive travelled < -60 cm, go to Fold",
            "when drive travelled < -60 cm, go to Parked",
        ),
        # What follows is reached by another way as well, and there the exit is wanted.
        ("  when bumper pressed, go to Home\n", "  when bumper pressed, go to Fold\n"),
        # The plan is over by then.
        ("at 8 s", "at 20 s"),
    ],
)
def test_no_false_alarm(line: str, instead: str) -> None:
    """It is not found where it does no harm, or where the exit is wanted."""
    assert line in PLAN
    assert not found(PLAN.replace(line, instead))


def test_measured_behind() -> None:
    """It is found too where the step measures nothing, and one behind it does."""
    text = PLAN.replace("  when drive travelled < -60 cm, go to", "  when tin_gate broken, go to")
    behind = "  drive forward 20 %\n  when drive travelled > 9 cm, go to Parked\n"
    assert found(text.replace("  arm to 0 ticks\n  when arm done, go to Parked\n", behind))
