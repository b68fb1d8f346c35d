"""What a condition on several passes can be, since the visit has gone on for so long.

Whatever is enough for an exit ends the visit in the very pass in which it is true. So where P is
enough for one, `P for 0.3 s` is never true, and `once P` is true only in that one pass.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from planner.graph.atoms import Asking, Assumed
from planner.graph.possible import together
from planner.model.condition import All, Any, Condition, Held, Looks, Not, Once, parts


def remembers(condition: Condition) -> bool:
    """Whether some of it rests on several passes, so that `within_visit` may tell it apart."""
    return any(isinstance(part, Held | Looks | Once) for part in parts(condition))


def ends_visit(
    part: Condition, owner: str, leaving: Sequence[Asking], around: Sequence[str], assumed: Assumed
) -> bool:
    """Whether it is certain that some exit is taken in each pass in which a condition is true."""
    return together([Asking(part, owner)], leaving, around, assumed).never


def within_visit(condition: Condition, ends: Callable[[Condition], bool]) -> Condition:
    """The condition, with the memories that no visit lasts for taken out.

    `ends` says whether a condition ends the visit as soon as it is true.
    """
    match condition:
        case Not(part):
            return Not(within_visit(part, ends))
        case All(inner) | Any(inner):
            return replace(condition, parts=tuple(within_visit(part, ends) for part in inner))
        case Once(part) if ends(part):
            return within_visit(part, ends)
        case Held(part, duration_us) if duration_us and ends(part):
            return _never(condition)
        case Looks(part, least) if least > 1 and ends(part):
            return _never(condition)
        case _:
            return condition


def _never(condition: Condition) -> Condition:
    """False where it would be true, and as it is where it is unknown (M6)."""
    return All((condition, Not(condition)))
