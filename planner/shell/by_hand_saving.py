"""Keeps a run by hand as a scenario in the file beside the routine."""

from __future__ import annotations

from pathlib import Path

from planner.pipeline import Checked, rehearse
from planner.rehearsal.saved import scenario_of
from planner.rehearsal.session import Session
from planner.shell.scenario_file import ScenarioFile
from planner.shell.trouble import Trouble


def save(routine: Path, checked: Checked, session: Session, name: str) -> str:
    """Adds the run so far to the routine's file of scenarios; what was done, in one sentence.

    Raises `Trouble`, and then nothing was written.
    """
    file = ScenarioFile.beside(routine, checked)
    if name in file.names():
        raise Trouble(f"there is a scenario `{name}` already, so nothing was written")
    scenario = file.add(name, scenario_of(session, name))
    missed = [one.demand for one in rehearse(checked, scenario).differences]
    # A run that breaks a requirement is worth keeping: it fails until the plan is mended.
    if any(demand in scenario.demands for demand in missed):
        raise AssertionError(f"the scenario {name} does not show the run that it was saved from")
    file.write()
    return f"saved as scenario `{name}` in {file.path}"
