"""Side rules that a step entered in the same pass has its way over (M7, M12)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.graph.atoms import Asking, Assumed
from planner.graph.lasting import last_given
from planner.graph.owners import (
    Owner,
    groups_left,
    is_incomplete,
    owners_around,
    rules_around,
)
from planner.graph.possible import LATEST_US, together
from planner.graph.side_by_side import placed
from planner.graph.unfold import Exit, Plan
from planner.graph.visits import ends_visit
from planner.graph.walks import open_exits, played, ways
from planner.model.routine import Given, Rule, WhenExit
from planner.model.spoken import spoken_command
from planner.text import Place

_ASSUMED = Assumed(LATEST_US)


@dataclass(frozen=True, slots=True)
class Overruling:
    """Where a rule speaks and something else is sent."""

    step: str
    target: str
    """The step that the exit leads to."""
    given: Given
    """What it says to the same mechanism, and what is sent."""
    place: Place
    """Of the exit."""


def overruling(plan: Plan, owner: Owner, rule: Rule) -> Overruling | None:
    """Why a rule comes to nothing in the steps that it is for; None where it may be sent.

    In each of them it is overruled in the pass in which it becomes true, or it has become true in
    the pass that entered the step, so that it speaks only once its condition has been false again.
    """
    playable = played(plan, ways(plan))
    matters = _matters(plan, owner, rule, playable)
    if any(is_incomplete(plan.routine, step) for step in owner.steps):
        return None
    exits = {step: every for step, every in open_exits(plan).items() if step in playable}
    first: Overruling | None = None
    for step in matters:
        found = _in_step(plan, owner, rule, exits[step])
        if not found and not _begins_true(plan, owner, rule, step, exits):
            return None
        first = first or found
    return first


def _matters(plan: Plan, owner: Owner, rule: Rule, playable: set[str]) -> list[str]:
    """The steps in which the rule's command changes what the mechanism does, as written."""
    name = rule.given.mechanism.name
    steps = [step for step in owner.steps if step in playable]
    if rule.given.command.name != "stop":
        return steps
    # To stop what is not running does nothing.
    moving = {
        step: given
        for step in plan.routine.steps
        if (given := last_given(plan.step(step)).get(name)) and given.command.name != "stop"
    }
    around = {plan.block_of(step) or step for step in steps}
    lasting = any(
        given.keep or not given.command.runs or (step in around and _goes_on(plan, step, name))
        for step, given in moving.items()
    )
    others = (other for step in steps for other in rules_around(plan.routine, step))
    ruled = any(other is not rule and other.given.mechanism.name == name for other in others)
    return steps if lasting or ruled else [s for s in steps if s in moving and s not in plan.begins]


def _goes_on(plan: Plan, step: str, mechanism: str) -> bool:
    """Whether a step's own command is in force in other steps too: it is a block's, and no lane
    begins with another."""
    begins = plan.begins.get(step, ())
    return bool(begins) and all(mechanism not in last_given(plan.step(name)) for name in begins)


def _in_step(plan: Plan, owner: Owner, rule: Rule, exits: tuple[Exit, ...]) -> Overruling | None:
    """How it is overruled in a step, whichever of these exits is taken as soon as it is true."""
    speaking = Asking(rule.condition, owner.name)
    leaving: list[Asking] = []
    for written, some in _by_line(exits).items():
        asking = _asking(plan, some[0])
        around = _around(plan, some[0].source)
        if together([speaking, asking], leaving, around, _ASSUMED).never:
            continue
        given = [
            last_given(plan.step(exit_.target)).get(rule.given.mechanism.name) for exit_ in some
        ]
        if any(one is None or _says(one) == _says(rule.given) for one in given):
            return None
        leaving.append(asking)
        if given[0] and ends_visit(rule.condition, owner.name, leaving, around, _ASSUMED):
            return Overruling(some[0].source, some[0].target, given[0], written)
    return None


def _by_line(exits: tuple[Exit, ...]) -> Mapping[Place, list[Exit]]:
    """The exits for a condition, by line: a counted one leads to two steps."""
    found: dict[Place, list[Exit]] = {}
    for exit_ in exits:
        if isinstance(exit_.written, WhenExit):
            found.setdefault(exit_.place, []).append(exit_)
    return found


def _asking(plan: Plan, exit_: Exit) -> Asking:
    assert isinstance(exit_.written, WhenExit)
    lane = plan.routine.lane_around(exit_.source)
    stands = {lane.name: exit_.source} if lane else {}
    return Asking(placed(exit_.written.condition, stands), exit_.group or exit_.source)


def _around(plan: Plan, step: str) -> tuple[str, ...]:
    return ("", *(owner.name for owner in owners_around(plan.routine, step)))


def _says(given: Given) -> str:
    return spoken_command(given).removeprefix("keep ")


def _begins_true(
    plan: Plan, owner: Owner, rule: Rule, step: str, exits: Mapping[str, tuple[Exit, ...]]
) -> bool:
    """Whether the rule is followed, and true, in every pass that enters a step."""
    first = (plan.routine.start, *(name for names in plan.begins.values() for name in names))
    if step in first or step == owner.name:
        return False
    return all(_is_true_with(plan, owner, rule, exit_) for exit_ in _into(step, exits))


def _into(step: str, exits: Mapping[str, tuple[Exit, ...]]) -> Iterator[Exit]:
    return (exit_ for every in exits.values() for exit_ in every if exit_.target == step)


def _is_true_with(plan: Plan, owner: Owner, rule: Rule, exit_: Exit) -> bool:
    if exit_.source not in owner.steps or not isinstance(exit_.written, WhenExit):
        return False
    if owner.name in groups_left(plan, exit_):
        return False
    speaking = Asking(rule.condition, owner.name)
    around = _around(plan, exit_.source)
    return together([_asking(plan, exit_)], [speaking], around, _ASSUMED).never
