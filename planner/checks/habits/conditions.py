"""Conditions as other languages write them."""

from __future__ import annotations

import re

from planner.checks.habits.habit import NAME, NUMBER, QUANTITY, STATES, UNIT, VALUE, Habit

_STEP = ("step_line", "group_line")
_NO_WORD = r"(?!(?:when|while|if|until|not|and|or|is|within|for|go|sees)\b)"
_SUBJECT = rf"\b{_NO_WORD}{NAME}(?:\s+{_NO_WORD}{NAME})?"
_EQUALS = r"(?:(?<![<>=!])={1,3}|\bis\s+equal\s+to\b|\bequals\b|\bis\b)"

# How near is near enough, by unit, where a plan asks for one exact number.
_NEAR = {"deg": "2", "cm": "1", "mm": "10", "in": "0.5", "%": "5", "V": "0.1", "ticks": "20"}


def _within(equal: re.Match[str]) -> str:
    number, unit = equal.group("number"), equal.group("unit")
    return f" within {_NEAR.get(unit, '1')} {unit} of {number} {unit}"


def _compared(pair: re.Match[str]) -> str:
    """``gyro 90 deg`` with the sign that most often belongs there."""
    front, name, number, unit = pair.group("front", "name", "number", "unit")
    if unit == "deg":
        return f"{front}{name} within 2 deg of {number} deg"
    return f"{front}{name} < {number} {unit}"


def _turned_round(compared: re.Match[str]) -> str:
    """``8 cm > range_front`` as ``range_front < 8 cm``."""
    turned = {"<": ">", ">": "<", "<=": ">=", ">=": "<="}[compared.group("sign")]
    return f"{compared.group('name')} {turned} {compared.group('value')}"


def _asked(call: re.Match[str]) -> str:
    """``bumper.isPressed()`` as ``bumper pressed``."""
    return f"{call.group(1)} {call.group(2).casefold()}"


