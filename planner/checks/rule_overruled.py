"""What it finds
    A side rule whose command is given and replaced in the same pass: the exit that waits for the
    same thing leads to a step that tells the same mechanism something else; or a later rule, for
    more than the same, does so whenever both become true at once.

Why it matters on the field
    Commands are sent at the end of a pass, and of several to one mechanism only the last. The plan
    says that the wheels stop in front of the wall, and no run ever stops them.

Example
    start Approach
    group Near
      whenever range_front < 10 cm, drive stop
      step Approach
        drive forward 30 %
        when range_front < 10 cm, go to Turn
        after 3 s, go to GiveUp
      step Turn
        drive turn 90 deg
        when drive done, go to Lit
        after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 30 %
      when range_front < 10 cm, go to Halt
      after 3 s, go to GiveUp
    step Halt
      drive stop
      after 0.3 s, go to Turn
    step Turn
      drive turn 90 deg
      when drive done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.truth import is_settled
from planner.findings import Related
from planner.graph.overruled import Overruling, overruling
from planner.graph.owners import Owner, owners
from planner.graph.possible import implies
from planner.graph.visits import remembers
from planner.model.condition import Steady, parts
from planner.model.meaning import meaning
from planner.model.routine import Rule
from planner.model.spoken import spoken_command, spoken_condition


def find(case: Case) -> Iterator[Found]:
    """The side rules that something else has its way over in the pass in which they speak."""
    plan = case.plan
    if plan is None or plan.routine.incomplete:
        return
    for owner in owners(plan.routine):
        for rule in owner.rules:
            if meaning(rule.condition) is None or is_settled(rule.condition, owner.name):
                continue
            # Where its own step is left, what runs is switched off: `rule-without-effect`.
            told = rule.given.command.runs and owner.name and not owner.is_group
            over = None if told else overruling(plan, owner, rule)
            found = _by_step(rule, over) if over else _by_rule(owner, rule)
            if found:
                yield found


def _by_step(rule: Rule, over: Overruling) -> Found:
    spoken, given = spoken_condition(rule.condition), spoken_command(rule.given)
    replacing = spoken_command(over.given)
    return Found(
        rule.place,
        f"`{given}` is never sent in `{over.step}` when the rule asks for it",
        f"As soon as `{spoken}`, the exit to `{over.target}` is taken too, and there "
        f"`{replacing}` replaces it in the same pass.",
        f"Delete the rule, or put a step with `{given}` between `{over.step}` and `{over.target}`.",
        steps=(over.step, over.target),
        related=(
            Related(over.place, "this exit is taken"),
            Related(over.given.place, "this is sent"),
        ),
    )


def _by_rule(owner: Owner, rule: Rule) -> Found | None:
    """A later rule beside it that is true wherever it is, and not the other way round."""
    for other in owner.rules[owner.rules.index(rule) + 1 :]:
        if _differ(rule, other) and _wider(owner, rule, other):
            return _overruled(owner, rule, other)
    return None


def _differ(rule: Rule, other: Rule) -> bool:
    same = rule.given.mechanism.name == other.given.mechanism.name
    return same and spoken_command(rule.given) != spoken_command(other.given)


def _wider(owner: Owner, rule: Rule, other: Rule) -> bool:
    conditions = (rule.condition, other.condition)
    # What has to last becomes true later than what it is made of.
    if any(remembers(c) or any(isinstance(p, Steady) for p in parts(c)) for c in conditions):
        return False
    narrow, wide = conditions
    return implies(narrow, wide, owner.name) and not implies(wide, narrow, owner.name)


def _overruled(owner: Owner, rule: Rule, other: Rule) -> Found:
    spoken, given = spoken_condition(rule.condition), spoken_command(rule.given)
    wide, sent = spoken_condition(other.condition), spoken_command(other.given)
    return Found(
        rule.place,
        f"`{given}` is not sent where `{spoken}` and `{wide}` become true at once",
        f"So it is when the rules begin with both true, or the reading jumps. The later rule then "
        f"has its way, and `{sent}` goes on although `{spoken}`.",
        f"Write the rule for `{wide}` above the one for `{spoken}`.",
        steps=owner.steps if owner.name else (),
        related=(Related(other.place, "this is sent"),),
    )
