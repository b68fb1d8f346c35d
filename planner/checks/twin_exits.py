"""What it finds
    Two exits of a step or group that wait for the very same thing, or two match-clock exits at one
    time.

Why it matters on the field
    The first of two true exits is taken, so the second never is. Often one of them was copied and
    the sensor in it was never changed. Of two match-clock exits at one time the second follows in
    the next pass, so that the first one's step lasts no time at all.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      when bumper pressed, go to BackOff
      after 3 s, go to BackOff
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Parked
      after 2 s, go to GiveUp
    finish Lit
    finish Parked
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      when tin_gate broken, go to BackOff
      after 3 s, go to BackOff
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Parked
      after 2 s, go to GiveUp
    finish Lit
    finish Parked
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph.owners import Owner, owners
from planner.model.meaning import meaning
from planner.model.routine import AfterExit, MatchExit, WhenExit
from planner.model.spoken import spoken_condition
from planner.model.units import seconds_text


def find(case: Case) -> Iterator[Found]:
    """Every exit that an earlier one of its step already stands for."""
    if case.plan is None:
        return
    for owner in owners(case.plan.routine):
        yield from _of_match_clock(owner)
        yield from _of_owner(owner)


def _of_match_clock(owner: Owner) -> Iterator[Found]:
    first: dict[int, MatchExit] = {}
    for exit_ in owner.match_exits:
        other = first.setdefault(exit_.at_us, exit_)
        if other is exit_:
            continue
        if other.target == exit_.target:
            why = f"Both go to `{exit_.target}`; one of them is enough."
        else:
            why = (
                f"Both come true in one pass: the robot goes to `{other.target}`, and in the next "
                f"pass on to `{exit_.target}`."
            )
        yield Found(
            exit_.place,
            f"two match-clock exits at {seconds_text(exit_.at_us)}",
            why,
            "Delete one of them, or change its time.",
            related=(Related(other.place, "the first one"),),
        )


def _of_owner(owner: Owner) -> Iterator[Found]:
    first: dict[object, WhenExit | AfterExit] = {}
    exits: tuple[WhenExit | AfterExit, ...] = (*owner.whens, *owner.afters)
    for exit_ in exits:
        key, spoken = _key(exit_)
        other = first.setdefault(key, exit_) if key is not None else exit_
        if other is exit_:
            continue
        same = exit_.target == other.target and exit_.count == other.count
        yield Found(
            exit_.place,
            f"`{owner.name}` has two exits for {spoken}",
            "The first is always taken, so this one never is.",
            "Delete this line."
            if same
            else "Delete one of them, or change what one of them waits for.",
            steps=owner.steps,
            related=(Related(other.place, "this one is taken"),),
        )


def _key(exit_: WhenExit | AfterExit) -> tuple[object, str]:
    """What an exit waits for, None where it is not known; and how to say it."""
    if isinstance(exit_, AfterExit):
        return exit_.limit_us, f"the time of {seconds_text(exit_.limit_us)}"
    return meaning(exit_.condition), f"`{spoken_condition(exit_.condition)}`"
