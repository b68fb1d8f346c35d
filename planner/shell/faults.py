"""`planner faults`: what becomes of a run when something on the robot is broken."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from planner import pipeline
from planner.report import as_text
from planner.shell.progress import Progress
from planner.shell.robots import one_routine
from planner.shell.terminal import say, screen, warn

if TYPE_CHECKING:
    from planner.reach.effects import Effect, Failure


@click.command()
@click.argument("routine", type=Path)
@click.option("--pairs", is_flag=True, help="Also break every two things at once.")
@click.option(
    "--format",
    "layout",
    type=click.Choice(["text", "json", "csv"]),
    default="text",
    show_default=True,
    help="text is for reading, csv for a spreadsheet, json for other programs.",
)
@click.pass_context
def faults(ctx: click.Context, routine: Path, pairs: bool, layout: str) -> None:
    """Break everything that ROUTINE asks, one thing after the other.

    Each sensor is stuck at each of its answers or unplugged, each reading stands still, each
    mechanism is never done or done at once. The table says where every run ends then, when at the
    latest, which exits and side rules never come true or always, what goes on turning, which steps
    are out of reach, and which time limit notices. Nothing broken comes first, to compare with;
    then the worst. Answers hold for every run: whatever the other sensors say, and however the
    passes fall.

    \b
    Examples:
      planner faults lantern.routine
      planner faults lantern.routine --pairs --format csv

    Exit status: 0 a finish is sure with every failure, 1 with some it is not, or the plan has
    errors, 2 something could not be read, 3 not all was settled.
    """
    from planner.reach.effects import worst_unbroken
    from planner.report.fault_record import as_fault_csv, as_fault_json
    from planner.report.faults import Analysis, as_fault_text

    checked = one_routine(routine)
    if errors := pipeline.plan_errors(checked):
        say(as_text(errors, screen()))
        say(f"Nothing was broken: {routine} has errors.\n")
        ctx.exit(1)
    failures = pipeline.failures(checked, pairs)
    found, whole = effects(failures)
    analysis = Analysis(str(routine), found, worst_unbroken(failures))
    if layout == "json":
        say(as_fault_json([analysis]))
    elif layout == "csv":
        say(as_fault_csv([analysis]))
    else:
        say(as_fault_text(analysis, screen()))
    ctx.exit(3 if analysis.stopped or not whole else 1 if analysis.unsure else 0)


def effects(failures: Sequence[Failure]) -> tuple[tuple[Effect, ...], bool]:
    """The effects, the worst first; and whether all are there: Ctrl-C ends with those so far."""
    from planner.reach.effects import worst_first

    found: list[Effect] = []
    try:
        with Progress("Breaking", len(failures)) as progress:
            for failure in failures:
                found.append(failure.effect())
                progress.done = len(found)
    except KeyboardInterrupt:
        warn(f"stopped after {len(found)} of {len(failures)} failures")
    return worst_first(found), len(found) == len(failures)
