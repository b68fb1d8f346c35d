"""The closing lines of a run."""

from __future__ import annotations

from collections.abc import Sequence

from planner.findings import Severity
from planner.report.glyphs import harmless
from planner.report.outcome import Outcome
from planner.report.screen import Screen


def summary(outcome: Outcome) -> str:
    """One line: what was checked and what came of it, such as "Checked 1 routine: clean."."""
    read = joined(
        [
            counted(number, what)
            for number, what in (
                (len(outcome.routines), "routine"),
                (len(outcome.robots), "robot file"),
            )
            if number
        ]
    )
    unread = f"{counted(len(outcome.unread), 'file')} could not be read"
    if not read:
        return f"Nothing was checked: {unread}."
    worth = [(s, outcome.count(s)) for s in sorted(Severity, reverse=True)]
    found = joined([counted(number, s.word) for s, number in worth if number]) or "clean"
    return f"Checked {read}: {found}." + (f" But {unread}." if outcome.unread else "")


def left_out(outcome: Outcome, screen: Screen) -> str:
    """One line for each folder that was passed by; empty where none was."""
    return "".join(
        f"Left out {harmless(folder, screen.encoding)}: "
        "plans kept there show faults on purpose. Name the folder to check them.\n"
        for folder in outcome.left_out
    )


def counted(number: int, what: str) -> str:
    """A number and its noun: ``1 step``, ``2 steps``."""
    return f"{number} {what}" if number == 1 else f"{number} {what}s"


def joined(parts: Sequence[str]) -> str:
    """Parts as in a sentence: ``a, b and c``."""
    return " and ".join(part for part in (", ".join(parts[:-1]), *parts[-1:]) if part)
