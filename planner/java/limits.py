"""What is too broken or too large to become Java."""

from __future__ import annotations

from planner.graph import Plan
from planner.graph.owners import Owner, owners
from planner.java.errors import CannotExport
from planner.java.plan_parts import conditions
from planner.model.condition import (
    Condition,
    LaneIn,
    LanesDone,
    lasting_parts,
    parts,
)

# A method holds at most 65535 bytes of code and a class at most 65535 constants (Java Virtual
# Machine Specification, Java SE 8, sections 4.7.3 and 4.1). The enum of steps is filled by one
# method, at 31 bytes a step. These numbers stay well below; a test compiles them.
MOST_STEPS = 2000
MOST_IN_A_STEP = 400
MOST_IN_A_PLAN = 8000
# The constructor makes the memories of conditions on several passes and the lanes, at most 24 bytes
# each.
MOST_MEMORIES = 2000
# Leaving a group or asking its side rules takes about 14 bytes of a method that does so for all.
MOST_GROUPS = 1000


def check_exportable(plan: Plan) -> None:
    """Raises `CannotExport` where a plan has no meaning that Java could carry."""
    routine = plan.routine
    if routine.robot.missing:
        raise CannotExport(f"{routine.name} cannot be exported without its robot file")
    incomplete = [owner.name for owner in owners(routine) if owner.incomplete]
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


def _check_size(plan: Plan) -> None:
    routine = plan.routine
    if len(routine.steps) > MOST_STEPS:
        raise CannotExport(
            f"{routine.name} has {len(routine.steps)} steps; a Java class holds {MOST_STEPS}"
        )
    if len(routine.groups) > MOST_GROUPS:
        raise CannotExport(
            f"{routine.name} has {len(routine.groups)} groups and steps that do a task; a Java "
            f"method holds {MOST_GROUPS}"
        )
    whole = sum(_checked_size(plan, owner) for owner in owners(routine))
    if whole > MOST_IN_A_PLAN or _under_all_steps(plan) > MOST_IN_A_STEP:
        raise CannotExport(
            f"{routine.name} has {whole} commands, exits, side rules and conditions; a Java class "
            f"holds {MOST_IN_A_PLAN}: split the routine"
        )
    lanes = sum(bool(group.lane) for group in routine.groups.values())
    memories = len(routine.memories) + lanes + sum(map(_memories, owners(routine)))
    if memories > MOST_MEMORIES:
        raise CannotExport(
            f"{routine.name} has {memories} memories, counters, lanes and conditions on several "
            f"passes; a Java class holds {MOST_MEMORIES}: split the routine"
        )


def _checked_size(plan: Plan, owner: Owner) -> int:
    """How much stands in a step, a group or above the steps. Raises `CannotExport` for too much."""
    asked = sum(_tests(plan, part) for condition in conditions(owner) for part in parts(condition))
    size = len(owner.whens) + len(owner.afters) + len(owner.match_exits) + len(owner.rules) + asked
    size += len(owner.remembers)
    what = f"group {owner.name}" if owner.is_group else "the routine"
    if owner.name and not owner.is_group:
        size += len(plan.step(owner.name).commands) + len(plan.step(owner.name).counts)
        what = f"step {owner.name}"
    if size > MOST_IN_A_STEP:
        raise CannotExport(
            f"{what} has {size} commands, exits, side rules and conditions; a Java method holds "
            f"{MOST_IN_A_STEP}: split it"
        )
    return size


def _tests(plan: Plan, part: Condition) -> int:
    """How many tests a part of a condition is by itself: that of a task in a lane, one a step."""
    match part:
        case LanesDone(lanes):
            return len(lanes)
        case LaneIn():
            return sum(map(part.is_true_in, plan.outer))
        case _:
            return 1


def _under_all_steps(plan: Plan) -> int:
    """What one method asks whatever the step: match-clock exits, and what side rules have told."""
    return sum(len(owner.match_exits) + len(owner.rules) for owner in owners(plan.routine))


def _memories(owner: Owner) -> int:
    return sum(1 for condition in conditions(owner) for _ in lasting_parts(condition))
