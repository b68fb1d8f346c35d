"""DOT text against the rules of the language.

Source: "DOT Language" and "escString" in the documentation of Graphviz. In a quoted string the only
escape is of the quote; a backslash before anything else stays, so that a string which ends in one
swallows its end. Keywords are keywords in any case of letters, unless quoted.
"""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from demo import check

from planner.graph import unfold
from planner.pictures import picture
from planner.shell.drawing import render

# Texts that a quoted string would need care for; the last could not stand in one at all.
TITLES = ['a"b', "C:\\new", "\\N and \\G", "node", "-- > ]; }", "<b>", "*/ //", "\\u0041", "x\\"]
KEYWORDS = ("node", "Edge", "GRAPH", "digraph", "subgraph", "Strict")

SVG = "{http://www.w3.org/2000/svg}"


def titled(title: str) -> str:
    """The picture of a small plan with that title, whatever the language would say to it."""
    plan = check("start A\nstep A\n  after 1 s, go to B\nfinish B\n").plan
    return picture(unfold(replace(plan.routine, title=title)))


def code(title: str) -> str:
    """The same without the comment lines above it and the labels that are like HTML."""
    graph = titled(title).partition("digraph")[2]
    return re.sub(r"label=<.*?>>", "", graph, flags=re.DOTALL)


def nodes_read(text: str) -> set[str]:
    """The names of the nodes that a program which reads DOT finds in a text."""
    svg = ET.fromstring(render(text, "svg"))
    groups = [group for group in svg.iter(f"{SVG}g") if group.get("class") == "node"]
    return {group.findtext(f"{SVG}title", "") for group in groups}


@pytest.mark.parametrize("title", TITLES)
def test_titles_stand_in_no_quoted_string(title: str) -> None:
    """Outside of comments and labels the text is the same whatever the title."""
    assert code("plain") == code(title)
    assert "the start" in code(title)


@pytest.mark.parametrize("title", TITLES)
def test_title_is_read_back(title: str) -> None:
    """A program that reads DOT finds the picture's nodes whatever the title, and shows it."""
    assert {"A", "B", "the start", "the end B"} == nodes_read(titled(title))
    assert title == ET.fromstring(render(titled(title), "svg")).findtext(f"{SVG}title")


def test_keywords_as_names() -> None:
    """Steps named like keywords, in any case of letters, are steps and no keywords."""
    steps = "".join(f"step {word}\n  after 1 s, go to Lit\n" for word in KEYWORDS)
    plan = check(f"start node\n{steps}finish Lit\n").plan
    text = picture(plan)
    assert set(KEYWORDS) <= nodes_read(text)
    for word in KEYWORDS:
        assert f'"{word}" [' in text


def test_text_in_labels_is_escaped() -> None:
    """In labels that are like HTML, the signs that mean something there are written as entities."""
    graph = titled('<B>&amp;"').partition("digraph")[2]
    assert "&lt;B&gt;&amp;amp;&quot;" in graph
    assert "<B>&amp;" not in graph


@pytest.mark.parametrize(
    "character", ["\x00", "\x07", "\x1b", "\x7f", "\ufffe", "\uffff", "\ud800"]
)
def test_what_xml_cannot_hold_is_dropped(character: str) -> None:
    """Characters that XML 1.0 section 2.2 forbids, and other control characters, are left out."""
    assert character not in titled(f"be{character}fore")
    assert "before" in titled(f"be{character}fore")


def test_no_line_of_a_title_gets_out_of_the_comment() -> None:
    """The words in front of the graph are comment lines, whatever a title holds."""
    head = titled("one\ntwo\r\nthree\u2028four\x85five").split("digraph", 1)[0]
    assert [] == [line for line in head.split("\n") if line and not line.startswith("// ")]
