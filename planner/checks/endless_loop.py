"""What it finds
    Steps that can lead to each other again and again, with nothing that counts the rounds. A
    match-clock exit ends such a loop, unless the loop can be entered once more after it; and so
    does the time limit of a group that the loop stays in. A count inside of a task ends no loop
    that starts the task again, since it starts again with it. Whether a counter ends the loop that
    counts it in time is told by `late-finish`.

Why it matters on the field
    On a good day the second try works. On a bad one the robot tries until the match is over, and
    nothing else is done.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to BackOff
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Approach
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to BackOff
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Approach, at most 2 times, then GiveUp
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from planner.checks.advice import GIVE_UP, homes_from, some, ways_home
from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph import Exit, Plan
from planner.graph.loops import Loop, endless_loops
from planner.graph.walks import traps
from planner.model.condition import CounterCompare, leaves
from planner.model.routine import AfterExit, Group, Step, WhenExit
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """The endless loops; one that no finish can be reached from is `no-way-to-finish`."""
    # A line that could not be read may be a match-clock exit, which would end the loop.
    if case.plan is None or case.plan.routine.incomplete:
        return
    finishes = bool(case.plan.routine.finishes)
    trapped = {name for trap in traps(case.plan) for name in trap.steps if finishes}
    homes = ways_home(case.plan)
    for loop in endless_loops(case.plan):
        if loop.steps[0] not in trapped and not _counter_may_end(case.plan, loop):
            yield _found(case.plan, loop, homes)


def _counter_may_end(plan: Plan, loop: Loop) -> bool:
    """Whether a way out asks a counter of the loop: `late-finish` tells whether it ends it."""
    owners = {group.name for name in loop.steps for group in plan.routine.groups_around(name)}
    every: list[Step | Group] = [plan.step(name) for name in loop.steps]
    every += [plan.routine.groups[name] for name in owners]
    counted = {line.counter.name for owner in every for line in owner.counts}
    asked = {
        leaf.counter.name
        for name in loop.steps
        for exit_ in plan.exits[name]
        if isinstance(exit_.written, WhenExit) and exit_.target not in loop.steps
        for leaf in leaves(exit_.written.condition)
        if isinstance(leaf, CounterCompare)
    }
    return not counted.isdisjoint(asked)


def _found(plan: Plan, loop: Loop, homes: tuple[str, ...]) -> Found:
    back = _counting(loop)
    place, home = back.place, homes_from(plan, back.source, homes)[0]
    if isinstance(back.written, WhenExit | AfterExit) and back.written.ended:
        place, home = back.written.ended, homes[0] if homes else GIVE_UP
    round_ = [exit_.source for exit_ in loop.way]
    if len(round_) == 1:
        headline = f"`{back.source}` can lead back to itself without end"
    else:
        headline = f"{some(round_)} can follow each other without end"
    return Found(
        place,
        headline,
        f"Nothing counts the rounds, so the robot can spend the whole match here.{_clock(plan)}",
        _way_out(back),
        paste=() if back.most is not None else (_counted(back, place.words, home),),
        steps=loop.steps,
        related=tuple(
            Related(exit_.place, f"leads on to `{exit_.target}`")
            for exit_ in [exit_ for exit_ in loop.way if exit_ is not back][:6]
        ),
    )


def _clock(plan: Plan) -> str:
    if not plan.routine.match_exits:
        return ""
    last = plan.routine.match_exits[-1]
    at = seconds_text(last.at_us)
    return (
        f" The match clock's exit at {at} goes to `{last.target}`, which can lead into the loop "
        "again, and it is taken only once."
    )


def _way_out(back: Exit) -> str:
    if back.most is not None:
        return (
            "This count starts again each time the task does: let the step that does the task "
            "lead on, and not back."
        )
    if back.overflow:
        return "The count of this exit ends in the loop again: let its `then` lead out of it."
    return "Count the exit that leads back, and say where to go when the count is used up."


def _counting(loop: Loop) -> Exit:
    """The exit to count: the last of the way round, but one that is counted already."""
    return next((exit_ for exit_ in reversed(loop.way) if exit_.most is None), loop.way[-1])


def _counted(back: Exit, words: str, home: str) -> str:
    """The exit that leads back as a line with a count that leads out."""
    if back.overflow:
        return re.sub(r"\bthen\s+\w+$", f"then {home}", words)
    return f"{words}, at most 2 times, then {home}"
