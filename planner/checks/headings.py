"""Headings whose name is lost, and the name that is missing for it: one slip, told once."""

from __future__ import annotations

import re

from planner.checks.case import Case
from planner.checks.repair import foreign_line
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


def of_nameless_mechanism(case: Case, slip: Slip) -> bool:
    """Whether an unknown name is perhaps that of a mechanism whose line has lost its name."""
    if not case.robot.nameless or near_names(slip):
        return False
    kinds = ("unknown-mechanism", "unknown-sensor")
    words = {s.word for kind in kinds for s in case.slips_of(kind) if not near_names(s)}
    return words == {slip.word}


def words_not_read(case: Case) -> set[str]:
    """Every word of the lines that could not be read, or only look like a command."""
    slips = list(case.slips_of("unreadable-line"))
    slips += [s for s in case.slips_of("unknown-mechanism") if foreign_line(s, case.robot)]
    return {word for slip in slips for word in re.findall(r"\w+", slip.place.line_text)}


def lines_not_read(case: Case) -> set[int]:
    """The numbers of those lines."""
    slips = list(case.slips_of("unreadable-line"))
    slips += [s for s in case.slips_of("unknown-mechanism") if foreign_line(s, case.robot)]
    return {slip.place.line for slip in slips}
