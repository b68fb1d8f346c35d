"""`planner export`: a routine's Java, without touching what a person wrote."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

import click

from planner import pipeline
from planner.findings import Severity
from planner.java import CannotExport, is_sealed, lacking_in, made_from, unwritten_in
from planner.pipeline import Checked, check_robot
from planner.report import as_text, counted
from planner.shell.exported import Fate, Outcome, told
from planner.shell.files import write_all
from planner.shell.robots import one_routine
from planner.shell.terminal import say, screen
from planner.shell.trouble import Trouble, reason
from planner.text import NotTextError, decode


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
    paths = {name: _inside(into, name) for name in sources}
    found = {name: _found(path) for name, path in paths.items()}
    for name, path in paths.items():
        _stop_at_others(path, sources[name], found[name])
    fates = {name: _fate(text, found[name]) for name, text in sources.items()}
    changed = [name for name, fate in fates.items() if fate in (Fate.NEW, Fate.UPDATED)]
    write_all({paths[name]: sources[name].encode() for name in changed})
    say(told({paths[name]: _outcome(name, sources, fates[name], found[name]) for name in sources}))


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


@dataclass(frozen=True, slots=True)
class _Found:
    """What is in a file's place before the export."""

    there: bool
    text: str | None
    """None where nothing is, or no text."""


def _found(path: Path) -> _Found:
    try:
        return _Found(True, decode(path.read_bytes()))
    except FileNotFoundError:
        return _Found(False, None)
    except NotTextError:
        return _Found(True, None)
    except (OSError, ValueError) as error:
        raise Trouble(f"could not read {path}: {reason(error)}. Nothing was written.") from None


def _stop_at_others(path: Path, text: str, found: _Found) -> None:
    """Raises `Trouble` where a file was made from another plan, which it would be lost to."""
    before, now = made_from(found.text or ""), made_from(text)
    if before and now and before != now:
        raise Trouble(
            f"{path} was made from {before}, and what {now} becomes has the same name in Java, so "
            f"nothing was written. Rename one of them, or export {now} into another --package; if "
            f"{before} is gone for good, delete what was made from it."
        )


def _fate(text: str, found: _Found) -> Fate:
    if not found.there:
        return Fate.NEW
    if found.text is None:
        return Fate.LEFT
    if found.text == text:
        return Fate.UNCHANGED
    return Fate.UPDATED if is_sealed(found.text) else Fate.LEFT


def _outcome(name: str, sources: Mapping[str, str], fate: Fate, found: _Found) -> Outcome:
    """What is left to do in a file, whoever wrote it."""
    left = fate is Fate.LEFT
    text = (found.text or "") if left else sources[name]
    op_mode = next(t for n, t in sources.items() if n.endswith("Auto.java"))
    unwritten = unwritten_in(sources[name], text, op_mode)
    lacking = lacking_in(name, sources, text) if left and found.text is not None else ()
    return Outcome(fate, unwritten, lacking)
