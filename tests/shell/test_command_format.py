"""`planner format`: one layout for all plans, and nothing else about them changed."""

from __future__ import annotations

import codecs
import os
from pathlib import Path

import pytest
from command import FAULT, moth_folder, planner

from planner.pipeline import Formatted
from planner.shell import format as format_module

UNTIDY = (
    "routine slip\nrobot   moth\n\n\n\nlimit 30s\nstart A # first\n"
    "step A\n\tafter 3 s,go to B\nfinish B\n"
)
TIDY = (
    "routine slip\nrobot moth\n\nlimit 30 s\nstart A  # first\n"
    "step A\n  after 3 s, go to B\nfinish B\n"
)


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot and an untidy plan, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans"))
    planner("format", "moth.bot")
    Path("slip.routine").write_bytes(UNTIDY.encode())
    return tmp_path / "my plans"


def test_in_place(here: Path) -> None:
    """A plan is laid out where it lies, and laid out again it stays as it is."""
    ran = planner("format", "slip.routine")
    expected = "formatted  slip.routine\n1 file formatted.\n"
    assert (0, expected, "") == (ran.status, ran.out, ran.err)
    assert TIDY == (here / "slip.routine").read_text(encoding="utf-8")
    assert "1 file laid out already.\n" == planner("format", "slip.routine").out
    assert {"moth.bot", "slip.routine"} == {path.name for path in here.iterdir()}


def test_what_is_laid_out_is_not_touched(here: Path) -> None:
    """A file that needs nothing keeps its time of change, and its line ends of several kinds."""
    mixed = TIDY.replace("\n", "\r\n", 3).encode()
    (here / "slip.routine").write_bytes(mixed)
    os.utime(here / "slip.routine", ns=(1, 1))
    planner("format", "slip.routine")
    about = (here / "slip.routine").stat()
    assert (1, mixed) == (about.st_mtime_ns, (here / "slip.routine").read_bytes())


def test_check_names_what_would_change(here: Path) -> None:
    """With --check nothing is written, and a file that would change is status 1."""
    ran = planner("format", ".", "--check")
    expected = "would change  slip.routine\n1 file would change, 1 laid out already.\n"
    assert (1, expected, "") == (ran.status, ran.out, ran.err)
    assert UNTIDY.encode() == (here / "slip.routine").read_bytes()
    planner("format", ".")
    ran = planner("format", ".", "--check")
    assert (0, "2 files laid out already.\n") == (ran.status, ran.out)


def test_diff_shows_what_would_change(here: Path) -> None:
    """With --diff nothing is written, and the difference can be read by other programs."""
    ran = planner("format", "slip.routine", "--diff")
    rows = ran.out.splitlines()
    assert ["--- slip.routine", "+++ slip.routine (formatted)"] == rows[:2]
    assert "-\tafter 3 s,go to B" in rows
    assert "+  after 3 s, go to B" in rows
    assert (0, UNTIDY.encode()) == (ran.status, (here / "slip.routine").read_bytes())
    both = planner("format", "slip.routine", "--diff", "--check")
    assert (1, ran.out) == (both.status, both.out)
    planner("format", "slip.routine")
    assert "" == planner("format", "slip.routine", "--diff").out


@pytest.mark.parametrize("mark", [b"", codecs.BOM_UTF8])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_line_ends_and_marks_stay(here: Path, mark: bytes, end: str) -> None:
    """A file keeps the line ends of its editor, and its mark."""
    (here / "slip.routine").write_bytes(mark + UNTIDY.replace("\n", end).encode())
    planner("format", "slip.routine")
    expected = mark + TIDY.replace("\n", end).encode()
    assert expected == (here / "slip.routine").read_bytes()


