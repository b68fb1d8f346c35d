"""`planner export`: a routine's Java, without touching what a person wrote."""

from __future__ import annotations

import os
from collections.abc import Mapping
from enum import Enum
from pathlib import Path, PurePosixPath

import click

from planner import pipeline
from planner.findings import Severity
from planner.java import CannotExport, is_sealed
from planner.pipeline import Checked, check_robot
from planner.report import as_text, counted
from planner.shell.files import write_all
from planner.shell.robots import one_routine
from planner.shell.terminal import say, screen
from planner.shell.trouble import Trouble, reason
from planner.text import NotTextError, decode


class _Fate(Enum):
    """What becomes of a file."""

    NEW = "new"
    UPDATED = "updated"
    UNCHANGED = "unchanged"
    LEFT = "left"


@click.command()
@click.argument("routine", type=Path)
@click.option(
    "--into",
    required=True,
    type=Path,
    help="The folder of the Java sources; the package's folders are made in it.",
)
@click.option("--package", required=True, help="The Java package, such as club.lantern.auto.")
@click.pass_context
def export(ctx: click.Context, routine: Path, into: Path, package: str) -> None:
    """Write ROUTINE as Java 8 sources.

    A file that somebody has changed since it was exported is left alone; the others are written
    all together or not at all. A plan with errors is not exported.

    \b
    Example:
      planner export lantern.routine --into robot/src/main/java --package club.lantern.auto

    First run: wheels off the ground, eye protection, hands clear, one person on the stop button.
    """
    checked = one_routine(routine)
    _stop_at_errors(ctx, checked, routine)
    try:
        sources = pipeline.export(checked, package)
    except CannotExport as error:
        raise Trouble(f"{error}. Nothing was written.") from None
    texts = {_inside(into, path): text for path, text in sources.items()}
    fates = {path: _fate(path, text) for path, text in texts.items()}
    write_all(
        {
            path: texts[path].encode()
            for path, fate in fates.items()
            if fate in (_Fate.NEW, _Fate.UPDATED)
        }
    )
    say(_told(fates))


def _stop_at_errors(ctx: click.Context, checked: Checked, routine: Path) -> None:
    """Shows the errors of a plan or its robot file; there is no way past them."""
    of_robot = check_robot(checked.robot) if checked.robot else ()
    errors = [f for f in (*of_robot, *checked.findings) if f.severity is Severity.ERROR]
    if errors:
        say(as_text(errors, screen()))
        say(f"\nNothing was exported: {routine} has {counted(len(errors), 'error')}.\n")
        ctx.exit(1)


def _inside(into: Path, path: str) -> Path:
    """The file's place under `into`. Raises `Trouble` where a link or a name leads out of it."""
    target = into.joinpath(*PurePosixPath(path).parts)
    root, whole = Path(os.path.realpath(into)), Path(os.path.realpath(target))
    if root not in whole.parents:
        raise Trouble(f"{target} leads out of {into}, so nothing was written")
    return target


def _fate(path: Path, text: str) -> _Fate:
    try:
        there = decode(path.read_bytes())
    except FileNotFoundError:
        return _Fate.NEW
    except NotTextError:
        return _Fate.LEFT
    except (OSError, ValueError) as error:
        raise Trouble(f"could not read {path}: {reason(error)}. Nothing was written.") from None
    if there == text:
        return _Fate.UNCHANGED
    return _Fate.UPDATED if is_sealed(there) else _Fate.LEFT


def _told(fates: Mapping[Path, _Fate]) -> str:
    rows = [f"{fate.value:<9}  {path}\n" for path, fate in sorted(fates.items())]
    if _Fate.LEFT in fates.values():
        rows.append(
            "\nWhat was left holds changes that a person made. To get it written anew, rename or "
            "delete\nthe file, export again, and copy over the changes you still want.\n"
        )
    return "".join(rows)
