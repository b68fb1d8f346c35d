"""Lines of a scenario as they are said elsewhere."""

from __future__ import annotations

import re

from planner.checks.habits.habit import NAME, QUANTITY, STATES, Habit

_SCENARIO = ("scenario_line",)
_CHANGES = r"(?:goes|moves|changes|falls|rises|runs|drops)\b"
_SUBJECT = rf"{NAME}(?:\s+(?!{_CHANGES}|from\b|is\b){NAME})?"
_FACT = rf"(?:(?:not\s+)?{NAME}\s+(?:{STATES}|unreadable)\b|{NAME}\s+sees\b|{_SUBJECT}\s+is\b)"


def _visited(demand: re.Match[str]) -> str:
    """A list of steps with nothing but commas between them."""
    names = re.findall(r"\w+", re.sub(r"\b(?:and|then)\b|[-=>→]+", " ", demand.group(2)))
    return f"{demand.group(1)}{', '.join(names)}"


SCENARIO_LINES: tuple[Habit, ...] = (
    Habit(
        rf"^((?:at\s+{QUANTITY}|in\s+{NAME}\s*,\s*after\s+{QUANTITY})\s*,\s*"
        rf"{NAME}(?:\s+(?!is\b){NAME})?)\s+(?:=+\s*)?(?={QUANTITY}$)",
        r"\1 is ",
        "a number is said with `is`",
        "It reads `range_front is 7 cm`.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"^in\s+({NAME})\s*,\s*(?={_FACT})",
        r"in \1, after 0 s, ",
        "behind the step stands `after` and a time",
        "Without a wait it is `after 0 s`: as soon as the step is entered.",
        rules=_SCENARIO,
    ),
    Habit(
        r"^(?:expect|expects|should|shall|assert|check|verify|needs\s+to|has\s+to)\b(?:\s+to\b)?",
        "must",
        "`{seen}` is written `must` here",
        "What must be seen in the run begins with `must`.",
        rules=_SCENARIO,
    ),
    Habit(
        r"^must\s+(?:not|never)\s+(?:visit|finish|be|reach|enter)\b.*$",
        None,
        "only a command can be forbidden: `must not give`",
        "Say instead what must be seen: `must visit` with the steps in their order, and `must "
        "finish in` with the finish it ends in.",
        rules=_SCENARIO,
    ),
    Habit(
        r"^must\s+(?:(?:finish|end|stop|arrive|be)(?:es|s)?\s+(?:in|at|with|on)|finish|end)\s+"
        r"(?!(?:in|by|before|within|under|until|at)\b)(?=[A-Za-z_])",
        "must finish in ",
        "how the run ends is said with `must finish in`",
        "It reads `must finish in`, the finish, and if you like `by` and a time.",
        rules=_SCENARIO,
    ),
    Habit(
        r"^must\s+(?:reach|enter|go\s+to|pass\s+through|see|go\s+through)\s+(?=[A-Za-z_])",
        "must visit ",
        "which steps are seen is said with `must visit`",
        "The steps stand in the order in which they are entered.",
        rules=_SCENARIO,
    ),
    Habit(
        r"^must\s+(?=[A-Z]\w*(?:\s*,\s*[A-Z]\w*)*$)",
        "must visit ",
        "which steps are seen is said with `must visit`",
        "The steps stand in the order in which they are entered.",
        rules=_SCENARIO,
    ),
    Habit(
        r"^(must\s+finish\b(?:.*\w)?)\s*,?\s+(?P<here>before|within|in\s+under|under|until|in|at)\s+"
        rf"(?={QUANTITY}$)",
        r"\1 by ",
        "`{seen}` is written `by` here",
        "It reads `must finish in`, the finish, `by` and a time; the finish may be left out.",
        rules=_SCENARIO,
    ),
    Habit(
        r"^must\s+(?:be\s+)?(?:cut[ -]?off|cutoff|run\s+out(?:\s+of\s+time)?|time\s*out)$",
        "must be cut off",
        "`{seen}` is written `must be cut off`",
        "The routine's limit ends the run outside of a finish.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"^(must\s+visit\s+)({NAME}(?:(?:\s*,\s*|\s+|\s*[-=]*>\s*|\s*→\s*){NAME})+)$",
        _visited,
        "the steps of `must visit` are parted by commas",
        "No `then` and no `and` between them.",
        rules=_SCENARIO,
    ),
    Habit(
        r"^must\s+(not\s+)?(?:command|do|send|call|tell|order)\s+(?=[A-Za-z_])",
        r"must \1give ",
        "what is sent is said with `must give`",
        "It reads `must give`, the mechanism, its command.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"^({_FACT}.*?)\s*,?\s+(?:at|after)\s+({QUANTITY})$",
        r"at \2, \1",
        "the moment comes first",
        "It reads `at 1 s`, a comma, and what the sensor says from then on.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"^(?P<here>after)(?=\s+{QUANTITY}\s*,?\s+{NAME})",
        "at",
        "a moment on the match clock begins with `at`",
        "`in Raise, after 1 s` counts from the entry to a step.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"^in\s+({NAME})\s*,?\s*(?:at\s+|after\s+)?(?={QUANTITY})",
        r"in \1, after ",
        "a moment in a step reads `in Raise, after 1 s`",
        "A comma behind the step, then `after` and how long the step has lasted.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"^in\s+({NAME})\s+(?=from\b)",
        r"in \1, ",
        "behind the step stands a comma",
        "It reads `in Raise, from 0 s to 1 s`, a comma, and what the reading does.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"^((?:in\s+{NAME}\s*,\s*)?(?:at|after)\s+{QUANTITY})\s*:?\s+(?=(?:not\s+)?{NAME})",
        r"\1, ",
        "behind the moment stands a comma",
        "It reads `at 1 s`, a comma, and what the sensor says from then on.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"^((?:in\s+{NAME}\s*,\s*)?from\s+{QUANTITY}\s+to\s+{QUANTITY})\s*:?\s+(?={NAME})",
        r"\1, ",
        "behind the two moments stands a comma",
        "It reads `from 0 s to 1 s`, a comma, and what the reading does.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"^((?:in\s+{NAME}\s*,\s*)?from\s+{QUANTITY}\s+to\s+{QUANTITY}\s*,\s*{_SUBJECT})\s+"
        rf"(?:{_CHANGES}\s+|is\s+)?from\s+(?={QUANTITY})",
        r"\1 goes from ",
        "a reading that changes `goes from` one number to another",
        "It reads `range_front goes from 100 cm to 6 cm`.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"^(?={_SUBJECT}\s+goes\s+from\b)",
        "from 0 s to 1 s, ",
        "the line does not say when the reading changes",
        "In front stand two moments, such as `from 0 s to 1 s,`.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"^(?={_FACT})",
        "at 1 s, ",
        "the line does not say when the sensor says so",
        "In front stands a moment, such as `at 1 s,` or `in Raise, after 1 s,`.",
        rules=_SCENARIO,
    ),
    Habit(
        r"\s*(?:==?|:)\s*(?=-?\d)",
        " is ",
        "`{seen}` is written `is` in a scenario",
        "It reads `range_front is 7 cm`.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"\b({NAME})\s+(?:is|=+|becomes|gets)\s+(?={STATES}\b|unreadable\b|sees\b)",
        r"\1 ",
        "leave out what stands between a sensor and its answer",
        "A sensor's name and its answer stand side by side: `bumper pressed`.",
        rules=_SCENARIO,
    ),
    Habit(
        rf"\b(?:press|hit|push)(?:es)?\s+({NAME})$",
        r"\1 pressed",
        "a scenario says what the sensor answers",
        "It reads `bumper pressed`.",
        rules=_SCENARIO,
    ),
    Habit(
        r"^(?:when|if|after|wait|while|until)\b.*$",
        None,
        "a scenario does not wait: it says what the sensors do, and when",
        "Such as `at 1 s, bumper pressed` or `in Raise, after 1 s, arm done`.",
        rules=_SCENARIO,
    ),
)
