"""Requirements as they are said elsewhere."""

from __future__ import annotations

import re

from planner.checks.habits.habit import NAME, QUANTITY, VALUE, Habit

_FILE = ("file_line",)
_HAPPENS = rf"(?:in\s+{NAME}|{NAME}\s+{NAME}(?:\s+{QUANTITY}(?:\s*,\s*{QUANTITY})*)?)"
_LINE = "It reads `require`, what may come, `only after`, and what has to come first."
_LEADS = "It reads `require claw close leads to arm to within 2 s`."


def _swapped(line: re.Match[str]) -> str:
    """``require A before B`` as the one way to say it."""
    return f"require {line.group(2)} only after {line.group(1)}"


REQUIREMENT_LINES: tuple[Habit, ...] = (
    Habit(
        r"^(?:require[sd]?|must|should|shall|ensure|assert|always)\s+(?:to\s+)?(?:be\s+)?"
        r"(?:finish(?:ed|es)?|end(?:ed|s)?|done|over|complete[d]?|stop(?:ped)?)\s+"
        rf"(?:by|in|before|within|at|until)\s+(?={VALUE}$)",
        "require finished by ",
        "when a run has to be over is said with `require finished by`",
        "Behind it stands a time on the match clock.",
        rules=_FILE,
    ),
    Habit(
        r"^(?:(?:must|should|shall)\s+(?:never|not)|never|no|forbid|"
        r"require[sd]?\s+(?:not|no|that\s+never))\s+(?=\S)",
        "require never ",
        "what must not be at once is said with `require never`",
        "It reads `require never`, the one thing, `while`, the other.",
        rules=_FILE,
    ),
    Habit(
        r"^(?:must|should|shall|ensure|assert|always|requires|required)\s+(?=\S)",
        "require ",
        "`{seen}` is written `require` here",
        "What every run must keep to begins with `require`.",
        rules=_FILE,
    ),
    Habit(
        rf"^(require\s+never\s+{_HAPPENS})\s+(?:when|if|during|whenever|and|with|as)\s+(?=\S)",
        r"\1 while ",
        "the two that must not be at once are parted by `while`",
        "It reads `require never`, the one thing, `while`, the other.",
        rules=_FILE,
    ),
    Habit(
        rf"^require\s+({_HAPPENS})\s+before\s+({_HAPPENS})$",
        _swapped,
        "what comes first is said with `only after`",
        _LINE,
        rules=_FILE,
    ),
    Habit(
        rf"^(require\s+{_HAPPENS})\s+(?:(?:just|never\s+but)\s+)?after\s+(?={_HAPPENS}$)",
        r"\1 only after ",
        "what comes first is said with `only after`",
        _LINE,
        rules=_FILE,
    ),
    Habit(
        rf"^(require\s+{_HAPPENS})\s*,?\s*"
        r"(?:then|followed\s+by|implies|causes|means|leads|->|=>)\s+(?!to\b)(?=\S)",
        r"\1 leads to ",
        "what has to follow is said with `leads to`",
        _LEADS,
        rules=_FILE,
    ),
    Habit(
        rf"^(require\s+{_HAPPENS}\s+leads\s+to\s+{_HAPPENS})\s*,?\s+"
        rf"(?:in|by|after|before|under|in\s+under)\s+(?={VALUE}$)",
        r"\1 within ",
        "the time in which it has to follow begins with `within`",
        _LEADS,
        rules=_FILE,
    ),
    Habit(
        rf"^(require\s+{_HAPPENS}\s+leads\s+to\s+{_HAPPENS})$",
        r"\1 within 2 s",
        "the line does not say within which time it has to follow",
        _LEADS,
        rules=_FILE,
    ),
)
