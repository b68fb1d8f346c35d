"""What it finds
    A command with more or fewer numbers than it takes.

Why it matters on the field
    The robot would not know how fast or how far, and would leave the command out.

Example
    start Approach
    step Approach
      drive forward
      when bumper pressed, go to Lit
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

from planner.checks.case import Case, Found
from planner.checks.words import counted, listed, mended_line, steps_of
from planner.findings import Slip

_WHY = "The robot would not know how much is meant, and would leave the command out."
_SAMPLES = {"%": "40 %", "s": "2 s", "deg": "90 deg", "cm": "20 cm", "ticks": "1200 ticks"}


def find(case: Case) -> Iterator[Found]:
    """Commands given more or fewer numbers than their parentheses name."""
    for slip in case.slips_of("wrong-arguments"):
        yield _again(slip) or _comma(slip) or _keep(slip) or _count(slip)


def _again(slip: Slip) -> Found | None:
    """``do place 1200 ticks, 3x``"""
    words = re.sub(r",\s*(\d+)\s*x$", r", \1 times", slip.word)
    if words == slip.word:
        return None
    return Found(
        slip.place,
        "how often a task is done ends with `times`",
        "Here it is taken for a number of the task.",
        "It reads `do place 1200 ticks, 3 times`.",
        paste=(mended_line(slip.place, words),),
        steps=steps_of(slip),
    )


def _comma(slip: Slip) -> Found | None:
    """A comma inside one number, which then looks like two."""
    thousands = re.sub(r"(?<=\d),(?=\d{3}\s*(?:ticks|ms|mm)\b)", "", slip.word)
    decimal = re.sub(r"(?<=\d),(?=\d)", ".", thousands)
    if decimal == slip.word or slip.facts["given"] != str(len(slip.known) + 1):
        return None
    return Found(
        slip.place,
        "a number is written without a comma inside it",
        "A comma separates two numbers, so the command is given one too many.",
        "Decimals have a point; thousands have nothing.",
        paste=(mended_line(slip.place, decimal),),
        steps=steps_of(slip),
    )


def _keep(slip: Slip) -> Found | None:
    """``drive forward 40 %, keep``"""
    words = re.sub(r",?\s*keep$", "", slip.word)
    if words == slip.word:
        return None
    return Found(
        slip.place,
        "`keep` stands in front of its command",
        "Here it is taken for a number.",
        "It says that the command goes on after the step.",
        paste=(mended_line(slip.place, f"keep {words}"),),
        steps=steps_of(slip),
    )


def _count(slip: Slip) -> Found:
    takes, given = len(slip.known), int(slip.facts["given"])
    command = slip.facts["command"]
    numbers = [_SAMPLES.get(known.split()[-1], f"20 {known.split()[-1]}") for known in slip.known]
    what = f": {listed(slip.known, 'and')}" if slip.known else ""
    is_given = "none is" if given == 0 else f"{given} {'is' if given == 1 else 'are'}"
    return Found(
        slip.place,
        f"`{command}` takes {counted(takes, 'number') if takes else 'no number'}, "
        f"and {is_given} given",
        _WHY,
        f"The robot file says what it takes{what}." if takes else "Leave the number out:",
        paste=(mended_line(slip.place, f"{command} {', '.join(numbers)}".strip()),),
        steps=steps_of(slip),
    )
