"""`planner format`: plans in the canonical layout, with their meaning unchanged."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import click

from planner.pipeline import (
    FindRobot,
    Formatted,
    ReadRobot,
    format_robot,
    format_routine,
    format_tasks,
)
from planner.report import Unread, counted
from planner.report.glyphs import harmless
from planner.shell.files import UnreadError, read_data, source_of, write_all
from planner.shell.robots import Robots
from planner.shell.terminal import say, screen, warn
from planner.shell.walk import Plans, plans_in
from planner.text import encode


@dataclass(frozen=True, slots=True)
class _File:
    """A plan before and after."""

    path: Path
    data: bytes
    before: str
    after: Formatted

    @property
    def changes(self) -> bool:
        """Whether the layout was another; line ends alone are no change."""
        return self.before != self.after.text


@click.command()
@click.argument("paths", nargs=-1, required=True, metavar="PATH...", type=Path)
@click.option(
    "--check", is_flag=True, help="Write nothing; name the files that would change, status 1."
)
@click.option("--diff", is_flag=True, help="Write nothing; show what would change, line by line.")
@click.pass_context
def format(ctx: click.Context, paths: tuple[Path, ...], check: bool, diff: bool) -> None:
    """Lay plans out in the one way that all plans share.

    PATH is a routine (*.routine), a robot file (*.bot), a file of scenarios (*.scenario) or of
    tasks (*.tasks), or a folder of them, read as by `planner check`. Two spaces a level, one
    between words, at most one blank line in a row; comments stay, and a line that cannot be read
    stays word for word. A file keeps its encoding and its line ends, and one that is laid out
    already is not touched.

    \b
    Examples:
      planner format lantern.routine
      planner format routines --check

    Exit status: 0 done, or nothing to do; 1 with --check where a file would change; 2 something
    could not be read or written.
    """
    plans = plans_in(paths)
    unread = list(plans.unread)
    files = list(_formatted(plans, unread))
    for one in unread:
        warn(f"could not read {one.name}: {one.reason}")
    faulty = [file for file in files if not file.after.unchanged]
    for file in faulty:
        warn(
            f"{file.path} was left alone: laid out anew it would not say the same. "
            "This is a fault of the tool itself; please report it with the file."
        )
    changed = [file for file in files if file.changes and file.after.unchanged]
    if diff:
        say("".join(_difference(file) for file in changed))
    elif not check:
        write_all({file.path: encode(file.after.text, file.data) for file in changed})
    if not diff:
        say(_told(changed, len(files) - len(faulty), "would change" if check else "formatted"))
    ctx.exit(2 if unread or faulty else 1 if check and changed else 0)


def _formatted(plans: Plans, unread: list[Unread]) -> Iterator[_File]:
    """Every file that can be read, the others into `unread`."""
    shelf = Robots()
    for path in (*plans.robots, *plans.tasks, *plans.routines, *plans.scenarios):
        try:
            data = read_data(path)
            source = source_of(path, data)
        except UnreadError as error:
            unread.append(error.unread)
            continue
        if path in plans.robots:
            after = format_robot(source)
        elif path in plans.tasks:
            after = format_tasks(source, _robot_of(shelf, path))
        else:
            after = format_routine(source, _robot_of(shelf, path))
        yield _File(path, data, source.text, after)


def _robot_of(shelf: Robots, routine: Path) -> FindRobot:
    """Finds a routine's robot file; one that cannot be read is as good as none for a layout."""
    find = shelf.finder(routine)

    def found(name: str) -> ReadRobot | None:
        try:
            return find(name)
        except UnreadError:
            return None

    return found


def _difference(file: _File) -> str:
    """What would change as a unified diff."""
    name, encoding = str(file.path), screen().encoding
    # Not by splitlines, which parts lines where no editor does.
    before, after = (text.split("\n") for text in (file.before, file.after.text))
    rows = difflib.unified_diff(before, after, name, f"{name} (formatted)", lineterm="")
    return "".join(f"{_harmless(row, encoding)}\n" for row in rows)


def _harmless(row: str, encoding: str) -> str:
    """A line of a plan as it can be printed; a tab stays, since it may be what changes."""
    return "\t".join(harmless(part, encoding) for part in row.split("\t"))


def _told(changed: Iterable[_File], files: int, what: str) -> str:
    names = [harmless(str(file.path), screen().encoding) for file in changed]
    rows = [f"{what}  {name}\n" for name in names]
    left = files - len(names)
    if not names:
        return f"{counted(left, 'file')} laid out already.\n" if left else ""
    rest = f", {left} laid out already" if left else ""
    return "".join(rows) + f"{counted(len(names), 'file')} {what}{rest}.\n"
