"""Heads, settings and commands as they are written elsewhere."""

from __future__ import annotations

import re

from planner.checks.habits.habit import HIDDEN, NAME, NUMBER, QUANTITY, UNIT, Habit

_STEP = ("step_line", "finish_line")
_FILE = ("file_line",)
_EXIT_WORDS = r"(?!when\b|after\b|at\b|do\b|whenever\b)"
_TIMES = {"twice": "2", "two": "2", "three": "3", "four": "4", "five": "5"}
_WORDS = "|".join(_TIMES)


def _titled(head: re.Match[str]) -> str:
    """A head whose title lost its quotes."""
    title = head.group(3).strip().strip("\"'").strip()
    return f'{head.group(1)} {head.group(2)} "{title}"'


def _percent(call: re.Match[str]) -> str:
    """``setPower(0.5)`` as a share."""
    return f"{call.group(1)} forward {round(float(call.group(2)) * 100)} %"


def _called(call: re.Match[str]) -> str:
    """``drive.forward(0.4)`` as a command; a power that is a fraction becomes a share."""
    numbers = re.sub(
        r"(?<![\w.])(-?[01]?\.\d+|-?1\.0)(?![\w.%]|\s*%|\s*[A-Za-z])",
        lambda power: f"{round(float(power.group()) * 100)} %",
        call.group(3),
    )
    return f"{call.group(1)} {call.group(2)} {numbers}"


_UNITS = {"angle": "deg", "height": "ticks", "distance": "cm", "time": "s"}


def _with_unit(head: re.Match[str]) -> str:
    """``task place(height)`` with the unit that such a number most often has."""
    return f"{head.group(1)}{head.group(2)} {_UNITS.get(head.group(2), '%')})"


TASK_LINES: tuple[Habit, ...] = (
    Habit(
        rf"^(?:function|def|void|procedure|subroutine|sub|method)\s+(?={NAME}.*\bends\b)",
        "task ",
        "`{seen}` is written `task` here",
        "A task is made of steps, and says how it can end.",
        rules=_FILE,
    ),
    Habit(
        rf"^(task\s+{NAME})\s+((?!ends\b){NAME}\s+{UNIT}(?:\s*,\s*{NAME}\s+{UNIT})*)\s+(?=ends\b)",
        r"\1(\2) ",
        "the numbers a task takes stand in parentheses",
        "Each with its name and unit, such as `place(height ticks)`.",
        rules=_FILE,
    ),
    Habit(
        rf"^(task\s+{NAME}\s*\(\s*)({NAME})\s*\)",
        _with_unit,
        "a number that a task takes needs a unit",
        "Its name, then its unit: `power %`, `height ticks`, `angle deg`.",
        rules=_FILE,
    ),
    Habit(
        rf"^(task\s+{NAME}(?:\s*\([^()]*\))?)\s*(?::|->|=>|returns?|end(?:s)?\s+(?:in|with|as))\s+",
        r"\1 ends ",
        "how a task can end is said with `ends`",
        "It reads `task place(height ticks) ends placed, stuck`.",
        rules=_FILE,
    ),
    Habit(
        rf"^(task\s+{NAME}.*\bends\s+)({NAME}(?:(?:\s*,\s*|\s+(?:or|and)\s+|\s+){NAME})+)$",
        lambda task: (
            task.group(1)
            + ", ".join(re.findall(r"\w+", re.sub(r"\b(?:or|and)\b", " ", task.group(2))))
        ),
        "the outcomes of a task are parted by commas",
        "It reads `task place(height ticks) ends placed, stuck`.",
        rules=_FILE,
    ),
)

