"""What it finds
    A number without a unit.

Why it matters on the field
    The most expensive slip of all: 500 meant in milliseconds and taken in seconds, 20 meant in
    inches and taken in centimetres.

Example
    start Approach
    step Approach
      drive forward 40
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
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
from fractions import Fraction

from planner.checks.case import Case, Found
from planner.checks.words import listed, mended_line, steps_of
from planner.findings import Slip
from planner.model.units import UNITS, decimal_text

# The unit of each kind that a student most probably means.
_USUAL = ("s", "cm", "deg", "%", "V", "ticks", "deg/s", "cm/s", "ticks/s")


def find(case: Case) -> Iterator[Found]:
    """Numbers that stand alone."""
    for slip in case.slips_of("number-without-unit"):
        yield Found(
            slip.place,
            f"`{slip.word}` has no unit",
            "Without a unit nobody can tell how much is meant: 500 may be half a second or eight "
            "minutes.",
            _way_out(slip),
            paste=_paste(slip),
            steps=steps_of(slip),
        )


def _way_out(slip: Slip) -> str:
    if set(slip.known) == set(UNITS):
        return f"Write the unit behind it, one of {listed(slip.known)}."
    whose = slip.facts["whose"]
    return f"{whose[0].upper()}{whose[1:]} is given in {listed(slip.known)}."


def _paste(slip: Slip) -> tuple[str, ...]:
    """The line with the most probable unit; a power written as a fraction becomes a share."""
    unit = next((unit for unit in _USUAL if unit in slip.known), "")
    if not unit or set(slip.known) == set(UNITS):
        return ()
    number = slip.word
    if unit == "%" and "." in number and abs(Fraction(number)) <= 1:
        number = decimal_text(Fraction(number) * 100)
    of_pass = slip.place.line_text.split()[0] == "pass"
    if unit == "s" and (of_pass or ("." not in number and abs(Fraction(number)) >= 100)):
        unit = "ms"
    return (mended_line(slip.place, f"{number} {unit}"),)
