"""`planner rehearse`: plays scenarios without a robot, or a run by hand."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import click

from planner.findings import Finding, nearest
from planner.model.scenario import Scenario
from planner.pipeline import in_scenario, plan_errors
from planner.pipeline import rehearse as played
from planner.report import left_out_lines
from planner.report.rehearsed import (
    Rehearsal,
    Rehearsed,
    RehearsedRoutine,
    as_rehearsal_text,
    rehearsal_summary,
)
from planner.report.rehearsed_record import as_junit, as_rehearsal_json
from planner.shell.reading import ReadRoutine, read_plans, routine_of
from planner.shell.robots import one_routine
from planner.shell.terminal import say, screen, warn
from planner.shell.trouble import Trouble
from planner.shell.walk import SCENARIOS, Plans, plans_in


@click.command()
@click.argument("paths", nargs=-1, required=True, metavar="PATH...", type=Path)
@click.option("--only", metavar="NAME", help="Play the scenarios of that name alone.")
@click.option("--trace", is_flag=True, help="Show every run as a storyboard.")
@click.option(
    "--format",
    "layout",
    type=click.Choice(["text", "json", "junit"]),
    default="text",
    show_default=True,
    help="text is for reading, json and junit (XML) are for other programs.",
)
@click.option(
    "--by-hand", is_flag=True, help="Run one routine by hand: you are the sensors and the clock."
)
@click.pass_context
def rehearse(
    ctx: click.Context,
    paths: tuple[Path, ...],
    only: str | None,
    trace: bool,
    layout: str,
    by_hand: bool,
) -> None:
    """Play the scenarios of routines, without a robot.

    PATH is a routine (*.routine), its file of scenarios (*.scenario) or a folder of them, read as
    by `planner check`. A routine's scenarios stand in it, or in the file of its name beside it.
    Each says what the sensors do and what must be seen; what differed is shown with its line.

    \b
    Examples:
      planner rehearse routines
      planner rehearse lantern.routine --only good_run --trace
      planner rehearse lantern.routine --by-hand

    Exit status: 0 all passed, 1 a scenario failed or a plan has errors, 2 something could not be
    read.
    """
    if by_hand:
        _by_hand(ctx, paths, bool(only or trace or layout != "text"))
        return
    rehearsal = run(plans_in(paths), only)
    _show(rehearsal, layout, trace)
    ctx.exit(2 if rehearsal.unread else 1 if rehearsal.failed else 0)


def run(plans: Plans, only: str | None = None) -> Rehearsal:
    """Plays all that was found. Raises `Trouble` where no scenario has the name `only`."""
    # Robot files are read with the routines that need them.
    robots, plans.robots = plans.robots, []
    tasks, plans.tasks = plans.tasks, []
    read = read_plans(plans, beside=True)
    names = [one.name for routine in read.routines for one in _scenarios(routine)]
    if only is not None and only not in names:
        raise Trouble(_no_scenario(only, names))
    if robots and not read.routines and not read.unread:
        raise Trouble(f"{robots[0]} is a robot file; what is rehearsed is a routine")
    if tasks and not read.routines and not read.unread:
        raise Trouble(f"{tasks[0]} is a file of tasks; what is rehearsed is a routine")
    routines = [_rehearsed(routine, only) for routine in read.routines]
    if only is not None:
        routines = [one for one in routines if one.scenarios or one.errors]
    left_out = tuple(str(folder) for folder in plans.left_out)
    return Rehearsal(tuple(routines), left_out, tuple(read.unread))


def _scenarios(routine: ReadRoutine) -> tuple[Scenario, ...]:
    beside = routine.scenarios.scenarios if routine.scenarios else ()
    return routine.checked.plan.routine.scenarios + beside


def _no_scenario(only: str, names: list[str]) -> str:
    near = nearest(only[:60], names, most=1)
    hint = f" Did you mean `{near[0]}`?" if near else ""
    return f"there is no scenario `{only[:60]}`.{hint}"


def _rehearsed(routine: ReadRoutine, only: str | None) -> RehearsedRoutine:
    checked, name = routine.checked, str(routine.path)
    errors = plan_errors(checked)
    if errors:
        return RehearsedRoutine(name, checked.plan, errors=errors, playable=False)
    beside = routine.scenarios.findings if routine.scenarios else ()
    found = [f for f in (*checked.findings, *beside) if f.forbids_playing]
    wanted = [one for one in _scenarios(routine) if only in (None, one.name)]
    scenarios = [_played(routine, one, found) for one in wanted]
    told = {id(finding) for one in scenarios for finding in one.findings}
    # What stands between scenarios, or in one whose name was taken, is told all the same.
    rest = tuple(f for f in found if id(f) not in told) if only is None else ()
    return RehearsedRoutine(name, checked.plan, tuple(scenarios), rest)


def _played(routine: ReadRoutine, scenario: Scenario, found: Iterable[Finding]) -> Rehearsed:
    if not scenario.incomplete:
        return Rehearsed(scenario, played(routine.checked, scenario))
    own = tuple(
        finding
        for finding in found
        if finding.place.source is scenario.place.source
        and in_scenario(finding) == scenario.place.line
    )
    return Rehearsed(scenario, None, own)


def _show(rehearsal: Rehearsal, layout: str, trace: bool) -> None:
    for unread in rehearsal.unread:
        warn(f"could not read {unread.name}: {unread.reason}")
    look = screen()
    if layout == "json":
        say(as_rehearsal_json(rehearsal, trace))
    elif layout == "junit":
        say(as_junit(rehearsal, trace))
    else:
        text = as_rehearsal_text(rehearsal, look, trace)
        say(text + ("\n" if text else "") + left_out_lines(rehearsal.left_out, look, "rehearse"))
        say(rehearsal_summary(rehearsal) + "\n")


def _by_hand(ctx: click.Context, paths: tuple[Path, ...], mixed: bool) -> None:
    # The line editor takes longer to load than most rehearsals to play.
    from planner.shell.by_hand import play_by_hand

    if len(paths) != 1:
        raise click.UsageError("--by-hand takes one routine", ctx)
    if mixed:
        raise click.UsageError("--by-hand goes with no other option", ctx)
    path = routine_of(paths[0]) if paths[0].suffix.lower() == SCENARIOS else paths[0]
    ctx.exit(play_by_hand(path, one_routine(path)))
