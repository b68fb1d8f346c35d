"""The whole flow on one page: text in; verdicts, a picture and Java out. This is the Python API.

Nothing here reads or writes a file: sources come in as text, and what comes out is values.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from planner.checks import (
    Case,
    FindEach,
    VariantCase,
    findings_of,
    findings_together,
    in_own_words,
    in_turn,
    merged,
    of_all,
    told_once,
)
from planner.checks.scenario_words import scenario_line
from planner.findings import Finding, Severity, Slip
from planner.graph import Plan, unfold
from planner.model import (
    Robot,
    Routine,
    SharedFiles,
    missing_robot,
    resolve_robot,
    resolve_routine,
    resolve_scenarios,
    resolve_tasks,
    robot_named,
    task_uses,
)
from planner.model.choices import Variant, as_words, normal_variant, variants
from planner.model.scenario import Scenario
from planner.text import Place, Source
from planner.tree import Parsed, comments_of, format_file, parse_robot, parse_routine

if TYPE_CHECKING:
    from planner.checks.timetable import Timetable
    from planner.reach.effects import Failure
    from planner.rehearsal import Played


@dataclass(frozen=True, slots=True)
class ReadRobot:
    """A robot file as read: what it says, and the slips met on the way."""

    source: Source
    robot: Robot
    slips: tuple[Slip, ...]


@dataclass(frozen=True, slots=True)
class ReadTasks:
    """A file of tasks as read, and what was found in it by itself."""

    parsed: Parsed
    robot: str
    """The name of the robot that it is for; empty where no line says."""
    findings: tuple[Finding, ...]

    @property
    def source(self) -> Source:
        """The file's text."""
        return self.parsed.file.source


@dataclass(frozen=True, slots=True)
class Checked:
    """A routine with its graph and all that was found in it, robot file included."""

    plan: Plan
    """For every choice at once: exits that some choice rules out are there."""
    findings: tuple[Finding, ...]
    """Of the routine itself and its files of tasks, in the order of the text."""
    robot: ReadRobot | None
    """None where the routine's robot file was not found."""
    parsed: Parsed
    """The routine as read, from which `plan_for` makes the plan of each variant."""
    tasks: tuple[ReadTasks, ...] = ()
    """The files of tasks that it shares."""
    files: SharedFiles = field(default_factory=dict)
    """The same by the names it knows them by; None for what is not there."""
    variants_left: int = 0
    """How many of its variants were not checked, because that was stopped."""

    @property
    def has_errors(self) -> bool:
        """Whether the routine itself can lose a match."""
        return any(finding.severity is Severity.ERROR for finding in self.findings)


@dataclass(frozen=True, slots=True)
class CheckedScenarios:
    """The scenarios of a file of their own, and what was found in it."""

    scenarios: tuple[Scenario, ...]
    findings: tuple[Finding, ...]


@dataclass(frozen=True, slots=True)
class Formatted:
    """A text in the canonical layout."""

    text: str
    unchanged: bool
    """Whether it still says what it said, comments included; where not, that is our own fault."""


FindRobot = Callable[[str], ReadRobot | None]
"""Gives the robot file of a name; None where there is none."""
FindTasks = Callable[[str], ReadTasks | None]
"""The same for a file of tasks."""


def read_robot(source: Source) -> ReadRobot:
    """Reads a robot file. Never raises on wrong text."""
    parsed = parse_robot(source)
    robot, slips = resolve_robot(parsed)
    stem, ending = source.file
    if ending == "bot" and robot.name not in ("", stem):
        slips += (Slip("robot-of-another-file", robot.place, robot.name, (), {"file": stem}),)
    return ReadRobot(source, robot, parsed.slips + slips)


def check_robot(read: ReadRobot, routines: Iterable[Routine] = ()) -> tuple[Finding, ...]:
    """What is found in a robot file; `routines` are all that were checked along with it."""
    return findings_of(Case(read.robot, read.slips, routines=tuple(routines)))


def read_tasks(source: Source, find_robot: FindRobot, robots: Iterable[str] = ()) -> ReadTasks:
    """Reads a file of tasks and checks it by itself. Never raises on wrong text."""
    parsed = parse_routine(source)
    robot, _, slips = _robot_of(parsed, find_robot, robots)
    routine, resolver_slips = resolve_tasks(parsed, robot)
    stem, ending = source.file
    if ending == "tasks" and routine.name not in ("", stem):
        slips += (Slip("tasks-of-another-file", routine.place, routine.name, (), {"file": stem}),)
    plan = unfold(routine)
    case = Case(robot, parsed.slips + slips + resolver_slips, plan, tasks_alone=True)
    found = tuple(in_own_words(finding, plan, everywhere=True) for finding in findings_of(case))
    name = robot_named(parsed)
    return ReadTasks(parsed, name.text if name else "", found)


