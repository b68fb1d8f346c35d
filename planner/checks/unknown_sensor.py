"""What it finds
    A condition about a sensor that the robot does not have.

Why it matters on the field
    The exit can never be taken. The names in the plan, on the hub and in the Java must be the same
    letter for letter.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumber pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.headings import of_nameless_mechanism
from planner.checks.words import listed, mended, steps_of, suggestion
from planner.findings import Slip

_WHY = "Nothing answers under that name, so this exit could never be taken."
_CLOCKS = frozenset({"time", "timer", "clock", "runtime", "elapsed", "seconds"})


def find(case: Case) -> Iterator[Found]:
    """Names that a condition asks, and no line of the robot file declares."""
    for slip in case.slips_of("unknown-sensor"):
        if slip.word.casefold() in _CLOCKS:
            yield _clock(slip)
        elif of_nameless_mechanism(case, slip):
            continue  # It is told in the robot file.
        elif slip.facts.get("output"):
            yield _output(slip, case)
        else:
            yield Found(
                slip.place,
                f"the robot has no sensor `{slip.word}`",
                _WHY,
                suggestion(slip, _otherwise(slip)),
                paste=mended(slip),
                steps=steps_of(slip),
            )


def _otherwise(slip: Slip) -> str:
    there = f"There are {listed(slip.known, 'and')}. " if slip.known else ""
    return (
        f"{there}A new sensor is declared under its hub in the robot file, such as "
        f"`digital 7 {slip.word} touch`."
    )


def _clock(slip: Slip) -> Found:
    return Found(
        slip.place,
        f"`{slip.word}` is no sensor: time is asked with `after`",
        _WHY,
        "The clock of a step starts when the step is entered. `at 26 s of match`, at the left "
        "margin, looks at the match clock.",
        paste=("after 3 s, go to GiveUp",),
        steps=steps_of(slip),
    )


def _output(slip: Slip, case: Case) -> Found:
    kind = case.robot.outputs[slip.word].kind.value
    return Found(
        slip.place,
        f"`{slip.word}` is a {kind}, and cannot be asked anything",
        "It is told what to do; whether it has happened is seen by a sensor.",
        "Wait for a sensor, for a reading of its mechanism, or for `done`, such as "
        "`when arm done, go to Lit`.",
        steps=steps_of(slip),
    )
