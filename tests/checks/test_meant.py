"""What students write, and the line they are told to write instead.

Each file of `meant/` is about lines of one place, which its name says. A line at the margin is what
was written; the indented lines under it are what is given to paste, none where no line is better
than a guess. `\\u00a0` and the like stand for characters that nobody sees.
"""

from __future__ import annotations

import pytest
from demo import moth_robot, robot_of
from meant import IN_ROBOT, PAIRS, framed, shown

from planner.findings import Finding
from planner.pipeline import check_robot, check_routine
from planner.text import Source

# The checks that read: others speak of what the frame around a line lacks.
READING = ("unreadable-line", "misplaced-line", "whenever-leads-on", "number-without-unit")


def findings(place: str, lines: tuple[str, ...]) -> list[Finding]:
    """What the reading of lines finds in them, in the frame of their place."""
    text = framed(place, lines)
    if place not in IN_ROBOT:
        source = Source("x.routine", text)
        found = check_routine(source, lambda _name: moth_robot()).findings
    else:
        found = check_robot(robot_of(text))
    return [
        finding
        for finding in found
        if finding.check in READING or finding.check.startswith(("unknown-", "wrong-"))
    ]


@pytest.mark.parametrize(("place", "written", "meant"), PAIRS)
def test_line_to_paste(place: str, written: str, meant: tuple[str, ...]) -> None:
    """A line that cannot be read is answered by the line that was meant."""
    assert [meant] == [finding.paste for finding in findings(place, (shown(written),))]


@pytest.mark.parametrize(("place", "written", "meant"), [pair for pair in PAIRS if pair[2]])
def test_pasting_it_helps(place: str, written: str, meant: tuple[str, ...]) -> None:
    """What is given to paste can itself be read."""
    assert written
    found = findings(place, meant)
    lines = [finding.check for finding in found if finding.check in READING]
    assert [] == [check for check in lines if check != "number-without-unit"]