def check_routine(
    source: Source,
    find_robot: FindRobot,
    robots: Iterable[str] = (),
    find_tasks: FindTasks = lambda _: None,
    task_files: Iterable[str] = (),
    find_each: FindEach = in_turn,
) -> Checked:
    """Reads a routine, unfolds it and checks it. Never raises on wrong text.

    `robots` are the names that `find_robot` knows, for telling which one was perhaps meant, and
    `task_files` those that `find_tasks` knows. `find_each` may check variants side by side.
    """
    parsed = parse_routine(source)
    robot, read, slips = _robot_of(parsed, find_robot, robots)
    shared, files, more = _tasks_of(parsed, find_tasks, task_files)
    slips = parsed.slips + slips + more
    routine, resolver_slips = resolve_routine(parsed, robot, None, files)
    plan = unfold(routine)
    left = 0
    if not routine.choices:
        findings = findings_of(Case(robot, slips + resolver_slips, plan))
    else:
        every = list(variants(routine.choices))
        cases = [VariantCase(parsed, robot, files, slips, chosen) for chosen in every]
        found = list(zip(every, find_each(cases), strict=False))
        left = len(every) - len(found)
        findings = merged(routine.choices, found, of_all(), whole=not left)
    told = [in_own_words(finding, plan) for finding in findings]
    whole = told_once([told, *(tasks.findings for tasks in shared)])
    return Checked(plan, whole, read, parsed, shared, files, left)


def _robot_of(
    parsed: Parsed, find_robot: FindRobot, robots: Iterable[str]
) -> tuple[Robot, ReadRobot | None, tuple[Slip, ...]]:
    """The robot that a file is for, or one that has nothing and a slip."""
    name = robot_named(parsed)
    read = find_robot(name.text) if name else None
    if read:
        return read.robot, read, ()
    top = Place(parsed.file.source, 1, 1, 2)
    lost = (Slip("missing-robot", name.place, name.text, tuple(sorted(robots))),) if name else ()
    return missing_robot(name.text if name else "", top), None, lost


def _tasks_of(
    parsed: Parsed, find_tasks: FindTasks, known: Iterable[str]
) -> tuple[tuple[ReadTasks, ...], dict[str, Parsed | None], tuple[Slip, ...]]:
    """The files of tasks that a routine shares: those found, each by its name, and slips."""
    named = robot_named(parsed)
    robot = named.text if named else ""
    found: list[ReadTasks] = []
    files: dict[str, Parsed | None] = {}
    slips: list[Slip] = []
    for name in task_uses(parsed.file.lines):
        read = find_tasks(name.text)
        files[name.text] = None
        if read is None:
            slips.append(Slip("missing-tasks", name.place, name.text, tuple(sorted(known))))
        elif read.robot and robot and read.robot != robot:
            facts = {"robot": robot, "other": read.robot}
            where = robot_named(read.parsed)
            other = where.place if where else None
            slips.append(
                Slip("tasks-for-another-robot", name.place, name.text, (), facts, "", other)
            )
        else:
            files[name.text] = read.parsed
            found.append(read)
    return tuple(found), files, tuple(slips)


def all_findings(routines: Iterable[Checked], tasks: Iterable[ReadTasks] = ()) -> list[Finding]:
    """What is found in several routines and files of tasks; what they share is told once."""
    checked = tuple(routines)
    beside = findings_together(tuple(one.plan.routine for one in checked))
    of_routines = (one.findings for one in checked)
    return list(told_once([*of_routines, *(one.findings for one in tasks), beside]))


def plan_for(checked: Checked, choices: Variant) -> Plan:
    """The plan for what was chosen; what is left out is as normal."""
    routine = checked.plan.routine
    if not routine.choices:
        return checked.plan
    variant = {**normal_variant(routine.choices), **choices}
    return unfold(resolve_routine(checked.parsed, routine.robot, variant, checked.files)[0])


def failures(checked: Checked, pairs: bool = False) -> tuple[Failure, ...]:
    """Whatever can break, in every variant; with `pairs` also every two things at once.

    The effect of each is `Failure.effect()`. Raises `ValueError` for a plan with errors.
    """
    from planner.reach.effects import failures as failures_of

    if plan_errors(checked):
        raise ValueError("a plan with errors has no runs")
    choices = checked.plan.routine.choices
    return tuple(
        failure
        for variant in variants(choices)
        for failure in failures_of(plan_for(checked, variant), variant, pairs)
    )


def times(checked: Checked) -> Iterator[Timetable]:
    """When each step can be entered and each finish reached, in one variant after the other.

    Raises `ValueError` for a plan with errors.
    """
    from planner.checks.timetable import timetable

    if plan_errors(checked):
        raise ValueError("a plan with errors has no runs")
    choices = checked.plan.routine.choices
    return (timetable(plan_for(checked, variant), variant) for variant in variants(choices))


def check_scenarios(source: Source, checked: Checked) -> CheckedScenarios:
    """Reads a file of scenarios for a routine already checked. Never raises on wrong text."""
    parsed = parse_routine(source)
    scenarios, slips = resolve_scenarios(parsed, checked.plan.routine)
    case = Case(checked.plan.routine.robot, parsed.slips + slips, checked.plan, (), scenarios)
    # The routine's own findings were told when it was checked.
    own = tuple(finding for finding in findings_of(case) if finding.place.source is source)
    return CheckedScenarios(scenarios, own)


