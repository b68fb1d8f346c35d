"""What is remembered and counted, as other languages write it."""

from __future__ import annotations

import re

from planner.checks.habits.habit import NAME, QUANTITY, Habit

_STEP = ("step_line",)
_ASKING = ("step_line", "group_line", "file_line")
_FILE = ("file_line",)
_ONE_WORD = r"(?!when\b|after\b|at\b|do\b|whenever\b|keep\b|count\b|remember\b)"
_TIMES = r"(?:,|\)|$|(?:and|or|for)\b)"


def _words(line: re.Match[str]) -> str:
    """``memory side = left, right`` with a colon, and commas between the words."""
    words = re.split(r"\s*(?:,|/|\||\bor\b)\s*", line.group(2).strip())
    return f"memory {line.group(1)}: {', '.join(words)}"


MEMORIES: tuple[Habit, ...] = (
    Habit(
        rf"^(?:var|variable|remember|store)\s+({NAME})\s*(?:=|:)\s*({QUANTITY})$",
        r"memory \1 = \2",
        "what is remembered is declared with `memory`",
        "It reads `memory far = 60 cm`.",
        rules=_FILE,
    ),
    Habit(
        rf"^memory\s+({NAME})\s*(?::|\s)\s*({QUANTITY})$",
        r"memory \1 = \2",
        "the number of a memory stands behind `=`",
        "It reads `memory far = 60 cm`.",
        rules=_FILE,
    ),
    Habit(
        rf"^memory\s+({NAME})\s*(?:[=:]|\bis\b)?\s*({NAME}(?:\s*(?:,|/|\||\bor\b)\s*{NAME})+)$",
        _words,
        "the words of a memory stand behind `:`, with commas between them",
        "It reads `memory side: middle, left, right`.",
        rules=_FILE,
    ),
    Habit(
        rf"^(memory\s+{NAME}\s*:.*[A-Za-z_]\w*)\s+(?:as\s+)?seen\s+(?:by|with|from)\s+({NAME})$",
        r"\1, seen by \2",
        "a comma stands in front of `seen by`",
        "It reads `memory side: middle, left, right, seen by post_mark`.",
        rules=_FILE,
    ),
    Habit(
        rf"^counter\s+({NAME})\s*(?::|=|\bfrom\b)?\s*(\d+)\s*(?:to|-|\.\.)\s*(\d+)$",
        r"counter \1: \2 to \3, normally \3",
        "a counter says what it is at the start",
        "It reads `counter shots: 0 to 3, normally 3`.",
        rules=_FILE,
    ),
    Habit(
        rf"^counter\s+({NAME})\s*(?:=|:|\bis\b|\bfrom\b)?\s*(\d+)$",
        r"counter \1: 0 to \2, normally \2",
        "a counter says from where to where it counts, and what it is at the start",
        "It reads `counter shots: 0 to 3, normally 3`.",
        rules=_FILE,
    ),
    Habit(
        rf"^(counter\s+{NAME})\s+(?=\d+\s+to\s+\d+\s*,\s*normally\s+\d+$)",
        r"\1: ",
        "`:` stands behind the name of a counter",
        "It reads `counter shots: 0 to 3, normally 3`.",
        rules=_FILE,
    ),
    Habit(
        rf"^count\s+(down|up)\s+({NAME})$",
        r"count \2 \1",
        "the counter's name stands behind `count`",
        "It reads `count shots down`.",
        rules=_STEP,
    ),
    Habit(
        rf"^count\s+({NAME})\s+(?:(?:to|at)\s+|=\s*)(\d+)$",
        r"count \1 from \2",
        "a counter is set with `from`",
        "It reads `count shots from 3`.",
        rules=_STEP,
    ),
    Habit(
        rf"^(?:remember|store|save|keep)\s+({NAME})\s*(?:=|:)\s*(.+)$",
        r"remember \2 as \1",
        "what is remembered comes first, the memory behind `as`",
        "It reads `remember drive travelled as far`.",
        rules=_STEP,
    ),
    Habit(
        rf"^(?:store|save|note)\s+(.+?)\s+(?:in|into|to|as)\s+({NAME})$",
        r"remember \1 as \2",
        "`{seen}` is written with `remember`",
        "It reads `remember drive travelled as far`.",
        rules=_STEP,
    ),
    Habit(
        rf"^(remember\s+.+?)\s+(?:in|into|to)\s+({NAME})$",
        r"\1 as \2",
        "the memory stands behind `as`",
        "It reads `remember drive travelled as far`.",
        rules=_STEP,
    ),
    Habit(
        rf"^remember\s+({NAME}\s+{NAME}|{NAME})$",
        None,
        "a step says as what it remembers something",
        "It reads `remember drive travelled as far`; `memory far = 60 cm` stands at the top.",
        rules=_STEP,
    ),
    Habit(
        rf"\bmemory\s+({NAME})\s+(?:={{1,3}}\s*|equals\s+)?(?!is\b)({NAME})(?=\s*{_TIMES})",
        r"memory \1 is \2",
        "what a memory holds is asked with `is`",
        "It reads `memory side is left`.",
        rules=_ASKING,
    ),
    Habit(
        rf"\bcounter\s+({NAME})\s*(?:={{1,3}}|\bequals\b|\bis\s+equal\s+to\b)\s*(\d+)",
        r"counter \1 is \2",
        "a counter is asked with `is`",
        "It reads `counter shots is 0`.",
        rules=_ASKING,
    ),
    Habit(
        rf"(?<![\w.])({NAME})\s*\*\s*(\d+(?:\.\d+)?)(?!\s*(?:%|[A-Za-z]))",
        r"\2 * \1",
        "a factor stands in front",
        "It reads `2 * far`.",
        rules=_ASKING,
    ),
    Habit(
        rf"(?<![\w.])({NAME})\s*/\s*2(?![\d.])",
        r"0.5 * \1",
        "nothing is divided here; a factor stands in front",
        "It reads `0.5 * far`.",
        rules=_ASKING,
    ),
    Habit(
        rf"^({_ONE_WORD}{NAME}\s+{NAME}\s+)\(([^()]*[-+*][^()]*)\)$",
        r"\1\2",
        "no parentheses stand around a number",
        "Sums are written as they are: `drive forward far + 5 cm`.",
        rules=_STEP,
    ),
)
