"""Which plans are meant by the paths on the command line."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from planner.report import Unread
from planner.shell.trouble import reason

ROUTINE = ".routine"
ROBOT = ".bot"
SCENARIOS = ".scenario"
TASKS = ".tasks"

_BROKEN = "broken"


@dataclass(slots=True)
class Plans:
    """The files to check, each once, under the first path that led to it."""

    routines: list[Path] = field(default_factory=list)
    robots: list[Path] = field(default_factory=list)
    scenarios: list[Path] = field(default_factory=list)
    """The files that hold nothing but scenarios."""
    tasks: list[Path] = field(default_factory=list)
    left_out: list[Path] = field(default_factory=list)
    """Folders of that name hold plans that are wrong on purpose."""
    unread: list[Unread] = field(default_factory=list)


def plans_in(paths: Iterable[Path]) -> Plans:
    """The plans that files and folders name; a folder stands for all in it and its sub-folders.

    Hidden folders are passed by, and so is a sub-folder `broken` that is not itself named and lies
    in no named one of that name. Never raises: what cannot be had is in `unread`.
    """
    found = Plans()
    seen: set[str] = set()
    folders = []
    for path in paths:
        if os.path.isdir(path):
            folders.append(path)
        else:
            _take(found, seen, path)
    for folder in folders:
        _walk(found, seen, folder)
    found.left_out = [path for path in found.left_out if not _inside_any(path, folders)]
    for files in (found.routines, found.robots, found.scenarios, found.tasks, found.left_out):
        files.sort(key=lambda path: path.as_posix())
    return found


def _take(found: Plans, seen: set[str], path: Path) -> None:
    try:
        whole = os.path.realpath(path)
    except ValueError as error:
        found.unread.append(Unread(str(path), reason(error)))
        return
    if whole in seen:
        return
    seen.add(whole)
    suffix = path.suffix.lower()
    if suffix == ROUTINE:
        found.routines.append(path)
    elif suffix == ROBOT:
        found.robots.append(path)
    elif suffix == SCENARIOS:
        found.scenarios.append(path)
    elif suffix == TASKS:
        found.tasks.append(path)
    elif os.path.lexists(path):
        why = (
            f"a routine's name ends in {ROUTINE}, a robot file's in {ROBOT}, "
            f"that of a file of scenarios in {SCENARIOS}, that of a file of tasks in {TASKS}"
        )
        found.unread.append(Unread(str(path), why))
    else:
        found.unread.append(Unread(str(path), "there is no such file or folder"))


def _walk(found: Plans, seen: set[str], folder: Path) -> None:
    before = len(seen) + len(found.unread)
    walk_all = _BROKEN in _folded_parts(folder)
    for root, folders, files in os.walk(folder, onerror=lambda e: _unread(found, e)):
        here = Path(root)
        if not walk_all:
            found.left_out += [here / name for name in folders if name.casefold() == _BROKEN]
        folders[:] = sorted(name for name in folders if _walked(name, walk_all))
        for name in sorted(files):
            if Path(name).suffix.lower() in (ROUTINE, ROBOT, SCENARIOS, TASKS):
                _take(found, seen, here / name)
    if len(seen) + len(found.unread) == before and not _already(seen, folder):
        why = f"it is a folder without a plan: no file in it ends in {ROUTINE} or {ROBOT}"
        found.unread.append(Unread(str(folder), why))


def _walked(name: str, walk_all: bool) -> bool:
    return not name.startswith(".") and (walk_all or name.casefold() != _BROKEN)


def _unread(found: Plans, error: OSError) -> None:
    found.unread.append(Unread(str(error.filename), reason(error)))


def _already(seen: set[str], folder: Path) -> bool:
    """Whether plans of the folder were named before."""
    whole = os.path.join(os.path.realpath(folder), "")
    return any(path.startswith(whole) for path in seen)


def _inside_any(path: Path, folders: Iterable[Path]) -> bool:
    """Whether a folder that one walk passed by was read by another."""
    whole = Path(os.path.realpath(path))
    read = [Path(os.path.realpath(f)) for f in folders if _BROKEN in _folded_parts(f)]
    return any(whole == folder or folder in whole.parents for folder in read)


def _folded_parts(path: Path) -> Iterator[str]:
    return (part.casefold() for part in Path(os.path.realpath(path)).parts)
