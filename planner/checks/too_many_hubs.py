"""What it finds
    A third hub.

Why it matters on the field
    A robot carries at most two hubs: one that runs the program and one that extends it. A third one
    could not be configured. Common practice, no source; your event's rules come first.

Example
    robot example
    hub main
    hub second
    hub third

Instead
    robot example
    hub main
    hub second
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related

_MOST = 2


def find(case: Case) -> Iterator[Found]:
    """Hubs after the second."""
    if case.plan is not None:
        return
    first = tuple(Related(hub.place, "one of the two") for hub in case.robot.hubs[:_MOST])
    for hub in case.robot.hubs[_MOST:]:
        yield Found(
            hub.place,
            f"`{hub.name}` is one hub too many: a robot carries at most two",
            "A third hub cannot be configured, so nothing on it would work.",
            "Move its devices to free ports of the other two, and delete its line.",
            related=first,
        )
