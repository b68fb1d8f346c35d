"""The exporter against the published rules of the Java language and its class files."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from planner.java import CannotExport
from planner.java.limits import MOST_IN_A_PLAN, MOST_IN_A_STEP, MOST_MEMORIES, MOST_STEPS
from planner.java.naming import (
    KEYWORDS,
    NOT_NAMES,
    class_name,
    constant_name,
    distinct,
    member_name,
)
from planner.java.wording import (
    LONGEST_COMMENT,
    LONGEST_STRING,
    comment,
    count,
    double,
    string,
    time,
)

# The Java Language Specification, Java SE 7 edition, section 3.9, "Keywords", and the Java
# Tutorials, "Java Language Keywords". The list of SE 8 is the same (from memory).
PUBLISHED_KEYWORDS = """
abstract continue for new switch assert default if package synchronized boolean do goto private
this break double implements protected throw byte else import public throws case enum instanceof
return transient catch extends int short try char final interface static void class finally long
strictfp volatile const float native super while
"""


def test_keywords() -> None:
    """All 50 keywords, unused ones too, and the three literals are no names (JLS 3.9, 3.10)."""
    published = set(PUBLISHED_KEYWORDS.split())

    assert 50 == len(published)
    assert published == KEYWORDS
    assert published | {"true", "false", "null"} <= NOT_NAMES


@pytest.mark.parametrize("name", sorted(NOT_NAMES - {"_"}))
def test_no_keyword_is_ever_a_name(name: str) -> None:
    """A plan's name that Java keeps for itself becomes another one (JLS 3.8, 3.9)."""
    given_names = distinct({"plan": name, "other": f"{name}_device"}, member_name, "device")

    assert [] == [java for java in given_names.values() if java in NOT_NAMES]
    assert 2 == len(set(given_names.values()))


_NAMES = st.from_regex(r"[A-Za-z_][A-Za-z0-9_]{0,6}", fullmatch=True)


@given(st.lists(_NAMES, unique=True, max_size=12), st.sampled_from(["Step", "device"]))
@example(["back_off", "backOff", "BackOff", "back__off", "BackOffStep", "back_off_step"], "Step")
@example(["_", "__", "_1", "step", "Step"], "Step")
@example(["aux", "CON", "con", "Con", "lpt1", "LPT1"], "Step")
def test_names_stay_apart_and_are_identifiers(names: list[str], role: str) -> None:
    """Different names stay different in Java, and each is an identifier (JLS 3.8)."""
    for shape in (class_name, member_name, constant_name):
        given_names = distinct({name: name for name in names}, shape, role)
        java = list(given_names.values())
        assert names == list(given_names)
        assert len(names) == len(set(java))
        assert [] == [name for name in java if not re.fullmatch(r"[A-Za-z_]\w*", name, re.ASCII)]
        assert [] == [name for name in java if name in NOT_NAMES]
        if shape is class_name:
            # On Windows and macOS files that differ only in case are one file (from memory).
            assert len(names) == len({name.casefold() for name in java})


def test_a_name_that_was_asked_for_is_nobody_else_s() -> None:
    """Of names that fall together the first keeps its own; none takes what another wanted."""
    names = ["back_off", "BackOff", "BackOffStep", "backOffStep2"]

    assert {
        "back_off": "BackOff",
        "BackOff": "BackOffStep3",
        "BackOffStep": "BackOffStep",
        "backOffStep2": "BackOffStep2",
    } == distinct({name: name for name in names}, class_name, "Step")


# --- the text of a file -----------------------------------------------------------------------


def translated(source: str) -> str:
    """A source text as a compiler sees it, its Unicode escapes replaced (JLS 3.3).

    A backslash may begin an escape only if an even number of backslashes stands before it; any
    number of `u` may follow; four hexadecimal digits must; what comes out is not looked at again.
    Raises ValueError where a compiler would.
    """
    out, at, backslashes = [], 0, 0
    while at < len(source):
        if source[at] == "\\" and backslashes % 2 == 0 and source[at + 1 : at + 2] == "u":
            found = re.compile(r"u+([0-9A-Fa-f]{4})").match(source, at + 1)
            if not found:
                raise ValueError("illegal unicode escape")
            out.append(chr(int(found[1], 16)))
            at = found.end()
            backslashes = 0
            continue
        backslashes = backslashes + 1 if source[at] == "\\" else 0
        out.append(source[at])
        at += 1
    return "".join(out)


def literal_value(literal: str) -> str:
    """What a string literal means (JLS 3.10.5, 3.10.6). Raises ValueError where it is none."""
    source = translated(literal)
    if not re.fullmatch(r'"(?:[^"\\\r\n]|\\(?:[btnfr"\'\\]|[0-3]?[0-7]{1,2}))*"', source):
        raise ValueError(f"no string literal: {literal}")
    units = re.sub(r"\\([0-3]?[0-7]{1,2})|\\(.)", _escape, source[1:-1])
    return units.encode("utf-16-be", "surrogatepass").decode("utf-16-be", "surrogatepass")


def _escape(found: re.Match[str]) -> str:
    if found[1]:
        return chr(int(found[1], 8))
    return {"b": "\b", "t": "\t", "n": "\n", "f": "\f", "r": "\r"}.get(found[2], found[2])


