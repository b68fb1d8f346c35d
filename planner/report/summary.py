"""The closing lines of a run."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from planner.findings import Finding
from planner.report.glyphs import harmless
from planner.report.outcome import Outcome
from planner.report.prose import joined
from planner.report.screen import Screen


def summary(outcome: Outcome) -> str:
    """One line: what was checked and what came of it, such as "Checked 1 routine: clean."."""
    files = {
        "routine": outcome.routines,
        "file of scenarios": outcome.scenario_files,
        "file of tasks": outcome.task_files,
        "robot file": outcome.robots,
    }
    read = joined([counted(len(names), what) for what, names in files.items() if names])
    missing = joined(list(_missing(outcome)))
    if not read:
        return f"Nothing was checked: {missing}."
    found = tally(outcome.findings) or "clean"
    return f"Checked {read}: {found}." + (f" But {missing}." if missing else "")


def _missing(outcome: Outcome) -> Iterator[str]:
    if outcome.unread:
        yield f"{counted(len(outcome.unread), 'file')} could not be read"
    if outcome.not_checked:
        were = "was" if len(outcome.not_checked) == 1 else "were"
        yield f"{counted(len(outcome.not_checked), 'routine')} {were} not checked to the end"


def tally(findings: Iterable[Finding]) -> str:
    """How many there are of each weight, the worst first; empty where there are none."""
    numbers = Counter(finding.severity for finding in findings)
    return joined([counted(numbers[s], s.word) for s in sorted(numbers, reverse=True)])


def left_out(outcome: Outcome, screen: Screen) -> str:
    """One line for each folder that was passed by; empty where none was."""
    return left_out_lines(outcome.left_out, screen, "check")


def left_out_lines(folders: Iterable[str], screen: Screen, verb: str) -> str:
    """The same for any command; `verb` is what it does with plans."""
    return "".join(
        f"Left out {harmless(folder, screen.encoding)}: "
        f"plans kept there show faults on purpose. Name the folder to {verb} them.\n"
        for folder in folders
    )


def counted(number: int, what: str) -> str:
    """A number and its noun: ``1 step``, ``2 steps``, ``2 files of scenarios``."""
    noun, of, whose = what.partition(" of ")
    return f"{number} {what}" if number == 1 else f"{number} {noun}s{of}{whose}"
