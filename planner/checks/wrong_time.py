"""What it finds
    A time that no clock can show: below zero, zero where a time must pass, finer than a
    microsecond, or longer than an hour.

Why it matters on the field
    A limit of less than no time would end its step before it has begun.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after -3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import mended_line, steps_of
from planner.findings import Slip

_WHY = {
    "before the start": "Clocks start at 0 and run forwards, so it has always passed already.",
    "no time at all": "Something has to happen in that time, so it must be longer than nothing.",
    "longer than an hour": "No match lasts that long, so it would never pass. Perhaps `ms` was "
    "meant.",
    "finer than a microsecond": "The controller looks some 50 times a second, and its clock counts "
    "microseconds.",
}


def find(case: Case) -> Iterator[Found]:
    """Times that a clock cannot show."""
    for slip in case.slips_of("wrong-time"):
        why = slip.facts["why"]
        yield Found(
            slip.place,
            f"`{slip.word}` is {why}",
            _WHY[why],
            "Write a time that can pass, in `s` or `ms`.",
            paste=_paste(slip),
            steps=steps_of(slip),
        )


def _paste(slip: Slip) -> tuple[str, ...]:
    """The line without the minus sign, where that is all that is wrong."""
    words = slip.place.words
    if slip.facts["why"] == "before the start" and words.startswith("-"):
        return (mended_line(slip.place, words[1:].strip()),)
    return ()
