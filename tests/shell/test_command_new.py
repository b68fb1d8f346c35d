"""`planner new`: a plan to start from."""

from __future__ import annotations

from pathlib import Path

import pytest
from command import planner


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to stand in."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _names(folder: Path) -> list[str]:
    return sorted(path.relative_to(folder).as_posix() for path in folder.rglob("*"))


def test_what_is_written_checks_clean(here: Path) -> None:
    """A newcomer's first check has nothing to say, robot file and all."""
    assert 0 == planner("new", "lantern").status
    assert ["lantern.bot", "lantern.routine"] == _names(here)
    expected = "Checked 1 routine and 1 robot file: clean.\n"
    assert expected == planner("check", ".").out


def test_the_robot_may_have_another_name(here: Path) -> None:
    """Robot and routine can go by two names, in a folder that is made."""
    ran = planner("new", "lantern", "--robot", "heron", "--into", "my plans/day one")
    assert 0 == ran.status
    assert ["heron.bot", "lantern.routine"] == _names(here / "my plans" / "day one")
    assert "clean" in planner("check", "my plans").out


def test_it_tells_what_to_do_next(here: Path) -> None:
    """The commands that it shows can be copied, blanks in the path or not."""
    assert here.is_dir()
    out = planner("new", "lantern", "--into", "my plans").out
    assert f'  planner check "{Path("my plans/lantern.routine")}"\n' in out


@pytest.mark.parametrize("there", ["lantern.bot", "lantern.routine"])
def test_nothing_is_overwritten(here: Path, there: str) -> None:
    """Where either file is there already, neither is written."""
    (here / there).write_text("mine", encoding="utf-8")
    ran = planner("new", "lantern")
    expected = f"planner: {there} is there already, so nothing was written; choose another name\n"
    assert (2, expected) == (ran.status, ran.err)
    assert (["mine"], [there]) == ([(here / there).read_text(encoding="utf-8")], _names(here))


@pytest.mark.parametrize(
    "name",
    ["", "../lantern", "a b", "a/b", "a\\b", "9lives", "naïve", "-", "con", "NUL", "x" * 61, "a\n"],
)
def test_a_name_that_is_none_is_refused(here: Path, name: str) -> None:
    """A name that no plan, file or Java class can have ends in one line, and nothing is written."""
    ran = planner("new", "--", name)
    assert (2, 1, []) == (ran.status, ran.err.count("\n"), _names(here))


def test_a_folder_that_is_a_file(here: Path) -> None:
    """A file in the folder's place ends in status 2."""
    (here / "plans").write_text("mine", encoding="utf-8")
    assert 2 == planner("new", "lantern", "--into", "plans").status
    assert ["plans"] == _names(here)
