"""The scenarios of routines as unit tests, as `planner export --tests` writes them."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from planner import pipeline
from planner.findings import Finding, Severity
from planner.java import CannotExport, Manifest, manifest_of
from planner.pipeline import Checked, CheckedScenarios, check_scenarios
from planner.shell.files import UnreadError, read_source
from planner.shell.project import Project
from planner.shell.reading import is_there
from planner.shell.trouble import Trouble
from planner.shell.walk import SCENARIOS


def scenario_errors(plans: Mapping[Path, Checked]) -> dict[Path, list[Finding]]:
    """The errors in the files of scenarios beside routines, by file."""
    found: dict[Path, list[Finding]] = {}
    for path, checked in plans.items():
        beside = _beside(path, checked)
        errors = [f for f in beside.findings if f.severity is Severity.ERROR] if beside else []
        found |= {path.with_suffix(SCENARIOS): errors} if errors else {}
    return found


def tests_project(
    plans: Mapping[Path, Checked],
    folder: Path,
    into: Path,
    package: str,
    renamed: tuple[tuple[str, str], ...],
) -> Project:
    """What an export of tests has for their folder. Raises `Trouble`; writes nothing."""
    if os.path.realpath(folder) == os.path.realpath(into):
        raise Trouble(
            f"{folder} cannot hold the plans and their tests, so nothing was written: tests need "
            "a folder of their own, such as src/test/java"
        )
    sources: dict[str, str] = {}
    manifest = Manifest({}, {})
    for path, checked in plans.items():
        files = _files(path, checked, package)
        sources |= files
        manifest = manifest.joined(manifest_of(checked.plan, files, package))
    known = [(old, new) for old, new in renamed if new in manifest.plans]
    return Project(folder, package, dict(sorted(sources.items())), manifest, known)


def _files(path: Path, checked: Checked, package: str) -> dict[str, str]:
    beside = _beside(path, checked)
    scenarios = checked.plan.routine.scenarios + (beside.scenarios if beside else ())
    try:
        return pipeline.export_tests(checked, scenarios, package)
    except CannotExport as error:
        raise Trouble(f"{error}. Nothing was written.") from None


def _beside(routine: Path, checked: Checked) -> CheckedScenarios | None:
    """The file of scenarios that lies beside a routine; None where there is none."""
    path = routine.with_suffix(SCENARIOS)
    if not is_there(path):
        return None
    try:
        return check_scenarios(read_source(path), checked)
    except UnreadError as error:
        unread = error.unread
        raise Trouble(
            f"could not read {unread.name}: {unread.reason}. Nothing was written."
        ) from None
