"""What it finds
    A word behind a number that is no unit.

Why it matters on the field
    A number means nothing without its unit: 500 may be half a second or eight minutes.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 seconds, go to GiveUp
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
from planner.checks.unit_words import CONVERSIONS, unit_meant
from planner.checks.words import listed, mended_line, steps_of
from planner.findings import Slip, nearest
from planner.model.units import UNITS


def find(case: Case) -> Iterator[Found]:
    """Words behind numbers that no unit is called."""
    for slip in case.slips_of("unknown-unit"):
        if slip.word == "looks":
            yield _looks(slip)
            continue
        meant = _meant(slip.word)
        yield Found(
            slip.place,
            f"`{slip.word}` is no unit here" + (f"; it is written `{meant[0]}`" if meant else ""),
            "Without a unit that it knows, the planner cannot tell how much is meant.",
            _way_out(slip, meant),
            paste=(_with_unit(slip, meant[0]),) if meant else (),
            steps=steps_of(slip),
        )


def _looks(slip: Slip) -> Found:
    """``for 3 looks``, out of how many is not said."""
    number = slip.place.words.removesuffix(slip.word).strip()
    looks = f"{number} of {number} looks"
    return Found(
        slip.place,
        f"`{slip.place.words}` does not say out of how many",
        "The planner cannot tell how far back to look.",
        f"`for 3 of 5 looks` is true when it was so in 3 of the last 5; `for {looks}` when it was "
        "so in each:",
        paste=(mended_line(slip.place, looks),) if number.isdigit() else (),
        steps=steps_of(slip),
    )


def _meant(word: str) -> tuple[str, ...]:
    """The units perhaps meant: another name of one, one in other letters, one with a slip."""
    if word.casefold() in CONVERSIONS:
        return ()
    known = unit_meant(word)
    same = tuple(unit for unit in UNITS if unit.casefold() == word.casefold())
    return ((known,) if known else ()) or same or nearest(word, UNITS)


def _way_out(slip: Slip, meant: tuple[str, ...]) -> str:
    if slip.word.casefold() in CONVERSIONS:
        return CONVERSIONS[slip.word.casefold()]
    if len(meant) > 1:
        return f"Did you mean {listed(meant)}?"
    if not meant:
        return f"The units are {listed(UNITS, 'and')}."
    return f"Write `{meant[0]}`:"


def _with_unit(slip: Slip, unit: str) -> str:
    """The line with the unit in place of the word, a space in front of it."""
    number = slip.place.words.removesuffix(slip.word).strip()
    return mended_line(slip.place, f"{number} {unit}".strip())