def rehearse(checked: Checked, scenario: Scenario) -> Played:
    """Plays a scenario, of the routine or of a file of its own, on the reference machine.

    Raises `ValueError` for a plan with errors outside of its scenarios, and for a scenario that
    makes no sense: neither says what would happen.
    """
    from planner.rehearsal import play

    if plan_errors(checked) or scenario.incomplete:
        raise ValueError("what makes no sense is not rehearsed")
    return play(plan_for(checked, scenario.choices), scenario)


def run_as_scenario(checked: Checked, finding: Finding) -> Scenario | None:
    """The run that a finding shows, or one like it, as a scenario that fails as long as the plan
    has it; without a name. None where no such run has passes that are all of one length.

    Raises `ValueError` for a finding that shows no run.
    """
    from planner.checks.saved_run import saved_run

    if finding.run is None:
        raise ValueError("the finding shows no run")
    routine = checked.plan.routine
    chosen = next(
        (one for one in variants(routine.choices) if as_words(one) == finding.run.chosen), {}
    )
    plan = plan_for(checked, chosen)
    required = (one for one in plan.routine.requirements if one.place == finding.place)
    return saved_run(plan, next(required, None), chosen)


def lines_of(checked: Checked, scenario: Scenario) -> tuple[str, ...]:
    """The lines of a scenario that was made of a run."""
    from planner.rehearsal.scenario_lines import scenario_lines

    return tuple(scenario_lines(checked.plan, scenario))


def plan_errors(checked: Checked) -> tuple[Finding, ...]:
    """The errors that leave a plan without a meaning, its robot file's too.

    Those inside of scenarios are not among them, nor those that a run shows: it was played.
    """
    of_robot = check_robot(checked.robot) if checked.robot else ()
    inside = [finding for finding in checked.findings if not in_scenario(finding)]
    return tuple(finding for finding in (*of_robot, *inside) if finding.forbids_playing)


def in_scenario(finding: Finding) -> int:
    """The line of the scenario that a finding stands in; 0 where it stands in none."""
    return scenario_line(finding.place)


def format_robot(source: Source) -> Formatted:
    """A robot file in the canonical layout; lines that cannot be read stay word for word."""
    return _formatted(source, parse_robot, lambda parsed: resolve_robot(parsed)[0])


def format_routine(source: Source, find_robot: FindRobot) -> Formatted:
    """The same for a routine or a file of scenarios."""
    robot = _robot_of(parse_routine(source), find_robot, ())[0]
    return _formatted(source, parse_routine, lambda parsed: resolve_routine(parsed, robot)[0])


def format_tasks(source: Source, find_robot: FindRobot) -> Formatted:
    """The same for a file of tasks."""
    robot = _robot_of(parse_routine(source), find_robot, ())[0]
    return _formatted(source, parse_routine, lambda parsed: resolve_tasks(parsed, robot)[0])


def _formatted(
    source: Source, parse: Callable[[Source], Parsed], meaning: Callable[[Parsed], object]
) -> Formatted:
    """The layout, and whether statements, comments in their order and meaning are the same."""
    before = parse(source)
    text = format_file(before.file)
    after = parse(Source(source.name, text))
    comments = [list(comments_of(parsed.file)) for parsed in (before, after)]
    same = before.file == after.file and comments[0] == comments[1]
    return Formatted(text, same and meaning(before) == meaning(after))


def draw(checked: Checked) -> str:
    """The plan's picture as DOT text, with its findings marked on the steps they belong to."""
    # Imported here, as in `export`, because most runs only check.
    from planner.pictures import picture

    return picture(checked.plan, checked.findings)


def export(checked: Checked, package: str, combinations: Iterable[Variant] = ()) -> dict[str, str]:
    """The plan's Java sources by path, which begins with the package's folders.

    Each of the `combinations` of what it lets choose gets an op mode of its own; what one leaves
    out is as normal.

    Raises `ValueError` for a plan with errors: such a plan is never exported.
    """
    from planner.java import export as to_java

    _stop_at_errors(checked)
    return dict(to_java(checked.plan, package, combinations))


def export_tests(checked: Checked, scenarios: Iterable[Scenario], package: str) -> dict[str, str]:
    """Scenarios as unit tests of the plan's Java, by path as for `export`; raises as it does."""
    from planner.java import export_tests as to_tests

    _stop_at_errors(checked)
    return dict(to_tests(checked.plan, tuple(scenarios), package))


def _stop_at_errors(checked: Checked) -> None:
    wired = check_robot(checked.robot) if checked.robot else ()
    if checked.has_errors or any(finding.severity is Severity.ERROR for finding in wired):
        raise ValueError("a plan with errors, or for a robot file with errors, is not exported")
