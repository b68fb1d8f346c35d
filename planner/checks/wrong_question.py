"""What it finds
    A condition that its sensor or mechanism cannot answer.

Why it matters on the field
    A touch sensor knows `pressed` and `released`, a distance sensor gives a number, a camera
    `sees`. Asked something else, it never says yes, and the exit is never taken.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper touched, go to Lit
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

from planner.checks.case import Case, Found
from planner.checks.words import listed, mended_line, steps_of
from planner.findings import Slip, nearest

_SENSORS = {
    "touch": "a touch sensor",
    "switch": "a switch",
    "beam": "a light beam",
    "distance": "a distance sensor",
    "colour": "a colour sensor",
    "light": "a light sensor",
    "analog": "an analog input",
    "heading": "a heading sensor",
    "encoder": "an encoder",
    "camera": "a camera",
    "mechanism": "a mechanism",
}

_RAMP = re.compile(r"(?:in (\w+), )?from (\S+ \S+) to ")


def find(case: Case) -> Iterator[Found]:
    """Conditions that do not suit what they ask."""
    for slip in case.slips_of("wrong-question"):
        name, kind = slip.facts["sensor"], slip.facts["kind"]
        if kind in ("is", "not"):
            yield _in_scenario(slip, kind)
            continue
        yield Found(
            slip.place,
            _headline(slip, name, kind),
            _why(slip, name),
            _way_out(slip, name),
            paste=_paste(slip),
            steps=steps_of(slip),
        )


def _in_scenario(slip: Slip, kind: str) -> Found:
    """A fact of a scenario with a word too many in it."""
    place = slip.place
    if kind == "not":
        start = place.line_text.rindex("not", 0, place.column - 1) + 1
        place = replace(place, column=start)
    answers = f"Write {listed(slip.known)}." if slip.known else "Say what it sees instead."
    return Found(
        place,
        f"leave out `{kind}` in `{slip.word}`",
        "Numbers are said with `is`, and `not` goes with `done` alone; a sensor has a word for "
        "each of its answers.",
        answers,
        paste=tuple(mended_line(place, known) for known in slip.known[:1]),
        steps=steps_of(slip),
    )


def _headline(slip: Slip, name: str, kind: str) -> str:
    if slip.facts.get("done"):
        return f"no command of `{name}` reports done"
    near = nearest(slip.word.split()[-1], [known.split()[-1] for known in slip.known], most=1)
    meant = f"; did you mean `{name} {near[0]}`?" if near and kind == "mechanism" else ""
    return f"`{name}` is {_SENSORS[kind]}, and cannot answer `{slip.word}`{meant}"


def _why(slip: Slip, name: str) -> str:
    if slip.facts.get("done"):
        return f"`{name}` never says that it is done, so the exit would never be taken."
    return "Asked something else it never says yes, so the exit would never be taken."


def _way_out(slip: Slip, name: str) -> str:
    if slip.facts.get("done"):
        readings = f"Wait for {listed(slip.known)} instead, or write" if slip.known else "Write"
        return f"{readings} `reports done` behind a command of `{name}` in the robot file."
    if not slip.known:
        return f"`{name}` reports nothing. Wait for a sensor or for a time instead."
    return f"It can be asked {listed(slip.known)}."


def _paste(slip: Slip) -> tuple[str, ...]:
    """The line with the question that is nearest to the words, or else the first there is."""
    questions = [known for known in slip.known if not known.endswith("...")]
    if not questions:
        return ()
    ramp = _RAMP.match(slip.place.line_text.strip())
    if ramp:
        moment = f"in {ramp.group(1)}, after" if ramp.group(1) else "at"
        return (f"{moment} {ramp.group(2)}, {questions[0]}",)
    answers = {question.split()[-1]: question for question in questions}
    near = nearest(slip.word.split()[-1], answers, most=1)
    if near:
        return (mended_line(slip.place, answers[near[0]]),)
    if slip.facts["kind"] == "mechanism":
        return ()
    # Of colours and the like, the first is no better than any other.
    return () if " sees " in questions[0] else (mended_line(slip.place, questions[0]),)
