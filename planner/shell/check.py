"""`planner check`: reads plans and says what is wrong with them."""

from __future__ import annotations

from pathlib import Path

import click

from planner.pipeline import Checked, ReadRobot, check_robot
from planner.report import Outcome, Unread, as_json, as_short, as_text, left_out, summary
from planner.shell.files import UnreadError
from planner.shell.robots import Robots
from planner.shell.terminal import remark, say, screen, warn
from planner.shell.walk import Plans, plans_in


@click.command()
@click.argument("paths", nargs=-1, required=True, metavar="PATH...", type=Path)
@click.option(
    "--format",
    "layout",
    type=click.Choice(["text", "short", "json"]),
    default="text",
    show_default=True,
    help="text explains, short gives one line a finding, json is for other programs.",
)
@click.pass_context
def check(ctx: click.Context, paths: tuple[Path, ...], layout: str) -> None:
    """Check routines and robot files.

    PATH is a routine (*.routine), a robot file (*.bot) or a folder of them. A folder is read with
    its sub-folders, but for hidden ones and for one named broken: plans kept there show faults
    on purpose. A routine's robot file is looked for beside the routine, then one folder up.

    \b
    Examples:
      planner check lantern.routine
      planner check routines --format short

    Exit status: 0 no errors (there may be warnings and notes), 1 errors found, 2 something could
    not be read.
    """
    outcome = run(plans_in(paths))
    _show(outcome, layout)
    ctx.exit(2 if outcome.unread else 1 if outcome.has_errors else 0)


def run(plans: Plans) -> Outcome:
    """Checks all that was found. Never raises on wrong text or files that cannot be read."""
    shelf = Robots()
    unread = list(plans.unread)
    named: list[ReadRobot] = []
    checked: list[Checked] = []
    names: list[str] = []
    for path in plans.robots:
        try:
            named.append(shelf.read(path))
        except UnreadError as error:
            unread.append(error.unread)
    for path in plans.routines:
        try:
            checked.append(shelf.check_routine(path))
            names.append(str(path))
        except UnreadError as error:
            unread.append(_without_its_robot(error.unread, path))
    findings = [finding for routine in checked for finding in routine.findings]
    for robot in shelf.all_read():
        routines = [routine.plan.routine for routine in checked if routine.robot is robot]
        findings += check_robot(robot, routines if any(robot is one for one in named) else ())
    return Outcome(
        tuple(sorted(findings, key=lambda finding: finding.order)),
        tuple(names),
        tuple(sorted(robot.source.name for robot in shelf.all_read())),
        tuple(str(folder) for folder in plans.left_out),
        tuple(dict.fromkeys(unread)),
    )


def _without_its_robot(unread: Unread, routine: Path) -> Unread:
    """A routine that was not checked because its robot file could not be read says so."""
    if unread.name == str(routine):
        return unread
    return Unread(str(routine), f"its robot file {unread.name} could not be read: {unread.reason}")


def _show(outcome: Outcome, layout: str) -> None:
    for unread in outcome.unread:
        warn(f"could not read {unread.name}: {unread.reason}")
    if layout == "json":
        say(as_json(outcome))
        return
    look = screen()
    if layout == "short":
        say(as_short(outcome.findings, look))
        # Lines for a program to read are not mixed with lines for a person.
        remark(left_out(outcome, look) + summary(outcome) + "\n")
        return
    findings = as_text(outcome.findings, look)
    say(findings + ("\n" if findings else "") + left_out(outcome, look) + summary(outcome) + "\n")
