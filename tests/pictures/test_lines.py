"""Whether the lines of a picture can be traced, and which there are."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from itertools import combinations
from math import dist

import pytest
from demo import ROUTINES, check
from long_plans import cycle, street
from svg_reader import SVG, drawn

from planner.graph import Plan
from planner.pictures.lines import Route, lines_of

Point = tuple[float, float]

APART = 2.5
"""Points that keep two strokes of 1.3 points from touching; common practice, no source."""
FORK = """
start A
step A
  when bumper pressed, go to B
  when tin_gate broken, go to C
  when drive done, go to D
  after 1 s, go to E
step B
  when bumper pressed, go to A, at most 2 times, then C
  when drive done, go to D
  after 1 s, go to E
step C
  when bumper pressed, go to A
  when drive done, go to B
  when tin_gate broken, go to D
  after 1 s, go to E
step D
  when bumper pressed, go to C
  when drive done, go to B
  after 1 s, go to E
step E
  when bumper pressed, go to D
  when drive done, go to F
  after 1 s, go to C
step F
  when bumper pressed, go to E
  after 1 s, go to G
finish G
"""


def plans() -> Iterator[tuple[str, Plan]]:
    """Plans whose lines could tangle, by name."""
    for path in sorted(ROUTINES.glob("*.routine")):
        yield path.stem, check(path.read_text(encoding="utf-8")).plan
    yield "fork", check(FORK).plan
    for steps in (7, 20):
        yield f"street of {steps}", check(street(steps)).plan
    for steps in (3, 9, 14):
        yield f"cycle of {steps}", check(cycle(steps)).plan


PLANS = dict(plans())


def curve(path: str) -> Iterator[Point]:
    """Points along an SVG path of cubic Bezier curves (SVG 1.1, section 8.3.6)."""
    ends = [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+)[, ](-?[\d.]+)", path)]
    for at in range(0, len(ends) - 1, 3):
        four = ends[at : at + 4]
        for step in range(41):
            t = step / 40
            shares = ((1 - t) ** 3, 3 * (1 - t) ** 2 * t, 3 * (1 - t) * t**2, t**3)
            x = sum(share * point[0] for share, point in zip(shares, four, strict=True))
            y = sum(share * point[1] for share, point in zip(shares, four, strict=True))
            yield x, y


def trail(group: ET.Element) -> Iterator[Point]:
    """Points along a line and around its arrow head."""
    for path in group.iter(f"{SVG}path"):
        yield from curve(path.attrib["d"])
    for head in group.iter(f"{SVG}polygon"):
        for pair in head.attrib["points"].split():
            x, y = pair.split(",")
            yield float(x), float(y)


def trails(plan: Plan) -> dict[str, list[Point]]:
    """Each line between two cards as points, by its title."""
    found: dict[str, list[Point]] = {}
    for title, groups in drawn(plan).groups("edge").items():
        # Others belong to the start, a finish or a frame.
        if "the start" in title or "the end" in title or ":s->" in title:
            continue
        # A line that bends comes in two parts, with a joint that is named after its card.
        bent = re.search(r"beside ([\w.]+)", title)
        for group in groups:
            found.setdefault(f"{bent.group(1)} across" if bent else title, []).extend(trail(group))
    return found


@pytest.mark.parametrize("name", PLANS)
def test_lines_stay_apart(name: str) -> None:
    """No two lines of a picture touch, cross or run on top of each other."""
    for (one, points), (other, others) in combinations(trails(PLANS[name]).items(), 2):
        nearest = min(dist(a, b) for a in points for b in others)
        assert nearest >= APART, (one, other)


@pytest.mark.parametrize("name", PLANS)
def test_a_line_has_no_gap(name: str) -> None:
    """A line that bends has its two parts and the joint between them in one piece."""
    groups = drawn(PLANS[name]).groups("edge")
    bends = [title for title in groups if "->beside " in title]
    for title in bends:
        joint = title.split("->")[1]
        (onward,) = (t for t in groups if t.startswith(f"{joint}->"))
        end = list(trail(groups[title][0]))[-1]
        assert dist(end, next(trail(groups[onward][0]))) <= 2.1


def routes(text: str, *columns: str) -> list[str]:
    """The lines of a plan whose cards, of one letter each, stand in these columns."""
    found = lines_of(check(text).plan, [list(column) for column in columns])
    return [f"{line.way.source}{line.way.target} {line.route.name}" for line in found]


def chain(*exits: str) -> str:
    """A plan of steps A, B, C, ... with time limits that lead where the letters say."""
    lines = ["start A"]
    for name, targets in zip("ABCDEFGH", exits, strict=False):
        lines.append(f"step {name}" if targets else f"finish {name}")
        lines += [f"  after {at} s, go to {target}" for at, target in enumerate(targets, start=1)]
    return "\n".join(lines) + "\n"


@pytest.mark.parametrize(
    ("plan", "columns", "lines"),
    [
        # To the next card, and back to the one before on the other side.
        (chain("B", "AC", ""), ("ABC",), ["AB DOWN", "BA UP", "BC DOWN"]),
        # One line for a pair, by the exit that is asked first.
        (chain("BB", ""), ("AB",), ["AB DOWN"]),
        # Past one card where nothing else runs, but not past two.
        (chain("C", "D", "D", ""), ("ABCD",), ["AC DOWN", "CD DOWN"]),
        (chain("D", "D", "D", ""), ("ABCD",), ["CD DOWN"]),
        (chain("BC", "C", ""), ("ABC",), ["AB DOWN", "BC DOWN"]),
        # To the head of the next column, not into the middle of it and not backwards.
        (chain("B", "C", ""), ("AB", "C"), ["AB DOWN", "BC ACROSS"]),
        (chain("C", "D", "D", ""), ("AB", "CD"), ["AC ACROSS", "CD DOWN"]),
        (chain("B", "AC", ""), ("A", "BC"), ["AB ACROSS", "BC DOWN"]),
        # Only one leads there, and none does where a line runs beside the next column.
        (chain("C", "C", ""), ("AB", "C"), ["AC ACROSS"]),
        (chain("B", "C", "D", "CE", ""), ("AB", "CDE"), ["AB DOWN", "CD DOWN", "DC UP", "DE DOWN"]),
        # The line to the next card goes first where both would leave at one height.
        (chain("CB", "C", ""), ("AB", "C"), ["AC ACROSS", "AB DOWN"]),
        (chain("BC", "C", ""), ("AB", "C"), ["AB DOWN", "BC ACROSS"]),
        # None to the card itself.
        (chain("AB", ""), ("AB",), ["AB DOWN"]),
    ],
)
def test_which_lines_there_are(plan: str, columns: tuple[str, ...], lines: list[str]) -> None:
    """Lines join cards near each other as long as each can be traced."""
    assert lines == routes(plan, *columns)


def test_every_line_is_an_exit() -> None:
    """Each line belongs to the row of the exit it is drawn for."""
    for plan in PLANS.values():
        for line in lines_of(plan, [list(plan.routine.steps)]):
            own = [
                way
                for way in plan.exits[line.way.source]
                if way.kind.value != "at" and not way.group
            ]
            assert line.way == own[line.row]
            assert line.route is not Route.ACROSS
