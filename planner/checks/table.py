"""Every check, in the order a plan is read: text, names, robot, graph, habits."""

from __future__ import annotations

from planner.checks.case import Check
from planner.checks.planned import PLANNED, TOGETHER
from planner.checks.reading import READING

CHECKS: tuple[Check, ...] = (*READING, *PLANNED, *TOGETHER)


def check_named(name: str) -> Check | None:
    """The check of that name."""
    return next((check for check in CHECKS if check.name == name), None)
