"""What students write, and the line they are told to write instead.

Each file of `meant/` is about lines of one place, which its name says. A line at the margin is what
was written; the indented lines under it are what is given to paste. `\\u00a0` and the like stand
for characters that nobody sees.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from demo import moth_robot, robot_of

from planner.findings import Finding
from planner.pipeline import check_robot, check_routine
from planner.text import Source

FOLDER = Path(__file__).parent / "meant"
FRAMES = {
    "step": "step Approach\n  @\n  after 9 s, go to GiveUp\nfinish Lit\nfinish GiveUp\n",
    "finish": "step Approach\n  claw open\n  after 1 s, go to Lit\nfinish Lit\n  @\n",
    "routine": "@\nstep Approach\n  claw open\n  after 1 s, go to Lit\nfinish Lit\n",
    "robot": "robot moth\n@\nhub main\n  motor 0 left_wheels\n",
    "hub": "robot moth\nhub main\n  @\n",
    "mechanism": "robot moth\nhub main\n  motor 0 left_wheels\nmechanism drive\n  @\n",
    "command": "robot moth\nhub main\n  motor 0 left_wheels\n  motor 1 arm_motor\n"
    "mechanism drive\n  uses left_wheels, arm_motor\n"
    "  command go(power %, height ticks) runs\n    @\n",
}
HEADER = "routine example\nrobot moth\nlimit 30 s\nsetting cruise = 40 %\nstart Approach\n"
READING = ("unreadable-line", "unknown-mechanism", "wrong-arguments", "misplaced-line")


def pairs() -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """Place, what is written there, and what is given to paste."""
    for file in sorted(FOLDER.iterdir()):
        written, meant = "", ()
        for line in [*file.read_text(encoding="utf-8").splitlines(), "end"]:
            if line.startswith(" "):
                meant = (*meant, line.strip())
            elif line and not line.startswith("## "):
                if written:
                    yield file.stem, written, meant
                written, meant = line, ()


def findings(place: str, lines: tuple[str, ...]) -> list[Finding]:
    """What the reading of lines finds in them, in the frame of their place."""
    frame = FRAMES[place]
    indent = re.search("^( *)@", frame, re.MULTILINE)
    assert indent is not None
    text = frame.replace("@", f"\n{indent.group(1)}".join(lines))
    if place in ("step", "finish", "routine"):
        source = Source("x.routine", HEADER + text)
        found = check_routine(source, lambda _name: moth_robot()).findings
    else:
        found = check_robot(robot_of(text))
    return [finding for finding in found if finding.check in READING]


def shown(written: str) -> str:
    """A line with its hidden characters put in."""
    return re.sub(r"\\u([0-9a-f]{4})", lambda code: chr(int(code.group(1), 16)), written)


PAIRS = list(pairs())


@pytest.mark.parametrize(("place", "written", "meant"), PAIRS)
def test_line_to_paste(place: str, written: str, meant: tuple[str, ...]) -> None:
    """A line that cannot be read is answered by the line that was meant."""
    assert [meant] == [finding.paste for finding in findings(place, (shown(written),))]


@pytest.mark.parametrize(("place", "written", "meant"), PAIRS)
def test_pasting_it_helps(place: str, written: str, meant: tuple[str, ...]) -> None:
    """What is given to paste can itself be read."""
    assert written
    assert [] == findings(place, meant)
