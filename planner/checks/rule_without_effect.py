"""What it finds
    A side rule whose command is replaced in the very pass in which it is given: what it waits for
    is enough for an exit of its step, which switches off what the rule has set running; or another
    rule for the same thing tells the same mechanism something else.

Why it matters on the field
    Commands are sent at the end of a pass, and of several to one mechanism only the last. The
    rollers never turn, and the plan reads as if they did.

Example
    start Approach
    step Approach
      drive forward 40 %
      whenever tin_gate broken, roller take
      when tin_gate broken, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      whenever range_front < 20 cm, roller take
      when tin_gate broken, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.truth import is_settled
from planner.findings import Related
from planner.graph.atoms import Asking, Assumed, looks_at
from planner.graph.owners import Owner, asked_around, owners
from planner.graph.possible import LATEST_US
from planner.graph.visits import ends_visit
from planner.model.meaning import meaning
from planner.model.routine import Routine, Rule, WhenExit
from planner.model.spoken import spoken_command, spoken_condition


def find(case: Case) -> Iterator[Found]:
    """The side rules that come to nothing."""
    if case.plan is None:
        return
    routine = case.plan.routine
    for owner in owners(routine):
        for rule in owner.rules:
            if meaning(rule.condition) is None or is_settled(rule.condition, owner.name):
                continue
            found = _replaced(owner, rule) or _left(routine, owner, rule)
            if found:
                yield found


def _replaced(owner: Owner, rule: Rule) -> Found | None:
    """Another rule beside it, further down, for the same thing and the same mechanism."""
    for other in owner.rules[owner.rules.index(rule) + 1 :]:
        same = other.given.mechanism.name == rule.given.mechanism.name
        if same and meaning(other.condition) == meaning(rule.condition):
            replacing = spoken_command(other.given)
            why = f"In the same pass `{replacing}` is given for the same thing, and only the last "
            return _found(owner, rule, f"{why}counts.", Related(other.place, "this is sent"))
    return None


def _left(routine: Routine, owner: Owner, rule: Rule) -> Found | None:
    """An exit of its step that is true whenever the rule is."""
    if not owner.name or owner.is_group or not rule.given.command.runs:
        return None
    around = asked_around(routine, owner)
    names = (*(group.name for group in around), owner.name)
    exits: list[tuple[WhenExit, str]] = [
        *((when, group.name) for group in around for when in group.whens),
        *((when, owner.name) for when in owner.whens),
    ]
    about = looks_at(Asking(rule.condition, owner.name))
    near = [
        (when, Asking(when.condition, name))
        for when, name in exits
        if about & looks_at(Asking(when.condition, name))
    ]
    assumed = Assumed(LATEST_US)
    for when, asking in near:
        if ends_visit(rule.condition, owner.name, [asking], names, assumed):
            why = (
                f"As soon as it is true, the exit for `{spoken_condition(when.condition)}` is too. "
                f"The step is left in that pass, and `{rule.given.mechanism.name}` is switched off."
            )
            return _found(owner, rule, why, Related(when.place, "this exit is taken"))
    return None


def _found(owner: Owner, rule: Rule, why: str, related: Related) -> Found:
    given, spoken = spoken_command(rule.given), spoken_condition(rule.condition)
    where = f" in `{owner.name}`" if owner.name else ""
    return Found(
        rule.place,
        f"the rule `whenever {spoken}, {given}`{where} comes to nothing",
        why,
        "Delete one of the two, or let one of them wait for something else.",
        steps=owner.steps if owner.name else (),
        related=(related,),
    )
