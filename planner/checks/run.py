"""Runs the checks on a case."""

from __future__ import annotations

import re
from collections.abc import Hashable, Iterable, Iterator
from dataclasses import replace
from itertools import chain

from planner.checks.case import Case, Check
from planner.checks.planned import PLANNED, TOGETHER
from planner.checks.scenario_words import in_scenario_words
from planner.findings import Finding
from planner.model import Routine

_WITHIN = re.compile(r"\b(?:[A-Za-z_]\w*\.)+([A-Za-z_]\w*)")


def findings_of(case: Case) -> tuple[Finding, ...]:
    """All findings of a case, as a reader meets them in the text.

    The steps of a task are there once for each step that does it: what is found in a line of it
    is told once, for the first of them, and marked at all.
    """
    found = (check.findings(case) for check in _checks(case))
    if not case.scenarios:
        return told_once(found)
    return told_once(map(in_scenario_words, findings) for findings in found)


def findings_together(routines: tuple[Routine, ...]) -> tuple[Finding, ...]:
    """What is found in several routines beside each other."""
    if not routines:
        return ()
    case = Case(routines[0].robot, (), routines=routines)
    return told_once(check.findings(case) for check in TOGETHER)


def told_once(lists: Iterable[Iterable[Finding]]) -> tuple[Finding, ...]:
    """The findings of several lists in the order of the text, each once.

    A line of a task is found fault with for each step that does it, in each routine that shares
    it; that is told for the first of them.
    """
    found: dict[Hashable, Finding] = {}
    for finding in chain.from_iterable(lists):
        key = (finding.check, finding.place.order, _WITHIN.sub(r"\1", finding.headline))
        first = found.setdefault(key, finding)
        if first is not finding:
            steps = tuple(dict.fromkeys((*first.steps, *finding.steps)))
            found[key] = replace(first, steps=steps)
    return tuple(sorted(found.values(), key=lambda finding: finding.order))


def of_all() -> frozenset[str]:
    """The checks that speak only where every variant of a routine has the fault."""
    from planner.checks.table import CHECKS

    return frozenset(check.name for check in CHECKS if check.of_all)


def _checks(case: Case) -> Iterator[Check]:
    if case.slips:
        # Half of all checks speak of slips alone; a plan without one is spared loading them.
        from planner.checks.reading import READING

        yield from READING
    yield from (check for check in PLANNED if check.of_tasks or not case.tasks_alone)
