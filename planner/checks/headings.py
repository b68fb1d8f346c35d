"""Headings whose name is lost, and the name that is missing for it: one slip, told once."""

from __future__ import annotations

from planner.checks.case import Case
from planner.checks.words import near_names
from planner.findings import Slip


def nameless(case: Case) -> tuple[Slip, str] | None:
    """The one broken heading of a routine and the one name that no heading declares.

    None where there are several of either: then nobody can tell which belongs to which.
    """
    broken = [slip for slip in case.slips_of("unreadable-line") if slip.facts.get("heading")]
    missing = {slip.word for slip in case.slips_of("unknown-step") if not near_names(slip)}
    if len(broken) != 1 or len(missing) != 1:
        return None
    return broken[0], missing.pop()


def told_at_heading(case: Case, slip: Slip) -> bool:
    """Whether an unknown step is told at the heading that lost its name."""
    lost = nameless(case)
    return lost is not None and lost[1] == slip.word


def of_nameless_mechanism(case: Case, slip: Slip) -> bool:
    """Whether an unknown name is perhaps that of a mechanism whose line has lost its name."""
    if not case.robot.nameless or near_names(slip):
        return False
    kinds = ("unknown-mechanism", "unknown-sensor")
    words = {s.word for kind in kinds for s in case.slips_of(kind) if not near_names(s)}
    return words == {slip.word}
