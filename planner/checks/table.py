"""Every check, in the order a plan is read: text, names, robot, graph, habits."""

from __future__ import annotations

from planner.checks import unknown_step, wait_without_limit
from planner.checks.case import Case, Check
from planner.findings import Finding, Severity

CHECKS: tuple[Check, ...] = (
    Check(Severity.ERROR, unknown_step),
    Check(Severity.ERROR, wait_without_limit),
)


def findings_of(case: Case) -> tuple[Finding, ...]:
    """All findings of a case, as a reader meets them in the text."""
    found = [finding for check in CHECKS for finding in check.findings(case)]
    return tuple(sorted(found, key=lambda finding: finding.order))


def check_named(name: str) -> Check | None:
    """The check of that name."""
    return next((check for check in CHECKS if check.name == name), None)
