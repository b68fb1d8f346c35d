"""Random text through the whole pipeline: from our own grammar, and edits of the demo files."""

from __future__ import annotations

from typing import Any

import pytest
from demo import ROUTINES, moth_robot
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.lark import from_lark
from lark.lexer import PatternStr

from planner.findings import Finding
from planner.pipeline import check_robot, check_routine, read_robot
from planner.text import Source
from planner.tree import Parsed, format_file, parse_robot, parse_routine
from planner.tree.build import LineBuilder
from planner.tree.format import format_statement
from planner.tree.language import ROBOT, ROUTINE, Language

DEMO = {
    path.name: path.read_text(encoding="utf-8")
    for path in (*sorted(ROUTINES.iterdir()), ROUTINES / "gallery" / "side_by_side.routine")
    if path.suffix in (".routine", ".bot")
}
LANGUAGES = {"robot": ROBOT, "routine": ROUTINE}


# Names that mean something to the demo robot or to each other, and some that do not.
NAMES = (
    *("drive", "forward", "turn", "done", "travelled", "arm", "to", "claw", "open", "stop", "keep"),
    *("bumper", "pressed", "range_front", "gyro", "tin_gate", "broken", "post_mark", "left"),
    *("floor_eye", "red", "left_wheels", "claw_servo", "power", "moth", "main", "cruise"),
    *("Approach", "Grip", "Lit", "GiveUp", "x", "_", "Step2", "when", "sees", "for", "of", "match"),
    *("far", "side", "shots", "yes", "height", "lane1"),
)
UNITS_TRIED = ("s", "ms", "us", "cm", "in", "deg", "turns", "%", "V", "ticks", "rpm", "kg", "m/s")


def lines_of(language: Language, start: str) -> st.SearchStrategy[str]:
    """Lines that the grammar allows under a start rule.

    The strategy puts nothing between two words, so every word brings its own space; a name is
    none of the language's own words where the two could be mixed up.
    """
    terminals, _, _ = language.lark.grammar.compile([start], ())
    own = {str(t.pattern.value) for t in terminals}
    fixed = [t for t in terminals if isinstance(t.pattern, PatternStr)]
    words = {str(t.name): st.just(f"{t.pattern.value} ") for t in fixed}
    words |= {
        "NAME": st.sampled_from([name for name in NAMES if name not in own]),
        "UNIT": st.sampled_from(UNITS_TRIED),
        "NUMBER": st.from_regex(r"-?[0-9]{1,8}(\.[0-9]{1,8})?", fullmatch=True),
        "TITLE": st.from_regex(r'"[^"#\n\r]*"', fullmatch=True),
        "COMPARISON": st.sampled_from(["<", "<=", ">", ">="]),
        "ALL_LANES": st.just("all lanes "),
        "ANY_LANE": st.just("any  lane "),
        "ADDRESS": st.sampled_from(["0x29", "0x7f"]),
        "DIGITAL_KIND": st.sampled_from(["touch", "switch", "beam", "lamp"]),
        "LASTS": st.sampled_from(["runs", "holds"]),
        "LAMP_STATE": st.sampled_from(["on", "off"]),
    }
    regular = {name: words[name].map("{} ".format) for name in words if name in _REGULAR}
    known = {str(t.name) for t in terminals}
    explicit = {name: way for name, way in {**words, **regular}.items() if name in known}
    return from_lark(language.lark, start=start, explicit=explicit)


_REGULAR = {
    *("NAME", "UNIT", "NUMBER", "TITLE", "COMPARISON", "ADDRESS"),
    *("DIGITAL_KIND", "LASTS", "LAMP_STATE", "ALL_LANES", "ANY_LANE"),
}
STARTS = [(name, start) for name, language in LANGUAGES.items() for start in language.shapes]
LINES = {(name, start): lines_of(LANGUAGES[name], start) for name, start in STARTS}


def files_of(language: str) -> st.SearchStrategy[str]:
    """Whole files of such lines, at random depths, with some tabs, comments and blank lines."""
    front = st.sampled_from(["", "", "  ", "  ", "    ", "\t", " "])
    back = st.sampled_from(["", "", "", "  # why", '  # a "quote', " "])
    lines = [LINES[name, start] for name, start in STARTS if name == language]
    line = st.tuples(front, st.one_of(*lines, st.just("")), back).map("".join)
    return st.lists(line, max_size=12).map("\n".join)


@st.composite
def edited(draw: st.DrawFn) -> tuple[str, str]:
    """A demo file's name and its text after a few edits that fingers make."""
    name = draw(st.sampled_from(sorted(DEMO)))
    lines = DEMO[name].split("\n")
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(lines) - 1))
        lines[at : at + 1] = draw(_edits(lines[at], lines))
        lines = lines or [""]
    return name, "\n".join(lines)


