"""Signs: what word processors, other languages and other countries put for ours."""

from __future__ import annotations

import re
import unicodedata

from planner.checks.habits.habit import NAME, NUMBER, UNIT, Habit
from planner.checks.unit_words import UNIT_WORDS
from planner.model.units import UNITS

# Letters of other alphabets, and Latin ones with marks; the units `°` and `µ` are outside of it.
_FOREIGN = "\u00c0-\u024f\u0370-\u1fff\u2c00-\ud7ff"

# What word processors make of an apostrophe and of a minus sign.
_SINGLE = "'`\u2018\u2019\u201a"
_DASHES = "\u2212\u2013\u2014\u2012"

_PLAIN_LETTERS = str.maketrans(
    {"ä": "ae", "ö": "oe", "ü": "ue", "Ä": "Ae", "Ö": "Oe", "Ü": "Ue", "ß": "ss", "æ": "ae",
     "ø": "oe", "å": "aa", "ł": "l", "đ": "d"}
)  # fmt: skip


def _plain(word: re.Match[str]) -> str:
    """A name in plain letters: accents dropped, umlauts spelled out."""
    spelled = unicodedata.normalize("NFKD", word.group().translate(_PLAIN_LETTERS))
    return spelled.encode("ascii", "ignore").decode()


def _digits_last(word: re.Match[str]) -> str:
    """``2nd_post`` as ``post_2``; a number with its unit is left alone."""
    digits, rest = word.groups()
    if rest in UNITS or rest.casefold() in UNIT_WORDS:
        return word.group()
    return f"{rest}_{digits}"


_NUMBERS = {"half a": "0.5", "half an": "0.5", "a": "1", "an": "1", "one": "1", "two": "2",
            "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8",
            "nine": "9", "ten": "10", "twenty": "20", "thirty": "30"}  # fmt: skip
_LONG_UNITS = "|".join(sorted(UNIT_WORDS, key=len, reverse=True))


def _in_digits(words: re.Match[str]) -> str:
    """``three seconds`` as ``3 s``."""
    number = _NUMBERS[" ".join(words.group(1).casefold().split())]
    return f"{number} {UNIT_WORDS[words.group(2).casefold()]}"


SIGNS: tuple[Habit, ...] = (
    Habit(
        rf"\b(?i:({'|'.join(_NUMBERS).replace(' ', chr(92) + 's+')})\s+({_LONG_UNITS}))\b",
        _in_digits,
        "a number is written in digits, with its short unit: not `{seen}`",
        "Such as `3 s`.",
    ),
    Habit(
        "[\u00a0\u2000-\u200a\u202f\u3000]",
        " ",
        "there is an invisible special space in this line",
        "It comes along when text is copied from a web page or a word processor, and only looks "
        "like a space. Delete it and press the space bar.",
    ),
    Habit(
        "[\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\u00ad]",
        "",
        "there is an invisible character in this line",
        "It comes along when text is copied from a web page or a chat. Delete the word it is in "
        "and type it again.",
    ),
    Habit(
        "[“”„‟«»″]",
        '"',
        'the quotes {seen} are not the plain `"`',
        "A word processor bends quotes; plans need the straight ones of a text editor.",
    ),
    Habit(
        rf"(?<!\w)[{_SINGLE}](?=\w[^{_SINGLE}]*[{_SINGLE}])|(?<=\w)[{_SINGLE}](?=\s*[{{:;]*$)",
        '"',
        'a title stands in double quotes `"`, not in `{seen}`',
        "Use the straight double quote on both sides.",
    ),
    Habit(
        r'^((?:[^"]*"[^"]*")*[^"]*"[^"]*?)\s*([{:;]*)$',
        r'\1"\2',
        "the title is not closed",
        'A title ends with a second `"` on the same line.',
    ),
    Habit(
        rf'"({NUMBER}\s*{UNIT}?)"',
        r"\1",
        "a number stands without quotes",
        "Only titles stand in quotes.",
    ),
    Habit(
        r"\s*(?://|--(?![->])|/\*)\s*(.*?)\s*(?:\*/)?$",
        r"  # \1",
        "a comment starts with `#` here",
        "Everything after `#` is for people only; the planner skips it.",
    ),
    Habit(
        r"(?<=\d),(?=\d{3}\s*(?:ticks|ms|mm|us|mV)\b)",
        "",
        "a number has no comma between its thousands",
        "A comma separates two numbers here. Write all the digits in one go.",
    ),
    Habit(
        r"(?<=\d) (?=\d{3}\b)",
        "",
        "a number has no space between its digits",
        "Write all the digits in one go.",
    ),
    Habit(
        r"(?<=\d),(?=\d)",
        ".",
        "a decimal number is written with a point, not a comma",
        "A comma separates two numbers here.",
    ),
    Habit(
        r"(?<![\w.])\.(?=\d)",
        "0.",
        "a number starts with a digit",
        "Put a zero before the point.",
    ),
    Habit(
        r"(?<=\d)\.(?=\s*[A-Za-z%])",
        "",
        "the point in `{seen}` has no digits after it",
        "Leave it out, or write the digit that belongs there.",
    ),
    Habit(
        rf"(?<![\w)\"%])\s*[{_DASHES}]\s*(?=[\w])",
        " -",
        "the long dash `{seen}` is not a minus sign",
        "A word processor makes dashes longer. The minus sign is the short `-` of the keyboard.",
    ),
    Habit(
        r"(?<=[<>=] )-\s+(?=\d)",
        "-",
        "the minus sign stands apart from its number",
        "Put it straight in front of the first digit.",
    ),
    Habit("≥", ">=", "`≥` is written `>=`", "Plans use the signs of the keyboard."),
    Habit("≤", "<=", "`≤` is written `<=`", "Plans use the signs of the keyboard."),
    Habit(
        r"=>(?=\s*[-\d])",
        ">=",
        "`=>` is written `>=`",
        "First greater or less, then equal, as you say it aloud.",
    ),
    Habit("=<", "<=", "`=<` is written `<=`", "First less, then equal, as you say it aloud."),
    Habit(
        rf"\s*,?\s*(?:-+>|=+>|→|⇒)\s*(?={NAME}\b)",
        ", go to ",
        "an arrow is written `, go to`",
        "An exit says in words where it leads.",
        rules=("step_line", "file_line", "finish_line"),
    ),
    Habit(
        rf"[\w{_FOREIGN}]*[{_FOREIGN}][\w{_FOREIGN}]*",
        _plain,
        "the name `{seen}` has a letter that names cannot have",
        "Names are made of the letters a to z, digits and `_`, because they also become names in "
        "Java. In a title in quotes every letter is welcome.",
    ),
    Habit(
        r"(?<![\w.+-])(?!0x)(\d+)(?:st|nd|rd|th)?_?([A-Za-z]\w*)",
        _digits_last,
        "the name `{seen}` starts with a digit",
        "A name starts with a letter; digits may follow.",
    ),
    Habit(
        r"(?<=[A-Za-z0-9_])-(?=[A-Za-z])",
        "_",
        "a name has no hyphen in it",
        "A `-` is a minus sign here. Join the words of a name with `_`.",
    ),
    Habit(
        r"(?<=[^\s;:{}.])(?:\s*[;:{}.])+\s*$",
        "",
        "nothing stands at the end of a line: no `{seen}`",
        "In a plan the end of the line ends it, and indentation shows what belongs together.",
        minor=True,
    ),
)
