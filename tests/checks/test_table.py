"""The table of checks: every slip is reported, every name is that of its file."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest
from demo import ROOT

from planner.checks.table import CHECKS, check_named

READERS = ("planner/tree", "planner/model", "planner/pipeline.py")


def slip_names(text: str) -> Iterator[str]:
    """The names of checks that a source gives to `Slip(...)`, `.add(...)` and `.unknown(...)`."""
    for node in ast.walk(ast.parse(text)):
        if not isinstance(node, ast.Call) or not node.args:
            continue
        called = node.func
        name = called.id if isinstance(called, ast.Name) else getattr(called, "attr", "")
        first = node.args[0]
        if name in ("Slip", "add", "unknown") and isinstance(first, ast.Constant):
            yield str(first.value)


def sources() -> Iterator[Path]:
    """Every file that reads."""
    for reader in READERS:
        path = ROOT / reader
        yield from path.rglob("*.py") if path.is_dir() else [path]


EMITTED = sorted({name for path in sources() for name in slip_names(path.read_text("utf-8"))})


@pytest.mark.parametrize("name", EMITTED)
def test_every_slip_is_reported(name: str) -> None:
    """What the reader met and could not make sense of never gets lost."""
    assert check_named(name) is not None


def test_the_slips_are_seen() -> None:
    """The judge of slips reads the three ways of writing one down."""
    text = 'Slip("a-b", place)\nledger.add("c-d", place)\nself.ledger.unknown("e-f", name)\nadd()'
    assert ["a-b", "c-d", "e-f"] == sorted(slip_names(text))
    assert {"unreadable-line", "unknown-step", "missing-robot", "no-such-port"} <= set(EMITTED)


def test_each_check_stands_in_the_table_once() -> None:
    """No check runs twice, so that no finding is told twice."""
    names = [check.name for check in CHECKS]
    assert sorted(set(names)) == sorted(names)


def test_every_check_file_stands_in_the_table() -> None:
    """A file with a `find` function is a check, and a check that is not in the table never runs."""
    folder = ROOT / "planner" / "checks"
    files = {
        path.stem.replace("_", "-")
        for path in folder.glob("*.py")
        if "\ndef find(case: Case)" in path.read_text("utf-8")
    }
    assert files == {check.name for check in CHECKS}
