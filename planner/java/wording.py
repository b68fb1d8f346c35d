"""Text and numbers of a user as Java source, where nothing in them can be taken for Java.

A compiler turns a backslash with a `u` behind it into a character before it looks at anything
else, in comments and strings too (Java Language Specification, Java SE 8, section 3.3), unless
another backslash stands in front. So every backslash of a user is doubled.
"""

from __future__ import annotations

import unicodedata
from fractions import Fraction

from planner.java.errors import CannotExport
from planner.model.units import decimal_text

LONGEST_COMMENT = 300
LONGEST_STRING = 120

_LARGEST_LONG = 2**63 - 1
_LARGEST_INT = 2**31 - 1
_MICROSECOND_NANOS = 1000

_RIGHT_TO_LEFT = frozenset({"R", "AL", "AN"})


def comment(text: str) -> str:
    """Text inside of a comment of either kind, on one line, cut where it is very long.

    Printable letters stay readable; what turns the line round or hides is written as an escape.
    """
    shown = "".join(_in_comment(ch) for ch in _cut(text, LONGEST_COMMENT))
    return shown.replace("*/", "* /").replace("/*", "/ *")


def string(text: str, most: int = LONGEST_STRING) -> str:
    """A string literal, quotes included; everything outside of ASCII is escaped."""
    return f'"{"".join(_in_string(ch) for ch in _cut(text, most))}"'


def name(text: str) -> str:
    """A name of the plan as a string literal, never cut: two of them may begin alike."""
    return string(text, len(text))


def double(number: Fraction) -> str:
    """A double literal; a number too large for one is infinite, which compares just so."""
    try:
        return repr(float(number))
    except OverflowError:
        return f"Double.{'POSITIVE' if number > 0 else 'NEGATIVE'}_INFINITY"


def time(microseconds: int) -> str:
    """A time as a Java expression in nanoseconds, exact: ``seconds(4)``, ``millis(1500)``.

    Raises `CannotExport` for a time past the end of `long` (292 years).
    """
    if microseconds * _MICROSECOND_NANOS > _LARGEST_LONG:
        raise CannotExport(
            f"{decimal_text(Fraction(microseconds, 1_000_000))} s is too long a time"
        )
    for method, size in (("seconds", 1_000_000), ("millis", 1000)):
        if microseconds % size == 0:
            return f"{method}({_long(microseconds // size)})"
    return f"micros({_long(microseconds)})"


def count(number: int) -> str:
    """An int literal; raises `CannotExport` for a count past the end of `int`."""
    if number > _LARGEST_INT:
        raise CannotExport(f"{number} times is more than can be counted")
    return str(number)


def _long(number: int) -> str:
    return f"{number}L" if number > _LARGEST_INT else str(number)


def _cut(text: str, most: int) -> str:
    return text if len(text) <= most else text[: most - 3] + "..."


def _in_comment(ch: str) -> str:
    if ch == "\\":
        return "\\\\"
    hidden = not ch.isprintable() or unicodedata.bidirectional(ch) in _RIGHT_TO_LEFT
    return _escaped(ch) if hidden else ch


def _in_string(ch: str) -> str:
    if ch in '"\\':
        return f"\\{ch}"
    if ch < " " or ch == "\x7f":
        # An octal escape: as a Unicode escape a line end would end the string's line.
        return f"\\{ord(ch):03o}"
    return ch if ch < "\x7f" else _escaped(ch)


def _escaped(ch: str) -> str:
    if ch in "\n\r":
        return " "
    units = ch.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[i]:02x}{units[i + 1]:02x}" for i in range(0, len(units), 2))
