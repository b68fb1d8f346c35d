"""The program as a whole: colour, characters, faults of its own, Ctrl-C."""

from __future__ import annotations

import io
import os
import subprocess
import sys
from pathlib import Path

import click
import pytest
from command import FAULT, moth_folder, planner, tool

from planner.report import Role
from planner.shell import check as check_module
from planner.shell import terminal
from planner.shell.main import main

SLIP = "routine slip\nrobot moth\nlimit 30 s\nstart Nowhere\nfinish Lit\n"


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a plan that has an error, to stand in."""
    folder = moth_folder(tmp_path / "my plans", "first_lamp")
    (folder / "slip.routine").write_text(SLIP, encoding="utf-8")
    monkeypatch.chdir(folder)
    return folder


def _run(*arguments: str, **env: str) -> subprocess.CompletedProcess[bytes]:
    """A process of its own, in a plain environment."""
    kept = {name: os.environ[name] for name in ("PATH", "SYSTEMROOT") if name in os.environ}
    return subprocess.run([tool(), *arguments], capture_output=True, env=kept | env, check=False)


# The installed program.


def test_the_installed_program_checks(here: Path) -> None:
    """The entry point works from another folder, with blanks in the path."""
    os.chdir(here.parent)
    done = _run("check", "my plans/first_lamp.routine")
    expected = b"Checked 1 routine and 1 robot file: clean." + os.linesep.encode()
    assert (0, expected, b"") == (done.returncode, done.stdout, done.stderr)


def test_the_installed_program_tells_errors(here: Path) -> None:
    """Exit status 1 reaches the caller."""
    assert here.is_dir()
    assert 1 == _run("check", "slip.routine").returncode


@pytest.mark.parametrize("encoding", ["cp1252", "ascii", "utf-8"])
def test_every_console_shows_every_plan(here: Path, encoding: str) -> None:
    """Text that the console's code page lacks is replaced, and the command ends as it should."""
    (here / "slip.routine").write_text(
        SLIP.replace("Lit\n", 'Lit "灯 שלום 🤖" oops\n'), encoding="utf-8"
    )
    done = _run("check", "slip.routine", PYTHONIOENCODING=encoding)
    assert (1, b"") == (done.returncode, done.stderr)
    assert "oops" in done.stdout.decode(encoding)


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux has a device that is always full")
def test_output_that_cannot_be_written(here: Path) -> None:
    """A full disk under the output ends in one line and status 2."""
    assert here.is_dir()
    with Path("/dev/full").open("wb") as full:
        done = subprocess.run(
            [tool(), "check", "slip.routine"], stdout=full, stderr=subprocess.PIPE, check=False
        )
    assert (2, 1) == (done.returncode, done.stderr.count(b"\n"))
    assert b"planner: could not go on: No space left on device\n" == done.stderr


def test_a_pipe_that_is_closed(here: Path) -> None:
    """Somebody who reads only the first line gets no complaint."""
    assert here.is_dir()
    script = f'"{tool()}" explain | {{ read -r line; }}'
    done = subprocess.run(["sh", "-c", script], capture_output=True, check=False)
    assert b"" == done.stderr


@pytest.mark.parametrize("buffered", ["", "1"])
def test_no_output_at_all(here: Path, buffered: str) -> None:
    """A program that was started without an output still gives its verdict in its exit status."""
    assert here.is_dir()
    script = f'"{tool()}" check slip.routine >&-'
    env = {**os.environ, "PYTHONUNBUFFERED": buffered}
    done = subprocess.run(["sh", "-c", script], capture_output=True, check=False, env=env)
    assert (1, b"") == (done.returncode, done.stderr)


# Colour.


class _Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


@pytest.mark.parametrize(
    ("env", "coloured"),
    [
        ({}, True),
        # Source: https://no-color.org, "when present and not an empty string".
        ({"NO_COLOR": "1"}, False),
        ({"NO_COLOR": ""}, True),
        ({"TERM": "dumb"}, False),
    ],
)
def test_colour_on_a_terminal(
    here: Path, monkeypatch: pytest.MonkeyPatch, env: dict[str, str], coloured: bool
) -> None:
    """A terminal gets colour unless the user has asked for none."""
    assert here.is_dir()
    for name in ("NO_COLOR", "TERM"):
        monkeypatch.delenv(name, raising=False)
    for name, value in env.items():
        monkeypatch.setenv(name, value)
    monkeypatch.setattr(sys, "stdout", _Terminal())
    look = terminal.screen()
    assert coloured == (
        look.style(Role.ERROR, "Error") == click.style("Error", fg="red", bold=True)
    )


def test_no_colour_in_a_pipe(here: Path) -> None:
    """What is piped holds no escape sequence, whatever the environment wishes for."""
    assert here.is_dir()
    ran = planner("check", "slip.routine", env={"FORCE_COLOR": "1", "TERM": "xterm-256color"})
    assert "\x1b" not in ran.out


def test_a_pipe_gets_the_same_on_every_machine(here: Path) -> None:
    """The width of somebody's window does not reach what is piped."""
    assert here.is_dir()
    wide, narrow = (planner("check", ".", env={"COLUMNS": width}) for width in ("200", "20"))
    assert wide == narrow


# Faults of its own.


def test_a_fault_is_one_line(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An exception nobody foresaw says that it is the tool's fault, and how to report it."""
    assert here.is_dir()

    def fail(*_: object, **__: object) -> None:
        raise KeyError("lost\nkey")

    monkeypatch.setattr(check_module, "read_plans", fail)
    ran = planner("check", "slip.routine")
    assert (2, "", 1) == (ran.status, ran.out, ran.err.count("\n"))
    assert ran.err.startswith(f"planner: {FAULT}, not of your plan (KeyError: ")
    assert "PLANNER_TRACE=1" in ran.err


def test_a_fault_can_be_traced(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Who asks for the trace gets it."""
    assert here.is_dir()

    def fail(*_: object, **__: object) -> None:
        raise KeyError("lost")

    monkeypatch.setattr(check_module, "read_plans", fail)
    monkeypatch.setenv("PLANNER_TRACE", "1")
    with pytest.raises(KeyError, match="lost"):
        main(["check", "slip.routine"])


def test_ctrl_c_is_quiet(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Stopping the program is no fault and needs no words; 130 is what shells expect."""
    assert here.is_dir()

    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(check_module, "read_plans", stop)
    ran = planner("check", "slip.routine")
    assert (130, "", "") == (ran.status, ran.out, ran.err)
