"""Which steps of two lanes are active at once, judged by the reference machine."""

from __future__ import annotations

import random

import pytest
from demo import check

from planner.graph import Plan
from planner.graph.side_by_side import active_at_once
from planner.rehearsal import Machine

PASS_US = 40_000
LANES = {"one": ("P", "Q", "R"), "two": ("X", "Y", "Z")}
ASKED = (
    *("lane OTHER done", "any lane done", "lane OTHER in STEP", "not lane OTHER in STEP"),
    *("once lane OTHER in STEP", "lane OTHER in STEP and bumper pressed", "bumper pressed"),
    *("lane OTHER done for 0.2 s", "bumper pressed or lane OTHER done"),
)


def random_text(seed: int) -> str:
    """A block of two lanes that look at each other; the same for the same seed."""
    draw = random.Random(seed)
    lines = ["start Both", "together Both", "  when all lanes done, go to F"]
    lines += ["  after 20 s, go to F"]
    for lane, steps in LANES.items():
        other = "two" if lane == "one" else "one"
        lines.append(f"  lane {lane}")
        for step in steps:
            lines.append(f"    step {step}")
            for _ in range(draw.randint(1, 2)):
                asked = draw.choice(ASKED).replace("STEP", draw.choice(LANES[other]))
                target = draw.choice((*steps, "done"))
                lines.append(f"      when {asked.replace('OTHER', other)}, go to {target}")
    return "\n".join([*lines, "finish F"]) + "\n"


def foreseen(plan: Plan) -> set[tuple[str, str]]:
    """What is said of the two lanes of the only block."""
    groups = plan.routine.groups
    pairs = active_at_once(plan, groups["Both one"], groups["Both two"])
    assert pairs is not None
    return pairs


@pytest.mark.parametrize("seed", range(60))
def test_steps_that_are_active_at_once_are_foreseen(seed: int) -> None:
    """Whatever two steps some run has at once are among the pairs that may be."""
    plan = check(random_text(seed)).plan
    pairs, draw = foreseen(plan), random.Random(seed)
    for _ in range(10):
        machine = Machine(plan)
        for number in range(60):
            said = {"bumper": draw.choice(("pressed", "released"))}
            machine.pass_(number * PASS_US, said)
            if machine.finished:
                break
            one, two = machine.state.lanes.values()
            assert (one, two) in pairs


@pytest.mark.parametrize(
    ("asked", "expected"),
    [
        ("lane one done", {("P", "X"), ("one done", "X"), ("one done", "Y")}),
        ("lane one in P", {("P", "X"), ("P", "Y"), ("one done", "X"), ("one done", "Y")}),
        # A third of the conditions may come out in any way.
        ("bumper pressed", {("P", "X"), ("P", "Y"), ("one done", "X"), ("one done", "Y")}),
        ("lane one done and lane one in P", {("P", "X"), ("one done", "X")}),
    ],
)
def test_what_lanes_ask_of_each_other_keeps_them_apart(
    asked: str, expected: set[tuple[str, str]]
) -> None:
    """M8: what is asked about a lane is answered by where it stood when the pass began."""
    text = (
        "start Both\ntogether Both\n  after 9 s, go to F\n  lane one\n    step P\n"
        "      when tin_gate broken, go to done\n  lane two\n    step X\n"
        f"      when {asked}, go to Y\n    step Y\n      after 30 s, go to F\nfinish F\n"
    )
    pairs = foreseen(check(text).plan)
    assert expected == {(_short(one), _short(two)) for one, two in pairs}


def _short(step: str) -> str:
    return step.removeprefix("Both ")
