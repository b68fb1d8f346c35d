"""Blocks of lanes on the reference machine, against a second interpreter (M8)."""

from __future__ import annotations

from itertools import product
from pathlib import Path

from demo import moth_robot
from hypothesis import given, settings
from hypothesis import strategies as st
from second_lanes import EXIT, LANE, lane_moves

from planner.graph import unfold
from planner.graph.run import Entered
from planner.model.condition import Answers, Condition, LaneIn, LanesDone
from planner.model.routine import AfterExit, Group, Routine, Step, WhenExit, end_of_lane
from planner.rehearsal import Machine
from planner.text import Place, Source

HERE = Place(Source(Path(__file__).name, ""), 1, 1, 1)
ROBOT = moth_robot().robot
LIMIT_US = 20_000
NAMES = ("Block lane0", "Block lane1")


def routine(own: list[EXIT], lanes: list[LANE]) -> Routine:
    """The model of a block that is given as plain data, with the finishes F and G."""
    whens, afters = _exits(own, "")
    block = Group("Block", "", "", (), whens, afters, (), HERE, lanes=NAMES, is_block=True)
    groups = {"Block": block}
    steps = {"Block": Step("Block", "", False, (), (), (), HERE, group="Block", is_block=True)}
    for name, lane in zip(NAMES, lanes, strict=True):
        short, first = name.split(" ")[1], next(iter(lane))
        groups[name] = Group(name, "", "Block", (), (), (), (), HERE, lane=short, first=first)
        for step, exits in lane.items():
            steps[step] = Step(step, "", False, (), *_exits(exits, name), HERE, group=name)
        end = end_of_lane(name)
        steps[end] = Step(end, "", False, (), (), (), HERE, group=name, ends_lane=True)
    steps |= {name: Step(name, "", True, (), (), (), HERE) for name in "FG"}
    return Routine("example", "", ROBOT, 10**9, {}, (), "Block", steps, HERE, groups=groups)


def _exits(exits: list[EXIT], lane: str) -> tuple[tuple[WhenExit, ...], tuple[AfterExit, ...]]:
    whens, afters = [], []
    for kind, what, target in exits:
        goal = end_of_lane(lane) if target == "done" else target
        if kind == "after":
            afters.append(AfterExit(what, goal, None, HERE))
        else:
            whens.append(WhenExit(_condition(kind, what), goal, None, HERE))
    return tuple(whens), tuple(afters)


def _condition(kind: str, what: tuple[object, str]) -> Condition:
    if kind == "when":
        return Answers(ROBOT.sensors[str(what[0])], what[1], HERE)
    if kind in ("all", "any"):
        return LanesDone(NAMES, kind == "all", "", HERE)
    lane = NAMES[int(str(what[0]))]
    if what[1] == "done":
        return LanesDone((lane,), True, "", HERE)
    return LaneIn(lane, what[1], "", HERE)


def entered(
    own: list[EXIT], lanes: list[LANE], trace: list[tuple[int, dict[str, str]]]
) -> list[tuple[int, str]]:
    """Each step that the reference machine enters, with the time."""
    machine = Machine(unfold(routine(own, lanes)))
    ends = {end_of_lane(name): f"done {number}" for number, name in enumerate(NAMES)}
    events = [event for now, seen in trace for event in machine.pass_(now, seen)]
    return [(e.at_us, ends.get(e.step, e.step)) for e in events if isinstance(e, Entered)]


def _passes(seen: str) -> list[tuple[int, dict[str, str]]]:
    """One pass each 10 ms; `b` presses the bumper, `f` the floor switch, `x` both, `.` neither."""
    bumper = {"b": "pressed", "x": "pressed"}
    floor = {"f": "pressed", "x": "pressed"}
    return [
        (
            10_000 * number,
            {"bumper": bumper.get(key, "released"), "arm_floor": floor.get(key, "released")},
        )
        for number, key in enumerate(seen)
    ]


TRACES = [_passes(".bf.xb.f"), _passes("xx......"), _passes("........"), _passes(".f.b.f.b")]
SENSORS = (("bumper", "pressed"), ("arm_floor", "pressed"))


def _kinds(own: tuple[str, str], other: int) -> list[EXIT]:
    """The exits that a step of a lane may have; `own` are the lane's two steps."""
    found: list[EXIT] = [("when", s, to) for s in SENSORS for to in (own[1], "done", "F")]
    found += [("after", LIMIT_US, to) for to in (*own, "done", "F")]
    return [*found, ("lane", (other, "done"), "done"), ("lane", (other, "MA"[other]), "F")]


def _lanes(own: tuple[str, str], other: int) -> list[LANE]:
    kinds = _kinds(own, other)
    return [{own[0]: [first], own[1]: [second]} for first in kinds for second in kinds[2:8]]


OWN: list[list[EXIT]] = [
    [("all", None, "G"), ("after", 50_000, "F")],
    [("any", None, "G"), ("after", 50_000, "F")],
    [("when", SENSORS[0], "F"), ("lane", (1, "done"), "G")],
]


def test_all_blocks_of_two_lanes_with_two_steps_two_sensors_and_a_limit() -> None:
    """Every block of two lanes, each of two steps with one exit each, runs alike."""
    differing = []
    both = product(_lanes(("A", "B"), 1), _lanes(("M", "N"), 0))
    for number, (one, two) in enumerate(both):
        own, trace = OWN[number % len(OWN)], TRACES[number // 3 % len(TRACES)]
        if lane_moves(own, [one, two], trace) != entered(own, [one, two], trace):
            differing.append((own, one, two, trace))
    assert [] == differing[:3]


EXITS = {
    step: st.lists(st.sampled_from(_kinds(own, other)), min_size=1, max_size=3)
    for own, other in ((("A", "B"), 1), (("M", "N"), 0))
    for step in own
}
OWN_EXITS = st.lists(
    st.one_of(
        st.sampled_from(("all", "any")).map(lambda kind: (kind, None, "G")),
        st.sampled_from(SENSORS).map(lambda sensor: ("when", sensor, "F")),
        st.sampled_from(("M", "N", "done")).map(lambda step: ("lane", (1, step), "G")),
        st.sampled_from((30_000, 60_000)).map(lambda limit: ("after", limit, "F")),
    ),
    max_size=3,
)


@settings(max_examples=300)
@given(OWN_EXITS, st.fixed_dictionaries(EXITS), st.text("bfx.", min_size=2, max_size=15))
def test_random_blocks_run_alike(own: list[EXIT], exits: LANE, seen: str) -> None:
    """Blocks and steps with several exits mean the same to both."""
    lanes = [{name: exits[name] for name in names} for names in ("AB", "MN")]
    assert lane_moves(own, lanes, _passes(seen)) == entered(own, lanes, _passes(seen))
