"""Lanes in a picture: regions of their block's frame, side by side where there is room."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from demo import ROUTINES, check
from long_plans import three_lanes
from pictures.test_groups import columns
from pictures.test_page import READABLE_PT, printed_size
from svg_reader import SVG, drawn

from planner.pictures import picture
from planner.pictures.palette import CARD_EDGE
from planner.pictures.sequence import ordered

SMALL = """
start Carry
together Carry "drive while the arm rises"
  claw close
  when all lanes done, go to Lit
  after 6 s, go to Still
  whenever bumper pressed, signal light
  lane wheels
    step Drive
      drive forward 40 %
      when drive travelled > 60 cm, go to done
      after 4 s, go to done
  lane lifting
    step Lift
      arm to 1200 ticks
      when lane wheels done or lane wheels in Drive and arm done, go to Hold
      after 3 s, go to Still
    step Hold
      after 2 s, go to done
finish Lit
finish Still
"""


def demo() -> str:
    """The demo routine with lanes."""
    return (ROUTINES / "gallery" / "side_by_side.routine").read_text(encoding="utf-8")


def test_a_block_is_a_frame_and_a_card() -> None:
    """A block's exits and rules stand on its frame, and its commands on a card of its own."""
    words = drawn(check(SMALL).plan).words("Carry")
    assert (
        "Carry drive while the arm rises whenever bumper pressed, signal light "
        "from any step of it: when all lanes done ► 5 Lit after 6 s ► 6 Still "
        "1 Carry claw close begins 2 and 3 at once"
    ) == words


def test_a_lane_says_its_name() -> None:
    """The first card of a lane stands under the lane's name, and the others do not."""
    image = drawn(check(SMALL).plan)
    assert image.words("Drive").startswith("lane wheels 2 Drive")
    assert "lane lifting 3 Lift" in image.words("Lift")
    assert "lane" not in image.words("Hold").split()


def test_the_end_of_a_lane_is_no_card() -> None:
    """What leads to the end of a lane says `done`, and no card is there for it."""
    plan = check(SMALL).plan
    image = drawn(plan)
    assert ["Carry", "Drive", "Lift", "Hold", "Lit", "Still"] == ordered(plan)
    assert set(ordered(plan)) == {name for name in image.groups("node") if name in plan.steps}
    assert "after 2 s ► done" in image.words("Hold")


def test_a_dashed_line_divides_lanes() -> None:
    """Above each lane runs a line of dashes, as between the regions of a state in UML."""
    nodes = drawn(check(SMALL).plan).groups("node")
    dashes = {
        name: sum(
            polygon.get("fill", "").upper() == CARD_EDGE and _is_flat(polygon.attrib["points"])
            for polygon in group[0].iter(f"{SVG}polygon")
        )
        for name, group in nodes.items()
    }
    assert (True, True, 0) == (dashes["Drive"] > 9, dashes["Lift"] > 9, dashes["Hold"])


def _is_flat(points: str) -> bool:
    pairs = [tuple(map(float, pair.split(","))) for pair in points.split()]
    across, down = zip(*pairs, strict=True)
    return max(down) - min(down) <= 2 and 4 <= max(across) - min(across) <= 8


def test_lanes_stand_side_by_side() -> None:
    """Each further lane begins at the head of a column, where its block's frame goes on."""
    plan = check(demo()).plan
    heads = [names[0] for names in columns(plan)]
    assert "Wait" in heads
    assert "Carry (continued) lane lifting" in drawn(plan).words("Wait")


@pytest.mark.parametrize("steps", [8, 14, 20, 25])
def test_three_lanes_can_be_read(steps: int) -> None:
    """On one page no text of a plan of up to 14 steps in three lanes is smaller than 8 points, of
    one of 25 steps smaller than 7; each lane begins a column, and no lane hides in another."""
    plan = check(three_lanes(steps)).plan
    least = READABLE_PT if steps <= 14 else 7
    assert printed_size(drawn(plan)) >= least
    heads = {names[0] for names in columns(plan)}
    assert {"lifting1", "lamp1"} <= heads


def test_lanes_in_words() -> None:
    """The picture in words tells of the block, of its lanes, and of where these end."""
    words = (drawn(check(SMALL).plan).root.findtext(f"{SVG}desc") or "").splitlines()
    assert (
        "Lanes Carry: drive while the arm rises; whenever bumper pressed, signal light; "
        "holds Carry, Drive, Lift, Hold; from any step of it when all lanes done, go to Lit; "
        "from any step of it after 6 s, go to Still."
    ) in words
    assert "Lane lifting: holds Lift, Hold." in words
    assert "4 Hold: after 2 s, go to done." in words


@pytest.mark.parametrize("name", ["side_by_side"])
def test_golden(name: str, golden: Callable[[str, str], None]) -> None:
    """The DOT text of a routine with lanes is the one that was last looked at as a picture."""
    checked = check(demo())
    golden(f"pictures/{name}.dot", picture(checked.plan, checked.findings))
