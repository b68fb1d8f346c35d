"""What it finds
    A name that is one of the language's own words, such as `start` or `when`.

Why it matters on the field
    A line that begins with it could mean two things, for the planner and for everybody who reads
    the plan.

Example
    robot example
    hub main
      motor 0 go
    mechanism drive
      uses go

Instead
    robot example
    hub main
      motor 0 go_motor
    mechanism drive
      uses go_motor
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import steps_of


def find(case: Case) -> Iterator[Found]:
    """Names that are words of the language."""
    for slip in case.slips_of("reserved-word"):
        what = slip.facts["what"]
        yield Found(
            slip.place,
            f"`{slip.word}` is a word of the language, so no {what} can have that name",
            "A line with it could be read in two ways.",
            f"Say more in the name, here and wherever it is used: `{slip.word}_{_noun(what)}`.",
            steps=steps_of(slip),
        )


def _noun(what: str) -> str:
    return {"device": "motor", "parameter": "value"}.get(what, what)
