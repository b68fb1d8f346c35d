"""The demo routines and the gallery, read once, and their scenarios played."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from demo import ROUTINES

from planner.model.scenario import Scenario
from planner.pipeline import (
    Checked,
    ReadRobot,
    ReadTasks,
    check_routine,
    read_robot,
    read_tasks,
    rehearse,
)
from planner.rehearsal import Played
from planner.text import Source

GALLERY = ROUTINES / "gallery"
PATHS = (*sorted(GALLERY.glob("*.routine")), *sorted(ROUTINES.glob("*.routine")))
NAMES = tuple(path.stem for path in PATHS)
TASK_PATHS = tuple(sorted(GALLERY.glob("*.tasks")))
ROBOT_PATHS = (*GALLERY.glob("*.bot"), *ROUTINES.glob("*.bot"))


def source(path: Path) -> Source:
    """A file's text."""
    return Source(path.name, path.read_text(encoding="utf-8"))


@lru_cache
def robots() -> dict[str, ReadRobot]:
    """The robot files by the names of their robots."""
    return {path.stem: read_robot(source(path)) for path in ROBOT_PATHS}


def find_robot(name: str) -> ReadRobot | None:
    """The robot file of a robot."""
    return robots().get(name)


@lru_cache
def find_tasks(name: str) -> ReadTasks | None:
    """The file of tasks of that name."""
    paths = [path for path in TASK_PATHS if path.stem == name]
    return read_tasks(source(paths[0]), find_robot) if paths else None


@lru_cache
def checked(name: str) -> Checked:
    """The routine of that name, checked."""
    return check_routine(source(_path(name)), find_robot, (), find_tasks)


def text(name: str) -> str:
    """The text of the routine of that name."""
    return source(_path(name)).text


def scenarios() -> list[tuple[str, Scenario]]:
    """Every scenario, with the name of its routine."""
    return [(name, one) for name in NAMES for one in checked(name).plan.routine.scenarios]


def played(name: str, scenario: Scenario) -> Played:
    """The run of a scenario of the routine of that name."""
    return rehearse(checked(name), scenario)


def _path(name: str) -> Path:
    return next(path for path in PATHS if path.stem == name)
