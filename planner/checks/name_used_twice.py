"""What it finds
    Two things with one name: two steps, two devices, two commands of a mechanism.

Why it matters on the field
    The second one is left out. Every `go to` with that name leads to the first, often because a
    step was copied and its name was not changed.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
    finish Lit

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
from planner.findings import Related, Slip


def find(case: Case) -> Iterator[Found]:
    """Names that are taken already."""
    for slip in case.slips_of("name-used-twice"):
        if slip.place.line_text.split()[0] == "uses" or slip.facts["what"] == "colour":
            yield _listed(slip)
            continue
        other = slip.other
        where = f" in line {other.line}" if other else ""
        what = slip.facts["what"]
        yield Found(
            slip.place,
            f"the name `{slip.word}` is taken already{where}",
            f"Two things of one name cannot be told apart, so this {what} is left out.",
            f"Give this {what} a name of its own, or delete it if it is a copy.",
            paste=(mended_line(slip.place, _other_name(slip.word)),),
            steps=steps_of(slip),
            related=(Related(other, f"`{slip.word}` is used here first"),) if other else (),
        )


def _listed(slip: Slip) -> Found:
    """A device that a mechanism lists again, or a colour that a sensor does."""
    what = slip.facts["what"]
    colour = what == "colour"
    return Found(
        slip.place,
        f"this {'sensor' if colour else 'mechanism'} lists `{slip.word}` twice",
        "Perhaps another colour was meant, which the sensor would then never tell."
        if colour
        else "Perhaps another device was meant, such as the one on the other side.",
        f"Name the {what} that was meant, or delete the second one.",
    )


def _other_name(name: str) -> str:
    """A name to suggest: with a 2 behind it, written as the name itself is written."""
    return f"{name}_2" if "_" in name or name.islower() else f"{name}2"
