"""How wide text is and how it is broken."""

from __future__ import annotations

import xml.etree.ElementTree as ET

import pytest
from svg_reader import SVG

from planner.pictures import lettering
from planner.pictures.lettering import TIE, clean, tied, width, wrapped
from planner.shell.drawing import render

PRINTABLE = "".join(map(chr, range(0x21, 0x7F)))


def laid_out(text: str) -> float:
    """How wide the layout program takes a text to be, by a cell it sizes around it."""
    markup = text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    cell = f'<TABLE BORDER="1" CELLPADDING="0" CELLBORDER="0"><TR><TD>{markup}</TD></TR></TABLE>'
    node = f'a [shape=plain fontname="{lettering.FAMILY}" fontsize=100 label=<{cell}>]'
    svg = ET.fromstring(render(f"digraph {{ {node} }}", "svg"))
    polygons = [p.attrib["points"] for p in svg.iter(f"{SVG}polygon") if p.get("fill") == "none"]
    across = [float(pair.split(",")[0]) for pair in polygons[-1].split()]
    return max(across) - min(across)


@pytest.mark.parametrize("text", [PRINTABLE[at : at + 12] for at in range(0, len(PRINTABLE), 12)])
def test_widths_are_the_layout_programs(text: str) -> None:
    """Letters are as wide as the layout program, which has the metrics from elsewhere, says."""
    # The cell adds the same to every text, whatever the letters.
    empty = laid_out("i") - width("i", size=100)
    assert pytest.approx(laid_out(text) - empty, abs=1) == width(text, size=100)


@pytest.mark.parametrize(
    ("text", "room", "lines"),
    [
        ("", 50, ()),
        ("drive to the post", 500, ("drive to the post",)),
        ("drive to the post", 45, ("drive to", "the post")),
        ("DriveToQuay", 40, ("DriveTo", "Quay")),
        ("range_front", 40, ("range_", "front")),
        ("aaaaaaaaaaaa", 30, ("aaaaa", "aaaaa", "aa")),
        (tied("when x < 8 cm for 0.1 s"), 40, ("when x", "< 8 cm", "for 0.1 s")),
        (tied("when x for 3 of 5 looks"), 60, ("when x for", "3 of 5 looks")),
        (tied("go, at most 2 times"), 45, ("go,", "at most 2", "times")),
        ("Approach.Raise", 60, ("Approach.", "Raise")),
        (tied("with cruise = 45 %"), 70, ("with", "cruise = 45 %")),
        (tied("go, at most 2 times"), 75, ("go,", "at most 2 times")),
        ("one two three four five six", 25, ("one", "two", "three", "four…")),
    ],
)
def test_lines(text: str, room: float, lines: tuple[str, ...]) -> None:
    """Text is broken between words, then at underscores and capitals, then anywhere."""
    assert lines == wrapped(text, room, 4)


@pytest.mark.parametrize(
    "text", ["W" * 200, "水" * 90, "e\u0301" * 90, "👨\u200d👩\u200d👧" * 30, " x " * 80]
)
def test_lines_fit(text: str) -> None:
    """No line is wider than its room, and no mark or joiner is cut off the letter it belongs to."""
    for line in wrapped(text, 60, 5):
        assert width(line) <= 60
        assert line[0] not in "\u0301\u200d"
        assert not line.rstrip("…").endswith("\u200d")


def test_ties_do_not_show() -> None:
    """The space that keeps a number with its unit is an ordinary one in the end."""
    assert ("8 cm",) == wrapped(f"8{TIE}cm", 100)


def test_clean() -> None:
    """Any white space is a space, and what cannot be drawn is dropped."""
    assert "a b cd" == clean("a\tb\n\x00c\x1b\u202ed ")
