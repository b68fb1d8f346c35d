"""Blocks and lanes as they are headed elsewhere."""

from __future__ import annotations

from planner.checks.habits.habit import HIDDEN, NAME, Habit

_HEADS = ("file_line", "group_line", "task_line", "lane_line")
_BESIDE = (
    r"(?:(?:in\s+)?parallel|simultaneous(?:ly)?|concurrent(?:ly)?|side\s+by\s+side|"
    r"at\s+the\s+same\s+time|do\s+together|all\s+together|both)"
)

LANE_LINES: tuple[Habit, ...] = (
    Habit(
        rf"^(?:(?:in\s+)?parallel|thread|branch|track|path|line|strand|Lane|LANE)\s+(?={NAME}\b)",
        "lane ",
        "each of what goes on side by side stands under `lane`",
        "It reads `lane wheels`; its steps stand below it.",
        rules=("together_line",),
    ),
    Habit(
        rf"^(lane\s+{NAME})\s*\"{HIDDEN}*\"?",
        r"\1",
        "a lane has no title",
        "It has a name alone: `lane wheels`. Its steps can have titles.",
        rules=("together_line",),
    ),
    Habit(
        rf"^(?:{_BESIDE})\s+(?:block\s+)?(?={NAME}\b(?:\s*\"{HIDDEN}*\")?\s*:?$)",
        "together ",
        "what goes on side by side stands under `together`",
        "It reads `together Carry`; below it stands each `lane` with its steps.",
        rules=_HEADS,
    ),
    Habit(
        rf"^(?:{_BESIDE}|together)\s*:?$",
        "together Both",
        "a block of lanes has a name",
        "It reads `together Carry`; below it stands each `lane` with its steps.",
        rules=_HEADS,
    ),
)
