"""What it finds
    A step that asks what a memory holds, or what a camera sees, and has no exit for one of the
    values. The time limit is no such exit: what is remembered does not change while the step
    waits. Of a camera, a step that asks for one mark alone waits for that mark; one that asks for
    several needs an exit for each. Only `unsure` is left to the limit, until which the camera may
    still make up its mind.

Why it matters on the field
    The three marks come up by lot. A plan that has an arm for two of them loses every third match.

Example
    start Look
    step Look
      when post_mark sees left, go to Lit
      when post_mark sees right, go to Lit
      after 1.5 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Look
    step Look
      when post_mark sees left, go to Lit
      when post_mark sees middle, go to Lit
      when post_mark sees right, go to Lit
      after 1.5 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.checks.case import Case, Found
from planner.checks.words import listed
from planner.graph.broken import outcomes, simplified
from planner.graph.owners import in_lane, is_incomplete, owners_around, remembered_in
from planner.model.condition import (
    Answers,
    Condition,
    Fixed,
    Leaf,
    MemoryIs,
    each,
    leaves,
)
from planner.model.robot import UNSURE, SensorKind
from planner.model.routine import Routine, Step, WhenExit
from planner.model.spoken import spoken_condition


@dataclass(frozen=True, slots=True)
class _Asked:
    """A memory or a camera that a step asks, and the values that need an arm."""

    name: str
    first: MemoryIs | Answers
    values: tuple[str, ...]

    def is_asked(self, leaf: Leaf) -> bool:
        """Whether a condition looks at it."""
        return isinstance(leaf, type(self.first)) and _name(leaf) == self.name


def find(case: Case) -> Iterator[Found]:
    """Steps with exits for some values of a memory or camera, and none for the others."""
    if case.plan is None:
        return
    routine = case.plan.routine
    for step in routine.steps.values():
        if step.is_finish or is_incomplete(routine, step.name):
            continue
        whens = [when for owner in owners_around(routine, step.name) for when in owner.whens]
        for asked in _asked(whens):
            if isinstance(asked.first, MemoryIs) and _changes_beside(routine, step, asked.name):
                continue
            missing = [value for value in asked.values if not _has_arm(whens, asked, value)]
            if missing:
                yield _found(step, asked, missing)


def _changes_beside(routine: Routine, step: Step, memory: str) -> bool:
    """Whether another lane may remember something while the step waits for it."""
    return in_lane(routine, step.name) and any(
        remember.memory.name == memory and name != step.name
        for remember, name in remembered_in(routine)
    )


def _asked(whens: Sequence[WhenExit]) -> Iterator[_Asked]:
    """The memories and cameras that some exits ask, each once."""
    asked: dict[tuple[type, str], list[MemoryIs | Answers]] = {}
    for when in whens:
        for leaf in leaves(when.condition):
            if isinstance(leaf, MemoryIs | Answers):
                asked.setdefault((type(leaf), _name(leaf)), []).append(leaf)
    for (_, name), looks in asked.items():
        first = looks[0]
        if isinstance(first, MemoryIs):
            yield _Asked(name, first, first.memory.words)
        elif first.sensor.kind is SensorKind.CAMERA:
            marks = {look.value for look in looks} - {UNSURE}
            values = tuple(value for value in first.sensor.values if value != UNSURE)
            if len(marks) > 1:
                yield _Asked(name, first, values)


def _name(leaf: Leaf) -> str:
    match leaf:
        case MemoryIs(memory):
            return memory.name
        case Answers(sensor):
            return sensor.name
        case _:
            return ""


def _has_arm(whens: Sequence[WhenExit], asked: _Asked, value: str) -> bool:
    """Whether some exit can be taken while the value is that one, whatever else is said."""
    return any(True in outcomes(_with(when.condition, asked, value)) for when in whens)


def _with(condition: Condition, asked: _Asked, value: str) -> Condition:
    def settle(leaf: Leaf) -> Condition:
        if isinstance(leaf, MemoryIs | Answers) and asked.is_asked(leaf):
            return Fixed(leaf, leaf.value == value)
        return leaf

    return simplified(each(condition, settle))


def _found(step: Step, asked: _Asked, missing: list[str]) -> Found:
    memory = isinstance(asked.first, MemoryIs)
    says = f"memory {asked.name} is" if memory else f"{asked.name} sees"
    why = (
        "Then the step stands still until its time limit, for nothing: what is remembered does not "
        "change while it waits."
        if memory
        else "Then the step waits until its time limit, as if there was no mark at all."
    )
    return Found(
        asked.first.place,
        f"`{step.name}` has no exit for when `{asked.name}` "
        f"{'is' if memory else 'sees'} {listed(missing)}",
        why,
        f"Give each value its exit, such as `when {says} {missing[0]}, go to ...`, or write one "
        f"for all that are left, such as `when not {spoken_condition(asked.first)}, go to ...`.",
        steps=(step.name,),
    )
