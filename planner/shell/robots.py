"""The robot files that routines stand on, each read once."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

from planner.pipeline import Checked, FindRobot, ReadRobot, check_routine, read_robot
from planner.shell.files import UnreadError, read_source
from planner.shell.tables import keep_tables
from planner.shell.trouble import Trouble
from planner.shell.walk import ROBOT, ROUTINE


class Robots:
    """Finds and reads robot files: beside the routine, then one folder up."""

    def __init__(self) -> None:
        keep_tables()
        self._read: dict[str, ReadRobot | UnreadError] = {}

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

    def all_read(self) -> list[ReadRobot]:
        """Every robot file that was read."""
        return [found for found in self._read.values() if isinstance(found, ReadRobot)]

    def check_routine(self, path: Path) -> Checked:
        """Reads and checks a routine. Raises `UnreadError` for it or its robot file."""
        source = read_source(path)
        known = {name for folder in _folders(path) for name in _names_in(folder)}
        return check_routine(source, self.finder(path), known)

    def finder(self, routine: Path) -> FindRobot:
        """What gives a routine its robot file; it raises `UnreadError`."""

        def find(name: str) -> ReadRobot | None:
            beside = (folder / f"{name}{ROBOT}" for folder in _folders(routine))
            there = next((path for path in beside if _is_there(path)), None)
            return self.read(there) if there else None

        return find


def one_routine(path: Path) -> Checked:
    """Reads and checks the routine that a command is about. Raises `Trouble`."""
    if path.suffix.lower() == ROBOT:
        raise Trouble(f"{path} is a robot file; this command takes a routine (*{ROUTINE})")
    try:
        return Robots().check_routine(path)
    except UnreadError as error:
        raise Trouble(str(error)) from None


def _folders(routine: Path) -> Iterator[Path]:
    yield routine.parent
    # `..` is the way up from a folder that the user did not name.
    named = routine.parent.name not in ("", "..")
    yield routine.parent.parent if named else routine.parent / ".."


def _names_in(folder: Path) -> list[str]:
    """The robots that have a file in a folder."""
    try:
        names = sorted(os.listdir(folder))
    except OSError:
        return []
    return [name.removesuffix(ROBOT) for name in names if name.endswith(ROBOT)]


def _is_there(path: Path) -> bool:
    """Whether the file is there under exactly that name.

    Some disks do not tell capitals apart; a plan must not pass on one laptop and fail on another.
    """
    return path.name.removesuffix(ROBOT) in _names_in(path.parent)
