"""Faults as data, and plans with a fault in them: the reference machine judges both."""

from __future__ import annotations

import random
from collections.abc import Iterator
from fractions import Fraction

import pytest
from demo import check
from gallery.examples import NAMES, checked
from played import spoken

from planner.graph import Plan, unfold
from planner.graph.broken import broken, outcomes
from planner.graph.cells import Asked, values_of
from planner.graph.faults import Fault, conditions_of, faults_of, item_of
from planner.model.condition import Answers, Compare, Done, Unreadable, Within, leaves
from planner.model.memory import WordMemory
from planner.model.routine import Routine
from planner.pipeline import plan_for
from planner.rehearsal import Machine, Number

Says = Number | str | bool | None
PASSES = 1600
PASS_US = 20_000
ONE_EXIT = """\
start A
step A
  arm to 10 ticks
  when {}, go to Z
  after 2 s, go to Z
finish Z
"""
REMEMBERS = """\
memory side: middle, left, right, seen by post_mark
memory post: left, right
memory far = 60 cm
memory past = 1 m
memory ahead = 10 deg
setting near by side
  middle 2 cm
  left 30 mm
  right 4 cm
start A
step A
  drive forward 40 %
  remember post_mark as post
  remember range_front - 5 cm as far
  remember drive travelled - 2 * range_front + near + 1 in as past
  when bumper pressed, go to B
  after 2 s, go to B
step B
  drive turn ahead
  remember gyro + 90 deg as ahead
  remember far + range_front as past
  when memory side is left and memory post is right, go to Z
  when memory far > 20 cm and bumper released, go to A
  when drive travelled < past, go to Z
  after 2 s, go to A
finish Z
"""


def values(routine: Routine) -> dict[str, list[Says]]:
    """What each thing that a routine asks may say, by the name of its reading."""
    found: dict[str, list[Says]] = {}
    asked: dict[str, list[Asked]] = {}
    for leaf in (leaf for condition in conditions_of(routine) for leaf in leaves(condition)):
        match leaf:
            case Done(mechanism):
                found[f"{mechanism.name} done"] = [False, True]
            case Compare() | Within() | Answers() | Unreadable():
                asked.setdefault(item_of(leaf), []).append(leaf)
            case _:
                pass
    for item, looks in asked.items():
        found[item] = [_in_own_unit(looks, value) for value in (*values_of(looks), None)]
    for fault in faults_of(routine):
        # What is remembered and never asked; it says other things as well than it is stuck at.
        if not isinstance(fault.says, bool) and fault.item not in asked:
            name, value = reading_of(routine, fault)
            others = [value + 3] if isinstance(value, int | float | Fraction) else []
            found.setdefault(name, []).extend([value, *others])
    return found


def _in_own_unit(looks: list[Asked], value: Fraction | str | None) -> Says:
    source = next((leaf.source for leaf in looks if isinstance(leaf, Compare | Within)), None)
    unit = source.unit if source else None
    return value / unit.size if isinstance(value, Fraction) and unit else value


def reading_of(routine: Routine, fault: Fault) -> tuple[str, Says]:
    """The name of the reading that a fault settles, and what it says in its own unit."""
    if isinstance(fault.says, bool):
        return f"{fault.item} done", fault.says
    if not isinstance(fault.says, Fraction):
        return fault.item, fault.says
    robot = routine.robot
    mechanism, _, name = fault.item.partition(" ")
    unit = (robot.mechanisms[mechanism].readings[name] if name else robot.sensors[mechanism]).unit
    assert unit is not None
    return fault.item, fault.says / unit.size


def trace(
    may_say: dict[str, list[Says]], pinned: tuple[str, Says], seed: str
) -> Iterator[dict[str, Says]]:
    """Readings, pass by pass, that now and then change at random; what is broken never does."""
    choose = random.Random(seed)
    readings = {name: choose.choice(says) for name, says in may_say.items()}
    for _ in range(PASSES):
        if choose.random() < 0.1:
            name = choose.choice(list(may_say))
            readings = {**readings, name: choose.choice(may_say[name])}
        yield {**readings, pinned[0]: pinned[1]}


def run(plan: Plan, readings: Iterator[dict[str, Says]]) -> list[str]:
    """What a plan does."""
    machine = Machine(plan)
    return [
        spoken(event)
        for number, now in enumerate(readings)
        for event in machine.pass_(number * PASS_US, now)
    ]


def after_start(done: list[str]) -> list[str]:
    """Without what cameras settle before the start, which a plan with a fault begins with."""
    return [line for line in done if not line.startswith("0 memory")]


