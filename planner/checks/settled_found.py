"""What `never-true` and `always-true` say."""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import some
from planner.checks.case import Case, Found
from planner.checks.truth import Asked, Settled, settled
from planner.findings import Related
from planner.model.condition import (
    All,
    Answers,
    Any,
    Compare,
    Condition,
    Held,
    Source,
    Within,
)
from planner.model.robot import Reading
from planner.model.routine import Step
from planner.model.spoken import spoken_condition


def found_of(case: Case, always: bool) -> Iterator[Found]:
    """What is settled one way in the exits of a routine."""
    if case.plan is None:
        return
    for step in case.plan.routine.steps.values():
        for when in step.whens:
            for one in settled(when.condition):
                if one.always is always:
                    yield _found(step, one, _is_whole(when.condition, one))


def _found(step: Step, one: Settled, whole: bool) -> Found:
    first = one.asked[0]
    return Found(
        first.place,
        _headline(one),
        f"{_reason(first, one)} {_effect(one, whole)}",
        _way_out(first, one),
        steps=(step.name,),
        related=tuple(Related(leaf.place, "together with this") for leaf in one.asked[1:]),
    )


def _is_whole(condition: Condition, one: Settled) -> bool:
    """Whether what is settled is all that the exit waits for."""
    inner = condition.part if isinstance(condition, Held) else condition
    if isinstance(inner, All | Any):
        return 1 < len(one.asked) == len(inner.parts)
    return inner is one.asked[0]


def _headline(one: Settled) -> str:
    spoken = [
        f"not {spoken_condition(leaf)}" if negated else spoken_condition(leaf)
        for leaf, negated in zip(one.asked, one.negated, strict=True)
    ]
    if len(spoken) == 1:
        return f"`{spoken[0]}` {'is always true' if one.always else 'can never be true'}"
    if one.always:
        return f"one of {some(spoken)} is always true"
    return f"{some(spoken)} contradict each other"


def _effect(one: Settled, whole: bool) -> str:
    if not whole:
        return "So what the sensor says makes no difference here."
    return f"So the exit is {'taken at once' if one.always else 'never taken'}."


def _reason(first: Asked, one: Settled) -> str:
    if len(one.asked) > 1 or isinstance(first, Answers):
        sure = "Whatever the sensor says, one of them holds."
        return sure if one.always else "Nothing that the sensor says is all of that at once."
    if isinstance(first, Within) and first.tolerance.base < 0:
        return "A tolerance below 0 leaves no number at all."
    if isinstance(first, Within) and first.source.wraps:
        return "No heading is more than 180 deg away from another."
    return _gives(first.source)


def _gives(source: Source) -> str:
    name = f"`{source.spoken}`"
    if source.bounds is None:
        return f"{name} goes from -180 deg to 180 deg, where it starts again."
    span = f"{source.bounds.low} to {source.bounds.high}"
    if isinstance(source, Reading) and source.from_step_start:
        return f"{name} counts from the start of the step, and its range is {span}."
    return f"{name} gives {span}, nothing else."


def _way_out(first: Asked, one: Settled) -> str:
    if len(one.asked) > 1:
        return f"Change one of them{'.' if one.always else ', or write them as two exits.'}"
    if isinstance(first, Within) and first.tolerance.base < 0:
        return "Write the tolerance without the minus sign."
    assert isinstance(first, Compare | Within), "a single answer is never settled"
    name = first.source.spoken
    return f"Change the number, or the range of `{name}` if the robot file has it wrong."
