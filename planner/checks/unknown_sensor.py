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

import re
from collections.abc import Iterator
from dataclasses import replace

from planner.checks.asked_names import asked_bare
from planner.checks.case import Case, Found
from planner.checks.habits.habit import NUMBER
from planner.checks.headings import of_nameless_mechanism
from planner.checks.misnamed import misnamed
from planner.checks.plan_names import declared, home, kept, outcomes
from planner.checks.words import listed, mended_line, steps_of, together
from planner.findings import Slip
from planner.model.robot import Mechanism, Reading

_WHY = "Nothing answers under that name, so this exit could never be taken."
_CLOCKS = frozenset({"time", "timer", "clock", "runtime", "elapsed", "seconds"})


def find(case: Case) -> Iterator[Found]:
    """Names that a condition asks, and no line of the robot file declares."""
    mechanisms = {slip.word for slip in case.slips_of("unknown-mechanism")}
    bare_numbers = {slip.place.line for slip in case.slips_of("number-without-unit")}
    for slip, others in together(case.slips_of("unknown-sensor")):
        if slip.word.casefold() in _CLOCKS:
            yield _clock(slip)
        elif slip.word in mechanisms:
            continue  # unknown-mechanism tells it.
        elif slip.place.line in bare_numbers and slip.word in kept(slip.place, "counter"):
            continue  # number-without-unit tells it.
        elif _of_task(slip):
            yield _task(slip)
        elif bare := asked_bare(slip):
            yield replace(bare, related=others)
        elif of_nameless_mechanism(case, slip):
            continue  # It is told in the robot file.
        elif slip.word in case.robot.mechanisms:
            yield _mechanism(slip, case)
        elif slip.facts.get("output"):
            yield _output(slip, case)
        else:
            yield misnamed(
                slip,
                f"the robot has no sensor `{slip.word}`",
                _WHY,
                _otherwise(slip),
                related=others,
            )


def _of_task(slip: Slip) -> str:
    """The outcome that ``when task placed`` or ``when place placed`` asks for."""
    if slip.word not in ("task", "ends") and slip.word not in declared(slip.place, "task"):
        return ""
    behind = re.match(r"\s+(\w+)", slip.place.line_text[slip.place.end_column - 1 :])
    return behind.group(1) if behind and behind.group(1) in outcomes(slip.place) else ""


def _task(slip: Slip) -> Found:
    outcome = _of_task(slip)
    end = slip.place.line_text.index(outcome, slip.place.end_column - 1) + len(outcome) + 1
    place = replace(slip.place, end_column=end)
    return Found(
        place,
        "how a task ended is asked with `when task ends`",
        _WHY,
        f"It reads `when task ends {outcome}, go to` and a step.",
        paste=(mended_line(place, f"task ends {outcome}"),),
        steps=steps_of(slip),
    )


def _otherwise(slip: Slip) -> str:
    there = f"There are {listed(slip.known, 'and')}. " if slip.known else ""
    return (
        f"{there}A new sensor is declared under its hub in the robot file, such as "
        f"`digital 7 {slip.word} touch`."
    )


def _mechanism(slip: Slip, case: Case) -> Found:
    """A mechanism compared with a number, as if it were a sensor."""
    mechanism = case.robot.mechanisms[slip.word]
    asked = [f"{slip.word} {reading} > 20 {r.unit.name}" for reading, r in _readings(mechanism)]
    asked += [f"{slip.word} done"] if mechanism.reports_done else []
    way_out = f"It can be asked {listed(asked)}." if asked else "It reports nothing."
    return Found(
        slip.place,
        f"`{slip.word}` is a mechanism, and has no number of its own",
        _WHY,
        f"{way_out} A new reading is declared under `mechanism {slip.word}` in the robot file, "
        f"such as `reading turned deg from step start`.",
        steps=steps_of(slip),
    )


def _readings(mechanism: Mechanism) -> list[tuple[str, Reading]]:
    return list(mechanism.readings.items())


def _clock(slip: Slip) -> Found:
    """``when time > 3 s``: the time and the step are there already."""
    line = slip.place.line_text
    number = re.search(rf"{NUMBER}\s*(?:us|ms|s)\b", line[slip.place.end_column :])
    way = re.search(r"\bgo\s+to\s+(\w+)", line)
    time, target = number.group() if number else "3 s", way.group(1) if way else home(slip.place)
    return Found(
        slip.place,
        f"`{slip.word}` is no sensor: time is asked with `after`",
        _WHY,
        "The clock of a step starts when the step is entered. `at 26 s of match`, at the left "
        "margin, looks at the match clock.",
        paste=(f"after {time}, go to {target}",),
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
