"""What it finds
    A counted exit that is taken at most once, because no way leads back to its step.

Why it matters on the field
    The `then` of the exit never comes true: a count only runs out where a step is left by the same
    exit again and again. Perhaps an exit that should lead back is missing.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to BackOff, at most 2 times, then GiveUp
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to BackOff, at most 2 times, then GiveUp
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Approach
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

import re
from collections.abc import Iterator

import networkx as nx

from planner.checks.case import Case, Found
from planner.graph import Exit
from planner.graph.owners import owners
from planner.graph.walks import own_exits, ways
from planner.model.routine import MatchExit

_COUNT = re.compile(r"\s*,\s*at\s+most\b")


def find(case: Case) -> Iterator[Found]:
    """The counted exits whose target never leads back."""
    plan = case.plan
    if plan is None or plan.routine.incomplete:
        return
    counted = [exit_ for exit_ in own_exits(plan) if exit_.most is not None]
    # What an incomplete step lacks may be the way back.
    if not counted or any(owner.incomplete for owner in owners(plan.routine)):
        return
    tied: dict[str, int] = {}
    for number, component in enumerate(nx.strongly_connected_components(ways(plan))):
        tied.update(dict.fromkeys(component, number))
    # Of a group's exit, and of one for an outcome, there are several that share one count.
    leads_back = {e.counter for e in counted if tied[e.source] == tied[e.target]}
    told: set[str] = set()
    for exit_ in counted:
        if exit_.counter not in leads_back and exit_.counter not in told:
            told.add(exit_.counter)
            yield _found(exit_, plan.step(exit_.target).is_finish)


def _found(exit_: Exit, finishes: bool) -> Found:
    assert not isinstance(exit_.written, MatchExit), "match-clock exits carry no count"
    then = exit_.written.count.then if exit_.written.count else ""
    place = exit_.written.ended or exit_.place
    source, target = exit_.source, exit_.target
    return Found(
        place,
        f"the count in `{source}` never runs out",
        f"No way leads from `{target}` back to `{source}`, so this exit is taken once at the most, "
        f"and `{then}` never comes from here.",
        "Leave out the count."
        if finishes
        else f"Leave out the count, or let `{target}` lead back to `{source}`.",
        paste=(_COUNT.split(place.words)[0],),
        steps=(source,),
    )
