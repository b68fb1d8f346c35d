"""Requirements as the tests of a plan judge them (M15)."""

from __future__ import annotations

from collections.abc import Iterator

from planner.java.wording import comment, double, string
from planner.java.wording import name as java_name
from planner.java.wording import time as java_time
from planner.model.choices import Choice
from planner.model.requirement import (
    FinishedBy,
    Happening,
    Inside,
    LeadsTo,
    NeverWhile,
    OnlyAfter,
    Requirement,
    Told,
    happenings,
)
from planner.model.routine import Routine

_BY_CHOICE = "// (what is chosen decides over its numbers: rehearse it)"
_STOPS = "// (a pretend robot cannot tell stop from switching off: rehearse it)"
_ANEW = "// (from outside nobody sees that a group begins anew: rehearse it)"


def requirement_code(routine: Routine) -> Iterator[tuple[str, str]]:
    """The lines of a routine's requirements, and the statement that judges each."""
    for requirement in routine.requirements:
        why = _unjudged(routine, requirement)
        yield (
            comment(requirement.place.words),
            why or f"run.mustKeepTo({_judge(routine, requirement)});",
        )


def _unjudged(routine: Routine, requirement: Requirement) -> str:
    """Why a requirement cannot be judged there; empty where it can."""
    told = [one for one in happenings(requirement) if isinstance(one, Told)]
    if any(one.command == "stop" for one in told):
        return _STOPS
    timed = isinstance(requirement, FinishedBy | LeadsTo) and requirement.chosen
    if timed or any(_goes_by_choice(routine, one) for one in told):
        return _BY_CHOICE
    if isinstance(requirement, LeadsTo):
        cause = requirement.cause
        return _ANEW if isinstance(cause, Inside) and cause.groups else ""
    return ""


def _goes_by_choice(routine: Routine, told: Told) -> bool:
    choices = routine.choices.values()
    mirrored = any(isinstance(choice, Choice) and choice.mirroring for choice in choices)
    command = routine.robot.mechanisms[told.mechanism].commands[told.command]
    return any(
        amount.chosen or (mirrored and parameter.mirrors)
        for amount, parameter in zip(told.arguments or (), command.parameters, strict=False)
    )


def _judge(routine: Routine, requirement: Requirement) -> str:
    pair = ", ".join(_happening(routine, one) for one in happenings(requirement))
    match requirement:
        case FinishedBy(by_us):
            return f"finishedBy({java_time(by_us)})"
        case NeverWhile():
            return f"never({pair})"
        case OnlyAfter():
            return f"onlyAfter({pair})"
        case LeadsTo(within_us=within_us):
            return f"leadsTo({pair}, {java_time(within_us)})"


def _happening(routine: Routine, happening: Happening) -> str:
    if isinstance(happening, Inside):
        method = "inGroup" if happening.groups else "in"
        steps = [step for step in routine.steps if step in happening.steps]
        return f"{method}({', '.join(map(java_name, steps))})"
    command = routine.robot.mechanisms[happening.mechanism].commands[happening.command]
    words = [string(f"{happening.mechanism} {happening.command}")]
    for amount, parameter in zip(happening.arguments or (), command.parameters, strict=False):
        words.append(double(amount.in_unit(parameter.unit)))
    return f"told({', '.join(words)})"
