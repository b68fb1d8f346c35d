"""Groups and tasks in a picture: frames around cards, and what their tabs say."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from itertools import pairwise

import pytest
from demo import check
from long_plans import cycle
from svg_reader import SVG, Drawn, drawn

from planner.graph import Plan
from planner.pictures.dot import folded
from planner.pictures.folding import chunks
from planner.pictures.marks import marks_of
from planner.pictures.palette import CARD_EDGE
from planner.pictures.sequence import ordered

SMALL = """
whenever tin_gate broken, signal light
start Drop
group Cycle "take and drop"
  at 20 s of match, go to Still
  when bumper pressed, go to Take, at most 2 times, then Still
  after 15 s, go to Away
  whenever bumper pressed, signal dark
  step Take
    whenever tin_gate broken, signal light
    after 4 s, go to Drop
  step Drop
    after 2 s, go to Take
step Away
  do place 900 ticks
  when task ends placed, go to Still
  when task ends stuck, go to Still
finish Still
task place(height ticks) ends placed, stuck
  step Raise
    arm to height
    when arm done, go to placed
    after 2 s, go to stuck
"""

Box = tuple[float, float, float, float]


def columns(plan: Plan) -> list[list[str]]:
    """The names of a plan's steps by column."""
    names = ordered(plan)
    numbers = {name: at for at, name in enumerate(names, start=1)}
    return [list(c) for c in chunks(names, folded(plan, numbers, marks_of((), numbers)).columns)]


def sides(group: ET.Element) -> list[Box]:
    """Left, top, right, bottom of each upright line that is drawn as a cell of a card."""
    found = []
    for polygon in group.iter(f"{SVG}polygon"):
        across, down = zip(
            *(map(float, pair.split(",")) for pair in polygon.attrib["points"].split()),
            strict=True,
        )
        box = min(across), min(down), max(across), max(down)
        if polygon.get("fill", "").upper() == CARD_EDGE and box[3] - box[1] > box[2] - box[0]:
            found.append(box)
    return sorted(found)


def joints(image: Drawn, upper: str, lower: str) -> list[Box]:
    """The upright lines between two cards of a column."""
    found = []
    for group in image.groups("edge").get(f"{upper}:s->{lower}:n", []):
        (path,) = group.iter(f"{SVG}path")
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", path.attrib["d"])]
        across, down = numbers[::2], numbers[1::2]
        found.append((min(across), min(down), max(across), max(down)))
    return sorted(found)


def test_a_tab_holds_what_is_common() -> None:
    """A group's first card has a tab with its name, title, side rules and common exits."""
    words = drawn(check(SMALL).plan).words("Drop")
    assert (
        "Cycle take and drop whenever bumper pressed, signal dark from any step of it: "
        "at 20 s of match ► 4 Still when bumper pressed, at most 2 times ► 2 Take then ► 4 Still "
        "after 15 s ► 3 Away.Raise 1 Drop after 2 s ► 2 Take"
    ) == words.partition(" reached")[0]


def test_a_task_is_a_group() -> None:
    """A step that does a task is a frame around the task's steps, which says what is done."""
    words = drawn(check(SMALL).plan).words("Away.Raise")
    assert words.startswith("Away does place 900 ticks 3 Away.Raise")


def test_common_exits_are_no_rows_of_cards() -> None:
    """What leads out of a whole group stands on the tab only, and its target says so."""
    image = drawn(check(SMALL).plan)
    assert 1 == image.words().count("15 s")
    assert "reached without a line from any step of Cycle" in image.words("Take")
    assert "any step of Cycle" in image.words("Still")


def test_side_rules_are_shown() -> None:
    """Side rules stand where they hold: above all cards, on a group's tab or on a card."""
    image = drawn(check(SMALL).plan)
    rule = "whenever tin_gate broken, signal light"
    assert [True, False, 2] == [
        rule in image.words("Take"),
        rule in image.words("Drop"),
        image.words().count(rule),
    ]


def test_the_start_goes_first_in_its_group() -> None:
    """The group of the start goes first, the start first in it; the others follow as written."""
    text = """start C
step A
  after 1 s, go to B
group G
  step B
    after 1 s, go to C
  step C
    after 1 s, go to D
finish Z
step D
  after 1 s, go to Z
"""
    assert ["C", "B", "A", "D", "Z"] == ordered(check(text).plan)


def test_groups_in_words() -> None:
    """The picture in words tells of each group's cards and common exits, and of side rules."""
    root = drawn(check(SMALL).plan).root
    words = (root.findtext(f"{SVG}desc") or "").splitlines()
    assert "At any time, whenever tin_gate broken, signal light." in words
    assert (
        "Group Cycle: take and drop; whenever bumper pressed, signal dark; holds Drop, Take; "
        "from any step of it at 20 s of match, go to Still; "
        "from any step of it when bumper pressed, at most 2 times, go to Take; "
        "from any step of it then, go to Still; from any step of it after 15 s, go to Away.Raise."
    ) in words


@pytest.mark.parametrize("steps", [2, 5, 9, 14])
def test_a_frame_goes_on_in_the_next_column(steps: int) -> None:
    """In each column that has cards of a group one frame is around them, and later ones say so."""
    plan = check(cycle(steps)).plan
    image = drawn(plan)
    with_cards = [names for names in columns(plan) if any(_in_cycle(plan, n) for n in names)]
    assert len(with_cards) - 1 == image.words().count("Cycle (continued)")
    for names in with_cards[1:]:
        (first,) = (n for n in names if "Cycle (continued)" in image.words(n))
        assert next(n for n in names if _in_cycle(plan, n)) == first


def _in_cycle(plan: Plan, name: str) -> bool:
    return "Cycle" in (group.name for group in plan.routine.groups_around(name))


@pytest.mark.parametrize("steps", [2, 5, 9, 14])
def test_frames_are_whole(steps: int) -> None:
    """The sides of a frame run from card to card without a gap or a step aside."""
    plan = check(cycle(steps)).plan
    image = drawn(plan)
    nodes = image.groups("node")
    joined = 0
    for names in columns(plan):
        for upper, lower in pairwise(names):
            around = [set(plan.routine.groups_around(name)) for name in (upper, lower)]
            common = len(set.intersection(*around))
            found = joints(image, upper, lower)
            assert 2 * common == len(found)
            joined += common
            for left, top, right, bottom in found:
                assert pytest.approx(left, abs=0.6) == right
                middle = (left + right) / 2
                for name, end in ((upper, top), (lower, bottom)):
                    near = [s for s in sides(nodes[name][0]) if s[0] - 0.6 <= middle <= s[2] + 0.6]
                    assert any(min(abs(end - s[1]), abs(end - s[3])) <= 3 for s in near)
    assert joined > 0


def test_each_card_is_inside_its_frames() -> None:
    """A card has two sides for each group around it."""
    plan = check(cycle(9)).plan
    nodes = drawn(plan).groups("node")
    for name in plan.routine.steps:
        assert 2 * len(plan.routine.groups_around(name)) == len(sides(nodes[name][0]))
