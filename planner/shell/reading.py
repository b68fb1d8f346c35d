"""Reads and checks all the plans that a command is about."""

from __future__ import annotations

import os
from collections.abc import Iterable
from dataclasses import dataclass, field
from pathlib import Path

from planner.model.choices import variants
from planner.pipeline import Checked, CheckedScenarios, ReadRobot, check_scenarios
from planner.report import NotChecked, Unread
from planner.shell.files import UnreadError, read_source
from planner.shell.progress import Progress
from planner.shell.robots import Robots
from planner.shell.walk import ROUTINE, SCENARIOS, TASKS, Plans
from planner.shell.watch import Watch


@dataclass(slots=True)
class ReadRoutine:
    """A routine as read, and the file of scenarios that belongs to it where that was read too."""

    path: Path
    checked: Checked
    scenarios_path: Path | None = None
    scenarios: CheckedScenarios | None = None


@dataclass(slots=True)
class ReadPlans:
    """What could be read, and what could not."""

    shelf: Robots = field(default_factory=Robots)
    routines: list[ReadRoutine] = field(default_factory=list)
    robots: list[ReadRobot] = field(default_factory=list)
    """The robot files that were named themselves; the shelf has the others as well."""
    unread: list[Unread] = field(default_factory=list)
    not_checked: list[NotChecked] = field(default_factory=list)
    """The routines that were not checked to the end, because Ctrl-C came before."""

    @property
    def is_stopped(self) -> bool:
        """Whether Ctrl-C came before all was checked."""
        return bool(self.not_checked)


def read_plans(plans: Plans, beside: bool = False, stoppable: bool = False) -> ReadPlans:
    """Reads all that was found, and with a file of scenarios its routine.

    With `beside` the scenarios that lie beside a routine are read with it. With `stoppable` Ctrl-C
    ends the checks, and what was checked before is there. Never raises on wrong text or files that
    cannot be read.
    """
    read = ReadPlans(unread=list(plans.unread))
    for path in plans.robots:
        try:
            read.robots.append(read.shelf.read(path))
        except UnreadError as error:
            read.unread.append(error.unread)
    for path in plans.tasks:
        try:
            read.shelf.read_tasks(path)
        except UnreadError as error:
            read.unread.append(_without(error.unread, path))
    scenarios = {_whole(routine_of(path)): path for path in plans.scenarios}
    paths = list(_routines(plans, read.unread))
    with Progress("Checking", len(paths)) as progress:
        watch = Watch(progress, stoppable)
        for path in paths:
            if read.is_stopped:
                read.not_checked.append(NotChecked(str(path)))
                continue
            own = scenarios.get(_whole(path))
            if own is None and beside and is_there(path.with_suffix(SCENARIOS)):
                own = path.with_suffix(SCENARIOS)
            watch.begin(path.name)
            try:
                _read_routine(read, path, own, watch)
            except KeyboardInterrupt:
                if not stoppable:
                    raise
                read.routines = [one for one in read.routines if one.path != path]
                read.not_checked.append(NotChecked(str(path)))
            watch.end()
    read.unread = list(dict.fromkeys(read.unread))
    return read


def routine_of(scenarios: Path) -> Path:
    """Where the routine of a file of scenarios lies."""
    return scenarios.with_suffix(ROUTINE)


def is_there(path: Path) -> bool:
    """Whether a file of exactly that name is there, also on disks that do not tell capitals apart.

    A folder that cannot be looked into counts as holding it: reading it will say why not.
    """
    try:
        return path.name in os.listdir(path.parent)
    except OSError:
        return True


def _routines(plans: Plans, unread: list[Unread]) -> Iterable[Path]:
    """The routines that were found and those of the scenarios, each once."""
    routines = {_whole(path): path for path in plans.routines}
    for path in plans.scenarios:
        routine = routine_of(path)
        if _whole(routine) in routines:
            continue
        if is_there(routine):
            routines[_whole(routine)] = routine
        else:
            why = f"its routine should lie beside it, and there is no {routine.name}"
            unread.append(Unread(str(path), why))
    return sorted(routines.values(), key=lambda path: path.as_posix())


def _read_routine(read: ReadPlans, path: Path, scenarios: Path | None, watch: Watch) -> None:
    try:
        routine = ReadRoutine(path, read.shelf.check_routine(path, watch.find_each))
    except UnreadError as error:
        read.unread.append(_without(error.unread, path))
        if scenarios:
            read.unread.append(_without(read.unread[-1], scenarios))
        return
    read.routines.append(routine)
    if left := routine.checked.variants_left:
        of = len(list(variants(routine.checked.plan.routine.choices)))
        read.not_checked.append(NotChecked(str(path), of - left, of))
        return
    if scenarios is None:
        return
    try:
        routine.scenarios = check_scenarios(read_source(scenarios), routine.checked)
        routine.scenarios_path = scenarios
    except UnreadError as error:
        read.unread.append(error.unread)


def _without(unread: Unread, path: Path) -> Unread:
    """A file that was not read because another one could not be says so."""
    needed = _NEEDED.get(Path(unread.name).suffix.lower(), "robot file")
    if unread.name == str(path):
        return unread
    return Unread(str(path), f"its {needed} {unread.name} could not be read: {unread.reason}")


_NEEDED = {ROUTINE: "routine", TASKS: "file of tasks"}


def _whole(path: Path) -> str:
    return os.path.realpath(path)
