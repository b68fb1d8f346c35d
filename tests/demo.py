"""One door into the project for tests: text in, findings out."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path

from planner.findings import Finding, Slip
from planner.model import Robot, Routine, resolve_routine
from planner.pipeline import Checked, ReadRobot, check_robot, check_routine, read_robot
from planner.text import Source
from planner.tree import parse_routine

ROOT = Path(__file__).resolve().parent.parent
ROUTINES = ROOT / "routines"
HEADER = "routine example\nrobot moth\nlimit 30 s\n"


@lru_cache
def moth_robot() -> ReadRobot:
    """The demo team's robot."""
    return robot_of((ROUTINES / "moth.bot").read_text(encoding="utf-8"), "moth.bot")


def robot_of(text: str, name: str = "a robot file") -> ReadRobot:
    """A robot file's text as read."""
    return read_robot(Source(name, text))


def check(text: str, robot_text: str | None = None) -> Checked:
    """A routine's text as checked, with the demo robot or one of its own.

    Text that starts with neither `routine` nor `robot` gets a header put in front.
    """
    robot = moth_robot() if robot_text is None else robot_of(robot_text)
    whole = text if _first_word(text) in ("routine", "robot") else HEADER + text
    return check_routine(Source("example.routine", whole), lambda _name: robot)


def check_text(text: str, robot_text: str | None = None) -> tuple[Finding, ...]:
    """All findings of a routine's text, or of a robot file's where the text starts with `robot`."""
    if _first_word(text) == "robot" and robot_text is None:
        return check_robot(robot_of(text))
    return check(text, robot_text).findings


def resolved(text: str, robot: Robot | None = None) -> tuple[Routine, tuple[Slip, ...]]:
    """A routine's text as resolved, with all slips of its text and names.

    Text that starts with neither `routine` nor `robot` gets a header put in front.
    """
    whole = text if _first_word(text) in ("routine", "robot") else HEADER + text
    parsed = parse_routine(Source("example.routine", whole))
    routine, slips = resolve_routine(parsed, robot or moth_robot().robot)
    return routine, parsed.slips + slips


def said(slips: Iterable[Slip]) -> list[tuple[str, str]]:
    """Check and the words it points at, for each slip."""
    return [(slip.check, slip.place.words) for slip in slips]


def names_of(findings: tuple[Finding, ...]) -> list[str]:
    """The checks that fired, as a reader meets them."""
    return [finding.check for finding in findings]


def _first_word(text: str) -> str:
    for line in text.splitlines():
        words = line.partition("#")[0].split()
        if words:
            return words[0]
    return ""
