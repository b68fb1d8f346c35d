"""Runs the command line in this process, the way a user does."""

from __future__ import annotations

import shutil
import sys
from dataclasses import dataclass
from pathlib import Path

from click.testing import CliRunner, Result
from demo import ROUTINES

from planner.shell.main import main

FAULT = "this is a fault of the tool itself"


@dataclass(frozen=True)
class Ran:
    """How a command ended."""

    status: int
    out: str
    err: str


def planner(
    *arguments: str | Path, env: dict[str, str] | None = None, typed: str | None = None
) -> Ran:
    """Runs `planner` with the arguments; no exception may come out of it, whatever they are.

    `typed` is what its standard input holds.
    """
    words = [str(word) for word in arguments]
    result: Result = CliRunner().invoke(main, words, input=typed, env=env)
    # Only a command that ends by itself ends with SystemExit.
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return Ran(result.exit_code, result.stdout, result.stderr)


def moth_folder(folder: Path, *routines: str) -> Path:
    """A folder with the demo team's robot file and some of its routines."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in ("moth.bot", *(f"{routine}.routine" for routine in routines)):
        shutil.copy(ROUTINES / name, folder / name)
    return folder


def tool() -> str:
    """The installed `planner` of this environment."""
    found = shutil.which("planner", path=str(Path(sys.executable).parent))
    assert found is not None, "planner is not installed beside this Python"
    return found
