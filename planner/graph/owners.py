"""What exits and side rules stand under: the routine, its groups and its steps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.graph.unfold import Exit, Plan
from planner.model.condition import Condition
from planner.model.memory import Remember, WordMemory
from planner.model.routine import (
    AfterExit,
    Given,
    Group,
    MatchExit,
    Routine,
    Rule,
    Step,
    WhenExit,
)


@dataclass(frozen=True, slots=True)
class Owner:
    """A step, a group or the routine, with what stands directly under it."""

    name: str
    """Empty for the routine."""
    steps: tuple[str, ...]
    """The steps in which it is asked, in the order of the text, finishes left out."""
    match_exits: tuple[MatchExit, ...] = ()
    whens: tuple[WhenExit, ...] = ()
    afters: tuple[AfterExit, ...] = ()
    rules: tuple[Rule, ...] = ()
    incomplete: bool = False
    is_group: bool = False
    remembers: tuple[Remember, ...] = ()
    """What it remembers when it is left (M13)."""
    seen: tuple[WordMemory, ...] = ()
    """Of the routine the memories that take in what a camera sees until the start."""

    @property
    def conditions(self) -> Iterator[tuple[Condition, WhenExit | Rule]]:
        """All that it asks, with the line that asks it."""
        yield from ((when.condition, when) for when in self.whens)
        yield from ((rule.condition, rule) for rule in self.rules)


def owners(routine: Routine) -> Iterator[Owner]:
    """The routine, then its groups, outer ones first, then its steps as written."""
    inside: dict[str, list[str]] = {name: [] for name in ("", *routine.groups)}
    for step in routine.steps.values():
        if not step.is_finish:
            inside[""].append(step.name)
            for group in routine.groups_around(step.name):
                inside[group.name].append(step.name)
    # The match-clock exits of the routine stand above its steps; no other exit does.
    words = (memory for memory in routine.memories.values() if isinstance(memory, WordMemory))
    seen = tuple(memory for memory in words if memory.seen_by)
    yield Owner("", tuple(inside[""]), routine.match_exits, (), (), routine.rules, seen=seen)
    for group in routine.groups.values():
        yield _of_group(group, tuple(inside[group.name]))
    for step in routine.steps.values():
        steps = () if step.is_finish else (step.name,)
        yield Owner(
            step.name,
            steps,
            (),
            step.whens,
            step.afters,
            step.rules,
            step.incomplete,
            remembers=step.remembers,
        )


def _of_group(group: Group, steps: tuple[str, ...]) -> Owner:
    return Owner(
        group.name,
        steps,
        group.match_exits,
        group.whens,
        group.afters,
        group.rules,
        group.incomplete,
        is_group=True,
        remembers=group.remembers,
    )


def owners_around(routine: Routine, step: str) -> tuple[Group | Step, ...]:
    """The groups around a step, outermost first, and the step itself."""
    return (*routine.groups_around(step), routine.steps[step])


def asked_around(routine: Routine, owner: Owner) -> tuple[Group, ...]:
    """The groups that are asked before a step or a group, outermost first."""
    found: list[Group] = []
    if owner.is_group:
        name = routine.groups[owner.name].inside
    else:
        name = routine.steps[owner.name].group if owner.name else ""
    while name:
        found.insert(0, routine.groups[name])
        name = found[0].inside
    return tuple(found)


def is_incomplete(routine: Routine, step: str) -> bool:
    """Whether a line of a step, or of a group around it, could not be made sense of."""
    return any(owner.incomplete for owner in owners_around(routine, step))


def rules_around(routine: Routine, step: str) -> Iterator[Rule]:
    """The side rules that are followed in a step: the routine's, its groups' and its own."""
    yield from routine.rules
    for owner in owners_around(routine, step):
        yield from owner.rules


def given_in(routine: Routine) -> Iterator[tuple[Given, tuple[str, ...]]]:
    """Every command of steps and side rules, with the steps it belongs to."""
    for owner in owners(routine):
        if not owner.is_group and owner.name:
            for given in routine.steps[owner.name].commands:
                yield given, (owner.name,)
        for rule in owner.rules:
            yield rule.given, owner.steps


def in_lane(routine: Routine, step: str) -> bool:
    """Whether a step stands in a lane, so that others can be active beside it (M8)."""
    return any(group.lane for group in routine.groups_around(step))


def remembered_in(routine: Routine) -> Iterator[tuple[Remember, str]]:
    """What is remembered, with the step that does so, be it one that does a task."""
    every: tuple[Group | Step, ...] = (*routine.groups.values(), *routine.steps.values())
    for owner in every:
        for remember in owner.remembers:
            yield remember, owner.name


def first_limit(routine: Routine, step: str) -> AfterExit | None:
    """The time limit that ends a step at the latest, its groups' included; the shortest one."""
    afters = [after for owner in owners_around(routine, step) for after in owner.afters]
    return min(afters, key=lambda after: after.limit_us, default=None)


def groups_left(plan: Plan, exit_: Exit) -> tuple[str, ...]:
    """The groups that an exit leaves, outermost first; it may enter some of them again (M4)."""
    routine = plan.routine
    around = [group.name for group in routine.groups_around(exit_.source)]
    if not around:
        return ()
    # A block that is led to begins anew (M8).
    stays = {group.name for group in routine.groups_around(exit_.target)} - {exit_.target}
    for outermost in (exit_.group, exit_.restarts):
        if outermost in around:
            stays -= set(around[around.index(outermost) :])
    return tuple(name for name in around if name not in stays)
