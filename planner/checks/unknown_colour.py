"""What it finds
    A colour that a colour sensor cannot be asked to tell apart.

Why it matters on the field
    Colour sensors see a few strong colours. A shade between two of them is seen now as one and now
    as the other.

Example
    robot example
    hub main
      i2c 0 floor_eye colour red, bleu

Instead
    robot example
    hub main
      i2c 0 floor_eye colour red, blue
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.misnamed import misnamed
from planner.checks.words import listed


def find(case: Case) -> Iterator[Found]:
    """Colours that are none of those the language knows."""
    for slip in case.slips_of("unknown-colour"):
        yield misnamed(
            slip,
            f"`{slip.word}` is no colour that a sensor can tell apart",
            "A shade between two strong colours is seen now as one, now as the other.",
            f"There are {listed(slip.known, 'and')}; take the nearest.",
        )
