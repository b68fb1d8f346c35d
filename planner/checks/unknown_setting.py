"""What it finds
    A name in the place of a number that no `setting` line declares.

Why it matters on the field
    The robot would not know how far, how fast or how long.

Example
    setting cruise = 40 %
    start Approach
    step Approach
      drive forward cruise
      when bumper pressed, go to Lit
      after crawl, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    setting cruise = 40 %
    setting crawl = 2 s
    start Approach
    step Approach
      drive forward cruise
      when bumper pressed, go to Lit
      after crawl, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import listed, mended, steps_of, suggestion
from planner.findings import Slip


def find(case: Case) -> Iterator[Found]:
    """Names that stand for a number, and no setting declares."""
    for slip in case.slips_of("unknown-setting"):
        yield Found(
            slip.place,
            f"there is no setting `{slip.word}`",
            "The robot would not know which number is meant.",
            suggestion(slip, _otherwise(slip)),
            paste=mended(slip),
            steps=steps_of(slip),
        )


def _otherwise(slip: Slip) -> str:
    there = f"The settings are {listed(slip.known, 'and')}. " if slip.known else ""
    return (
        f"{there}Declare it near the top, such as `setting {slip.word} = {_number(slip)}`, or "
        "write the number here."
    )


def _number(slip: Slip) -> str:
    """A number to show: a time where a time belongs."""
    return "2 s" if slip.place.line_text.split()[0] in ("after", "at") else "40 %"
