"""The tools that check types, habits and layout find nothing."""

from __future__ import annotations

import subprocess
import sys

import pytest
from house import ROOT


@pytest.mark.parametrize(
    "command",
    [
        ("mypy", "--strict"),
        ("ruff", "check", "."),
        ("ruff", "format", "--check", "."),
    ],
    ids=" ".join,
)
def test_tool_finds_nothing(command: tuple[str, ...]) -> None:
    """The tool ends with status 0 on the whole tree."""
    ran = subprocess.run(
        [sys.executable, "-m", *command], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert 0 == ran.returncode, ran.stdout + ran.stderr
