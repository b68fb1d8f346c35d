"""The whole flow on one page: text in; verdicts, a picture and Java out. This is the Python API.

Nothing here reads or writes a file: sources come in as text, and what comes out is values.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.checks import Case, findings_of, merged, of_all
from planner.findings import Finding, Severity, Slip
from planner.graph import Plan, unfold
from planner.model import (
    Robot,
    Routine,
    missing_robot,
    resolve_robot,
    resolve_routine,
    resolve_scenarios,
    robot_named,
)
from planner.model.choices import Variant, normal_variant, variants
from planner.model.scenario import Scenario
from planner.text import Place, Source
from planner.tree import Parsed, comments_of, format_file, parse_robot, parse_routine

if TYPE_CHECKING:
    from planner.rehearsal import Played


@dataclass(frozen=True, slots=True)
class ReadRobot:
    """A robot file as read: what it says, and the slips met on the way."""

    source: Source
    robot: Robot
    slips: tuple[Slip, ...]


@dataclass(frozen=True, slots=True)
class Checked:
    """A routine with its graph and all that was found in it, robot file included."""

    plan: Plan
    """For every choice at once: exits that some choice rules out are there."""
    findings: tuple[Finding, ...]
    """Of the routine itself, in the order of the text."""
    robot: ReadRobot | None
    """None where the routine's robot file was not found."""
    parsed: Parsed
    """The routine as read, from which `plan_for` makes the plan of each variant."""

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


def check_routine(source: Source, find_robot: FindRobot, robots: Iterable[str] = ()) -> Checked:
    """Reads a routine, unfolds it and checks it. Never raises on wrong text.

    `robots` are the names that `find_robot` knows, for telling which one was perhaps meant.
    """
    parsed = parse_routine(source)
    name = robot_named(parsed)
    read = find_robot(name.text) if name else None
    slips = parsed.slips
    if name and read is None:
        slips += (Slip("missing-robot", name.place, name.text, tuple(sorted(robots))),)
    top = Place(source, 1, 1, 2)
    robot = read.robot if read else missing_robot(name.text if name else "", top)
    routine, resolver_slips = resolve_routine(parsed, robot)
    plan = unfold(routine)
    if not routine.choices:
        findings = findings_of(Case(robot, slips + resolver_slips, plan))
        return Checked(plan, findings, read, parsed)
    found = []
    for variant in variants(routine.choices):
        chosen, chosen_slips = resolve_routine(parsed, robot, variant)
        case = Case(robot, slips + chosen_slips, unfold(chosen))
        found.append((variant, findings_of(case)))
    return Checked(plan, merged(routine.choices, found, of_all()), read, parsed)


def plan_for(checked: Checked, choices: Variant) -> Plan:
    """The plan for what was chosen; what is left out is as normal."""
    routine = checked.plan.routine
    if not routine.choices:
        return checked.plan
    variant = {**normal_variant(routine.choices), **choices}
    return unfold(resolve_routine(checked.parsed, routine.robot, variant)[0])


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


def plan_errors(checked: Checked) -> tuple[Finding, ...]:
    """The errors of a routine and its robot file, but for those inside of scenarios."""
    of_robot = check_robot(checked.robot) if checked.robot else ()
    inside = [finding for finding in checked.findings if not in_scenario(finding)]
    return tuple(f for f in (*of_robot, *inside) if f.severity is Severity.ERROR)


def in_scenario(finding: Finding) -> int:
    """The line of the scenario that a finding stands in; 0 where it stands in none."""
    source = finding.place.source
    for line in range(finding.place.line, 0, -1):
        words = source.line(line).partition("#")[0].split()
        if words and not source.line(line)[0].isspace():
            return line if words[0] == "scenario" else 0
    return 0


def format_robot(source: Source) -> Formatted:
    """A robot file in the canonical layout; lines that cannot be read stay word for word."""
    before = parse_robot(source)
    text = format_file(before.file)
    after = parse_robot(Source(source.name, text))
    models = [resolve_robot(parsed)[0] for parsed in (before, after)]
    return Formatted(text, _says_the_same(before, after) and models[0] == models[1])


def format_routine(source: Source, find_robot: FindRobot) -> Formatted:
    """The same for a routine or a file of scenarios."""
    before = parse_routine(source)
    text = format_file(before.file)
    after = parse_routine(Source(source.name, text))
    name = robot_named(before)
    read = find_robot(name.text) if name else None
    robot = read.robot if read else missing_robot("", Place(source, 1, 1, 2))
    models = [resolve_routine(parsed, robot)[0] for parsed in (before, after)]
    return Formatted(text, _says_the_same(before, after) and models[0] == models[1])


def _says_the_same(before: Parsed, after: Parsed) -> bool:
    """Whether two files have the same statements, and the same comments in the same order."""
    comments = [list(comments_of(parsed.file)) for parsed in (before, after)]
    return before.file == after.file and comments[0] == comments[1]


def draw(checked: Checked) -> str:
    """The plan's picture as DOT text, with its findings marked on the steps they belong to."""
    # Imported here, as in `export`, because most runs only check.
    from planner.pictures import picture

    return picture(checked.plan, checked.findings)


def export(checked: Checked, package: str) -> dict[str, str]:
    """The plan's Java sources by path, which begins with the package's folders.

    Raises `ValueError` for a plan with errors: such a plan is never exported.
    """
    from planner.java import export as to_java

    wired = check_robot(checked.robot) if checked.robot else ()
    if checked.has_errors or any(finding.severity is Severity.ERROR for finding in wired):
        raise ValueError("a plan with errors, or for a robot file with errors, is not exported")
    return dict(to_java(checked.plan, package))
