"""Exits as they are said at the whiteboard or coded elsewhere."""

from __future__ import annotations

import re

from planner.checks.habits.habit import HIDDEN, NAME, NUMBER, QUANTITY, STATES, UNIT, Habit

_STEP = ("step_line", "group_line")
_EXITS = ("step_line", "group_line", "file_line", "finish_line")
_GO = (
    r"(?:go\s+to|got\s+to|go\s+too|goto|go_to|goTo|Goto|GoTo|GOTO|GO\s+TO|Go\s+[Tt]o|go-to|jump\s*to|switch\s+to|"
    r"move\s+on\s+to|transition\s+to|continue\s+with|next\s*:?)"
)
_TIMES = {"once": "1", "twice": "2", "one": "1", "two": "2", "three": "3", "four": "4", "five": "5"}


def _counted(count: re.Match[str]) -> str:
    most = _TIMES.get(count.group(1).casefold(), count.group(1))
    return f", at most {most} {'time' if most == '1' else 'times'}"


def _again(count: re.Match[str]) -> str:
    """``, 3 times`` behind an exit; behind a task it is right as it stands."""
    front = count.string[: count.start()]
    many = count.group(1)
    if front.startswith("do "):
        return f", {many} times"
    return f", at most {many} {'time' if many == '1' else 'times'}"


def _limit(waiting: re.Match[str]) -> str:
    """``wait 2 s`` as a time limit, with a way out where none is written."""
    return f"after {waiting.group('time')}" + (
        ", go to NextStep" if waiting.group("end") is not None else ""
    )


def _left_when(loop: re.Match[str]) -> str:
    """``while not bumper pressed`` as the exit that ends it."""
    return f"when {'' if loop.group('not') else 'not '}{loop.group('rest')}"


