"""Findings as terminal text, short lines and JSON: the only prose layout."""

from planner.report.manual import list_of_checks, manual_page
from planner.report.outcome import NotChecked, Outcome, Unread
from planner.report.prose import joined
from planner.report.record import as_json
from planner.report.screen import Role, Screen
from planner.report.short import as_short
from planner.report.summary import counted, left_out, left_out_lines, summary, tally
from planner.report.text import as_text

__all__ = [
    "NotChecked",
    "Outcome",
    "Role",
    "Screen",
    "Unread",
    "as_json",
    "as_short",
    "as_text",
    "counted",
    "joined",
    "left_out",
    "left_out_lines",
    "list_of_checks",
    "manual_page",
    "summary",
    "tally",
]
