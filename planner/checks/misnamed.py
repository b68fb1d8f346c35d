"""The finding that most checks of names give: what is not there, and what was perhaps meant."""

from __future__ import annotations

from planner.checks.case import Found
from planner.checks.words import mended, steps_of, suggestion
from planner.findings import Related, Slip


def misnamed(
    slip: Slip, headline: str, why: str, otherwise: str, related: tuple[Related, ...] = ()
) -> Found:
    """A name that is not declared, with the names near to it and the line that the nearest gives.

    `otherwise` is the way out where no name is near.
    """
    return Found(
        slip.place,
        headline,
        why,
        suggestion(slip, otherwise),
        paste=mended(slip),
        steps=steps_of(slip),
        related=related,
    )
