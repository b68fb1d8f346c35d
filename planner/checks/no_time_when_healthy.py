"""What it finds
    Steps for which there is no time even when all goes well: with every sensor speaking when it is
    expected to, the match clock or the routine's limit always comes before them.

Why it matters on the field
    What stands there is never done, on the best day of the season. The plan promises more than the
    robot can keep, and the time for what comes before may be short as well.

Example
    routine example
    robot moth
    limit 10 s
    at 8 s of match, go to Still
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, expect 4 s to 6 s, go to Raise
      after 7 s, go to Still
    step Raise
      arm to 1200 ticks
      when arm done, expect 4.5 s to 5 s, go to Lit
      after 7 s, go to Still
    finish Lit
    finish Still

Instead
    routine example
    robot moth
    limit 10 s
    at 8 s of match, go to Still
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, expect 2 s to 3 s, go to Raise
      after 7 s, go to Still
    step Raise
      arm to 1200 ticks
      when arm done, expect 2.5 s to 3 s, go to Lit
      after 7 s, go to Still
    finish Lit
    finish Still
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.checks.case import Case, Found
from planner.checks.timing import bounds_for
from planner.checks.words import listed
from planner.graph.healthy import expects_anything, healthy, seen_before
from planner.model.routine import Routine
from planner.model.units import seconds_text

MOST_TOLD = 4
"""How many steps are named."""
MOST_MATCHES = 8
"""A plan is looked through for as long as this many matches last; rounds without a count would go
on for ever."""


def find(case: Case) -> Iterator[Found]:
    """The steps that a healthy robot would come to if a match had no end, and never does."""
    if case.plan is None or not expects_anything(case.plan.routine):
        return
    routine = case.plan.routine
    if not routine.start or routine.incomplete or any(s.incomplete for s in routine.steps.values()):
        return
    late = _late(routine)
    if late:
        yield _found(routine, late)


def _late(routine: Routine) -> list[str]:
    """The steps that a run comes to if the match has no end, and none does as it is."""
    # Loaded for the plans that need it: few expect anything.
    from planner.reach.position import knows_all_it_holds
    from planner.reach.verdict import verdict

    in_time: set[str] = set()
    ever: set[str] = set()
    for begun in seen_before(routine) or ():
        plan, without_end = healthy(begun), healthy(_without_end(begun))
        found = verdict(plan, bounds_for(plan))
        if found.stopped or not knows_all_it_holds(without_end):
            # What is remembered may be why a step is never come to.
            return []
        in_time.update(found.entries)
        ever.update(verdict(without_end, bounds_for(plan)).entries)
    return [name for name in routine.steps if name in ever - in_time]


def _without_end(routine: Routine) -> Routine:
    """The routine in a match so long that whatever takes its time still comes in it."""
    groups = {name: replace(group, match_exits=()) for name, group in routine.groups.items()}
    longer_us = MOST_MATCHES * routine.limit_us
    return replace(routine, limit_us=longer_us, match_exits=(), groups=groups)


def _found(routine: Routine, late: list[str]) -> Found:
    named = listed(late[:MOST_TOLD], "and") + (" and more" if len(late) > MOST_TOLD else "")
    clock = [exit_.at_us for exit_ in routine.match_exits]
    end = seconds_text(min([*clock, routine.limit_us]))
    return Found(
        routine.steps[late[0]].place,
        f"even when all goes well there is no time for {named}",
        f"What comes before takes so long, if everything comes when it is expected, that {end} of "
        "the match have always passed by then.",
        "Leave out a step, make one faster, or correct what is expected.",
        steps=tuple(late),
    )
