"""What to do about a motor that goes on at the end of its way."""

from __future__ import annotations

from planner.checks.case import Found
from planner.findings import Related
from planner.graph.end_of_way import GoesOn


def found_at_end(one: GoesOn, headline: str, why: str, advice: str = "") -> Found:
    """The finding, with what stops the motor and `advice` behind that."""
    mechanism = one.given.mechanism.name
    paste: tuple[str, ...] = ()
    if one.step == one.source:
        way_out = f"Let the rule tell `{mechanism}` to stop, or leave the step when it speaks."
    elif one.again:
        way_out = f"Write `{mechanism} stop` in `{one.step}` instead."
    else:
        way_out = f"Write `{mechanism} stop` in `{one.step}`, or another command that lets go."
        paste = (f"{mechanism} stop",)
    return Found(
        one.place,
        headline,
        why,
        f"{way_out} {advice}".strip(),
        paste=paste,
        steps=tuple(dict.fromkeys((one.source, one.step))),
        related=(Related(one.given.place, "this goes on"),),
    )
