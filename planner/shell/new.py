"""`planner new`: a small robot file and a routine, or a file of tasks, to start from."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from pathlib import Path
from string import Template

import click

from planner.findings import Finding, Severity
from planner.pipeline import check_robot, check_routine, read_robot, read_tasks
from planner.shell.files import UnreadError, read_source, write_all
from planner.shell.starter import FIRST_END, FIRST_TASK, starter, starter_tasks
from planner.shell.terminal import say
from planner.shell.trouble import Trouble
from planner.shell.walk import ROBOT, ROUTINE, TASKS
from planner.text import Source

_TEMPLATES = Path(__file__).with_name("templates")

_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]{0,59}")

# Windows keeps these names for devices, whatever ending follows.
# Source: Microsoft, "Naming Files, Paths, and Namespaces".
_DEVICE = re.compile(r"(?i)con|prn|aux|nul|com[0-9]|lpt[0-9]")


@click.command()
@click.argument("name")
@click.option("--robot", help="The robot's name, where it is to have another than the routine.")
@click.option(
    "--tasks", is_flag=True, help="A file of tasks that several routines share, not a routine."
)
@click.option(
    "--into",
    type=Path,
    default=Path(),
    help="The folder to write to; it is made where it is missing. Left out: this folder.",
)
def new(name: str, robot: str | None, tasks: bool, into: Path) -> None:
    """Write a robot file and a routine NAME to start from.

    Both are small and check clean; nothing that is there already is overwritten. With --robot and
    the name of a robot file that is there, only a routine for that robot is written; with --tasks
    as well, a file of tasks for it.

    \b
    Examples:
      planner new lantern
      planner new lantern --robot heron --into plans
      planner new posts --tasks --robot heron --into plans
    """
    if tasks:
        _new_tasks(name, robot, into)
        return
    bot, routine = into / f"{robot or name}{ROBOT}", into / f"{name}{ROUTINE}"
    taken = [path for path in (bot, routine) if os.path.lexists(path)]
    if routine in taken or (taken and robot is None):
        path = taken[-1]
        raise Trouble(f"{path} is there already, so nothing was written; choose another name")
    _must_be_names(name, robot or name)
    text = _filled("routine.txt", name, robot or name)
    if taken:
        _write_routine(bot, routine, name)
    else:
        _write_both(bot, routine, _filled("robot.txt", name, robot or name), text)
    say(
        f"Wrote {routine}: a first plan.\n"
        f"\nNext:\n  planner check {_quoted(routine)}\n  planner draw {_quoted(routine)}\n"
        f"  planner rehearse {_quoted(routine)} --by-hand\n"
    )


def _write_both(bot: Path, routine: Path, robot_text: str, text: str) -> None:
    _must_be_clean(Source(str(bot), robot_text), Source(str(routine), text))
    write_all({bot: robot_text.encode(), routine: text.encode()})
    say(f"Wrote {bot}: your robot's ports, sensors and mechanisms; make them yours.\n")


def _write_routine(bot: Path, routine: Path, name: str) -> None:
    """A routine alone, for a robot file that is there and is in order."""
    source = _read(bot)
    text = starter(name, read_robot(source).robot)
    _must_be_clean(source, Source(str(routine), text))
    write_all({routine: text.encode()})


def _new_tasks(name: str, robot: str | None, into: Path) -> None:
    """Writes a file of tasks for a robot whose file is there."""
    _must_be_names(name, robot or name)
    if robot is None:
        raise Trouble(f"say which robot the tasks are for: planner new {name} --tasks --robot NAME")
    bot, path = into / f"{robot}{ROBOT}", into / f"{name}{TASKS}"
    if os.path.lexists(path):
        raise Trouble(f"{path} is there already, so nothing was written; choose another name")
    read = read_robot(_read(bot))
    _stop_at_errors_of(bot, check_robot(read))
    text = starter_tasks(name, read.robot)
    found = read_tasks(Source(str(path), text), lambda _: read).findings
    if found:
        raise Trouble(f"choose another name: {found[0].headline}")
    write_all({path: text.encode()})
    way = f"when task ends {FIRST_END}, go to STEP"
    say(
        f"Wrote {path}: a first task, `{FIRST_TASK}`.\n"
        f"\nNext:\n  planner check {_quoted(path)}\n"
        f"\nA routine for {robot}, in this folder or one below, does it with these lines:\n"
        f"  {f'tasks from {name}':{len(way)}}  above the steps\n"
        f"  {f'do {FIRST_TASK}':{len(way)}}  in a step\n"
        f"  {way}  below it, a line for each way that the task ends\n"
    )


def _read(path: Path) -> Source:
    try:
        return read_source(path)
    except UnreadError as error:
        raise Trouble(str(error)) from None


def _must_be_names(*words: str) -> None:
    for word in words:
        if not _NAME.fullmatch(word) or _DEVICE.fullmatch(word):
            raise Trouble(
                f"`{word[:60]}` cannot be the name of a plan: use up to 60 letters of the English "
                "alphabet, digits and underscores, with a letter first"
            )


def _filled(template: str, name: str, robot: str) -> str:
    text = (_TEMPLATES / template).read_text(encoding="utf-8")
    return Template(text).substitute(name=name, robot=robot)


def _must_be_clean(bot: Source, routine: Source) -> None:
    """A name may mean something to the language, such as `step`; then nothing is written."""
    read = read_robot(bot)
    checked = check_routine(routine, lambda _: read)
    _stop_at_errors_of(bot.name, check_robot(read))
    if checked.findings:
        raise Trouble(f"choose another name: {checked.findings[0].headline}")


def _stop_at_errors_of(bot: object, findings: Iterable[Finding]) -> None:
    errors = [finding for finding in findings if finding.severity is Severity.ERROR]
    if errors:
        raise Trouble(f"{bot} has errors, so nothing was written: {errors[0].headline}")


def _quoted(path: Path) -> str:
    return f'"{path}"' if " " in str(path) else str(path)
