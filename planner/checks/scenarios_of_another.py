"""What it finds
    A file of scenarios whose first line names another routine than the one it lies beside.

Why it matters on the field
    The scenarios would rehearse a plan that they were not written for.

Example
    # first_lamp.scenario
    routine two_lamps
    scenario good_run
      in Approach, after 1 s, bumper pressed
      must visit Approach, Raise

Instead
    # first_lamp.scenario
    routine first_lamp
    scenario good_run
      in Approach, after 1 s, bumper pressed
      must visit Approach, Raise
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found


def find(case: Case) -> Iterator[Found]:
    """The first line of a file of scenarios, where it names another routine."""
    for slip in case.slips_of("scenarios-of-another"):
        own = slip.facts["routine"]
        yield Found(
            slip.place,
            f"these scenarios are for `{slip.word}`, and they lie beside `{own}`",
            "A file of scenarios has the name of its routine's file.",
            f"If they are for `{own}`, name it here. If not, give this file the name of its own "
            "routine's file.",
            paste=(f"routine {own}",),
        )
