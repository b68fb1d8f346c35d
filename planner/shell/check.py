"""`planner check`: reads plans and says what is wrong with them."""

from __future__ import annotations

from pathlib import Path

import click

from planner.pipeline import all_findings, check_robot
from planner.report import Outcome, as_json, as_short, as_text, left_out, summary
from planner.shell.reading import read_plans
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
    """Check routines, robot files, scenarios and files of tasks.

    PATH is a routine (*.routine), a robot file (*.bot), a file of scenarios (*.scenario) or of
    tasks (*.tasks), or a folder of them. A folder is read with its sub-folders, but for hidden
    ones and for one named broken: plans kept there show faults on purpose. A routine's robot file
    and its files of tasks are looked for beside the routine, then one folder up; a file of
    scenarios is checked with the routine beside it.

    \b
    Examples:
      planner check lantern.routine
      planner check routines --format short

    Exit status: 0 no errors (there may be warnings and notes), 1 errors found, 2 something could
    not be read, 3 no errors, but it could not be settled what all runs do.
    """
    outcome = run(plans_in(paths))
    _show(outcome, layout)
    worst = 2 if outcome.unread else 1 if outcome.has_errors else 0
    ctx.exit(worst or (3 if outcome.is_undecided else 0))


def run(plans: Plans) -> Outcome:
    """Checks all that was found. Never raises on wrong text or files that cannot be read."""
    read = read_plans(plans)
    tasks = read.shelf.all_tasks()
    findings = all_findings((routine.checked for routine in read.routines), tasks)
    files = [routine.scenarios for routine in read.routines if routine.scenarios]
    findings += [finding for scenarios in files for finding in scenarios.findings]
    robots = read.shelf.all_read()
    for robot in robots:
        named = any(robot is one for one in read.robots)
        users = [r.checked.plan.routine for r in read.routines if r.checked.robot is robot]
        findings += check_robot(robot, users if named else ())
    return Outcome(
        tuple(sorted(findings, key=lambda finding: finding.order)),
        tuple(str(routine.path) for routine in read.routines),
        tuple(sorted(robot.source.name for robot in robots)),
        tuple(str(folder) for folder in plans.left_out),
        tuple(read.unread),
        tuple(str(r.scenarios_path) for r in read.routines if r.scenarios_path),
        tuple(sorted(one.source.name for one in tasks)),
    )


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