EXITS: tuple[Habit, ...] = (
    Habit(
        r"^(?:else\s*if|elif|elsif|otherwise\s+if)\b",
        "when",
        "`{seen}` is written `when` here",
        "A step's `when` lines are asked from top to bottom, and the first that is true is taken.",
        rules=_EXITS,
    ),
    Habit(
        r"^(?P<here>while)\b\s*(?!.*\bgo\s*to\b)(?P<paren>\(\s*)?(?P<not>(?:not\b|!)\s*)?(?P<rest>.*?)"
        r"(?(paren)\)?)$",
        _left_when,
        "there is no `while` here: a step ends `when` something comes true",
        "Turn the condition round: the robot stays in the step until it is true.",
        rules=_STEP,
    ),
    Habit(
        r"^(?:every|each)\s+time\b(?:\s+(?:when|that)\b)?|^always\s+(?:when|if)\b|^every\s+when\b",
        "whenever",
        "`{seen}` is written `whenever` here",
        "`whenever` gives a command each time something comes true, and the step goes on.",
        rules=("step_line", "group_line", "file_line"),
    ),
    Habit(
        r"^as\s+soon\s+as\b",
        "when",
        "`{seen}` is written `when` here",
        "A step does its commands and then waits; each way out of it begins with `when`.",
        rules=_EXITS,
    ),
    Habit(
        rf"^(whenever\b[^,]*?)\s*(?::|\bthen\b|\bdo\b|->|=>)\s*(?={NAME}\s+{NAME})",
        r"\1, ",
        "between the condition and the command stands a comma",
        "It reads `whenever tin_gate broken, signal light`.",
        rules=("step_line", "group_line", "file_line"),
    ),
    Habit(
        r"^(?:wait\s+(?:until|for|till)(?!\s*\d)|if|If|IF|whenever(?=.*\bgo\s*to\b)|once|while|until|till|on|upon)"
        r"\b",
        "when",
        "`{seen}` is written `when` here",
        "A step does its commands and then waits; each way out of it begins with `when`.",
        rules=_EXITS,
    ),
    Habit(
        rf"^(?=(?!when\b|after\b|not\b){NAME}\s+(?:{STATES}|sees\s+\w+|(?:{NAME}\s*)?[<>]=?[^,]*)"
        r"\s*,\s*go\s+to\b)",
        "when ",
        "an exit begins with `when`",
        "It reads: `when`, what it waits for, a comma, where it goes.",
        rules=_STEP,
    ),
    Habit(
        r"^(?P<here>else|otherwise|default)\b\W*(?:then\s+)?(?:go\s*to\s+)?([A-Z]\w*)?.*$",
        lambda way: f"after 3 s, go to {way.group(2) or 'GiveUp'}",
        "there is no `{seen}` here",
        "A step waits until one of its exits is true. What should happen when none of them comes "
        "true is said with a time limit.",
        rules=_STEP,
    ),
    Habit(
        r"^(?P<here>wait|sleep|delay|pause|timeout|time\s*out|timer|in|for|"
        r"when\s+time(?:r|out)?\s*>=?)\s*(?:for\s+|of\s+|after\s+|until\s+)?\(?\s*"
        rf"(?P<time>{QUANTITY})\s*\)?(?!\s*of\b)(?P<end>$)?",
        _limit,
        "`{seen}` is written `after` here",
        "A step waits by itself; how long at most is said with `after`, and so is which step comes "
        "then.",
        rules=_STEP,
    ),
    Habit(
        r"^(?:sleep|delay|wait|Thread\.sleep)\s*\(?\s*(\d+)\s*\)?$",
        r"after \1 ms, go to NextStep",
        "waiting is not a command: a time begins with `after`",
        "A step waits by itself. Say how long, and which step comes then.",
        rules=_STEP,
    ),
    Habit(
        r"^(?:time\.sleep)\s*\(\s*([\d.]+)\s*\)$",
        r"after \1 s, go to NextStep",
        "waiting is not a command: a time begins with `after`",
        "A step waits by itself. Say how long, and which step comes then.",
        rules=_STEP,
    ),
    Habit(
        rf"^(?:then\s+)?{_GO}\s+({NAME})$",
        r"after 0.1 s, go to \1",
        "`{seen}` does not say when",
        "Every way out of a step begins with `when` and what the robot waits for, or with `after` "
        "and a time.",
        rules=_STEP,
    ),
    Habit(
        r"^(?:When|WHEN|After|AFTER|Keep|KEEP|At|Step|STEP|Finish|FINISH|Start|START|Limit|LIMIT|"
        r"Setting|SETTING|Routine|ROUTINE|Robot|ROBOT|Hub|Motor|Servo|Digital|Analog|I2C|I2c|Uses|"
        r"Encoder|Camera|Mechanism|Command|Reading|Pass)\b",
        lambda word: word.group().casefold(),
        "`{seen}` is written in small letters",
        "Capitals matter here: the words of the language are small, and names are spelled the same "
        "everywhere.",
    ),
    Habit(
        rf"^(?=(?:when|after|at)\b)((?:(?!at\s+most).)*?)\s*,?\s*(?P<here>\b(?:then|do|and)\b)\s+(?={_GO}\s)",
        r"\1, ",
        "between the condition and `go to` stands a comma, no `then`",
        "An exit reads: what it waits for, a comma, where it goes.",
        rules=_EXITS,
    ),
    Habit(
        rf"(?<!\bgo to )\b(?!go to\b){_GO}\s+(?={NAME})",
        "go to ",
        "`{seen}` is written `go to`",
        "Two words, and the name of the step.",
        rules=_EXITS,
    ),
    Habit(
        rf"^(?=(?:when|after|at)\b)([^,]*?)\s*[:;.]?\s+(?=(?P<here>go\s+to)\s+{NAME})",
        r"\1, ",
        "before `go to` stands a comma",
        "An exit reads: what it waits for, a comma, where it goes.",
        rules=_EXITS,
    ),
    Habit(
        rf"\bgo\s+(?!to\b)(?={NAME})",
        "go to ",
        "`go` is written `go to`",
        "Two words, and the name of the step.",
        rules=_EXITS,
    ),
    Habit(
        rf"\bgo\s+to\s+(?P<here>(?:the\s+)?(?:(?:step|state|finish)\s+)?(?:\"({HIDDEN}+)\"|"
        rf"(?<=step )({NAME})|(?<=state )({NAME})|(?<=finish )({NAME})))",
        lambda way: f"go to {next(name for name in way.groups()[1:] if name)}",
        "behind `go to` stands the step's name and nothing else",
        "The name is spelled as in its `step` line, without quotes.",
        rules=_EXITS,
    ),
    Habit(
        r"\bgo\s+to\s+(?P<here>[A-Z][a-z0-9]+(?:[ \t]+[A-Z][a-z0-9]+)+)",
        lambda way: f"go to {''.join(way.group('here').split())}",
        "a step's name is one word: not `{seen}`",
        "It is spelled as in its `step` line.",
        rules=_EXITS,
    ),
    Habit(
        r"^((?:when|after|at)\b(?!.*\bgo\s+to\b).*?)\s*[,:]?\s+(?:then\s+)?(?P<here>[A-Z]\w*)$",
        r"\1, go to \2",
        "an exit says `go to` before the step's name",
        "It reads: what it waits for, a comma, `go to`, the step.",
        rules=_EXITS,
    ),
    Habit(
        r"^(when\b.*?),?\s+(?P<here>at\s+most\s+\w+(?:\s+times?)?)\s*,?\s*(go\s+to\s+[A-Za-z_]\w*)$",
        r"\1, \3, \2, then GiveUp",
        "the count stands behind the step",
        "It reads `go to Approach, at most 2 times, then GiveUp`.",
        rules=_STEP,
    ),
    Habit(
        r"(?<=[\w)%])\s*,?\s*\b(?:at\s+most|at\s+least|max(?:imum)?|only|up\s+to|no\s+more\s+than)\s+"
        r"(\d+|once|twice|one|two|three|four|five)\b(?:\s*(?:times?|x|tries))?",
        _counted,
        "a count reads `, at most 2 times, then GiveUp`",
        "A comma, the number in digits, and where to go when the count is used up.",
        rules=_STEP,
    ),
    Habit(
        r"(?<=[\w)%])\s*,\s*(\d+)\s*(?:times?|x|tries)\b(?=.*$)(?<!of)(?!\s*looks)",
        _again,
        "a count reads `, at most 2 times, then GiveUp`",
        "A comma, the number in digits, and where to go when the count is used up.",
        rules=_STEP,
    ),
    Habit(
        r"(at most \d+ times?)\s*,?\s*(?:then|otherwise|else|and\s+then|or\s+else|after\s+that)\s+"
        rf"(?:go\s+to\s+)?(?={NAME})",
        r"\1, then ",
        "after the count stands `, then` and a step",
        "It reads `, at most 2 times, then GiveUp`.",
        rules=_STEP,
    ),
    Habit(
        r"(at most \d+ times?)\s*,?\s*$",
        r"\1, then GiveUp",
        "the count does not say where to go when it is used up",
        "It reads `, at most 2 times, then GiveUp`.",
        rules=_STEP,
    ),
    Habit(
        rf"^(at\s+{NUMBER}\s*{UNIT})(?:\s*(?:of\s+the\s+match|match|of\s+match\s+time))?"
        r"(?!\s*of\s+match)(?=\s*,)",
        r"\1 of match",
        "a line of the match clock reads `at 26 s of match`",
        "So that nobody takes it for the clock of a step, which starts anew in each step.",
        rules=("file_line", "group_line"),
    ),
    Habit(
        rf"^(?P<here>after)(?=\s+{QUANTITY}\s+of\s+match)",
        "at",
        "a line of the match clock begins with `at`",
        "`after` looks at the clock of a step, and stands inside of it.",
        rules=("file_line", "group_line"),
    ),
    Habit(
        rf"^at\s+({QUANTITY})\s*(?=,)",
        r"after \1",
        "a time limit of a step begins with `after`",
        "`at ... of match` looks at the match clock, and stands at the left margin.",
        rules=("step_line",),
    ),
    Habit(
        rf"^(after\s+{NAME})\s+(?:s|ms|sec|seconds)\b",
        r"\1",
        "a setting brings its unit along",
        "The unit stands in the line of the setting only.",
        rules=_STEP,
    ),
    Habit(
        r"^((?:when|after)\b(?!.*\bgo\s+to\b).*?[\w%)])\s*,?$",
        r"\1, go to NextStep",
        "this exit does not say where it leads",
        "An exit reads: what it waits for, a comma, `go to`, the step.",
        rules=_STEP,
    ),
    Habit(
        r"^(?:when|after|if|at|goto|go\s+to)\b.*$",
        None,
        "a finish has no exits",
        "The routine ends in a finish: it gives its commands and switches everything off. If the "
        "robot is to go on from here, make it a `step` instead.",
        rules=("finish_line",),
    ),
)
