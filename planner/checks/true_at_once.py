"""What it finds
    An exit that is true in the first look already, whatever is read: it asks whether a reading that
    counts from the start of the step is still where it began, or whether something has not lasted
    for a time yet.

Why it matters on the field
    The reading is 0 when the step begins, and nothing has lasted, so the step is over before the
    robot has moved. Most often the sign or the comparison is the wrong way round, or `not` stands
    in front of a `for`: `not tin_gate broken for 0.3 s` is true at once, while
    `(not tin_gate broken) for 0.3 s` waits.

Example
    start Back
    step Back
      drive forward -30 %
      when drive travelled > -20 cm, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Back
    step Back
      drive forward -30 %
      when drive travelled < -20 cm, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.checks.advice import some
from planner.checks.case import Case, Found
from planner.checks.limits import limit_is_known
from planner.checks.truth import begins_true, settled
from planner.graph.atoms import counts_from_entry
from planner.graph.owners import Owner, owners
from planner.model.condition import Compare, Condition, Held, Looks, Not, Within, leaves
from planner.model.routine import Rule, WhenExit
from planner.model.spoken import spoken_condition


def find(case: Case) -> Iterator[Found]:
    """The exits and side rules of steps and groups that are true before anything has moved."""
    if case.plan is None:
        return
    limit_us = case.plan.routine.limit_us if limit_is_known(case) else None
    for owner in owners(case.plan.routine):
        for condition, line in owner.conditions:
            told = any(settled(condition, limit_us))
            if not told and begins_true(condition, owner.name, limit_us):
                yield _found(owner, condition, line)


def _counting(condition: Condition) -> list[str]:
    """The readings in it that count from the entry, as a plan names them."""
    found = [
        leaf.source.spoken
        for leaf in leaves(condition)
        if isinstance(leaf, Compare | Within) and counts_from_entry(leaf)
    ]
    return list(dict.fromkeys(found))


def _found(owner: Owner, condition: Condition, line: WhenExit | Rule) -> Found:
    counting = _counting(condition)
    group = "group" if owner.is_group else "step"
    effect = "The command is given" if isinstance(line, Rule) else f"The {group} is left"
    spoken = spoken_condition(condition)
    return Found(
        next(leaves(condition)).place,
        f"`{spoken}` is true as soon as `{owner.name}` begins",
        f"{_reason(counting, group)} {effect} at the first look, before anything has moved.",
        _way_out(condition),
        steps=owner.steps,
    )


def _reason(counting: list[str], group: str) -> str:
    if not counting:
        return f"Nothing has lasted yet when the {group} begins, and `not` turns that into true."
    begins = "begins" if len(counting) == 1 else "begin"
    return f"{some(counting)} {begins} at 0 with the {group}."


_OTHER_WAY = {"<": ">", "<=": ">=", ">": "<", ">=": "<="}


def _way_out(condition: Condition) -> str:
    asked = condition.part if isinstance(condition, Not) else condition
    if isinstance(condition, Not) and isinstance(asked, Held | Looks):
        meant = replace(asked, part=Not(asked.part))
        return f"Perhaps you mean `{spoken_condition(meant)}`."
    if isinstance(condition, Not):
        return f"Leave out `not`: `{spoken_condition(asked)}`."
    if isinstance(asked, Compare):
        turned = f"{asked.source.spoken} {_OTHER_WAY[asked.operator]} {asked.threshold.written}"
        return f"Perhaps you mean `{turned}`."
    return "Turn the comparison round, or change its number."
