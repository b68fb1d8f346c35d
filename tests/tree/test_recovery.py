"""One slip never hides the rest: each kind of slip, and what is still read."""

from __future__ import annotations

import pytest

from planner.text import Source, decode
from planner.tree import Parsed, parse_robot, parse_routine
from planner.tree import nodes as n

ROUTINE = """\
routine example
step Approach "to the post"
  drive forward 40 %
  when bumper pressed, go to Lit
  after 3 s, go to GiveUp
finish Lit
finish GiveUp
"""


def routine(text: str) -> Parsed:
    """The tree of a routine's text."""
    return parse_routine(Source("example.routine", text))


def slips(parsed: Parsed) -> list[tuple[str, int, str]]:
    """Check, line and words of each slip."""
    return [(slip.check, slip.place.line, slip.place.words) for slip in parsed.slips]


@pytest.mark.parametrize("number", range(1, 8))
@pytest.mark.parametrize("slip", ["!", "?? ??", ",", ")", "\N{SNOWMAN}", "9 lives", "-"])
def test_a_slip_spoils_its_own_line_only(number: int, slip: str) -> None:
    """Whatever is typed at the end of one line, that line alone is reported."""
    lines = ROUTINE.splitlines()
    lines[number - 1] += f" {slip}"
    read = routine("\n".join(lines))
    assert [("unreadable-line", number)] == [(check, line) for check, line, _ in slips(read)]
    assert ["Approach", "Lit", "GiveUp"] == heads(read)


def heads(parsed: Parsed) -> list[str]:
    """The names of the steps and finishes that were read."""
    lines = parsed.file.lines
    return [
        line.statement.name.text
        for line in lines
        if isinstance(line.statement, n.StepHead | n.FinishHead)
    ]


@pytest.mark.parametrize(
    ("line", "words"),
    [
        ("step Grip no title", "no"),
        ("step", ""),
        ("setting cruise 40 %", "40"),
        ("limit thirty s", "thirty"),
        ("at 26 s of game, go to Dock", "game"),
        ("start", ""),
        ("step A\n  when bumper pressed go to Lit", "go"),
        ("step A\n  when bumper is pressed, go to Lit", "is"),
        ("step A\n  after 3 s, goto Lit", "goto"),
        ("step A\n  after 3 s, go to Lit, at most two times, then Lit", "two"),
        ("step A\n  when range < 3 < 4 cm, go to Lit", "<"),
        ("step A\n  when (a on or b on, go to Lit", ","),
        ("step A\n  drive forward 40 50", "50"),
        ("finished", "finished"),
        ("stepGrip", "stepGrip"),
        ("step A\n  after 3 s, go toLit", "toLit"),
    ],
)
def test_the_slip_points_at_the_word(line: str, words: str) -> None:
    """An unreadable line is reported at its first word that does not fit, or past its end."""
    read = routine(line)
    assert [words] == [found for check, _, found in slips(read) if check == "unreadable-line"]


def test_past_the_end() -> None:
    """Where a word is missing at the end, the place is one past the last word."""
    read = routine("step A\n  after 3 s   # soon\n")
    (slip,) = read.slips
    assert (2, 12, 13) == (slip.place.line, slip.place.column, slip.place.end_column)


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ('step Grip "open\nfinish Lit', ["Grip", "Lit"]),
        ("stpe Grip\nfinish Lit", ["Grip", "Lit"]),
        ("Step Grip\nfinihs Lit now", ["Grip", "Lit"]),
        ("step Grip: take it\nfinish Lit", ["Grip", "Lit"]),
        ("step 1Grip\nfinish Lit", ["Grip", "Lit"]),
    ],
)
def test_heads_are_salvaged(text: str, names: list[str]) -> None:
    """A broken head still declares its name, so that exits to it are no second slip."""
    kept = [name for name in heads(routine(text)) if name in ("Grip", "Lit")]
    assert names == kept


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", b"\xef\xbb\xbf"])
@pytest.mark.parametrize("indent", [" ", "  ", "    ", "\t", "\t\t", "   \t"])
def test_any_editor_gives_the_same_tree(end: str, mark: bytes, indent: str) -> None:
    """Line ends, a byte order mark, tabs or spaces: the tree is the same."""
    text = ROUTINE.replace("  ", indent).replace("\n", end)
    read = routine(decode(mark + text.encode()))
    assert ((), routine(ROUTINE).file) == (read.slips, read.file)


def test_the_last_line_needs_no_end() -> None:
    """A file that stops without a line end is read whole."""
    assert routine(ROUTINE).file == routine(ROUTINE.rstrip("\n")).file


@pytest.mark.parametrize("text", ["", "\n\n", "# only this", "   \t \n", "\ufeff" * 0])
def test_nothing_is_nothing(text: str) -> None:
    """A file that says nothing has no lines and no slip of its text."""
    assert ((), ()) == (routine(text).file.lines, routine(text).slips)


@pytest.mark.parametrize(
    ("line", "title", "comment"),
    [
        ('step A "one # two" # three', "one # two", "# three"),
        ('step A "one" # "two" # three', "one", '# "two" # three'),
        ("step A # it's", "", "# it's"),
        ('step A "#"', "#", ""),
        ('step A "k\xe4se \N{BUTTERFLY} \\u0041 %n */ </svg>"', None, ""),
    ],
)
def test_hashes_and_titles(line: str, title: str | None, comment: str) -> None:
    """A hash in a title starts no comment, a quote in a comment no title; a title is verbatim."""
    (read,) = routine(line).file.lines
    assert isinstance(read.statement, n.StepHead)
    expected = line[line.index('"') + 1 : -1] if title is None else title
    assert (expected, comment) == (read.statement.title, read.trail)


def test_a_megabyte_in_a_line() -> None:
    """A line of a megabyte is one slip, whatever it is made of."""
    for filling in ("#", '"', "(", "a", " ", "a ", ",", '"#', "not ("):
        text = "step A\n  when " + filling * (1_000_000 // len(filling)) + "\nfinish Lit"
        assert ["A", "Lit"] == heads(routine(text))


@pytest.mark.parametrize(("depth", "whole"), [(19, True), (20, True), (21, False), (200, False)])
def test_deep_parentheses(depth: int, whole: bool) -> None:
    """Parentheses may be 20 deep; past that the line is one slip that says so."""
    text = f"step A\n  when {'(' * depth}bumper pressed{')' * depth}, go to A"
    (step,) = routine(text).file.lines
    assert whole == isinstance(step.under[0].statement, n.When)
    expected = [] if whole else ["unreadable-line"]
    assert expected == [slip.check for slip in routine(text).slips]


def test_deep_indentation() -> None:
    """Lines indented ever deeper, 900 of them, are read without harm."""
    text = "\n".join(" " * depth + "step A" for depth in range(900))
    assert 900 == len(heads(routine(text)))


def test_robot_devices_under_a_broken_hub() -> None:
    """The devices under a hub whose line is broken are read all the same."""
    read = parse_robot(Source("x.bot", "hbu main\n  motor 0 left\n  servo 0 claw\n"))
    (hub,) = read.file.lines
    assert ["left", "claw"] == [
        line.statement.name.text for line in hub.under if isinstance(line.statement, n.Device)
    ]


def test_every_slip_is_in_the_text_once() -> None:
    """A file in which every line is broken has one slip a line."""
    text = "\n".join(line + " !" for line in ROUTINE.splitlines())
    assert list(range(1, 8)) == [line for _, line, _ in slips(routine(text))]
