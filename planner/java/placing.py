"""In which order the files of an export are put in place, so that what is there always compiles.

A file that is replaced in one go hurts none that calls only what both its old and its new text
have. So files come after those that they stand on, and what stands on two files at once that both
change - an op mode on the plan and the mechanisms - is taken away before the first of them changes
and comes back after the last. Support files only ever gain methods from version to version.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import IntEnum

from planner.java.export import COLOUR_SUPPORT, CONFIGURATION, SUPPORT


class Stand(IntEnum):
    """What may stand on what: only on what has a lower number."""

    VALUES = 0
    """What a camera or colour sensor sees, and how conditions are remembered."""
    PARTS = 1
    """What mechanisms stand on, and what watches a plan."""
    MIDDLE = 2
    """Plans, mechanisms and the names on the hub; none knows of the others."""
    TOP = 3
    """Op modes, and whatever else calls a plan."""
    FIXED = 4
    """Op modes for one combination of choices, which stand on the routine's own op mode."""


def stand_of(path: str) -> Stand:
    """Where a file stands, by its path below the folder of the package."""
    folder, _, name = path.rpartition("/")
    if folder == "plans":
        return _stand_beside_plans(name)
    if path in (*SUPPORT, *COLOUR_SUPPORT):
        return Stand.PARTS
    if path == CONFIGURATION:
        return Stand.MIDDLE
    if folder == "mechanisms":
        return Stand.PARTS if name.endswith("Camera.java") else Stand.MIDDLE
    if name.endswith("Fixed.java"):
        return Stand.FIXED
    return Stand.TOP


def _stand_beside_plans(name: str) -> Stand:
    if name.endswith("PlanTest.java"):
        return Stand.TOP
    if name.endswith("Plan.java"):
        return Stand.MIDDLE
    # The log asks a plan by what `Watched` declares.
    return Stand.PARTS if name == "RunLog.java" else Stand.VALUES


def is_for_one_combination(path: str) -> bool:
    """Whether a file is an op mode for one combination of choices."""
    return stand_of(path) is Stand.FIXED


def in_order(paths: Iterable[str]) -> list[str]:
    """The files in the order in which they are put in place."""
    return sorted(paths, key=lambda path: (stand_of(path), path))


def taken_away_first(
    changed: Iterable[str], unchanged: Iterable[str], beside: bool = False
) -> list[str]:
    """The files that go before any other changes, and come back in their turn.

    `changed` are those that are there and change, `unchanged` those that are there, are as
    exported, and do not; `beside` says that files elsewhere, which they call, change too.
    """
    changing = set(changed)
    if len(changing) < 2 and not beside:
        return []
    known = changing | set(unchanged)
    away = {path for path in changing if stand_of(path) is Stand.TOP}
    if any(stand_of(path) is Stand.VALUES for path in changing):
        # A plan knows the values by name, and an op mode knows the plan.
        away |= {path for path in known if stand_of(path) is Stand.TOP}
        away |= {path for path in known if _is_plan(path)}
    if away:
        away |= {path for path in known if stand_of(path) is Stand.FIXED}
    return sorted(away, key=lambda path: (-stand_of(path), path))


def _is_plan(path: str) -> bool:
    return path.startswith("plans/") and stand_of(path) is Stand.MIDDLE