@pytest.mark.parametrize("name", [*NAMES, "REMEMBERS"])
def test_broken_plan_does_what_the_plan_does(name: str) -> None:
    """A plan with a fault in it does what the whole plan does with a sensor that is so broken."""
    plan = check(REMEMBERS).plan if name == "REMEMBERS" else plan_for(checked(name), {})
    may_say = values(plan.routine)
    for fault in faults_of(plan.routine):
        pinned = reading_of(plan.routine, fault)
        with_fault = unfold(broken(plan.routine, [fault]))
        seed = f"{name} {fault}"
        expected = after_start(run(plan, trace(may_say, pinned, seed)))
        assert expected == after_start(run(with_fault, trace(may_say, pinned, seed))), fault


def modes(asked: str) -> list[str]:
    """The faults of a plan with one exit."""
    text = ONE_EXIT.format(asked)
    return [str(fault) for fault in faults_of(check(text).plan.routine)]


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        # An open input of the hub reads high: common practice, no source.
        ("bumper pressed", ["bumper stuck at pressed", "bumper stuck at released or unplugged"]),
        ("tin_gate clear", ["tin_gate stuck at broken", "tin_gate stuck at clear or unplugged"]),
        ("arm done", ["arm never done", "arm done at once"]),
        (
            "post_mark sees left",
            [
                "post_mark stuck at left",
                "post_mark stuck at middle",
                "post_mark stuck at right",
                "post_mark stuck at unsure",
                "post_mark unplugged",
            ],
        ),
        (
            "range_front < 8 cm",
            [
                "range_front stuck at 2 cm",
                "range_front stuck at 8 cm",
                "range_front unplugged or out of range",
            ],
        ),
        (
            "drive travelled > 20 cm",
            ["drive travelled does not count", "drive travelled unplugged or out of range"],
        ),
    ],
)
def test_modes(asked: str, expected: list[str]) -> None:
    """A thing fails in every way that the plan can tell from another."""
    assert expected == modes(asked)


def test_what_is_only_remembered_fails_too() -> None:
    """A thing that is remembered and never asked fails like any other, and within its range."""
    found = [str(fault) for fault in faults_of(check(REMEMBERS).plan.routine)]
    assert [
        "post_mark stuck at left",
        "post_mark stuck at middle",
        "post_mark stuck at right",
        "post_mark stuck at unsure",
        "post_mark unplugged",
        # Its hub line says 2 cm to 200 cm.
        "range_front stuck at 2 cm",
        "range_front unplugged or out of range",
        "gyro stuck at 0 deg",
        "gyro unplugged or out of range",
    ] == [one for one in found if one.split()[0] in ("post_mark", "range_front", "gyro")]


def test_a_memory_takes_what_the_broken_sensor_gives() -> None:
    """M13: with one answer it always holds that; with none, or none of its words, its own."""
    routine = check(REMEMBERS).plan.routine
    held = {
        fault.mode: (
            broken(routine, [fault]).memories["side"],
            [line.value for line in broken(routine, [fault]).steps["A"].remembers][:1],
        )
        for fault in faults_of(routine)
        if fault.item == "post_mark"
    }
    begun = {
        mode: (memory.words[0], memory.seen_by)
        for mode, (memory, _) in held.items()
        if isinstance(memory, WordMemory)
    }
    assert {
        "stuck at left": ("left", None),
        "stuck at middle": ("middle", None),
        "stuck at right": ("right", None),
        "stuck at unsure": ("middle", None),
        "unplugged": ("middle", None),
    } == begun
    assert ["left"] == held["stuck at left"][1]
    assert ["right"] == held["stuck at right"][1]
    # `post` has no word for it, so the next line comes first.
    for mode in ("stuck at middle", "stuck at unsure", "unplugged"):
        assert not isinstance(held[mode][1][0], str)


@pytest.mark.parametrize(
    ("condition", "fault", "expected"),
    [
        ("bumper pressed and tin_gate clear", "bumper stuck at pressed", {True, False}),
        ("bumper pressed and range_front < 8 cm", "bumper stuck at released", set()),
        ("bumper pressed or range_front < 8 cm", "bumper stuck at pressed", {True}),
        ("not range_front < 8 cm", "range_front unplugged", set()),
        ("range_front unreadable", "range_front unplugged", {True}),
        ("bumper pressed for 1 s", "bumper stuck at pressed", {True, False}),
        ("drive travelled stays within 1 cm for 1 s", "drive travelled does not", {True, False}),
    ],
)
def test_outcomes(condition: str, fault: str, expected: set[bool]) -> None:
    """What a fault leaves of an exit: nothing, all, or a question about something else."""
    text = ONE_EXIT.format(condition)
    routine = check(text).plan.routine
    one = next(f for f in faults_of(routine) if str(f).startswith(fault))
    whens = broken(routine, [one]).steps["A"].whens
    assert expected == {v for when in whens for v in outcomes(when.condition) if v is not None}
