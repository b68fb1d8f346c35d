"""What it finds
    A match-clock exit that is asked nowhere but in the step or block that it leads to.

Why it matters on the field
    If its time comes while the plan is in its target already, it counts as taken. So it never does
    anything: it starts no block again, and takes the robot nowhere.

Example
    start Carry
    together Carry
      at 5 s of match, go to Carry
      when all lanes done, go to Lit
      after 9 s, go to GiveUp
      lane wheels
        step Drive
          drive forward 40 %
          when drive travelled > 60 cm, go to done
          after 4 s, go to done
      lane lifting
        step Lift
          arm to 1200 ticks
          when arm done, go to done
          after 3 s, go to done
    finish Lit
    finish GiveUp

Instead
    start Carry
    together Carry
      at 5 s of match, go to GiveUp
      when all lanes done, go to Lit
      after 9 s, go to GiveUp
      lane wheels
        step Drive
          drive forward 40 %
          when drive travelled > 60 cm, go to done
          after 4 s, go to done
      lane lifting
        step Lift
          arm to 1200 ticks
          when arm done, go to done
          after 3 s, go to done
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.graph import Plan
from planner.graph.owners import owners
from planner.graph.walks import played, ways
from planner.model.routine import MatchExit
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """The match-clock exits that no step but their own target asks."""
    plan = case.plan
    if plan is None or plan.routine.incomplete:
        return
    playable = played(plan, ways(plan))
    for owner in owners(plan.routine):
        # What a line that could not be read leads to may lie in the group too.
        if owner.match_exits and not owner.incomplete:
            asking = [name for name in owner.steps if name in playable]
            for exit_ in owner.match_exits:
                # One past the limit is `match-exit-too-late`.
                if exit_.at_us < plan.routine.limit_us and _is_spent(plan, exit_, asking):
                    yield _found(exit_)


def _is_spent(plan: Plan, exit_: MatchExit, asking: list[str]) -> bool:
    """Whether the plan is in the target wherever the exit is asked (M4)."""
    return bool(asking) and all(exit_.target in (name, plan.block_of(name)) for name in asking)


def _found(exit_: MatchExit) -> Found:
    at, target = seconds_text(exit_.at_us), exit_.target
    return Found(
        exit_.place,
        f"the match-clock exit at {at} is never taken",
        f"It is asked in `{target}` only, and leads there: it counts as taken when its time comes.",
        f"Let it lead to another step, or delete it. An `after` exit can start `{target}` again.",
        steps=(target,),
    )
