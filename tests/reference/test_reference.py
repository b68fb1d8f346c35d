"""Every example of the language reference is read by the language."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from planner.findings import Finding, Severity
from planner.model.ledger import RESERVED, RESERVED_FOR_READINGS
from planner.model.units import UNITS
from planner.pipeline import (
    ReadRobot,
    ReadTasks,
    check_robot,
    check_routine,
    read_robot,
    read_tasks,
)
from planner.text import Source

TREE = Path(__file__).parents[2]
REFERENCE = (TREE / "grammar" / "README.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"^```(\w+)\n(.*?)^```$", REFERENCE, re.MULTILINE | re.DOTALL)

FRAME = """routine example
robot moth
limit 30 s
memory far = 60 cm
memory side: left, middle, right
counter shots: 0 to 3, normally 3
start Example
step Example
{step}
finish Lit
finish GiveUp
"""


def errors(kind: str, text: str) -> list[Finding]:
    """The errors found in an example, which is a robot file, a routine or the inside of a step."""
    if kind == "robot":
        found = check_robot(read_robot(Source("a robot file", text)))
    else:
        if kind == "step":
            text = FRAME.format(step="\n".join(f"  {line}" for line in text.splitlines()))
        moth = read_robot(Source("moth.bot", (TREE / "routines/moth.bot").read_text("utf-8")))
        if kind == "tasks":
            found = read_tasks(Source("posts.tasks", text), lambda _name: moth).findings
        else:
            source, files = Source("example.routine", text), {"posts": shared(moth)}
            found = check_routine(source, lambda _name: moth, (), files.get).findings
    return [finding for finding in found if finding.severity is Severity.ERROR]


def shared(moth: ReadRobot) -> ReadTasks:
    """The file of tasks that the reference shows."""
    text = next(text for kind, text in EXAMPLES if kind == "tasks")
    return read_tasks(Source("posts.tasks", text), lambda _name: moth)


@pytest.mark.parametrize(("kind", "text"), EXAMPLES)
def test_every_example_is_free_of_errors(kind: str, text: str) -> None:
    """An example in the reference is a whole file or a step, without errors."""
    assert kind in {"robot", "routine", "step", "tasks"}
    assert errors(kind, text) == []


def test_a_broken_example_would_be_noticed() -> None:
    """The judge of the examples does tell a wrong one."""
    assert errors("step", "when bumper presed, go to Lit\nafter 3 s, go to GiveUp\n") != []


def test_the_reference_lists_every_unit() -> None:
    """The table of units holds the units of the language and no others."""
    table = REFERENCE.split("| what | units |")[1].split("\n\n")[0]
    assert set(UNITS) == set(re.findall(r"`([^`]+)`", table))


def test_the_reference_lists_every_reserved_word() -> None:
    """The list of reserved words is the one the resolver goes by."""
    listed = REFERENCE.split("statements are made of:")[1].split("Commands may")[0]
    assert set(RESERVED) == set(re.findall(r"`([^`]+)`", listed))
    of_readings = REFERENCE.split("words that follow readings:")[1].split("- A line")[0]
    assert set(RESERVED_FOR_READINGS) == set(re.findall(r"`([^`]+)`", of_readings))
