"""`planner times`: when each step can be entered and each finish reached."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from planner import pipeline
from planner.model.choices import variants
from planner.report import as_text
from planner.shell.progress import Progress
from planner.shell.robots import one_routine
from planner.shell.terminal import remark, say, screen, warn

if TYPE_CHECKING:
    from planner.checks.timetable import Timetable
    from planner.pipeline import Checked


@click.command()
@click.argument("routines", metavar="ROUTINE...", nargs=-1, required=True, type=Path)
@click.option(
    "--format",
    "layout",
    type=click.Choice(["text", "json", "csv"]),
    default="text",
    show_default=True,
    help="text is for reading, csv (of the times) for a spreadsheet, json for other programs.",
)
@click.pass_context
def times(ctx: click.Context, routines: tuple[Path, ...], layout: str) -> None:
    """When each step of each ROUTINE can be entered, on the match clock.

    No run enters a step before its earliest or after its latest time, whatever the sensors say and
    however the passes fall; earliest times are rounded down and latest ones up. A step that no run
    enters is marked `never`. Combinations of choices that come to the same share a table.

    Below each table stands where the order of two exits decides: both wait for something, both can
    be true in one pass, and they lead to different places. The one that is asked first is taken;
    the readings below them make both true. In the pass in which a limit runs out, the exits of the
    step that wait for something come first, but the limits of a group and of the match clock come
    before them.

    \b
    Examples:
      planner times lantern.routine
      planner times plans/lantern.routine plans/quay.routine --format csv

    Exit status: 0 every run finishes in time, 1 some run does not, or a plan has errors, 2
    something could not be read, 3 the times or the finish could not be settled.
    """
    from planner.report.times import Times, as_times_csv, as_times_json, as_times_text

    found: list[Times] = []
    errors, whole = False, True
    tell = say if layout == "text" else remark
    for path, checked in [(path, one_routine(path)) for path in routines]:
        if told := pipeline.plan_errors(checked):
            tell(as_text(told, screen()))
            tell(f"No times of {path}: it has errors.\n\n")
            errors = True
        elif whole:
            tables, whole = _tables(path, checked)
            found.append(Times(str(path), tables))
    if layout == "json":
        say(as_times_json(found))
    elif layout == "csv":
        say(as_times_csv(found))
    else:
        say("\n".join(as_times_text(one, screen()) for one in found if one.tables))
    stopped = not whole or any(one.stopped for one in found)
    late = errors or any(one.late for one in found)
    ctx.exit(3 if stopped else 1 if late else 0)


def _tables(path: Path, checked: Checked) -> tuple[tuple[Timetable, ...], bool]:
    """The table of each combination; and whether all are there: Ctrl-C ends with those so far."""
    found: list[Timetable] = []
    number = sum(1 for _ in variants(checked.plan.routine.choices))
    try:
        with Progress("Timing", number) as progress:
            progress.about = str(path)
            for table in pipeline.times(checked):
                found.append(table)
                progress.done = len(found)
    except KeyboardInterrupt:
        warn(f"stopped after {len(found)} of {number} combinations of {path}")
    return tuple(found), len(found) == number
