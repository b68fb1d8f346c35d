"""What it finds
    A condition about a reading that the mechanism does not report.

Why it matters on the field
    The exit can never be taken: nobody measures what it waits for.

Example
    start Approach
    step Approach
      drive forward 40 %
      when drive traveled > 60 cm, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when drive travelled > 60 cm, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.misnamed import misnamed
from planner.checks.words import listed
from planner.findings import Slip


def find(case: Case) -> Iterator[Found]:
    """Readings that no line of the robot file declares for their mechanism."""
    for slip in case.slips_of("unknown-reading"):
        mechanism = slip.facts["mechanism"]
        yield misnamed(
            slip,
            f"`{mechanism}` reports no `{slip.word}`",
            "Nobody measures it, so this exit could never be taken.",
            _otherwise(slip, case),
        )


def _otherwise(slip: Slip, case: Case) -> str:
    mechanism = slip.facts["mechanism"]
    if slip.word in case.robot.sensors:
        return f"`{slip.word}` is a sensor: it is asked by its own name, without `{mechanism}`."
    there = f"It reports {listed(slip.known, 'and')}. " if slip.known else ""
    if not there and case.robot.mechanisms[mechanism].reports_done:
        there = f"It can be asked `{mechanism} done`. "
    return (
        f"{there}A new reading is declared under `mechanism {mechanism}` in the robot file, such "
        f"as `reading {slip.word} cm from step start`."
    )