# Each traps the emitter that copies a user's text; verdicts of `javac 17 --release 8`, as noted
# in the project's table of check values: the first two do not compile, the third runs as code.
TRAPS = (
    r"C:\users\robot",
    r"see \unit",
    r"\u000a x=2;",
    r"a\u0022;",
    r"a\u000ab",
    r"\\u0041",
    r"\u002a\u002f",
    r"\u005cu005a",
    r"\uuuu0041",
    "*/",
    "/* */ */",
    "*\\u002f",
    "ends in \\",
    'a "quoted" word',
    "100 %n %s",
    "\u202eright to left \u05d0",
    "line\u2028end \u2029 \x0c \x1a \x00",
    "\U0001f916 \ud800",
)


def test_the_lexer_of_this_test() -> None:
    """The reader used here agrees with the published examples (JLS 3.3; `javac 17 --release 8`)."""
    assert "A" == translated(r"\u0041") == translated(r"\uuuu0041")
    assert r"\\u0041" == translated(r"\\u0041")
    assert r"\u0041" == literal_value(r'"\\u0041"')
    # What comes out of an escape is not looked at again: six characters, JLS 3.3's own example.
    assert r"\u005a" == translated(r"\u005cu005a")
    assert "*/" == translated(r"\u002a\u002f")
    for wrong in (r"// C:\users\robot", r"/* see \unit */"):
        with pytest.raises(ValueError, match="illegal unicode escape"):
            translated(wrong)
    assert 'x"' == translated(r"x\u0022")
    with pytest.raises(ValueError, match="no string literal"):
        literal_value(r'"a\u000ab"')


@given(st.text(max_size=LONGEST_STRING))
@example(TRAPS[0])
@pytest.mark.parametrize("trap", TRAPS)
def test_a_string_means_what_the_user_wrote(trap: str, text: str) -> None:
    """A string literal gives a compiler the user's text letter by letter (JLS 3.3, 3.10.5)."""
    for wanted in (trap, text, trap + text, text + trap):
        if len(wanted) <= LONGEST_STRING:
            assert wanted == literal_value(string(wanted))
        assert string(wanted).isascii()


@given(st.text(max_size=40))
@example(TRAPS[0])
@pytest.mark.parametrize("trap", TRAPS)
def test_a_comment_stays_a_comment(trap: str, text: str) -> None:
    """A user's text neither ends a comment of either kind nor breaks it (JLS 3.3, 3.4, 3.7)."""
    for wanted in (trap, text, trap + text, text + trap, trap * 90):
        written = comment(wanted)
        assert 1 == len(f"x{written}x".splitlines())
        # Line terminators are CR and LF (JLS 3.4).
        assert [] == re.findall(r"[\r\n]|\*/", translated(written))
        assert len(written) <= 6 * 2 * LONGEST_COMMENT


# --- numbers ----------------------------------------------------------------------------------


def test_number_literals() -> None:
    """No literal is out of range: 2147483648 and 1e400 are errors (JLS 3.10.1, 3.10.2)."""
    assert "2147483647" == count(2**31 - 1)
    assert ["seconds(30)", "millis(2500)", "micros(30000001)", "seconds(0)"] == [
        time(us) for us in (30_000_000, 2_500_000, 30_000_001, 0)
    ]
    assert ["seconds(2147483647)", "seconds(2147483648L)"] == [
        time(seconds * 1_000_000) for seconds in (2**31 - 1, 2**31)
    ]
    longest = (2**63 - 1) // 1000
    assert f"micros({longest}L)" == time(longest)
    for too_large in (lambda: time(longest + 1), lambda: count(2**31)):
        with pytest.raises(CannotExport):
            too_large()
    assert "Double.POSITIVE_INFINITY" == double(Fraction(10) ** 400)
    assert "Double.NEGATIVE_INFINITY" == double(-(Fraction(10) ** 400))
    # A leading zero would be octal (010 is 8), and 1e-400 is an error where 0.0 is meant.
    assert ["0.0", "8.0", "-0.5", "1e+16", "1e-07"] == [
        double(Fraction(text)) for text in ("1e-400", "08", "-0.5", "1e16", "1e-7")
    ]


def test_class_file_limits() -> None:
    """The largest plan that is taken lies below the limits of class files; tests/java compiles it.

    Code of a method: at most 65535 bytes (JVMS 4.7.3). Constants of a class: at most 65535 (JVMS
    4.1). Measured with javac 17: an enum of 4103 bare constants, a switch of 9441 cases.
    """
    assert MOST_STEPS < 4103
    # Filling an enum takes 31 bytes a constant, 23 to make it and 8 to put it into the array of
    # all; asking a step takes about 9.
    assert MOST_STEPS * 31 < 65536
    # An exit or a part of a condition takes at most about 60 bytes, and about six constants.
    assert MOST_IN_A_STEP * 60 < 65536
    assert MOST_IN_A_PLAN * 6 < 65536
    # Making a memory takes at most 24 bytes of the constructor: aload, new, dup, two ldc2_w, ldc,
    # invokestatic, invokespecial, putfield.
    assert MOST_MEMORIES * 24 < 65536
    # A string literal holds at most 65535 bytes, three to a letter outside of ASCII.
    assert LONGEST_STRING * 3 < 65536