LINES: tuple[Habit, ...] = (
    Habit(
        rf"^(do\s+{NAME}\b[^,]*?)\s*,?\s+(?:for\s+)?(?:(\d+)\s*(?:times?|x)|({_WORDS})(?:\s+times)?)$",
        lambda do: f"{do.group(1)}, {do.group(2) or _TIMES[do.group(3)]} times",
        "how often a task is done stands behind a comma",
        "It reads `do place 1200 ticks, 3 times`.",
        rules=_STEP,
    ),
    Habit(
        r"^end\s*(?:task|step|group|if|while|scenario)?$|^end\s+(?:task|step|group|scenario)\b.*$",
        "",
        "nothing ends a block but the next line that is not indented",
        "Indentation shows what belongs together. Delete this line.",
    ),
    Habit(
        r"^(routine|robot|limit|start|step|finish|group|task|scenario|hub|mechanism|command)"
        r"(?=[A-Z0-9_\"])",
        r"\1 ",
        "between `{seen}` and what follows stands a space",
        "The first word says what kind of line it is; then comes the rest.",
    ),
    Habit(
        r"^(routine|robot|limit|start|step|finish|group|task|scenario|hub|mechanism|camera|uses|command|"
        r"reading)"
        r"\s*[:=]\s*",
        r"\1 ",
        "behind `{seen}` stands just a space",
        "A line is its first word, a space and the rest.",
    ),
    Habit(
        r"^(start)\s+(?:at|with|from|in|step|the\s+step)\s+",
        r"\1 ",
        "`start` is followed by the step's name and nothing else",
        "The name is spelled as in its `step` line.",
        rules=_FILE,
    ),
    Habit(
        r"^(?:state|phase|stage|State|block|case|CASE)\s+(?=[A-Za-z_])",
        "step ",
        "`{seen}` is written `step` here",
        "A plan is made of steps.",
        rules=_FILE,
    ),
    Habit(
        r"^(?:end|stop|exit|done|final|finished)\s+(?=[A-Z]\w*\s*(?:\"|$))",
        "finish ",
        "`{seen}` is written `finish` here",
        "The place where a routine ends is a `finish` with a name.",
        rules=_FILE,
    ),
    Habit(
        r"^(step|finish|start)\s+(?P<here>\d+)\b",
        r"\1 Step\2",
        "the name of a step starts with a letter: not `{seen}`",
        "A name that says what the robot does is best: it is shown while the robot runs.",
    ),
    Habit(
        r"\b(go to|then) (?P<here>\d+)\b",
        r"\1 Step\2",
        "the name of a step starts with a letter: not `{seen}`",
        "A name that says what the robot does is best: it is shown while the robot runs.",
    ),
    Habit(
        r"^(?:time\s+limit|time|duration|timelimit|max)\s+(?=\d)",
        "limit ",
        "`{seen}` is written `limit` here",
        "The limit is how long the routine may take.",
        rules=_FILE,
    ),
    Habit(
        rf"^(?:(?:set|let|var|val|const|final|int|double|float|setting)\s+)*(?!lim)({NAME})\s*"
        rf"(?:==|:=|[:=]|\bis\b|\bto\b)?\s*({NUMBER}\s*{UNIT}?)$",
        r"setting \1 = \2",
        "a setting reads `setting cruise = 40 %`",
        "The word `setting`, a name, `=`, and a number with its unit.",
        rules=_FILE,
    ),
    Habit(
        rf"^(routine|robot|step|finish|mechanism)\s+({NAME})\s*[-:,(]?\s*([^\"\s][^\"]*)$",
        _titled,
        "a name is one word, and a title stands in quotes",
        'Write the short name first, then the title in `"`.',
    ),
    Habit(
        r"^(routine|robot|step|finish|mechanism)\s+(?P<here>\"[^\"]*\")$",
        r"\1 Name \2",
        "before the title stands a name",
        "The name is one word, by which other lines call it; the title is for people.",
        rules=_FILE,
    ),
    Habit(
        rf"^(?:do|run|set|give|call|make|let|please|tell)\s+(?={NAME}\s+{NAME})",
        "",
        "a command begins with its mechanism: leave out `{seen}`",
        "The mechanism, the command, then its numbers.",
        rules=_STEP,
    ),
    Habit(
        rf"^({_EXIT_WORDS}{NAME}\s+{NAME}\b.*?)\s+(?P<here>\"({HIDDEN}+)\")$",
        r"\1  # \3",
        "a command has no title",
        "A remark for people stands behind `#`.",
        rules=_STEP,
    ),
    Habit(
        rf"^({NAME})\.setPower\(\s*(-?[\d.]+)\s*\)$",
        _percent,
        "`{seen}` is a line of Java",
        "A plan does not set motors; it gives commands to mechanisms. The robot file says which "
        "motors a command drives.",
        rules=_STEP,
    ),
    Habit(
        rf"^{_EXIT_WORDS}({NAME})\.({NAME})\s*\(([^()]*)\)$",
        _called,
        "a command is written without points and parentheses",
        "The mechanism, the command, then its numbers, with spaces between.",
        rules=_STEP,
    ),
    Habit(
        rf"^{_EXIT_WORDS}({NAME})\s+({NAME})\s*\(([^()]*)\)$",
        _called,
        "a command is written without parentheses",
        "The mechanism, the command, then its numbers, with spaces between.",
        rules=_STEP,
    ),
    Habit(
        rf"^{_EXIT_WORDS}({NAME}\s+{NAME}\b.*?)\s+(?P<here>(?:for|during)\s+{QUANTITY})$",
        lambda said: f"{said.group(1)}\nafter {said.group(2).split(None, 1)[1]}, go to NextStep",
        "how long a command lasts is not said behind it: not `{seen}`",
        "The command goes on as long as the step lasts; an `after` line of its own ends the step.",
        rules=_STEP,
    ),
    Habit(
        rf"^{_EXIT_WORDS}({NAME}\s+{NAME}\b.*?)\s*,?\s+(?P<here>until|till|while|when|if)\s+(.+?)"
        r"(?:,?\s*(?:then\s+)?go\s+to\s+(\w+))?$",
        lambda said: f"{said.group(1)}\nwhen {said.group(3)}, go to {said.group(4) or 'NextStep'}",
        "a command and a way out are two lines",
        "First what the robot does, then on a line of its own what ends the step.",
        rules=_STEP,
    ),
    Habit(
        rf"^{_EXIT_WORDS}({NAME}\s+{NAME}\b.*?)\s*(?:,\s*)?(?P<here>;|\band\s+then\b|\band\b|\bthen\b|,)\s*"
        rf"(?={NAME}\s+{NAME})",
        r"\1\n",
        "each command stands on a line of its own",
        "Commands of one step are given together, at the moment the step begins.",
        rules=_STEP,
    ),
    Habit(
        rf"^({_EXIT_WORDS}.*?),?\s+keep$",
        r"keep \1",
        "`keep` stands in front of its command",
        "It says that the command goes on after the step.",
        rules=_STEP,
    ),
    Habit(
        rf"^({_EXIT_WORDS}{NAME}\s+{NAME})\s*(?:=|:|\bat\b|\bwith\b|\bto\b|\bby\b)\s*"
        r"(?=-?[\w])",
        r"\1 ",
        "the number follows the command straight away",
        "The mechanism, the command, then its numbers, with spaces between.",
        rules=_STEP,
    ),
    Habit(
        rf"^({_EXIT_WORDS}(?!go\b|do\b){NAME}\s+{NAME}\s+-?{NAME})\s*{UNIT}$",
        r"\1",
        "a setting brings its unit along",
        "The unit stands in the line of the setting only.",
        rules=_STEP,
    ),
    Habit(
        rf"({QUANTITY})\s+(?={QUANTITY})",
        r"\1, ",
        "between two numbers stands a comma",
        "So that it is clear where one ends and the next begins.",
        rules=_STEP,
    ),
)