@pytest.mark.parametrize("encoding", ["utf-16-le", "utf-16-be"])
def test_the_encoding_stays(here: Path, encoding: str) -> None:
    """A file in another encoding is written in it again."""
    mark = "\ufeff".encode(encoding)
    (here / "slip.routine").write_bytes(mark + UNTIDY.encode(encoding))
    planner("format", "slip.routine")
    assert mark + TIDY.encode(encoding) == (here / "slip.routine").read_bytes()


def test_unreadable_lines_stay_word_for_word(here: Path) -> None:
    """A slip in one line does not keep the others from being laid out."""
    (here / "slip.routine").write_text(UNTIDY + "step  (what)  # oh\n", encoding="utf-8")
    assert 0 == planner("format", "slip.routine").status
    assert TIDY + "step  (what)  # oh\n" == (here / "slip.routine").read_text(encoding="utf-8")


def test_scenarios_and_robots_are_laid_out(here: Path) -> None:
    """A folder's robot files and scenarios are laid out too."""
    (here / "slip.scenario").write_text("routine slip\nscenario  a\n\tmust visit A,B\n")
    (here / "odd.bot").write_text("robot  odd\n")
    assert "formatted" in planner("format", ".").out
    assert "robot odd\n" == (here / "odd.bot").read_text()
    expected = "routine slip\nscenario a\n  must visit A, B\n"
    assert expected == (here / "slip.scenario").read_text()


def test_a_folder_named_broken_is_left_out(here: Path) -> None:
    """Plans that are wrong on purpose are laid out only where that is wished for."""
    (here / "broken").mkdir()
    (here / "slip.routine").rename(here / "broken" / "slip.routine")
    assert 0 == planner("format", ".", "--check").status
    assert 1 == planner("format", "broken", "--check").status


def test_a_changed_meaning_is_never_written(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the new text would say something else, the file is left and the tool blames itself."""
    wrong = Formatted("routine other\n", unchanged=False)
    monkeypatch.setattr(format_module, "format_routine", lambda *_: wrong)
    ran = planner("format", "slip.routine")
    assert (2, "", 1) == (ran.status, ran.out, ran.err.count("\n"))
    assert FAULT in ran.err.lower()
    assert UNTIDY.encode() == (here / "slip.routine").read_bytes()


def test_what_cannot_be_read_does_not_hold_up_the_rest(here: Path) -> None:
    """A file that is no text takes status 2, and the others are laid out all the same."""
    (here / "photo.routine").write_bytes(b"\xff\xd8\xff")
    ran = planner("format", ".")
    assert (2, True) == (ran.status, ran.err.startswith("planner: could not read photo.routine: "))
    assert TIDY.encode() == (here / "slip.routine").read_bytes()
    assert b"\xff\xd8\xff" == (here / "photo.routine").read_bytes()


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([], "Missing argument"),
        (["nothing.routine"], "could not read nothing.routine: there is no such file"),
        (["slip.routine", "--chek"], "--chek"),
        (["slip.routine", "--diff=yes"], "--diff"),
    ],
)
def test_wrong_usage(here: Path, arguments: list[str], words: str) -> None:
    """Every slip on the command line is told, with status 2 and nothing written."""
    ran = planner("format", *arguments)
    assert (2, True) == (ran.status, words in ran.err)
    assert UNTIDY.encode() == (here / "slip.routine").read_bytes()


def test_a_folder_that_cannot_be_written(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where nothing can be written, all files stay as they were, and one line says why."""
    replace = Path.replace

    def refuse(self: Path, target: Path) -> Path:
        if target.name == "slip.routine":
            raise OSError(28, "No space left on device")
        return replace(self, target)

    (here / "early.routine").write_bytes(UNTIDY.encode())
    monkeypatch.setattr(Path, "replace", refuse)
    ran = planner("format", ".")
    line = "planner: could not write slip.routine: the disk is full. Nothing was changed.\n"
    assert (2, "", line) == (ran.status, ran.out, ran.err)
    assert 2 * [UNTIDY.encode()] == [f.read_bytes() for f in sorted(here.glob("*.routine"))]
