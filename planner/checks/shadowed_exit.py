"""What it finds
    An exit that another always comes before: whatever makes it true makes an earlier exit of the
    same step, or of a group around it, true as well. Or one that must be held for so long that the
    time limit has ended the step by then.

Why it matters on the field
    The first true exit is taken, so this one never is. Most often the narrower condition belongs
    above the wider one.

Example
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 20 cm, go to Creep
      when range_front < 8 cm, go to Lit
      after 3 s, go to GiveUp
    step Creep
      drive forward 20 %
      when bumper pressed, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 8 cm, go to Lit
      when range_front < 20 cm, go to Creep
      after 3 s, go to GiveUp
    step Creep
      drive forward 20 %
      when bumper pressed, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.implied import from_step_start, implies
from planner.checks.limits import limit_is_known
from planner.checks.meaning import meaning
from planner.checks.truth import settled
from planner.findings import Related
from planner.graph.owners import Owner, owners
from planner.model.condition import All, Any, Condition, Held, Steady
from planner.model.routine import AfterExit, Group, Routine, WhenExit
from planner.model.spoken import spoken_condition
from planner.model.units import seconds_text

MOST_COMPARED = 40
"""Of more exits in one place nothing is concluded: each is compared with each."""


def find(case: Case) -> Iterator[Found]:
    """The `when` exits that cannot be taken, of steps and of groups."""
    if case.plan is None:
        return
    routine = case.plan.routine
    limit_us = routine.limit_us if limit_is_known(case) else None
    for owner in owners(routine):
        # What is settled anyway has a finding of its own.
        open_ = [when for when in owner.whens if not any(settled(when.condition, limit_us))]
        around = _groups_around(routine, owner)
        for when in open_[:MOST_COMPARED]:
            found = _too_long(owner, around, when) or _shadowed(owner, around, open_, when)
            if found:
                yield found


def _groups_around(routine: Routine, owner: Owner) -> tuple[Group, ...]:
    """The groups that are asked before a step or a group, outermost first."""
    found: list[Group] = []
    name = routine.groups[owner.name].inside if owner.is_group else ""
    if owner.name in routine.steps:
        name = routine.steps[owner.name].group
    while name:
        found.insert(0, routine.groups[name])
        name = found[0].inside
    return tuple(found)


def _shadowed(
    owner: Owner, around: tuple[Group, ...], own: list[WhenExit], when: WhenExit
) -> Found | None:
    for group in around:
        for earlier in group.whens[:MOST_COMPARED]:
            counts_elsewhere = from_step_start(earlier.condition) or from_step_start(when.condition)
            if not counts_elsewhere and implies(when.condition, earlier.condition):
                return _found(owner, when, earlier, f" of `{group.name}`")
    for earlier in own:
        if earlier is when:
            return None
        # Two exits for the very same thing are `twin-exits`.
        same = meaning(earlier.condition) == meaning(when.condition)
        if not same and implies(when.condition, earlier.condition):
            return _found(owner, when, earlier, "")
    return None


def _found(owner: Owner, when: WhenExit, earlier: WhenExit, where: str) -> Found:
    narrow, wide = spoken_condition(when.condition), spoken_condition(earlier.condition)
    if earlier.target == when.target and earlier.count == when.count:
        way_out = "Both lead to the same step: delete this line, or change what it waits for."
    elif where:
        way_out = "Change one of the two, or take the group's exit out and write it in its steps."
    else:
        way_out = "Write this line above the other, or change what one of them waits for."
    return Found(
        when.place,
        f"the exit for `{narrow}` in `{owner.name}` is never taken",
        f"Whenever it is true, `{wide}` is true as well, and that exit{where} is asked first.",
        way_out,
        steps=owner.steps,
        related=(Related(earlier.place, "this one is taken"),),
    )


def _too_long(owner: Owner, around: tuple[Group, ...], when: WhenExit) -> Found | None:
    needs_us = _needs_us(when.condition)
    afters = [*owner.afters, *(after for group in around for after in group.afters)]
    first = min(afters, key=lambda after: after.limit_us, default=None)
    if not needs_us or first is None or needs_us < first.limit_us:
        return None
    return _too_late(owner, when, first, needs_us)


def _too_late(owner: Owner, when: WhenExit, first: AfterExit, needs_us: int) -> Found:
    spoken, needs = spoken_condition(when.condition), seconds_text(needs_us)
    return Found(
        when.place,
        f"the exit for `{spoken}` in `{owner.name}` comes after its time limit",
        f"It needs more than {needs} from the first look on, and the limit of "
        f"{seconds_text(first.limit_us)} comes before that.",
        "Make the time in the condition shorter, or the limit longer.",
        steps=owner.steps,
        related=(Related(first.place, "this limit comes first"),),
    )


def _needs_us(condition: Condition) -> int:
    """How long a condition has to be watched at least before it can be true."""
    match condition:
        case Held(part, duration_us):
            return duration_us + _needs_us(part)
        case Steady():
            return condition.duration_us
        case All(parts):
            return max(map(_needs_us, parts))
        case Any(parts):
            return min(map(_needs_us, parts))
        case _:
            return 0
