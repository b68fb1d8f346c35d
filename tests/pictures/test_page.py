"""Whether a picture can be read on a page: an A4 sheet on its side (ISO 216: 297 mm by 210 mm).

That text of 8 points can still be read on paper is common practice, no source.
"""

from __future__ import annotations

import xml.etree.ElementTree as ET
from itertools import combinations, pairwise

import pytest
from demo import ROUTINES, check
from long_plans import street
from svg_reader import SVG, Drawn, drawn

from planner.graph import Plan
from planner.pictures import folding
from planner.pictures.dot import folded
from planner.pictures.lettering import width as width_of
from planner.pictures.marks import marks_of
from planner.pictures.sequence import ordered

MARGIN_MM = 10
READABLE_PT = 8


def demo_plan(name: str) -> Plan:
    """A demo routine's plan."""
    return check((ROUTINES / f"{name}.routine").read_text(encoding="utf-8")).plan


def printed_size(image: Drawn) -> float:
    """The size in points of the smallest text when the picture fills the page."""
    width, height = image.size
    page_width, page_height = ((mm - 2 * MARGIN_MM) / 25.4 * 72 for mm in (297, 210))
    scale = min(page_width / width, page_height / height)
    return float(scale) * min(float(text.attrib["font-size"]) for text in image.texts)


@pytest.mark.parametrize("name", ["first_lamp", "two_lamps", "whole_street"])
def test_demo_text_can_be_read(name: str) -> None:
    """On one page no text of a demo routine of up to twenty steps is smaller than 8 points."""
    assert printed_size(drawn(demo_plan(name))) >= READABLE_PT


@pytest.mark.parametrize("steps", [3, 6, 12, 20])
def test_street_text_can_be_read(steps: int) -> None:
    """On one page no text of a chain of up to twenty steps is smaller than 8 points."""
    assert printed_size(drawn(check(street(steps)).plan)) >= READABLE_PT


@pytest.mark.parametrize("steps", [6, 12, 20, 40])
def test_shape_is_near_the_page(steps: int) -> None:
    """From six steps on a picture is at most 1.45 times as wide or as high as the page's shape."""
    width, height = drawn(check(street(steps)).plan).size
    assert 1 / 1.45 <= width / height / (277 / 190) <= 1.45


@pytest.mark.parametrize("name", ["first_lamp", "two_lamps", "whole_street"])
def test_the_size_was_foreseen(name: str) -> None:
    """The size that the fold was chosen by is the drawn one, but for a twentieth."""
    plan = demo_plan(name)
    numbers = {step: at for at, step in enumerate(ordered(plan), start=1)}
    fold = folded(plan, numbers, marks_of((), numbers))
    width, height = drawn(plan).size
    assert pytest.approx((fold.width, fold.height), rel=0.05) == (width, height)


def _outline(group: ET.Element) -> tuple[float, float, float, float]:
    """Left, top, right, bottom of a card, from its outline's points."""
    points = [
        tuple(map(float, pair.split(",")))
        for path in group.iter(f"{SVG}path")
        for pair in path.attrib["d"].replace("M", " ").replace("C", " ").split()
    ]
    across, down = zip(*points, strict=True)
    return min(across), min(down), max(across), max(down)


@pytest.mark.parametrize("name", ["first_lamp", "two_lamps", "whole_street"])
def test_text_stays_in_its_card(name: str) -> None:
    """Each line of a card begins and, by the widths its family has, ends inside of the card."""
    plan = demo_plan(name)
    for step, (group,) in drawn(plan).groups("node").items():
        if step not in plan.routine.steps:
            continue
        left, top, right, bottom = _outline(group)
        for text in group.iter(f"{SVG}text"):
            x, y, words = float(text.attrib["x"]), float(text.attrib["y"]), text.text or ""
            if text.get("text-anchor") == "middle":
                x -= width_of(words) / 2
            bold = text.get("font-weight") == "bold"
            assert left <= x
            assert x + width_of(words, bold) <= right
            assert top <= y <= bottom


@pytest.mark.parametrize("name", ["first_lamp", "two_lamps", "whole_street"])
def test_cards_do_not_overlap(name: str) -> None:
    """No two cards share any room."""
    plan = demo_plan(name)
    groups = drawn(plan).groups("node")
    boxes = [_outline(groups[step][0]) for step in plan.routine.steps]
    for at, (left, top, right, bottom) in enumerate(boxes):
        for other in boxes[at + 1 :]:
            assert right <= other[0] or other[2] <= left or bottom <= other[1] or other[3] <= top


def test_columns_are_cut_evenly() -> None:
    """A chain is cut so that no other cut has a lower tallest column; all cuts are tried."""
    heights = [30, 10, 50, 20, 20, 40, 10, 60]

    def tallest(cuts: tuple[int, ...]) -> int:
        edges = [0, *cuts, len(heights)]
        parts = [heights[a:b] for a, b in pairwise(edges)]
        return max(sum(part) + folding.CARD_GAP * (len(part) - 1) for part in parts)

    for count in range(1, 6):
        best = min(tallest(cuts) for cuts in combinations(range(1, len(heights)), count - 1))
        columns = folding.columns_of(heights, count)
        assert best == tallest(tuple(column.start for column in columns[1:]))
        assert list(range(len(heights))) == [at for column in columns for at in column]
