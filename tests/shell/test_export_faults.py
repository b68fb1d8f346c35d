"""An export that meets a fault: the project compiles, nothing is lost, the next one finishes."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from command import FAULT, moth_folder
from exporting import MINE, PACKAGE, change, edit_claw, exported, tree
from shell.faults import read_only, resize, small_disk

from planner.shell import files
from planner.shell.trouble import Trouble

FOLDER = Path("java src", "club", "moth", "auto")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot and its smallest routine, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans", "first_lamp"))
    return tmp_path / "my plans"


_KILLED = """
import os, signal, sys
from pathlib import Path
replace, left = Path.replace, iter(range(3))
def renamed(self, target):
    if next(left, None) is None:
        os.kill(os.getpid(), getattr(signal, "SIGKILL", signal.SIGTERM))
    return replace(self, target)
Path.replace = renamed
from planner.shell.main import run
sys.argv[0] = "planner"
run()
"""


def test_a_process_that_is_killed(here: Path) -> None:
    """A real process that is killed between two renames leaves what the next export finishes."""
    exported()
    mine = edit_claw(here / FOLDER)
    edited = mine.read_bytes()
    change(here / "moth.bot", ("command forward(", "command ahead("))
    change(here / "first_lamp.routine", ("drive forward", "drive ahead"))
    options = ("--into", "java src", "--package", PACKAGE)
    words = [sys.executable, "-c", _KILLED, "export", "first_lamp.routine", *options]
    killed = subprocess.run(words, capture_output=True, check=False)
    assert (True, b"") == (killed.returncode < 0 or os.name == "nt", killed.stderr)
    left = [path for path in tree(here / "java src") if path.rpartition("/")[2].startswith(".")]
    assert (True, edited) == (bool(left), mine.read_bytes())
    assert (0, 0) == (exported().status, exported(PACKAGE, "java src", "--check").status)
    assert edited == mine.read_bytes()
    exported(PACKAGE, "clean")
    edit_claw(here / "clean" / FOLDER.relative_to("java src"))
    assert tree(here / "clean") == tree(here / "java src")


def test_a_folder_that_is_read_only(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing may be written, one line says so and nothing changes; later it goes on."""
    (here / "java src").mkdir()
    with read_only(here / "java src", monkeypatch):
        ran = exported()
    _one_line(ran.err)
    assert (2, {}) == (ran.status, tree(here / "java src"))
    assert 0 == exported().status
    mine = edit_claw(here / FOLDER)
    change(here / "first_lamp.routine", ("after 4 s", "after 5 s"))
    before = tree(here / "java src")
    with read_only(here / "java src", monkeypatch):
        ran = exported()
        assert 1 == exported(PACKAGE, "java src", "--check").status
    _one_line(ran.err)
    assert (2, before) == (ran.status, tree(here / "java src"))
    assert 0 == exported().status
    assert MINE in mine.read_text(encoding="utf-8")


def _one_line(said: str) -> None:
    assert ("planner: could not write ", 1) == (said[:25], said.count("\n"))
    assert ("Nothing was changed." in said, FAULT in said) == (True, False)
    assert "no permission" in said or "the disk cannot be written to" in said


def test_a_disk_that_is_full(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a full disk nothing changes, whether it is full at once or only for the second export."""
    into = here / "java src"
    into.mkdir()
    with small_disk(into, 64) as real:
        if not real:
            _full(monkeypatch)
        ran = exported()
        assert (2, {}) == (ran.status, tree(into))
        assert "the disk is full. Nothing was changed." in ran.err
        monkeypatch.undo()
        monkeypatch.chdir(here)
        if real:
            resize(into, 4096)
        assert 0 == exported().status
        mine = edit_claw(here / FOLDER)
        change(here / "moth.bot", ("command forward(", "command ahead("))
        change(here / "first_lamp.routine", ("drive forward", "drive ahead"))
        before = tree(into)
        used = shutil.disk_usage(into).used // 1024
        if real:
            resize(into, used + 8)
        else:
            _full(monkeypatch)
        ran = exported()
        assert (2, before) == (ran.status, tree(into))
        assert "the disk is full. Nothing was changed." in ran.err
        monkeypatch.undo()
        monkeypatch.chdir(here)
        if real:
            resize(into, 4096)
        assert (0, True) == (exported().status, MINE in mine.read_text(encoding="utf-8"))
        assert 0 == exported(PACKAGE, "java src", "--check").status


def _full(monkeypatch: pytest.MonkeyPatch) -> None:
    """From the third file on a disk is full."""
    opened, open_ = iter(range(1000)), Path.open

    def fail(self: Path, mode: str = "r", **more: object) -> object:
        if mode == "xb" and next(opened) > 1:
            raise OSError(28, "No space left on device")
        return open_(self, mode, **more)  # type: ignore[call-overload]

    monkeypatch.setattr(Path, "open", fail)


@pytest.mark.parametrize("failing", range(4))
def test_what_was_taken_away_comes_back(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, failing: int
) -> None:
    """Files that were taken away first are back after a failure at any file that follows."""
    names = [tmp_path / name for name in ("a", "b", "c", "d")]
    for path in names:
        path.write_bytes(b"old")
    renames, replace = iter(range(100)), Path.replace

    def fail(self: Path, target: Path) -> Path:
        if next(renames) == failing:
            raise OSError(28, "No space left on device")
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(Trouble, match=r"Nothing was changed\."):
        files.write_all(dict.fromkeys(names, b"new"), [names[3], names[1]])
    assert {path.name: b"old" for path in names} == tree(tmp_path)


def test_only_what_is_ours_is_taken_for_a_leftover(tmp_path: Path) -> None:
    """Of hidden files only those go that an export of these files could have left."""
    gone = [".A.java.12.new", ".A.java.999999.old"]
    kept = ["A.java", ".A.java.12.new~", ".A.java.x.new", ".B.java.12.new", "A.java.12.old"]
    for name in (*gone, *kept):
        (tmp_path / name).write_bytes(b"x")
    files.forget_what_was_cut_off([tmp_path / "A.java", tmp_path / "none" / "A.java"])
    assert sorted(kept) == sorted(os.listdir(tmp_path))
