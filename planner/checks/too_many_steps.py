"""What it finds
    Tasks that do tasks so deep, or so many of them, that the plan becomes too large to check; and
    groups in groups so deep that nobody can follow them.

Why it matters on the field
    Nobody can follow at the field which of so many steps the robot is in.

Example
    start First
    step First
      do one
      when task ends over, go to Lit
    finish Lit
    task one ends over
      step A
        do two
        when task ends over, go to over
    task two ends over
      step A
        do three
        when task ends over, go to over
    task three ends over
      step A
        do four
        when task ends over, go to over
    task four ends over
      step A
        do five
        when task ends over, go to over
    task five ends over
      step A
        do six
        when task ends over, go to over
    task six ends over
      step A
        after 1 s, go to over

Instead
    start First
    step First
      do one
      when task ends over, go to Lit
    finish Lit
    task one ends over
      step A
        after 1 s, go to over
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """The calls that a plan has no more room for."""
    for slip in case.slips_of("too-many-steps"):
        groups = slip.facts.get("what") == "group"
        yield Found(
            slip.place,
            f"`{slip.word}` is too much for one plan: {slip.facts['because']}",
            "Nobody keeps so many ways out in mind that all hold at once."
            if groups
            else "A plan of that size can neither be checked nor followed at the field.",
            "Let this group begin where one around it has ended, or give its exits to its steps."
            if groups
            else "Let tasks do fewer tasks, or write the steps out where they are needed.",
            steps=steps_of(slip),
        )
