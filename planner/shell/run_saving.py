"""Keeps the runs that show what is wrong with a plan as scenarios in the file beside it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import count

from planner.findings import Finding
from planner.model.scenario import Scenario
from planner.pipeline import lines_of, run_as_scenario
from planner.shell.reading import ReadRoutine
from planner.shell.scenario_file import ScenarioFile


def save_runs(routines: Iterable[ReadRoutine]) -> Iterator[str]:
    """Adds a scenario for each run that a finding shows; what was done, a sentence each.

    A run that a scenario shows already is not added again. Raises `Trouble` where a file cannot
    be read or written, and then that file is as it was.
    """
    some = False
    for routine in routines:
        findings = [one for one in routine.checked.findings if one.run]
        if findings:
            some = True
            yield from _saved(routine, findings)
    if not some:
        yield "No run is shown, so there is none to save."


def _saved(routine: ReadRoutine, findings: Iterable[Finding]) -> Iterator[str]:
    file = ScenarioFile.beside(routine.path, routine.checked)
    told = [_added(file, finding) for finding in findings]
    if file.text != file.before:
        file.write()
    yield from told


def _added(file: ScenarioFile, finding: Finding) -> str:
    whose = f"The run of {finding.check} in line {finding.place.line}"
    scenario = run_as_scenario(file.checked, finding)
    if scenario is None:
        return (
            f"{whose} was not saved: the passes of a scenario are all of one length, and in such "
            "passes no run like it was found."
        )
    there = next((one for one in file.scenarios() if _is_same(one, scenario)), None)
    if there:
        return f"{whose} is kept already: scenario `{there.name}` in {there.place.source.name}."
    name = _free_name(file, finding)
    file.add(name, lines_of(file.checked, replace(scenario, name=name)))
    return (
        f"{whose} is saved: scenario `{name}` in {file.path} fails in `planner rehearse` until the "
        "plan is mended."
    )


def _is_same(one: Scenario, other: Scenario) -> bool:
    return replace(one, name="", title="") == replace(other, name="", title="")


def _free_name(file: ScenarioFile, finding: Finding) -> str:
    """The name of the check, with a number where that is taken."""
    taken, front = file.names(), finding.check.replace("-", "_")
    names = (front if number == 1 else f"{front}_{number}" for number in count(1))
    return next(name for name in names if name not in taken)
