"""The robot files and the files of tasks that routines stand on, each read once."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from planner.checks import FindEach
from planner.pipeline import (
    Checked,
    FindRobot,
    FindTasks,
    ReadRobot,
    ReadTasks,
    check_routine,
    read_robot,
    read_tasks,
)
from planner.shell.cores import spread
from planner.shell.files import UnreadError, read_source
from planner.shell.progress import Progress
from planner.shell.tables import keep_tables
from planner.shell.trouble import Trouble
from planner.shell.walk import ROBOT, ROUTINE, TASKS
from planner.shell.watch import Watch


class Robots:
    """Finds and reads robot files and files of tasks: beside the routine, then one folder up."""

    def __init__(self) -> None:
        keep_tables()
        self._read: dict[str, ReadRobot | UnreadError] = {}
        self._tasks: dict[str, ReadTasks | UnreadError] = {}

    def read(self, path: Path) -> ReadRobot:
        """The robot file at `path`. Raises `UnreadError`, for the same file always the same."""
        whole = os.path.realpath(path)
        if whole not in self._read:
            try:
                self._read[whole] = read_robot(read_source(path))
            except UnreadError as error:
                self._read[whole] = error
        found = self._read[whole]
        if isinstance(found, UnreadError):
            raise found
        return found

    def read_tasks(self, path: Path) -> ReadTasks:
        """The file of tasks at `path`. Raises `UnreadError` for it or its robot file."""
        whole = os.path.realpath(path)
        if whole not in self._tasks:
            try:
                known = _known(path, ROBOT)
                self._tasks[whole] = read_tasks(read_source(path), self.finder(path), known)
            except UnreadError as error:
                self._tasks[whole] = error
        found = self._tasks[whole]
        if isinstance(found, UnreadError):
            raise found
        return found

    def all_tasks(self) -> list[ReadTasks]:
        """Every file of tasks that was read."""
        return [found for found in self._tasks.values() if isinstance(found, ReadTasks)]

    def all_read(self) -> list[ReadRobot]:
        """Every robot file that was read."""
        return [found for found in self._read.values() if isinstance(found, ReadRobot)]

    def check_routine(self, path: Path, find_each: FindEach = spread) -> Checked:
        """Reads and checks a routine, its variants on several cores where that pays.

        Raises `UnreadError` for it or its robot file.
        """
        source = read_source(path)
        return check_routine(
            source,
            self.finder(path),
            _known(path, ROBOT),
            self.tasks_finder(path),
            _known(path, TASKS),
            find_each,
        )

    def finder(self, plan: Path) -> FindRobot:
        """What gives a plan its robot file; it raises `UnreadError`."""

        def find(name: str) -> ReadRobot | None:
            there = _beside(plan, name, ROBOT)
            return self.read(there) if there else None

        return find

    def tasks_finder(self, routine: Path) -> FindTasks:
        """What gives a routine its files of tasks; it raises `UnreadError`."""

        def find(name: str) -> ReadTasks | None:
            there = _beside(routine, name, TASKS)
            return self.read_tasks(there) if there else None

        return find


def one_routine(path: Path, shelf: Robots | None = None) -> Checked:
    """Reads and checks the routine that a command is about. Raises `Trouble`."""
    if path.suffix.lower() == ROBOT:
        raise Trouble(f"{path} is a robot file; this command takes a routine (*{ROUTINE})")
    if path.suffix.lower() == TASKS:
        raise Trouble(f"{path} is a file of tasks; this command takes a routine (*{ROUTINE})")
    try:
        with Progress("Checking", 1) as progress:
            progress.about = path.name
            return (shelf or Robots()).check_routine(path, Watch(progress).find_each)
    except UnreadError as error:
        raise Trouble(str(error)) from None


def _folders(routine: Path) -> Iterator[Path]:
    yield routine.parent
    # `..` is the way up from a folder that the user did not name.
    named = routine.parent.name not in ("", "..")
    yield routine.parent.parent if named else routine.parent / ".."


def _beside(plan: Path, name: str, ending: str) -> Path | None:
    """The file of that name beside a plan or one folder up."""
    paths = (folder / f"{name}{ending}" for folder in _folders(plan))
    return next((path for path in paths if _is_there(path, ending)), None)


def _known(plan: Path, ending: str) -> set[str]:
    """The names that would be found there."""
    return {name for folder in _folders(plan) for name in _names_in(folder, ending)}


def _names_in(folder: Path, ending: str) -> list[str]:
    """What has a file with that ending in a folder."""
    try:
        names = sorted(os.listdir(folder))
    except OSError:
        return []
    return [name.removesuffix(ending) for name in names if name.endswith(ending)]


def _is_there(path: Path, ending: str) -> bool:
    """Whether the file is there under exactly that name.

    Some disks do not tell capitals apart; a plan must not pass on one laptop and fail on another.
    """
    return path.name.removesuffix(ending) in _names_in(path.parent, ending)
