"""What it finds
    A number whose unit measures something else than what the number is for.

Why it matters on the field
    A distance is no time and an angle is no power. Most often two numbers were mixed up, or the
    wrong sensor was named.

Example
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 8 s, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 8 cm, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import listed, mended_line, steps_of
from planner.findings import Slip
from planner.model.units import Dimension, units_of

_USUAL = ("s", "cm", "deg", "%", "V", "ticks", "deg/s", "cm/s", "ticks/s")
_SPOKEN = {
    "time": "a time",
    "length": "a length",
    "angle": "an angle",
    "share": "a share in percent",
    "voltage": "a voltage",
    "encoder ticks": "a number of encoder ticks",
    "turning speed": "a turning speed",
    "speed": "a speed",
    "tick rate": "a tick rate",
}


def find(case: Case) -> Iterator[Found]:
    """Numbers whose unit does not fit."""
    for slip in case.slips_of("wrong-unit"):
        got, wanted = _SPOKEN[slip.facts["got"]], _SPOKEN[slip.facts["wanted"]]
        fitting = units_of(Dimension(slip.facts["wanted"]))
        whose = slip.facts["whose"]
        yield Found(
            slip.place,
            f"`{slip.word}` is {got}, and {whose} takes {wanted}",
            f"{got[0].upper()}{got[1:]} cannot be turned into {wanted}.",
            f"Write it in {listed(fitting)}, or name what is really measured in "
            f"`{slip.facts['unit']}`.",
            paste=_paste(slip, fitting),
            steps=steps_of(slip),
        )


def _paste(slip: Slip, fitting: tuple[str, ...]) -> tuple[str, ...]:
    """The line with a unit that fits, where the number stands in the line itself."""
    words, unit = slip.place.words, slip.facts["unit"]
    if not words.endswith(unit) or not words.lstrip("+-")[:1].isdigit():
        return ()
    right = next(unit for unit in _USUAL if unit in fitting)
    return (mended_line(slip.place, f"{words.removesuffix(unit).strip()} {right}"),)
