"""What it finds
    A second time limit in a step, later than the first; or a limit that is no shorter than that of
    the group around the step.

Why it matters on the field
    It never comes: the earlier limit has ended the step by then. Perhaps the times were mixed up,
    or the later line belongs to another step. The clock of a group goes on from step to step, so
    that its limit comes even sooner.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
      after 5 s, go to Lit
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 5 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph.owners import owners_around
from planner.model.routine import AfterExit, Group, Routine, Step
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """The limits that another comes before; those at the same time are `twin-exits`."""
    if case.plan is None:
        return
    routine = case.plan.routine
    late = [
        (owner, after, first)
        for owner in _all(routine)
        for after in owner.afters
        if (first := _earlier(routine, owner, after))
    ]
    # In a task that is done twice, a limit may come in one place though it never does in the other.
    stand = Counter(_where(after) for owner in _all(routine) for after in owner.afters)
    never = Counter(_where(after) for _, after, _ in late)
    for owner, after, first in late:
        if stand[_where(after)] == never[_where(after)]:
            yield _found(routine, owner, after, *first)


def _all(routine: Routine) -> Iterator[Group | Step]:
    yield from routine.groups.values()
    yield from routine.steps.values()


def _where(after: AfterExit) -> tuple[object, ...]:
    return after.place.order


def _earlier(
    routine: Routine, owner: Group | Step, after: AfterExit
) -> tuple[Group | Step, AfterExit] | None:
    """A limit that always comes first, and what it stands under."""
    if isinstance(owner, Step):
        around: tuple[Group | Step, ...] = owners_around(routine, owner.name)[:-1]
    else:
        around = _around_group(routine, owner)
    for group in around:
        for other in group.afters:
            if other.limit_us <= after.limit_us:
                return group, other
    first = min(owner.afters, key=lambda other: other.limit_us)
    return (owner, first) if first.limit_us < after.limit_us else None


def _around_group(routine: Routine, group: Group) -> tuple[Group, ...]:
    around: list[Group] = []
    name = group.inside
    while name:
        around.insert(0, routine.groups[name])
        name = around[0].inside
    return tuple(around)


def _found(
    routine: Routine, owner: Group | Step, after: AfterExit, where: Group | Step, first: AfterExit
) -> Found:
    early, late = seconds_text(first.limit_us), seconds_text(after.limit_us)
    if where is owner:
        why = f"The limit of {early} has ended the step by then."
        way_out = "Keep one of the two limits."
    else:
        why = f"`{where.name}` around it is left after {early}, counted from its own start."
        way_out = f"Make it shorter than the {early} of `{where.name}`."
    return Found(
        after.place,
        f"the limit of {late} in `{owner.name}` never comes",
        why,
        way_out,
        steps=(owner.name,) if owner.name in routine.steps else (),
        related=(Related(first.place, "this limit comes first"),),
    )
