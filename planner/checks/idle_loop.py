"""What it finds
    An exit that leads a step back to itself, where the step does nothing and counts nothing.

Why it matters on the field
    A step stays by itself until one of its exits is true. Going back to itself only sets its clock
    to 0 again, so that its time limit may never come.

Example
    start Wait
    step Wait
      when bumper released, go to Wait
      when bumper pressed, go to Lit
      after 5 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Wait
    step Wait
      when bumper pressed, go to Lit
      after 5 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import homes_from, limit_line, ways_home
from planner.checks.case import Case, Found
from planner.graph import Exit
from planner.graph.loops import is_idle
from planner.graph.owners import is_incomplete
from planner.graph.walks import own_exits, traps
from planner.model.routine import AfterExit


def find(case: Case) -> Iterator[Found]:
    """Self-exits without effect; where nothing else leads on, `no-way-to-finish` says more."""
    plan = case.plan
    if plan is None:
        return
    idle = [
        e for e in own_exits(plan) if is_idle(plan, e) and not is_incomplete(plan.routine, e.source)
    ]
    if not idle:
        return
    trapped = {name for trap in traps(plan) for name in trap.steps if len(trap.steps) == 1}
    homes = ways_home(plan)
    for exit_ in idle:
        if exit_.source not in trapped:
            yield _found(exit_, homes_from(plan, exit_.source, homes)[0])


def _found(exit_: Exit, home: str) -> Found:
    name, written = exit_.source, exit_.written
    why = f"All it does is set the clock of `{name}` to 0 again"
    if isinstance(written, AfterExit):
        why += ", so this time limit ends nothing: the robot waits on."
        way_out = "Let the time limit lead on."
        paste: tuple[str, ...] = (limit_line(written.limit_us, home),)
    else:
        why += ", so a time limit may never come."
        way_out = f"Delete this line: `{name}` stays until another exit is true."
        paste = ()
    return Found(
        written.place,
        f"`{name}` goes back to itself and changes nothing",
        why,
        way_out,
        paste,
        steps=(name,),
    )