def _edits(line: str, lines: list[str]) -> st.SearchStrategy[list[str]]:
    places = st.integers(0, len(line))
    characters = st.sampled_from(
        ['"', "#", ",", "(", ")", "-", "0", "s", " ", "\t", "%", "é", "\\"]
    )
    return st.one_of(
        st.just([]),
        st.just([line, line]),
        st.just([line.strip()]),
        st.sampled_from(["  ", "\t", "      "]).map(lambda front: [front + line]),
        st.sampled_from(lines).map(lambda other: [other, line]),
        st.builds(lambda at: [line[:at] + line[at + 1 :]], places),
        st.builds(lambda at, c: [line[:at] + c + line[at:]], places, characters),
        st.builds(lambda at: [line[:at] + line[at + 1 : at + 2] + line[at : at + 1]], places),
        st.builds(lambda at: [line[:at], line[at:]], places),
    )


def pipeline(language: str, text: str) -> tuple[Finding, ...]:
    """All findings of a text, after each of them was looked at."""
    source = Source(f"example.{language}", text)
    if language == "robot":
        findings = check_robot(read_robot(source))
    else:
        checked = check_routine(source, lambda _name: moth_robot())
        findings = checked.findings
        assert set(checked.plan.steps) == set(checked.plan.routine.steps)
    for finding in findings:
        looked_at(finding, source)
    return findings


def looked_at(finding: Finding, source: Source) -> None:
    """Fails where a finding points outside of the text or says nothing."""
    place = finding.place
    if place.source == source:
        assert 1 <= place.line <= max(1, len(source.lines))
        # One past the end is where a word is missing.
        assert 1 <= place.column <= len(place.line_text) + 1
        assert place.column < place.end_column <= max(2, len(place.line_text) + 2)
    assert "" not in (finding.headline, finding.why, finding.way_out)
    assert "\n" not in finding.headline


def parse(language: str, text: str) -> Parsed:
    """The tree of a text."""
    source = Source(f"example.{language}", text)
    return parse_robot(source) if language == "robot" else parse_routine(source)


def comments(text: str) -> list[str]:
    """The comments of a text, in order; the titles in these tests hold no hash."""
    return [line[line.index("#") :].rstrip() for line in text.split("\n") if "#" in line]


def stable(language: str, text: str) -> None:
    """Fails where the canonical layout says something else, or has another layout of its own."""
    once = parse(language, text)
    formatted = format_file(once.file)
    again = parse(language, formatted)
    assert once.file == again.file
    assert formatted == format_file(again.file)


def language_of(name: str) -> str:
    """The language of a demo file."""
    return "robot" if name.endswith(".bot") else "routine"


@pytest.mark.parametrize(("language", "start"), STARTS)
@given(data=st.data())
def test_lines_of_the_grammar(language: str, start: str, data: Any) -> None:
    """A line that the grammar allows is read whole and alone, and its layout says the same."""
    line = data.draw(LINES[language, start])
    builder = LineBuilder(Source("x", line))
    tree = LANGUAGES[language].read(line, start)
    statement = builder.build(tree, 1, len(line) + 1)
    formatted = format_statement(statement)
    again = LANGUAGES[language].read(formatted, start)
    assert statement == builder.build(again, 1, len(formatted) + 1)


@pytest.mark.parametrize("language", sorted(LANGUAGES))
@given(data=st.data())
def test_files_of_such_lines(language: str, data: Any) -> None:
    """Files of such lines at any depth never raise, and the canonical layout says the same."""
    text = data.draw(files_of(language))
    pipeline(language, text)
    stable(language, text)


@given(edited())
def test_edited_demo_files(edit: tuple[str, str]) -> None:
    """Whatever fingers do to a demo file, nothing raises and the canonical layout says the same."""
    name, text = edit
    pipeline(language_of(name), text)
    stable(language_of(name), text)


@given(edited())
def test_findings_do_not_change(edit: tuple[str, str]) -> None:
    """The same text gives the same findings in the same order."""
    name, text = edit
    assert pipeline(language_of(name), text) == pipeline(language_of(name), text)


@pytest.mark.parametrize("language", sorted(LANGUAGES))
@given(text=st.text(st.characters(exclude_characters="\r\0", exclude_categories=["Cs"])))
def test_any_text(language: str, text: str) -> None:
    """Text that is no plan at all never raises either, and keeps its layout."""
    pipeline(language, text)
    stable(language, text)


@given(st.sampled_from(sorted(DEMO)), st.data())
def test_a_broken_robot_file_under_a_good_routine(name: str, data: Any) -> None:
    """A routine checked with a robot file full of slips never raises."""
    lines = DEMO["moth.bot"].split("\n")
    kept = data.draw(st.sets(st.integers(0, len(lines) - 1)))
    robot = read_robot(Source("moth.bot", "\n".join(lines[number] for number in sorted(kept))))
    checked = check_routine(Source(name, DEMO[name]), lambda _name: robot)
    assert checked.findings == tuple(sorted(checked.findings, key=lambda f: f.order))


@pytest.mark.parametrize("name", sorted(DEMO))
def test_demo_files_keep_their_layout(name: str) -> None:
    """The demo files read whole, and their canonical layout keeps every comment."""
    once = parse(language_of(name), DEMO[name])
    assert () == once.slips
    stable(language_of(name), DEMO[name])
    assert comments(DEMO[name]) == comments(format_file(once.file))
