"""What says the same twice is still told apart."""

from __future__ import annotations

from demo import check

from planner.graph.owners import owners
from planner.model.numbering import numbered

TWINS = """at 20 s of match, go to Lit
at 20 s of match, go to Lit
start A
group G
  after 9 s, go to Lit
  whenever bumper pressed, signal light
  whenever bumper pressed, signal light
  step A
    signal light
    signal light
    when tin_gate broken, go to A, at most 1 time, then Lit
    when tin_gate broken, go to A, at most 1 time, then Lit
finish Lit
"""


def test_each_has_its_number() -> None:
    """Exits, rules and commands of a plan have numbers of their own, equal ones as well."""
    routine = check(TWINS).plan.routine
    numbers = [exit_.number for owner in owners(routine) for exit_ in owner.match_exits]
    numbers += [exit_.number for o in owners(routine) for exit_ in (*o.whens, *o.afters)]
    rules = [rule for owner in owners(routine) for rule in owner.rules]
    numbers += [number for rule in rules for number in (rule.number, rule.given.number)]
    numbers += [given.number for step in routine.steps.values() for given in step.commands]
    assert list(range(1, 12)) == sorted(numbers)


def test_numbers_say_nothing() -> None:
    """A number is no part of what a plan says: plans that differ in it alone are equal."""
    routine = check(TWINS).plan.routine
    assert routine == numbered(numbered(routine))
