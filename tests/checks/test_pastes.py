"""What is offered to paste over a line mends it, and makes nothing else worse."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
from demo import ROUTINES, moth_robot, robot_of
from meant import PAIRS, framed, shown

from planner.findings import Finding, Severity
from planner.pipeline import check_robot, check_routine
from planner.text import Source

# Checks whose lines are pasted above or below the place they point at, or somewhere else.
BESIDE = frozenset(
    {
        *("missing-line", "missing-robot", "misplaced-line", "dead-end", "wait-without-limit"),
        *("blind-step", "unreachable-step", "unused-device", "unused-sensor", "unused-command"),
        *("unused-reading", "unused-setting", "no-way-to-finish", "unhandled-outcome"),
        *("wait-never-commanded", "motor-left-on", "start-is-finish", "idle-loop"),
        *("task-without-steps", "match-exit-too-late", "limit-leads-where-success-leads"),
        *("unknown-task", "unused-task", "scenario-without-demand", "outcome-never-reached"),
        *("runs-in-finish", "late-finish", "endless-loop", "group-without-exits"),
    }
)
SECOND = frozenset(
    {
        *("unknown-device", "unknown-sensor", "unknown-step", "wrong-question", "dead-end"),
        *("number-without-unit", "wrong-unit", "wait-never-commanded"),
        *("value-without-arm", "broken-requirement"),
    }
)
FILES = [*(Path(__file__).parent / "cases").iterdir(), *(ROUTINES / "broken").iterdir()]


def findings(text: str) -> list[Finding]:
    """What is found in a routine with the demo robot, or in a robot file."""
    if any(line.startswith("routine ") for line in text.splitlines()):
        checked = check_routine(Source("x.routine", text), lambda _name: moth_robot())
        return list(checked.findings)
    return list(check_robot(robot_of(text)))


def pasted(text: str, found: Finding) -> str:
    """The text with what a finding offers in place of its line."""
    lines = text.split("\n")
    line = lines[found.place.line - 1]
    margin = line[: len(line) - len(line.lstrip())]
    lines[found.place.line - 1 : found.place.line] = [margin + new for new in found.paste]
    return "\n".join(lines)


def errors(found: list[Finding]) -> Counter[tuple[str, str]]:
    """How often each error is there."""
    return Counter((f.check, f.headline) for f in found if f.severity is Severity.ERROR)


def new_errors(before: list[Finding], after: list[Finding], found: Finding) -> list[str]:
    """The errors that a paste has brought.

    A line has to be read before it can be told that the robot lacks what the line speaks of: one
    such error in the place of the one that is gone is none that the paste has brought.
    """
    new = errors(after) - errors(before)
    own = [f for f in after if f.place.line == found.place.line and (f.check, f.headline) in new]
    if len(own) == 1 and own[0].check in SECOND and new.total() == 1:
        return []
    return [f"{check}: {headline}" for check, headline in new.elements()]


def replacing(found: list[Finding]) -> list[Finding]:
    """The findings whose lines to paste go in the place of their own."""
    over = [f for f in found if f.paste and f.check not in BESIDE]
    # What a command drives and its mechanism does not use is put right in the `uses` line.
    return [f for f in over if not f.paste[0].startswith("uses") or "uses" in f.place.line_text]


def hold(text: str) -> None:
    """Each paste takes its finding away and brings no error that was not there."""
    before = findings(text)
    for found in replacing(before):
        after = findings(pasted(text, found))
        told = f"{found.check} {found.place.line}: {found.paste}"
        assert (told, []) == (told, new_errors(before, after, found))
        line = found.place.line
        same = [f for f in after if (f.check, f.place.line) == (found.check, line)]
        others = [f for f in before if (f.check, f.place.line) == (found.check, line)]
        assert (told, len(others) - 1) == (told, len(same))


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.name)
def test_pastes_in_whole_files(path: Path) -> None:
    """In the annotated and the broken files, what is offered for a line makes it better."""
    hold(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize(("place", "written", "meant"), PAIRS)
def test_pastes_for_single_lines(place: str, written: str, meant: tuple[str, ...]) -> None:
    """What students write and are told to write instead makes no plan worse."""
    lines = (shown(written),)
    if place == "routine" and meant:
        word = meant[0].split()[0]
        # The header's own line gives way to the one in question, and a heading has a line under it.
        under = ("  after 1 s, go to Lit",) if word == "step" else ()
        text = framed(place, (*lines, *under))
        once = word in ("routine", "robot", "limit", "start")
        text = re.sub(rf"^{word} .*\n", "", text, count=1, flags=re.MULTILINE) if once else text
        hold(text if lines[0] in text else f"{lines[0]}\n{text}")
    else:
        hold(framed(place, lines))