CONDITIONS: tuple[Habit, ...] = (
    Habit(
        rf"(?:[<>]=?|\bof|\bwithin|[+*]|(?<=\s)-)\s*{_NO_WORD}({NAME})\s+{_NO_WORD}({NAME})"
        r"(?=\s*(?:,|\)|[-+]|\band\b|\bor\b|\bfor\b|\bof\b|$))",
        None,
        "a reading cannot stand in a number",
        "A reading goes on changing. Remember it in the step that ends at the moment that counts, "
        "as in `remember drive travelled as far`, and write `far` here.",
        rules=_STEP,
    ),
    Habit(
        r"\s+(?:is\s+|are\s+)?(?:not\s+(?:readable|there)|unknown|missing|unplugged|broken\s+off)"
        r"(?=\s*,)",
        " unreadable",
        "a sensor that cannot be read is `unreadable`",
        "It reads `range_front unreadable`.",
        rules=_STEP,
    ),
    Habit("&&?", " and ", "`{seen}` is written `and`", "Conditions are joined by words."),
    Habit(r"\|\|?", " or ", "`{seen}` is written `or`", "Conditions are joined by words."),
    Habit(
        rf"\b({NAME})\.(?:is|get)([A-Z]\w*)\(\)",
        _asked,
        "`{seen}` is a line of Java",
        "A plan asks a sensor with its name and its answer.",
        rules=_STEP,
    ),
    Habit(
        rf"\b({NAME})\.({NAME})\b(?!\()",
        r"\1 \2",
        "no point stands between names: not `{seen}`",
        "A mechanism and its reading or command are written one after the other.",
        rules=_STEP,
    ),
    Habit(
        rf"\b{_NO_WORD}({NAME})\s*(?:!=|≠|<>|\bis\s+not\b|\bisn't\b|\bnot\b)\s*(?!\s*{NUMBER})({NAME})",
        r"not \1 \2",
        "`{seen}` is written the other way round: `not`, then the condition",
        "`not` stands in front of what it turns round.",
        rules=_STEP,
    ),
    Habit(
        r"!(?!=)\s*",
        "not ",
        "`!` is written `not`",
        "Conditions are put together with the words `and`, `or` and `not`.",
        rules=_STEP,
    ),
    Habit(
        r"\b(AND|OR|NOT|And|Or|Not)\b",
        lambda word: word.group().casefold(),
        "`{seen}` is written in small letters",
        "Capitals matter here: the words of the language are small.",
        rules=_STEP,
    ),
    Habit(
        rf"^((?:when|whenever|if|wait|while|until|once)\b.*?)\b(?!(?:{STATES})\b){_NO_WORD}({NAME})"
        rf"\s+(or|and)\s+({NAME})\s+({STATES})\b",
        r"\1\2 \5 \3 \4 \5",
        "each side of `and` and `or` is a whole condition",
        "Say of each sensor what it answers.",
        rules=_STEP,
    ),
    Habit(
        rf"\b({NAME})\s+sees\s+({NAME})\s+(or|and)\s+({NAME})(?=\s*[,)]|\s+for\b)",
        r"\1 sees \2 \3 \1 sees \4",
        "each side of `and` and `or` is a whole condition",
        "Say each time what is asked.",
        rules=_STEP,
    ),
    Habit(
        rf"({_SUBJECT})\s*(<=|>=|<|>)\s*({NUMBER})\s+(and|or)\s+({NUMBER})\s*({UNIT})",
        r"\1 \2 \3 \6 \4 \1 \2 \5 \6",
        "each side of `and` and `or` is a whole condition",
        "Say each time what is compared with the number.",
        rules=_STEP,
    ),
    Habit(
        r"\b(\d+)\s+(?:out\s+of|from|in)\s+(?:the\s+last\s+)?(\d+)\b(?:\s*(?:looks|times|passes))?",
        r"\1 of \2 looks",
        "`{seen}` is written with `of`: `for 3 of 5 looks`",
        "In how many of how many looks it must be so.",
        rules=_STEP,
    ),
    Habit(
        r"(?<!\bfor)\s+(?P<here>\d+\s+of\s+\d+\s+looks)",
        r" for \1",
        "in front of `{seen}` stands `for`",
        "It reads `for 3 of 5 looks`.",
        rules=_STEP,
    ),
    Habit(
        rf"\b({NAME})\s+(?:was|has\s+been|had\s+been|got)\s+({STATES})\b",
        r"once \1 \2",
        "what has been is asked with `once` in front",
        "It reads `once bumper pressed`: true from the first moment it was.",
        rules=_STEP,
    ),
    Habit(
        r"\bstays\s+(?:in|inside|inside\s+of|under|below|less\s+than)\s+(?=\d)",
        "stays within ",
        "`{seen}` is written `stays within`",
        "It reads `drive travelled stays within 1 cm for 0.4 s`.",
        rules=_STEP,
    ),
    Habit(
        r"\bfor\s+(\d+)\s+of\s+(\d+)(?:\s+(?:times|passes|readings))?(?=\s*[,)])",
        r"for \1 of \2 looks",
        "a count of looks ends with `looks`",
        "It reads `for 3 of 5 looks`.",
        rules=_STEP,
    ),
    Habit(
        r"\bfor\s+(\d+)\s+(?:looks|times|passes|readings)(?:\s+in\s+a\s+row)?(?=\s*[,)])",
        r"for \1 of \1 looks",
        "a count of looks says out of how many",
        "It reads `for 3 of 5 looks`: in 3 of the last 5.",
        rules=_STEP,
    ),
    Habit(
        rf"({_SUBJECT}\s+stays\s+within\s+{VALUE})(?=\s*,)",
        r"\1 for 0.4 s",
        "`stays within` does not say for how long",
        "It reads `drive travelled stays within 1 cm for 0.4 s`.",
        rules=_STEP,
    ),
    Habit(
        rf"\b({NAME}\s+(?:{STATES}))\s+(?:at\s+least\s+)?once\b",
        r"once \1",
        "`once` stands in front",
        "It reads `once bumper pressed`: true from the first moment it was.",
        rules=_STEP,
    ),
    Habit(
        r"\b(?:the\s+)?match[\s_-]*(?:time|clock|timer)\b",
        "match",
        "`{seen}` is written `match` alone",
        "It reads `match < 20 s`.",
        rules=_STEP,
    ),
    Habit(
        r"\b(?:the|an?)\s+(?=[A-Za-z_])",
        "",
        "leave out `{seen}`",
        "Names stand alone here, without `the` or `a`.",
        rules=_STEP,
    ),
    Habit(
        rf"\s*{_EQUALS}\s*(?P<number>{NUMBER})\s*(?P<unit>{UNIT})",
        _within,
        "a reading is never exactly equal to a number",
        "The robot looks some 50 times a second and may jump over the exact value. Say how near "
        "is near enough with `within`, or use `<` or `>`.",
        rules=_STEP,
    ),
    Habit(
        r"\bfor\s+(?:at\s+least|more\s+than|about|over)\s+(?=\d)",
        "for ",
        "`{seen}` is just `for`",
        "`for 0.1 s` means it has been so for at least that long.",
        rules=_STEP,
    ),
    Habit(
        r"\s*(?:\bis\s+)?\b(?:less|lower|smaller|closer|nearer)\s+than\b\s*|"
        r"\s*(?:\bis\s+)?\b(?:below|under)\b\s*",
        " < ",
        "`{seen}` is written `<`",
        "Numbers are compared with `<`, `<=`, `>` and `>=`.",
        rules=_STEP,
    ),
    Habit(
        r"\s*(?:\bis\s+)?\b(?:more|greater|higher|bigger|larger|further|farther)\s+than\b\s*|"
        r"\s*(?:\bis\s+)?\b(?:above|over)\b\s*",
        " > ",
        "`{seen}` is written `>`",
        "Numbers are compared with `<`, `<=`, `>` and `>=`.",
        rules=_STEP,
    ),
    Habit(
        rf"\s*(?:\bis\s+)?\bat\s+least\b\s*(?={NUMBER})(?!\d+\s*(?:times?|x|tries)\b)",
        " >= ",
        "`{seen}` is written `>=`",
        "Numbers are compared with `<`, `<=`, `>` and `>=`.",
        rules=_STEP,
    ),
    Habit(
        rf"({_SUBJECT})\s+(?:is\s+)?between\s+({VALUE})\s+(?:and|to)\s+({VALUE})",
        r"\1 > \2 and \1 < \3",
        "`between` is said with two comparisons",
        "Or with `within`: how far off, and of what.",
        rules=_STEP,
    ),
    Habit(
        rf"\s*{_EQUALS}\s*(?={NAME})",
        " ",
        "leave out `{seen}` between a sensor and its answer",
        "A sensor's name and its answer stand side by side: `bumper pressed`. Colours and camera "
        "values take `sees`: `floor_eye sees red`.",
        rules=_STEP,
    ),
    Habit(
        rf"(?P<value>{QUANTITY})\s*(?P<sign><=|>=|<|>)\s*(?P<name>{_SUBJECT})",
        _turned_round,
        "the sensor comes first, then the number",
        "Read it aloud: what is measured, then what it is compared with.",
        rules=_STEP,
    ),
    Habit(
        rf"({_SUBJECT})\s*(<=|>=|<|>)\s*({VALUE})\s+(and|or)\s+(?=[<>])",
        r"\1 \2 \3 \4 \1 ",
        "the second comparison has no sensor",
        "Each side of `and` and `or` is a whole condition of its own.",
        rules=_STEP,
    ),
    Habit(
        rf"^(?P<front>when\s+(?:.*\b(?:and|or|not)\s+)?)(?P<name>{_SUBJECT})\s+"
        rf"(?P<here>(?P<number>{NUMBER})\s*(?P<unit>{UNIT}))"
        r"(?=\s*[,)]|\s+(?:and|or)\b)",
        _compared,
        "between a sensor and a number stands a sign",
        "`<` is less than, `>` is more than; `within 2 deg of 90 deg` is near enough.",
        rules=_STEP,
    ),
    Habit(
        r"^([^()]*\((?:[^()]*\([^()]*\))*[^()]*?)(?P<here>,)(?=\s*go to)",
        r"\1),",
        "a parenthesis is not closed",
        "Each `(` needs its `)`.",
        rules=_STEP,
    ),
    Habit(
        r"^when\s+(?:true|always|True)(?=,)",
        "after 0.1 s",
        "a step cannot be left at once",
        "If there is nothing to wait for, give the step a short time.",
        rules=_STEP,
    ),
)
