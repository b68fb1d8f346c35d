"""What it finds
    A group that says nothing of its own: no exit and no side rule. Or one without steps.

Why it matters on the field
    A group is there for what its steps have in common, most often a time limit. A group that has
    none limits nothing, though the plan looks as if it did.

Example
    start Take
    group Cycle
      step Take
        roller take
        when tin_gate broken, go to Taken
        after 4 s, go to GiveUp
    finish Taken
    finish GiveUp

Instead
    start Take
    group Cycle
      after 15 s, go to GiveUp
      step Take
        roller take
        when tin_gate broken, go to Taken
        after 4 s, go to GiveUp
    finish Taken
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import way_home
from planner.checks.case import Case, Found
from planner.graph.owners import Owner, owners


def find(case: Case) -> Iterator[Found]:
    """The plain groups with nothing in common, and those with nothing in them."""
    plan = case.plan
    if plan is None:
        return
    for owner in owners(plan.routine):
        if not owner.is_group or owner.incomplete:
            continue
        group = plan.routine.groups[owner.name]
        if group.task or group.is_block or group.lane:
            continue
        place = group.place
        if not owner.steps:
            yield Found(
                place,
                f"the group `{owner.name}` has no steps",
                "Its exits and rules belong to nothing.",
                "Put the steps under it, indented, or delete it.",
            )
        elif not _says_something(owner):
            yield Found(
                place,
                f"the group `{owner.name}` has no exits and no rules of its own",
                "A group is there for what its steps have in common, and these have nothing.",
                "Give it a time limit or another exit, above its steps, or take the line out and "
                "let the steps stand alone.",
                paste=(f"after 15 s, go to {way_home(plan)}",),
                steps=owner.steps,
            )


def _says_something(owner: Owner) -> bool:
    return bool(owner.match_exits or owner.whens or owner.afters or owner.rules)
