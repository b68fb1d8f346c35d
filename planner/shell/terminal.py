"""The screen the program runs on: its width, its characters, its colours."""

from __future__ import annotations

import io
import os
import shutil
import sys

import click

from planner.report import Role, Screen
from planner.report.glyphs import harmless

_PIPE_WIDTH = 80

_LOOKS: dict[Role, dict[str, object]] = {
    Role.ERROR: {"fg": "red", "bold": True},
    Role.WARNING: {"fg": "yellow", "bold": True},
    Role.NOTE: {"fg": "cyan", "bold": True},
    Role.FILE: {"bold": True},
    Role.LABEL: {"dim": True},
    Role.PASSED: {"fg": "green", "bold": True},
    Role.FAILED: {"fg": "red", "bold": True},
}


def guard_encoding() -> None:
    """From now on a character that the output cannot show is replaced instead of raising.

    Where the program was started without an output, what it says goes nowhere.
    """
    sys.stdout = sys.stdout or io.StringIO()
    sys.stderr = sys.stderr or io.StringIO()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")


def let_go_of_output() -> None:
    """Sends what is still in the output's buffer nowhere, so that the exit does not try again."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)


def screen() -> Screen:
    """What standard output is; without a terminal the same on every machine but for characters."""
    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    if not _is_terminal():
        return Screen(_PIPE_WIDTH, encoding)
    width = shutil.get_terminal_size().columns
    return Screen(width, encoding, _styled if _wants_colour() else Screen().style)


def say(text: str) -> None:
    """Writes whole lines to standard output."""
    click.echo(text, nl=False, color=_is_terminal() and _wants_colour())


def remark(text: str) -> None:
    """Writes whole lines to standard error."""
    click.echo(text, nl=False, err=True, color=False)


def warn(message: str) -> None:
    """Writes one line to standard error."""
    encoding = getattr(sys.stderr, "encoding", None) or "utf-8"
    click.echo(f"planner: {harmless(message, encoding)}", err=True, color=False)


def _styled(role: Role, text: str) -> str:
    return click.style(text, **_LOOKS[role]) if text else text  # type: ignore[arg-type]


def _is_terminal() -> bool:
    return sys.stdout.isatty()


def _wants_colour() -> bool:
    # NO_COLOR counts when it is set and not empty; https://no-color.org says so.
    return not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"
