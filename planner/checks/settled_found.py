"""What `never-true` and `always-true` say."""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import some
from planner.checks.case import Case, Found
from planner.checks.truth import Asked, Settled, settled
from planner.findings import Related
from planner.model.condition import Answers, Compare, Source, Within
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
                    yield _found(step, one)


def _found(step: Step, one: Settled) -> Found:
    first = one.asked[0]
    return Found(
        first.place,
        _headline(one),
        _why(first, one),
        _way_out(first, one),
        steps=(step.name,),
        related=tuple(Related(leaf.place, "together with this") for leaf in one.asked[1:]),
    )


def _headline(one: Settled) -> str:
    spoken = [spoken_condition(leaf) for leaf in one.asked]
    if len(spoken) == 1:
        return f"`{spoken[0]}` {'is always true' if one.always else 'can never be true'}"
    if one.always:
        return f"one of {some(spoken)} is always true"
    return f"{some(spoken)} contradict each other"


def _why(first: Asked, one: Settled) -> str:
    then = (
        "So the exit is taken at once, unless something else in it says no."
        if one.always
        else "So this never lets the step end."
    )
    if isinstance(first, Within) and first.tolerance.base < 0:
        return f"A tolerance below 0 leaves no number at all. {then}"
    if len(one.asked) > 1 or isinstance(first, Answers):
        reason = "Whatever the sensor says, one of them holds."
        return f"{reason if one.always else 'No value is all of that at once.'} {then}"
    return f"{_gives(first.source)} {then}"


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
        return "Change one of the conditions" + (
            ", or ask for them in two exits." if not one.always else "."
        )
    if isinstance(first, Within) and first.tolerance.base < 0:
        return "Write the tolerance without the minus sign."
    assert isinstance(first, Compare | Within), "a single answer is never settled"
    name = first.source.spoken
    return f"Change the number, or the range of `{name}` if the robot file has it wrong."
