"""Each file in routines/broken earns the finding that its first line names, and no other."""

from __future__ import annotations

from pathlib import Path

import pytest
from demo import ROUTINES, check_text, names_of

from planner.checks.table import CHECKS, check_named

BROKEN = sorted((ROUTINES / "broken").iterdir())
_EARNS = "# earns: "


def earned(path: Path) -> str:
    """The name of the check that a file says it earns."""
    first = path.read_text(encoding="utf-8").splitlines()[0]
    assert first.startswith(_EARNS)
    return first.removeprefix(_EARNS)


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_a_broken_file_earns_its_finding(path: Path) -> None:
    """One slip gives one finding, the one that the file is there to show."""
    assert [earned(path)] == names_of(check_text(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_a_broken_file_is_named_after_its_check(path: Path) -> None:
    """Who looks for an example of a check finds it by name."""
    assert earned(path) == path.stem.replace("_", "-")
    assert check_named(earned(path)) in CHECKS
