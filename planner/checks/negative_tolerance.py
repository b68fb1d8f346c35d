"""What it finds
    A tolerance below nothing: `within -2 deg of 90 deg`.

Why it matters on the field
    A tolerance says how far off a number may be, to either side. No number is less than nothing
    away from another, so the exit would never be taken.

Example
    start Turn
    step Turn
      drive turn 90 deg
      when gyro within -2 deg of 90 deg, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Turn
    step Turn
      drive turn 90 deg
      when gyro within 2 deg of 90 deg, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import mended_line, steps_of
from planner.findings import Slip


def find(case: Case) -> Iterator[Found]:
    """The tolerances with a minus sign."""
    for slip in case.slips_of("negative-tolerance"):
        yield Found(
            slip.place,
            f"a tolerance cannot be `{slip.word}`",
            "No number is less than nothing away from another, so the exit would never be taken.",
            "It says how far off the number may be, to either side: leave out the minus sign. To "
            "ask for a negative number, write the minus behind `of`.",
            paste=_paste(slip),
            steps=steps_of(slip),
        )


def _paste(slip: Slip) -> tuple[str, ...]:
    """The line without the minus sign, where it stands in the line itself."""
    if not slip.word.startswith("-"):
        return ()
    return (mended_line(slip.place, slip.word[1:].strip()),)
