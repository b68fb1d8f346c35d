"""`planner export`: the Java of routines, without touching what a person wrote."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path

import click

from planner import pipeline
from planner.findings import Finding, Severity
from planner.java import (
    CannotExport,
    Manifest,
    is_for_one_combination,
    lacking_in,
    made_from,
    manifest_of,
    old_names_in,
    unwritten_in,
)
from planner.model.choices import Variant
from planner.pipeline import Checked, check_robot
from planner.report import as_text, counted
from planner.shell.combinations import combinations
from planner.shell.export_tests import scenario_errors, tests_project
from planner.shell.exported import News, Outcome, agreed, differences, told
from planner.shell.project import Fate, Project, write_together
from planner.shell.robots import Robots, one_routine
from planner.shell.terminal import say, screen
from planner.shell.trouble import Trouble
from planner.shell.twins import stop_at_twins
from planner.shell.walk import ROUTINE, plans_in


@click.command()
@click.argument("paths", nargs=-1, required=True, metavar="ROUTINE...", type=Path)
@click.option(
    "--into",
    required=True,
    type=Path,
    help="The folder of the Java sources; the package's folders are made in it.",
)
@click.option("--package", required=True, help="The Java package, such as club.lantern.auto.")
@click.option(
    "--tests",
    type=Path,
    metavar="FOLDER",
    help="The folder of the project's tests: every scenario becomes a JUnit 4 test there.",
)
@click.option(
    "--op-mode-for",
    "combinations_asked",
    multiple=True,
    metavar="CHOICES",
    help="One more op mode, for this combination of choices; `all` for every one.",
)
@click.option(
    "--check",
    is_flag=True,
    help="Write nothing; list where the project differs from its plans, status 1.",
)
@click.option("--dry-run", is_flag=True, help="Write nothing; tell what an export would do.")
@click.option(
    "--renamed",
    nargs=2,
    multiple=True,
    metavar="OLD NEW",
    help="The file of a routine or robot was called OLD when it was last exported here.",
)
@click.pass_context
def export(
    ctx: click.Context,
    paths: tuple[Path, ...],
    into: Path,
    package: str,
    tests: Path | None,
    combinations_asked: tuple[str, ...],
    check: bool,
    dry_run: bool,
    renamed: tuple[tuple[str, str], ...],
) -> None:
    """Write each ROUTINE as Java 8 sources; a folder stands for all routines in it.

    A file that somebody has changed since it was exported is left alone, and no file is deleted;
    the rest is written all together or not at all. A plan with errors is not exported. What was
    exported last stands in planner.json, in the package's folder: keep it under version control
    with the Java.

    The op mode of a routine with choices asks for them on gamepad 1. --op-mode-for makes one more
    that asks nothing, named for what it does. It takes choices as a scenario does, with a comma
    between them, or `all`; what is left out is as normal. Of several routines it means each that
    has these choices, or the one whose name and a colon stand in front. Ask for the same each time:
    one that is not asked for any more is told, and left where it is.

    \b
    Examples:
      planner export lantern.routine --into robot/src/main/java --package club.lantern.auto
      planner export plans --into robot/src/main/java --package club.lantern.auto --check
      planner export plans --into src/main/java --tests src/test/java --package club.auto
      planner export lantern.routine --into src --package club --op-mode-for "alliance blue"

    First run: wheels off the ground, eye protection, hands clear, one person on the stop button.

    Exit status: 0 done, or nothing to do; 1 a plan has errors, or with --check the project differs
    from its plans; 2 something could not be read or written.
    """
    if check and dry_run:
        raise click.UsageError("--check and --dry-run are two questions: ask one at a time.")
    routines = _routines(paths)
    shelf = Robots()
    checked = {path: one_routine(path, shelf) for path in routines}
    _stop_at_errors(ctx, checked, bool(tests))
    stop_at_twins({path: plan.plan.routine for path, plan in checked.items()})
    fixed = combinations(checked, combinations_asked)
    sources, manifest = _exported(checked, fixed, package)
    projects = [Project(into, package, sources, manifest, renamed)]
    if tests:
        projects.append(tests_project(checked, tests, into, package, renamed))
    _stop_at_orphans(projects[0], checked)
    outcomes = _outcomes(projects)
    news = _news(projects, routines)
    if check:
        differing = differences(outcomes, news.behind)
        say(differing or agreed(outcomes))
        ctx.exit(1 if differing else 0)
    if not dry_run:
        write_together(*projects)
    say(told(outcomes, news))
    if dry_run:
        say("\nThis was a dry run: nothing was written.\n")


def _routines(paths: Sequence[Path]) -> list[Path]:
    """The routines that are named and those of named folders, each once. Raises `Trouble`."""
    found: dict[str, Path] = {}
    for path in paths:
        # A folder with the name of a routine is told as what it is.
        is_folder = os.path.isdir(path) and path.suffix.lower() != ROUTINE
        for routine in _of_folder(path) if is_folder else [path]:
            found.setdefault(os.path.realpath(routine), routine)
    return list(found.values())


def _of_folder(folder: Path) -> list[Path]:
    plans = plans_in([folder])
    for unread in plans.unread:
        raise Trouble(f"could not read {unread.name}: {unread.reason}. Nothing was written.")
    if not plans.routines:
        raise Trouble(f"{folder} holds no routine, so nothing was written")
    return plans.routines


def _stop_at_errors(ctx: click.Context, plans: Mapping[Path, Checked], tests: bool) -> None:
    """Shows the errors of plans and their robot files; there is no way past them."""
    errors: dict[Path, list[Finding]] = {}
    for path, checked in plans.items():
        of_robot = check_robot(checked.robot) if checked.robot else ()
        found = [f for f in (*of_robot, *checked.findings) if f.severity is Severity.ERROR]
        errors |= {path: found} if found else {}
    errors |= scenario_errors(plans) if tests and not errors else {}
    if errors:
        say(as_text(dict.fromkeys(f for found in errors.values() for f in found), screen()))
        numbers = [f"{path} has {counted(len(found), 'error')}" for path, found in errors.items()]
        say(f"\nNothing was exported: {', '.join(numbers)}.\n")
        ctx.exit(1)


def _exported(
    plans: Mapping[Path, Checked], fixed: Mapping[Path, Sequence[Variant]], package: str
) -> tuple[dict[str, str], Manifest]:
    """The Java of all plans, and their manifest. Raises `Trouble`."""
    sources: dict[str, str] = {}
    manifest = Manifest({}, {})
    for path, checked in plans.items():
        try:
            files = pipeline.export(checked, package, fixed[path])
        except CannotExport as error:
            raise Trouble(f"{error}. Nothing was written.") from None
        for name in files.keys() & sources.keys():
            _stop_at_two(name, sources[name], files[name])
        sources |= files
        manifest = manifest.joined(manifest_of(checked.plan, files, package))
    return dict(sorted(sources.items())), manifest


def _stop_at_two(path: str, one: str, other: str) -> None:
    """Raises `Trouble` where two plans become one file and do not agree on it."""
    if one != other:
        first, second = made_from(one), made_from(other)
        both = f"{first} and {second}" if first != second else f"two files named {first}"
        raise Trouble(
            f"{both} both become {path}, so nothing was written. Export them into a --package "
            "each, or rename one."
        )


def _stop_at_orphans(project: Project, plans: Mapping[Path, Checked]) -> None:
    """Raises `Trouble` where an op mode for a combination is left of a plan that lets nothing be
    chosen any more: what it stands on has gone, so the project would not compile."""
    for path, checked in plans.items():
        if not checked.plan.routine.choices:
            for left in project.made_of(path.name):
                if is_for_one_combination(f"opmodes/{left.name}"):
                    raise Trouble(
                        f"{path} has nothing to choose any more, and {left} is for a choice: "
                        "delete that file first. Nothing was written."
                    )


def _outcomes(projects: Sequence[Project]) -> dict[Path, Outcome]:
    """What becomes of each file, by its path."""
    outcomes: dict[Path, Outcome] = {}
    for project in projects:
        outcomes |= {project.paths[name]: _outcome(project, name) for name in project.sources}
        outcomes[project.manifest] = Outcome(project.manifest_fate)
    return outcomes


def _outcome(project: Project, name: str) -> Outcome:
    """What is left to do in a file, whoever wrote it."""
    fate, text = project.fates[name], project.sources[name]
    there = project.found[name].text or ""
    op_modes = "\n".join(t for n, t in project.sources.items() if n.endswith("Auto.java"))
    if fate is not Fate.LEFT:
        return Outcome(fate, unwritten_in(text, text, op_modes))
    return Outcome(
        fate,
        unwritten_in(text, there, op_modes),
        lacking_in(name, project.sources, there) if project.found[name].text is not None else (),
        old_names_in(there, project.renamed(), project.names()),
    )


def _news(projects: Sequence[Project], routines: Sequence[Path]) -> News:
    project, *tests = projects
    others = project.others()
    return News(
        len(routines),
        project.renamed(),
        {name: project.made_of(name) for name in others if not _is_around(name, routines)},
        [name for name in others if _is_around(name, routines) and project.is_behind(name)],
        [*project.left_over(), *(path for one in tests for path in one.left_over())],
    )


def _is_around(name: str, routines: Sequence[Path]) -> bool:
    """Whether a file of that name lies where a team would keep its plans: beside a routine of this
    export, one folder up or one down."""
    return any((folder / name).is_file() for folder in set(_folders_around(routines)))


def _folders_around(routines: Sequence[Path]) -> Iterator[Path]:
    for here in {Path(os.path.realpath(routine)).parent for routine in routines}:
        yield from (here, here.parent)
        try:
            yield from (Path(entry.path) for entry in os.scandir(here) if entry.is_dir())
        except OSError:
            continue
