"""`python -m planner` is the same program."""

from __future__ import annotations

import subprocess
import sys


def test_python_m_planner() -> None:
    """The package can be run as a module, and calls itself by the program's name."""
    done = subprocess.run(
        [sys.executable, "-m", "planner", "check"], capture_output=True, text=True, check=False
    )
    assert 2 == done.returncode
    assert "Usage: planner check" in done.stderr
