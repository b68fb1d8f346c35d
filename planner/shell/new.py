"""`planner new`: a small robot file and a routine to start from."""

from __future__ import annotations

import os
import re
from pathlib import Path
from string import Template

import click

from planner.pipeline import check_robot, check_routine, read_robot
from planner.shell.files import write_all
from planner.shell.terminal import say
from planner.shell.trouble import Trouble
from planner.shell.walk import ROBOT, ROUTINE
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
    "--into",
    type=Path,
    default=Path(),
    help="The folder to write to; it is made where it is missing. Left out: this folder.",
)
def new(name: str, robot: str | None, into: Path) -> None:
    """Write a robot file and a routine NAME to start from.

    Both are small and check clean; nothing that is there already is overwritten.

    \b
    Examples:
      planner new lantern
      planner new lantern --robot heron --into plans
    """
    robot = robot or name
    texts = {
        into / f"{robot}{ROBOT}": _filled("robot.txt", name, robot),
        into / f"{name}{ROUTINE}": _filled("routine.txt", name, robot),
    }
    for path in texts:
        if os.path.lexists(path):
            raise Trouble(f"{path} is there already, so nothing was written; choose another name")
    bot, routine = texts
    _must_be_clean(Source(str(bot), texts[bot]), Source(str(routine), texts[routine]))
    write_all({path: text.encode() for path, text in texts.items()})
    say(
        f"Wrote {bot}: your robot's ports, sensors and mechanisms; make them yours.\n"
        f"Wrote {routine}: a first plan.\n"
        f"\nNext:\n  planner check {_quoted(routine)}\n  planner draw {_quoted(routine)}\n"
    )


def _filled(template: str, name: str, robot: str) -> str:
    for word in (name, robot):
        if not _NAME.fullmatch(word) or _DEVICE.fullmatch(word):
            raise Trouble(
                f"`{word[:60]}` cannot be the name of a plan: use up to 60 letters of the English "
                "alphabet, digits and underscores, with a letter first"
            )
    text = (_TEMPLATES / template).read_text(encoding="utf-8")
    return Template(text).substitute(name=name, robot=robot)


def _must_be_clean(bot: Source, routine: Source) -> None:
    """A name may mean something to the language, such as `step`; then nothing is written."""
    read = read_robot(bot)
    checked = check_routine(routine, lambda _: read)
    found = (*check_robot(read, [checked.plan.routine]), *checked.findings)
    if found:
        raise Trouble(f"choose another name: {found[0].headline}")


def _quoted(path: Path) -> str:
    return f'"{path}"' if " " in str(path) else str(path)
