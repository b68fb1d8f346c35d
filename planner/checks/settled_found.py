"""What `never-true` and `always-true` say."""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import some
from planner.checks.case import Case, Found
from planner.checks.limits import limit_is_known
from planner.checks.truth import Settled, settled
from planner.findings import Related
from planner.graph.atoms import Asking, Key, looks_at
from planner.graph.owners import owners
from planner.graph.possible import always_true, can_be_true
from planner.model.condition import (
    ChoiceIs,
    Compare,
    Condition,
    CounterCompare,
    MatchClock,
    Not,
    Source,
    Within,
    leaves,
)
from planner.model.robot import Reading
from planner.model.routine import Rule
from planner.model.spoken import spoken_condition
from planner.text import Place


def found_of(case: Case, always: bool) -> Iterator[Found]:
    """What is settled one way in the exits of a routine."""
    if case.plan is None:
        return
    routine = case.plan.routine
    limit_us = routine.limit_us if limit_is_known(case) else None
    for owner in owners(routine):
        for condition, line in owner.conditions:
            for one in settled(condition, limit_us):
                if one.always is always and not _is_chosen(one):
                    whole = _settles(condition, always, limit_us)
                    effect = _effect(one, whole, isinstance(line, Rule))
                    yield _found(owner.steps if owner.name else (), one, effect)


def _is_chosen(one: Settled) -> bool:
    """Whether what was chosen settles it: other variants need it, and no sensor has a say."""
    looked = [leaf for part in one.asked for leaf in leaves(part)]
    return all(isinstance(leaf, ChoiceIs) for leaf in looked)


def _found(steps: tuple[str, ...], one: Settled, effect: str) -> Found:
    first = one.asked[0]
    return Found(
        _place(first),
        _headline(one),
        f"{_reason(first, one)} {effect}",
        _way_out(first, one),
        steps=steps,
        related=tuple(Related(_place(leaf), "together with this") for leaf in one.asked[1:]),
    )


def _place(condition: Condition) -> Place:
    """Where a condition stands; one that is made of others stands where the first of them does."""
    return next(leaves(condition)).place


def _settles(condition: Condition, always: bool, limit_us: int | None) -> bool:
    """Whether all that a line waits for is settled, not only a part of it."""
    if always:
        return always_true(condition, limit_us)
    return can_be_true(condition, limit_us).never


def _headline(one: Settled) -> str:
    spoken = [spoken_condition(part) for part in one.asked]
    if len(spoken) == 1:
        return f"`{spoken[0]}` {'is always true' if one.always else 'can never be true'}"
    if one.always:
        return f"one of {some(spoken)} is always true"
    return f"{some(spoken)} contradict each other"


def _effect(one: Settled, whole: bool, rule: bool) -> str:
    if not whole:
        return "So what it says makes no difference here."
    if rule:
        return f"So the command is {'given once, at once' if one.always else 'never given'}."
    return f"So the exit is {'taken at once' if one.always else 'never taken'}."


def _reason(first: Condition, one: Settled) -> str:
    if len(one.asked) > 1:
        says = _says(one)
        if one.always:
            return f"Whatever {says}, one of them holds."
        return f"Nothing that {says} is all of that at once."
    first = first.part if isinstance(first, Not) else first
    if isinstance(first, Within) and first.tolerance.base < 0:
        return "A tolerance below 0 leaves no number at all."
    if isinstance(first, CounterCompare):
        counter = first.counter
        return f"The counter `{counter.name}` stays from {counter.low} to {counter.high}."
    if isinstance(first, MatchClock):
        return "The match clock goes from 0 s up to the routine's limit."
    if isinstance(first, Within) and first.source.wraps:
        return "No heading is more than 180 deg away from another."
    assert isinstance(first, Compare | Within), "a single answer is never settled"
    return _gives(first.source)


def _gives(source: Source) -> str:
    name = f"`{source.spoken}`"
    if source.bounds is None:
        return f"{name} goes from -180 deg to 180 deg, where it starts again."
    span = f"{source.bounds.low} to {source.bounds.high}"
    if isinstance(source, Reading) and source.from_step_start:
        return f"{name} counts from the start of the step, and its range is {span}."
    return f"{name} gives {span}, nothing else."


def _says(one: Settled) -> str:
    """What settles nothing: what the sensors say, or what is remembered and counted."""
    keys = _sources(one)
    if any(str(key[1]).startswith(("memory ", "counter ")) for key in keys):
        return "is remembered or counted"
    return "the sensor says" if len(keys) == 1 else "the sensors say"


def _sources(one: Settled) -> set[Key]:
    """What the conditions that settle something look at."""
    return {key for part in one.asked for key in looks_at(Asking(part))}


def _way_out(first: Condition, one: Settled) -> str:
    if len(one.asked) > 1:
        return f"Change one of them{'.' if one.always else ', or write them as two exits.'}"
    first = first.part if isinstance(first, Not) else first
    if isinstance(first, Within) and first.tolerance.base < 0:
        return "Write the tolerance without the minus sign."
    if isinstance(first, CounterCompare):
        return f"Change the number, or the range of `{first.counter.name}`."
    if isinstance(first, MatchClock):
        return "Change the time, or leave the condition out."
    assert isinstance(first, Compare | Within), "a single answer is never settled"
    name = first.source.spoken
    return f"Change the number, or the range of `{name}` if the robot file has it wrong."
