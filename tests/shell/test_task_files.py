"""Files of tasks on the command line: where they are looked for, and told about once."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from command import moth_folder, planner

TASKS = """tasks posts
robot moth

task place(height ticks) ends placed, stuck
  step Raise
    arm to height
    when arm done, go to placed
    after 2 s, go to stuck
"""
ROUTINE = """routine {name}
robot moth
tasks from posts
limit 30 s
start First
step First
  do place 1200 ticks
  when task ends placed, go to Lit
  when task ends stuck, go to GiveUp
finish Lit
finish GiveUp
scenario good_run
  in Raise, after 1 s, arm done
  must visit First, Lit
"""
BROKEN = TASKS.replace("    after 2 s, go to stuck\n", "    when bumper presed, go to stuck\n")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a robot, a file of tasks and two routines that share it, to stand in."""
    monkeypatch.chdir(tmp_path)
    moth_folder(tmp_path)
    (tmp_path / "posts.tasks").write_text(TASKS, encoding="utf-8")
    for name in ("one", "two"):
        text = ROUTINE.format(name=name)
        (tmp_path / f"{name}.routine").write_text(text, encoding="utf-8")
    return tmp_path


@pytest.mark.usefixtures("here")
def test_check() -> None:
    """A file of tasks is counted with the routine that shares it."""
    out = planner("check", "one.routine").out
    assert "Checked 1 routine, 1 file of tasks and 1 robot file: clean.\n" == out


@pytest.mark.usefixtures("here")
def test_check_by_itself() -> None:
    """A file of tasks can be checked alone; tasks that nothing does are no fault there."""
    out = planner("check", "posts.tasks").out
    assert "Checked 1 file of tasks and 1 robot file: clean.\n" == out


def test_one_folder_up(here: Path) -> None:
    """It may lie one folder above the routine, as the robot file may."""
    (here / "quals").mkdir()
    (here / "one.routine").rename(here / "quals" / "one.routine")
    ran = planner("check", "quals/one.routine")
    assert (0, True) == (ran.status, "1 file of tasks" in ran.out)


def test_told_once(here: Path) -> None:
    """What is wrong in the file is told once, though two routines share it."""
    (here / "posts.tasks").write_text(BROKEN, encoding="utf-8")
    ran = planner("check", "one.routine", "two.routine", "--format", "short")
    assert (1, ["posts.tasks:8:10"]) == (
        ran.status, [row.split(": ")[0] for row in ran.out.splitlines()]
    )  # fmt: skip


def test_json(here: Path) -> None:
    """The record names the files of tasks, and the file that a finding is in."""
    (here / "posts.tasks").write_text(BROKEN, encoding="utf-8")
    record = json.loads(planner("check", "one.routine", "--format", "json").out)
    paths = {finding["path"] for finding in record["findings"]}
    assert (["posts.tasks"], {"posts.tasks"}) == (record["task_files"], paths)


def test_unreadable(here: Path) -> None:
    """A file of tasks that cannot be read is told, and so is the routine that needs it."""
    (here / "posts.tasks").write_bytes(b"tasks posts\n\xff\n")
    ran = planner("check", "one.routine")
    told = "could not read one.routine: its file of tasks posts.tasks could not be read: "
    assert (2, True) == (ran.status, told in ran.err)


def test_format(here: Path) -> None:
    """It is laid out like any plan."""
    (here / "posts.tasks").write_text(TASKS.replace("  ", "    "), encoding="utf-8")
    assert 1 == planner("format", "posts.tasks", "--check").status
    planner("format", ".")
    assert TASKS == (here / "posts.tasks").read_text(encoding="utf-8")


def test_other_commands(here: Path) -> None:
    """Rehearsal, by hand too, picture and Java of a routine have the steps of the file."""
    assert "1 passed" in planner("rehearse", "one.routine").out
    by_hand = planner("rehearse", "one.routine", "--by-hand", typed="").out
    assert "First.Raise, for 0.00 s" in by_hand
    planner("draw", "one.routine", "-o", "one.dot")
    dot = (here / "one.dot").read_text(encoding="utf-8")
    assert "does place 1200 ticks, from posts.tasks" in dot
    planner("export", "one.routine", "--into", "java", "--package", "club.auto")
    java = (here / "java/club/auto/plans/OnePlan.java").read_text(encoding="utf-8")
    assert "// --- group First: place 1200 ticks, from posts.tasks ---" in java


@pytest.mark.parametrize("command", [("draw",), ("rehearse", "--by-hand"), ("rehearse",)])
@pytest.mark.usefixtures("here")
def test_not_a_routine(command: tuple[str, ...]) -> None:
    """A command that takes a routine says that a file of tasks is none."""
    ran = planner(command[0], "posts.tasks", *command[1:])
    assert (2, True) == (ran.status, "posts.tasks is a file of tasks" in ran.err)
