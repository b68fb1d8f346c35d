"""What is too broken or too large to become Java."""

from __future__ import annotations

from planner.graph import Plan
from planner.java.errors import CannotExport
from planner.java.plan_parts import conditions
from planner.model.condition import Held, Looks, Once, Steady, parts
from planner.model.routine import Step

# A method holds at most 65535 bytes of code and a class at most 65535 constants (Java Virtual
# Machine Specification, Java SE 8, sections 4.7.3 and 4.1). The enum of steps is filled by one
# method, at about 25 bytes a step. These numbers stay well below; a test compiles them.
MOST_STEPS = 2000
MOST_IN_A_STEP = 400
MOST_IN_A_PLAN = 8000
# The constructor makes the memories of conditions on several passes, at most 24 bytes each.
MOST_MEMORIES = 2000


def check_exportable(plan: Plan) -> None:
    """Raises `CannotExport` where a plan has no meaning that Java could carry."""
    _check_statements(plan)
    routine = plan.routine
    if routine.robot.missing:
        raise CannotExport(f"{routine.name} cannot be exported without its robot file")
    incomplete = [step.name for step in routine.steps.values() if step.incomplete]
    if routine.incomplete or incomplete or routine.robot.broken_words:
        where = f" (in {', '.join(incomplete[:3])})" if incomplete else ""
        raise CannotExport(
            f"{routine.name or 'the routine'} has lines that make no sense yet{where}: "
            "`planner check` shows them"
        )
    if not routine.name or not routine.start:
        missing = "start" if routine.name else "name"
        raise CannotExport(f"the routine has no {missing}: `planner check` shows what is missing")
    _check_size(plan)


def _check_statements(plan: Plan) -> None:
    routine = plan.routine
    rules = [*routine.rules, *(rule for step in routine.steps.values() for rule in step.rules)]
    first = next(iter(routine.groups.values()), None)
    if first is not None:
        what = "does a task" if first.task else "is a group"
        raise CannotExport(f"`{first.name}` {what}: there is no Java for that yet")
    if routine.choices:
        name = next(iter(routine.choices))
        raise CannotExport(f"`{name}` is chosen before the start: there is no Java for that yet")
    if rules:
        place = rules[0].place
        raise CannotExport(f"line {place.line} is a side rule: there is no Java for that yet")


def _check_size(plan: Plan) -> None:
    routine = plan.routine
    if len(routine.steps) > MOST_STEPS:
        raise CannotExport(
            f"{routine.name} has {len(routine.steps)} steps; a Java class holds {MOST_STEPS}"
        )
    sizes = {name: _size(step) for name, step in routine.steps.items()}
    for name, size in sizes.items():
        if size > MOST_IN_A_STEP:
            raise CannotExport(
                f"step {name} has {size} commands, exits and conditions; a Java method holds "
                f"{MOST_IN_A_STEP}: split the step"
            )
    whole = sum(sizes.values()) + len(routine.match_exits)
    if whole > MOST_IN_A_PLAN or len(routine.match_exits) > MOST_IN_A_STEP:
        raise CannotExport(
            f"{routine.name} has {whole} commands, exits and conditions; a Java class holds "
            f"{MOST_IN_A_PLAN}: split the routine"
        )
    memories = sum(map(_memories, routine.steps.values()))
    if memories > MOST_MEMORIES:
        raise CannotExport(
            f"{routine.name} has {memories} conditions on several passes; a Java class holds "
            f"{MOST_MEMORIES}: split the routine"
        )


def _memories(step: Step) -> int:
    asked = (part for condition in conditions(step) for part in parts(condition))
    return sum(isinstance(part, Held | Once | Looks | Steady) for part in asked)


def _size(step: Step) -> int:
    asked = sum(1 for condition in conditions(step) for _ in parts(condition))
    return len(step.commands) + len(step.exits) + asked
