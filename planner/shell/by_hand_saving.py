"""Keeps a run by hand as a scenario in the file beside the routine."""

from __future__ import annotations

from pathlib import Path

from planner.findings import Severity
from planner.pipeline import Checked, check_scenarios, rehearse
from planner.rehearsal.saved import scenario_of
from planner.rehearsal.session import Session
from planner.shell.files import UnreadError, read_data, source_of, write_whole
from planner.shell.reading import is_there
from planner.shell.trouble import Trouble
from planner.shell.walk import SCENARIOS
from planner.text import Source, encode


def save(routine: Path, checked: Checked, session: Session, name: str) -> str:
    """Adds the run so far to the routine's file of scenarios; what was done, in one sentence.

    Nothing that the file holds is changed. Raises `Trouble`, and then nothing was written.
    """
    path = routine.with_suffix(SCENARIOS)
    data = _there(path)
    before = source_of(path, data).text if data else f"routine {checked.plan.routine.name}\n"
    if name in _names(Source(str(path), before), checked):
        raise Trouble(f"there is a scenario `{name}` already, so nothing was written")
    gap = "\n" if before.endswith("\n") else "\n\n"
    text = before + gap + "".join(f"{line}\n" for line in scenario_of(session, name))
    _must_pass(Source(str(path), text), checked, name)
    added = text[len(before) :]
    # Behind bytes that stay as they are, so that the file's line ends and encoding stay too.
    write_whole(path, (data + _as_in(data, added)) if data else text.encode())
    return f"saved as scenario `{name}` in {path}"


def _there(path: Path) -> bytes:
    """The bytes of the file; none where there is no file."""
    if not is_there(path):
        return b""
    try:
        data = read_data(path)
        source_of(path, data)
    except UnreadError as error:
        raise Trouble(f"{error}, so nothing was written") from None
    return data


def _as_in(data: bytes, added: str) -> bytes:
    """The text that is added, in the file's encoding and without a second mark at its front."""
    return encode(added, data)[len(encode("", data)) :]


def _names(scenarios: Source, checked: Checked) -> set[str]:
    """The names that are taken, in the file and in the routine."""
    beside = check_scenarios(scenarios, checked).scenarios
    return {scenario.name for scenario in (*beside, *checked.plan.routine.scenarios)}


def _must_pass(text: Source, checked: Checked, name: str) -> None:
    """What is saved must be read without a finding of its own, and pass when it is rehearsed."""
    read = check_scenarios(text, checked)
    scenario = next((one for one in read.scenarios if one.name == name), None)
    if scenario is None or scenario.incomplete:
        errors = [f for f in read.findings if f.severity is Severity.ERROR]
        why = errors[-1].headline if errors else "it cannot be read back"
        raise Trouble(f"nothing was written, choose another name: {why}")
    missed = [one.demand for one in rehearse(checked, scenario).differences]
    # A run that breaks a requirement is worth keeping: it fails until the plan is mended.
    if any(demand in scenario.demands for demand in missed):
        raise AssertionError(f"the scenario {name} does not show the run that it was saved from")
