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

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from planner.checks.asked_names import asked_bare
from planner.checks.case import Case, Found
from planner.checks.plan_names import kept
from planner.checks.words import listed, mended_line, steps_of
from planner.findings import Slip
from planner.model.units import UNITS, decimal_text
from planner.text import Place

# The unit of each kind that a student most probably means.
_USUAL = ("s", "cm", "deg", "%", "V", "ticks", "deg/s", "cm/s", "ticks/s")

_COMPARED = re.compile(r"(?<!\w)([A-Za-z_]\w*)\s*[<>]=?\s*$")


def find(case: Case) -> Iterator[Found]:
    """Numbers that stand alone."""
    for slip in case.slips_of("number-without-unit"):
        counter = _counter(slip)
        bare = asked_bare(slip, counter) if counter else None
        yield bare or Found(
            slip.place,
            f"`{slip.word}` has no unit",
            "Without a unit nobody can tell how much is meant: 500 may be half a second or eight "
            "minutes.",
            _way_out(slip),
            paste=_paste(slip),
            steps=steps_of(slip),
        )


def _counter(slip: Slip) -> Place | None:
    """The counter that is compared with the number, where it is asked as if it were a sensor."""
    place = slip.place
    front = _COMPARED.search(place.line_text[: place.column - 1])
    if not front or front.group(1) not in kept(place, "counter"):
        return None
    return replace(place, column=front.start(1) + 1, end_column=front.end(1) + 1)


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
