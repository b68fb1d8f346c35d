"""`planner check`: reads plans and says what is wrong with them."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

import click

from planner.pipeline import all_findings, check_robot, failures, plan_errors
from planner.report import Outcome, as_json, as_short, as_text, joined, left_out, summary
from planner.report.prose import sentence
from planner.shell.faults import effects
from planner.shell.reading import ReadPlans, ReadRoutine, read_plans
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
@click.option(
    "--faults",
    "with_faults",
    is_flag=True,
    help="Also break each sensor and mechanism, one at a time; a finish must still come in time. "
    "Where that is proven without, it hardly ever fails: what is broken says one thing of many. "
    "Which finish, when, what is skipped and what keeps running, `planner faults` tells.",
)
@click.option(
    "--save-scenario",
    "saving",
    is_flag=True,
    help="Keep each run that is shown as a scenario beside its routine; it fails until the plan is "
    "mended.",
)
@click.pass_context
def check(
    ctx: click.Context, paths: tuple[Path, ...], layout: str, with_faults: bool, saving: bool
) -> None:
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
      planner check lantern.routine --faults

    Exit status: 0 no errors (there may be warnings and notes), 1 errors found, 2 something could
    not be read, 3 no errors, but it could not be settled what all runs do, or Ctrl-C ended it; what
    was found before is shown then.
    """
    plans = plans_in(paths)
    read = read_plans(plans, stoppable=True)
    outcome = _outcome(plans, read)
    _show(outcome, layout)
    tell = say if layout == "text" else remark
    broken = _Broken(stopped=read.is_stopped)
    if with_faults and not read.is_stopped:
        broken = _break_all(read.routines, tell)
    if saving:
        from planner.shell.run_saving import save_runs

        for told in save_runs(read.routines):
            tell(sentence(told, screen().encoding) + "\n")
    ctx.exit(_status(outcome, broken))


@dataclass(slots=True)
class _Broken:
    """What came of single failures."""

    missed: bool = False
    """Whether with one of them a finish is."""
    unsettled: bool = False
    stopped: bool = False
    """Whether Ctrl-C came before all was checked and broken."""


def _status(outcome: Outcome, broken: _Broken) -> int:
    if outcome.unread:
        return 2
    if not broken.stopped and (outcome.has_errors or broken.missed):
        return 1
    return 3 if outcome.is_undecided or broken.unsettled or broken.stopped else 0


def _break_all(routines: Iterable[ReadRoutine], tell: Callable[[str], None]) -> _Broken:
    """Tells what single failures do to each routine. Plans with errors are left out, as their
    errors are told."""
    from planner.report.faults import Analysis, fault_summary

    broken = _Broken()
    sound = [routine for routine in routines if not plan_errors(routine.checked)]
    for number, routine in enumerate(sound, 1):
        found, whole = effects(failures(routine.checked))
        analysis = Analysis(str(routine.path), found)
        more = (
            f" See `planner faults {routine.path}`." if analysis.unsure + analysis.stopped else ""
        )
        tell(f"{analysis.name}: {fault_summary(analysis)}{more}\n")
        broken.missed |= analysis.unsure > 0
        broken.unsettled |= analysis.stopped > 0
        if not whole:
            broken.stopped = True
            if left := [str(one.path) for one in sound[number:]]:
                warn(f"nothing was broken in {joined(left)}")
            break
    return broken


def _outcome(plans: Plans, read: ReadPlans) -> Outcome:
    """Checks all that was found. Never raises on wrong text or files that cannot be read."""
    tasks = read.shelf.all_tasks()
    findings = all_findings((routine.checked for routine in read.routines), tasks)
    files = [routine.scenarios for routine in read.routines if routine.scenarios]
    findings += [finding for scenarios in files for finding in scenarios.findings]
    robots = read.shelf.all_read()
    for robot in robots:
        named = any(robot is one for one in read.robots)
        users = [r.checked.plan.routine for r in read.routines if r.checked.robot is robot]
        # What no routine uses is not known before all were read.
        findings += check_robot(robot, users if named and not read.is_stopped else ())
    return Outcome(
        tuple(sorted(findings, key=lambda finding: finding.order)),
        tuple(str(r.path) for r in read.routines if not r.checked.variants_left),
        tuple(sorted(robot.source.name for robot in robots)),
        tuple(str(folder) for folder in plans.left_out),
        tuple(read.unread),
        tuple(str(r.scenarios_path) for r in read.routines if r.scenarios_path),
        tuple(sorted(one.source.name for one in tasks)),
        tuple(read.not_checked),
    )


def _show(outcome: Outcome, layout: str) -> None:
    for unread in outcome.unread:
        warn(f"could not read {unread.name}: {unread.reason}")
    if outcome.not_checked:
        left = joined([one.words for one in outcome.not_checked])
        warn(f"stopped, so not checked to the end: {left}")
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
