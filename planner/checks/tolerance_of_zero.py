"""What it finds
    A band without width: `within 0 deg of 90 deg`, `stays within 0 cm`.

Why it matters on the field
    A measured number is hardly ever exactly another. The robot turns through 90 deg between two
    looks and never sees it; and a number that must not move at all moves by noise alone.

Example
    start Turn
    step Turn
      drive turn 90 deg
      when gyro within 0 deg of 90 deg, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Turn
    step Turn
      drive turn 90 deg
      when gyro within 2 deg of 90 deg, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.graph.owners import owners
from planner.model.condition import Steady, Within, leaves
from planner.model.spoken import spoken_condition


def find(case: Case) -> Iterator[Found]:
    """The tolerances of 0 in all that a routine asks."""
    if case.plan is None:
        return
    for owner in owners(case.plan.routine):
        for condition, _ in owner.conditions:
            for leaf in leaves(condition):
                if isinstance(leaf, Within | Steady) and not leaf.tolerance.number:
                    yield Found(
                        leaf.place,
                        f"`{spoken_condition(leaf)}` leaves no room at all",
                        f"`{leaf.source.spoken}` is hardly ever exactly the same number.",
                        f"Allow it a little, such as 2 {leaf.tolerance.unit.name}.",
                        steps=owner.steps if owner.name else (),
                    )
