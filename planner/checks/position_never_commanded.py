"""What it finds
    A wait for a reading of a mechanism to move, in a step in which nothing moves that mechanism: no
    command to it is in force there, by whatever way a run has come.

Why it matters on the field
    The way travelled stays at 0, the lift stays where it is, and the step ends in its time limit.
    Most often the command was forgotten, or stands in the step before, which switched it off.

Example
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 30 cm, go to Creep
      after 3 s, go to GiveUp
    step Creep
      when drive travelled > 20 cm, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 30 cm, go to Creep
      after 3 s, go to GiveUp
    step Creep
      drive forward 20 %
      when drive travelled > 20 cm, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph import Plan
from planner.graph.atoms import Asking, source_key
from planner.graph.doing import Doing, Stance, doings
from planner.graph.possible import untrue_with
from planner.model.condition import Compare, Within, leaves
from planner.model.mechanisms import STOP
from planner.model.robot import Mechanism, Reading
from planner.model.routine import Step, WhenExit


def find(case: Case) -> Iterator[Found]:
    """The readings that steps wait for, of mechanisms that stand still there."""
    if case.plan is None or case.robot.missing:
        return
    flows: dict[str, dict[str, tuple[Doing, ...]]] = {}
    for step in case.plan.routine.steps.values():
        told: set[str] = set()
        for when in step.whens:
            for leaf in _waits(case, step, when):
                assert isinstance(leaf.source, Reading)
                name = leaf.source.mechanism
                if name not in flows:
                    flows[name] = _during(case.plan, name)
                during = flows[name].get(step.name, ())
                still = [_stands_still(doing, leaf.source) for doing in during]
                if name not in told and still and all(still):
                    told.add(name)
                    yield _found(step, leaf, during)


def _during(plan: Plan, mechanism: str) -> dict[str, tuple[Doing, ...]]:
    found = doings(plan, mechanism)
    return dict(found.during) if found else {}


def _waits(case: Case, step: Step, when: WhenExit) -> Iterator[Compare | Within]:
    """The readings of moving mechanisms that an exit cannot do without."""
    for leaf in leaves(when.condition):
        if isinstance(leaf, Compare | Within) and isinstance(leaf.source, Reading):
            mechanism = case.robot.mechanisms[leaf.source.mechanism]
            if _can_move(mechanism) and _has_to_move(step, when, leaf):
                yield leaf


def _can_move(mechanism: Mechanism) -> bool:
    """Whether it turns something, and can be told to."""
    return mechanism.moves and any(name != STOP.name for name in mechanism.commands)


def _has_to_move(step: Step, when: WhenExit, leaf: Compare | Within) -> bool:
    """Whether the exit stays untrue as long as the reading is where it was at first.

    Where a reading counts from somewhere else, that is not known; it is taken to be elsewhere.
    """
    assert isinstance(leaf.source, Reading)
    if not leaf.source.from_step_start:
        return True
    key = source_key(leaf, step.name)
    return untrue_with(Asking(when.condition, step.name), key, Fraction(0))


def _stands_still(doing: Doing, reading: Reading) -> bool:
    """Whether the reading stays what it was, at the start of the step or of the match."""
    if doing.stance is Stance.NEVER_TOLD:
        return True
    # What has moved before may be there already.
    if not reading.from_step_start or doing.given is None:
        return False
    return doing.stance is Stance.SWITCHED_OFF or doing.given.command.name == STOP.name


def _found(step: Step, leaf: Compare | Within, during: tuple[Doing, ...]) -> Found:
    assert isinstance(leaf.source, Reading)
    name = leaf.source.mechanism
    ended = next((doing.given for doing in during if doing.given is not None), None)
    why = f"No step on the way has told `{name}` anything, and `{step.name}` does not either."
    related: tuple[Related, ...] = ()
    if ended is not None:
        why = f"What `{name}` was told before has ended, and `{step.name}` tells it nothing new."
        related = (Related(ended.place, "this is over by then"),)
    if any(given is ended for given in step.commands):
        why = f"`{name} stop` is all that `{step.name}` tells it."
        related = ()
    return Found(
        leaf.place,
        f"`{step.name}` waits for `{leaf.source.spoken}` to change, and nothing moves `{name}`",
        why,
        f"Give `{name}` a command in `{step.name}`, or wait for something else.",
        steps=(step.name,),
        related=related,
    )
