"""A run by hand in a terminal of 80 by 24, as a student sits at it."""

from __future__ import annotations

import os
import re
import struct
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pyte
import pytest
from command import moth_folder, tool

if sys.platform != "win32":
    import fcntl
    import pty
    import select
    import termios

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such terminals")

PATIENCE_S = 60
COLOUR = re.compile(rb"\x1b\[[0-9;]*3[1-7]m")


class Terminal:
    """A terminal with `planner` running in it."""

    def __init__(self, folder: Path, routine: str = "first_lamp", **env: str) -> None:
        ours, theirs = pty.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        kept = {name: os.environ[name] for name in ("PATH", "HOME") if name in os.environ}
        # Nobody is there to answer where the cursor is.
        kept |= {"TERM": "xterm-256color", "PROMPT_TOOLKIT_NO_CPR": "1", **env}
        command = [tool(), "rehearse", f"{routine}.routine", "--by-hand"]
        self.running = subprocess.Popen(
            command, cwd=folder, env=kept, stdin=theirs, stdout=theirs, stderr=theirs,
            start_new_session=True, preexec_fn=lambda: fcntl.ioctl(0, termios.TIOCSCTTY, 0),
        )  # fmt: skip
        os.close(theirs)
        self.ours, self.raw = ours, b""
        self.screen = pyte.Screen(80, 24)
        self.stream = pyte.ByteStream(self.screen)

    def type(self, keys: str) -> None:
        """Presses keys."""
        os.write(self.ours, keys.encode())

    def until(self, words: str, prompt: str = ">") -> list[str]:
        """The rows of the terminal once the words are there, and the line to type on as given."""
        end = time.monotonic() + PATIENCE_S
        # What is typed before that would be the terminal's own to echo.
        while not (prompt in self.rows and any(words in row for row in self.rows)):
            assert self._read(end), "\n".join([f"{words!r} never came:", *self.rows])
        return self.rows

    @property
    def rows(self) -> list[str]:
        """What the terminal shows now."""
        return [row.rstrip() for row in self.screen.display]

    def end(self) -> int:
        """Waits for the program to end; its exit status."""
        while self._read(time.monotonic() + PATIENCE_S):
            pass
        os.close(self.ours)
        return self.running.wait(PATIENCE_S)

    def _read(self, end: float) -> bool:
        """Lets the terminal show what comes next; whether anything came."""
        ready, _, _ = select.select([self.ours], [], [], max(0.0, end - time.monotonic()))
        try:
            data = os.read(self.ours, 65536) if ready else b""
        except OSError:
            # Linux says so when the other side has hung up.
            data = b""
        self.raw += data
        self.stream.feed(data)
        return bool(data)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder with the demo robot and a routine."""
    return moth_folder(tmp_path / "my plans", "first_lamp")


@pytest.fixture
def terminal(folder: Path) -> Iterator[Terminal]:
    """A terminal at the beginning of a run."""
    at = Terminal(folder)
    at.until(">")
    yield at
    if at.running.poll() is None:
        at.running.kill()
        at.running.wait()


def test_keys_and_completion(terminal: Terminal) -> None:
    """A key sets a sensor, Tab completes a word, the arrow brings back what was typed."""
    terminal.type("b\r")
    terminal.until("bumper           pressed")
    terminal.type("range_front 7\r")
    terminal.until("range_front      7 cm")
    terminal.type("range_front u\t")
    terminal.until("> range", "> range_front unreadable")
    terminal.type("\r")
    terminal.until("range_front      unreadable")
    terminal.type("\x1b[A\x1b[A\x1b[A\r")
    terminal.until("bumper           released")
    terminal.type("quit\r")
    assert 0 == terminal.end()


def test_choosing(folder: Path) -> None:
    """What can be chosen is asked for on a screen of its own, with Tab as in the run."""
    text = (folder / "first_lamp.routine").read_text(encoding="utf-8")
    lines = "choose alliance: red, blue\nchoose wait: 0 s to 5 s, normally 0 s\n"
    either = text.replace("start Approach\n", f"{lines}start Approach\n", 1)
    (folder / "either.routine").write_text(either, encoding="utf-8")
    terminal = Terminal(folder, "either")
    terminal.until("Enter starts the run")
    terminal.type("alliance b\t")
    terminal.until("> alliance", "> alliance blue")
    terminal.type("\r")
    terminal.until("alliance  blue")
    terminal.type("w 2\r")
    terminal.until("wait      2 s")
    terminal.type("\r")
    assert "Chosen    alliance blue, wait 2 s" in terminal.until("match clock")
    terminal.type("quit\r")
    assert 0 == terminal.end()


def test_the_screen_is_whole(terminal: Terminal) -> None:
    """At 80 by 24 the whole screen is to be seen, from its first row to the line to type on."""
    for keys, words in (("\r", "BackOff"), ("\r", "GiveUp"), ("sensors\r", "post_mark")):
        terminal.type(keys)
        rows = terminal.until(words)
        assert rows[0].startswith('first_lamp "Light the first post"')
    terminal.type("help\r")
    rows = terminal.until("lets time pass")
    assert rows[0].startswith("Enter ")


@pytest.mark.parametrize(("key", "status"), [("\x04", 0), ("\x03", 130)])
def test_the_keys_that_end_it(terminal: Terminal, key: str, status: int) -> None:
    """Ctrl-D ends the run, and so does Ctrl-C with the status that shells expect; no words."""
    before = terminal.rows
    terminal.type(key)
    assert (status, before) == (terminal.end(), terminal.rows)


@pytest.mark.parametrize(
    ("env", "coloured"),
    # Source: https://no-color.org, "when present and not an empty string".
    [({}, True), ({"NO_COLOR": "1"}, False), ({"NO_COLOR": ""}, True)],
)
def test_colour(folder: Path, env: dict[str, str], coloured: bool) -> None:
    """A terminal gets colour unless the user has asked for none."""
    terminal = Terminal(folder, **env)
    terminal.type("b\r")
    terminal.until("true")
    terminal.type("\x04")
    terminal.end()
    assert coloured == bool(COLOUR.search(terminal.raw))


def test_a_plain_terminal(folder: Path) -> None:
    """A terminal that can do nothing special gets plain lines, and what is typed once."""
    terminal = Terminal(folder, TERM="dumb")
    terminal.until(">")
    terminal.type("b\n")
    terminal.until("true")
    terminal.type("quit\n")
    assert (0, False) == (terminal.end(), b"\x1b" in terminal.raw)
    assert 1 == terminal.raw.count(b"quit")
