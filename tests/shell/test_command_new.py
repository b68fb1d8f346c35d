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


def test_a_second_routine_for_a_robot(here: Path) -> None:
    """With the name of a robot file that is there, only a routine for that robot is written."""
    assert 0 == planner("new", "first", "--robot", "heron").status
    before = (here / "heron.bot").read_bytes()
    assert 0 == planner("new", "second", "--robot", "heron").status
    assert ["first.routine", "heron.bot", "second.routine"] == _names(here)
    assert before == (here / "heron.bot").read_bytes()
    assert "clean" in planner("check", ".").out


@pytest.mark.parametrize(
    "robot",
    [
        "robot heron\n",
        "robot heron\nhub main\n  servo 0 claw_servo\nmechanism claw\n  uses claw_servo\n"
        "  command open holds\n    claw_servo at 80 %\n",
        "robot heron\nhub main\n  motor 0 belt\n  digital 1 eye beam\nmechanism belt_drive\n"
        "  uses belt\n  command run runs\n    belt at 30 %\n",
    ],
)
def test_a_routine_for_any_robot_checks_clean(here: Path, robot: str) -> None:
    """What a robot has not got is left out of its first routine."""
    (here / "heron.bot").write_text(robot, encoding="utf-8")
    assert 0 == planner("new", "second", "--robot", "heron").status
    assert 0 == planner("check", "second.routine").status


def test_a_robot_file_with_errors(here: Path) -> None:
    """A routine for a robot file that is not in order is not written."""
    (here / "heron.bot").write_text("robot heron\nhub main\n  motor 9 belt\n", encoding="utf-8")
    ran = planner("new", "second", "--robot", "heron")
    assert 2 == ran.status
    assert ran.err.startswith("planner: heron.bot has errors, so nothing was written: ")
    assert ["heron.bot"] == _names(here)


@pytest.fixture
def heron(here: Path) -> Path:
    """A folder with a robot and a routine of its own."""
    assert 0 == planner("new", "lantern", "--robot", "heron").status
    return here


def test_a_file_of_tasks(heron: Path) -> None:
    """With `--tasks` a file of tasks is written for a robot that is there, and checks clean."""
    ran = planner("new", "posts", "--tasks", "--robot", "heron")
    assert (0, "") == (ran.status, ran.err)
    assert ["heron.bot", "lantern.routine", "posts.tasks"] == _names(heron)
    assert "clean" in planner("check", ".").out


def test_the_lines_that_use_its_task(heron: Path) -> None:
    """The lines that it tells to write into a routine do the task there, and check clean."""
    out = planner("new", "posts", "--tasks", "--robot", "heron").out
    told = [line.partition("   ")[0].strip() for line in out.splitlines() if line[:2] == "  "]
    _, tasks, do, way = (line.partition("  ")[0] for line in told)
    lost = way.replace("there", "lost")
    text = f"routine second\nrobot heron\nlimit 30 s\n{tasks}\nstart Go\nstep Go\n  {do}\n"
    text += f"  {way.replace('STEP', 'Lit')}\n  {lost.replace('STEP', 'Still')}\n"
    (heron / "second.routine").write_text(f"{text}finish Lit\nfinish Still\n", encoding="utf-8")
    ran = planner("check", ".")
    assert (0, True) == (ran.status, "clean" in ran.out), ran.out


@pytest.mark.parametrize(
    ("options", "told"),
    [
        ((), "say which robot the tasks are for: planner new posts --tasks --robot NAME"),
        (("--robot", "hern"), "could not read hern.bot: there is no such file"),
    ],
)
def test_tasks_for_no_robot(heron: Path, options: tuple[str, ...], told: str) -> None:
    """Tasks are for a robot whose file is there; otherwise one line says so."""
    ran = planner("new", "posts", "--tasks", *options)
    assert (2, f"planner: {told}\n", 2) == (ran.status, ran.err, len(_names(heron)))


def test_no_file_of_tasks_is_overwritten(heron: Path) -> None:
    """A file of tasks that is there stays as it is."""
    (heron / "posts.tasks").write_text("mine", encoding="utf-8")
    ran = planner("new", "posts", "--tasks", "--robot", "heron")
    told = "planner: posts.tasks is there already, so nothing was written; choose another name\n"
    assert (2, told) == (ran.status, ran.err)
    assert "mine" == (heron / "posts.tasks").read_text(encoding="utf-8")


@pytest.mark.parametrize("robot", ["robot owl\n", "robot owl\nhub main\n  motor 9 belt\n"])
def test_tasks_for_any_robot(heron: Path, robot: str) -> None:
    """What a robot has not got is left out; for a robot file with errors nothing is written."""
    (heron / "owl.bot").write_text(robot, encoding="utf-8")
    ran = planner("new", "posts", "--tasks", "--robot", "owl")
    wrong = "motor 9" in robot
    assert (2 if wrong else 0, not wrong) == (ran.status, (heron / "posts.tasks").is_file())
    assert wrong or 0 == planner("check", "posts.tasks").status
