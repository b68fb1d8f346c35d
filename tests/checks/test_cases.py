"""Annotated files: `#! check-name` behind a line marks what is found on it, and nothing else is.

Where a comment cannot stand behind the line, `#!^ check-name` stands on the line below it.
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

CASES = sorted((Path(__file__).parent / "cases").iterdir())
_MARK = re.compile(r"#!(\^?)((?: [a-z-]+)+)\s*$")


def findings(path: Path) -> tuple[Finding, ...]:
    """What is found in a case: a robot file by itself, a routine with the demo robot."""
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".bot":
        return check_robot(robot_of(text, path.name))
    return check_routine(Source(path.name, text), lambda _name: moth_robot()).findings


def marked(text: str) -> Iterator[tuple[int, str]]:
    """Line and check of every mark."""
    for number, line in enumerate(text.splitlines(), start=1):
        mark = _MARK.search(line)
        if mark:
            for name in mark.group(2).split():
                yield number - len(mark.group(1)), name


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.name)
def test_findings_are_the_marked_ones(path: Path) -> None:
    """Each slip is found at its own line, and none makes up another."""
    expected = sorted(marked(path.read_text(encoding="utf-8")))
    assert expected == sorted((found.place.line, found.check) for found in findings(path))


@pytest.mark.parametrize("path", CASES, ids=lambda path: path.name)
def test_messages_have_their_shape(path: Path) -> None:
    """A headline is one clause without a full stop; why and way out are whole sentences."""
    for found in findings(path):
        assert found.headline == found.headline.strip().rstrip(".")
        assert "\n" not in found.headline
        assert "{seen}" not in found.headline + found.way_out
        assert found.why.endswith((".", "?"))
        assert found.way_out.endswith((".", "?", ":"))
        assert not found.way_out.endswith(":") or found.paste
