"""Conditions drawn at random, and what the reference machine says of them."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import count, product

from demo import check

from planner.graph.possible import Outcome
from planner.model import Robot
from planner.model.condition import Condition
from planner.rehearsal.conditions import Look, Number, question
from planner.rehearsal.truth import Truth

Said = Mapping[str, Number | str | bool | None]

LEAVES = (
    *("range_front < 8 cm", "range_front <= 8 cm", "range_front > 20 cm", "range_front >= 8 cm"),
    *("range_front within 5 cm of 10 cm", "range_front unreadable", "bumper pressed"),
    *("bumper released", "gyro within 10 deg of 175 deg", "gyro > 170 deg", "gyro < -170 deg"),
    *("floor_eye sees red", "floor_eye sees unsure", "floor_eye unreadable"),
)
# At the thresholds, between them and beyond; 1000 cm lies outside of what the sensor gives.
READINGS: Mapping[str, tuple[Number | str | None, ...]] = {
    "range_front": (2, 5, 7, 8, 9, 15, 16, 20, 21, 200, 1000, None),
    "gyro": (-180, -176, -175, -171, -170, 0, 164, 165, 170, 171, 180, None),
    "bumper": ("pressed", "released", None),
    "floor_eye": ("red", "blue", "unsure", None),
}


def random_condition(
    draw: random.Random, depth: int = 2, leaves: tuple[str, ...] = LEAVES, memory: bool = False
) -> str:
    """A condition with parentheses around all that is made of parts."""
    kinds = ("leaf", "leaf", "not", "and", "or", *(("for", "looks", "once") if memory else ()))
    kind = draw.choice(kinds) if depth else "leaf"
    if kind == "leaf":
        return draw.choice(leaves)
    inner = random_condition(draw, depth - 1, leaves, memory)
    if kind == "not":
        return f"not ({inner})"
    if kind == "for":
        return f"({inner}) for {draw.choice(('20 ms', '40 ms', '100 ms'))}"
    if kind == "looks":
        return f"({inner}) for {draw.choice(('1 of 3', '2 of 3', '3 of 3', '2 of 2'))} looks"
    if kind == "once":
        return f"once ({inner})"
    return f"({inner} {kind} {random_condition(draw, depth - 1, leaves, memory)})"


def conditions(*texts: str) -> list[Condition]:
    """Some conditions, resolved for the demo robot."""
    lines = "".join(f"  when {text}, go to F\n" for text in texts)
    plan = check(f"start A\nstep A\n{lines}  after 1 s, go to G\nfinish F\nfinish G\n").plan
    return [when.condition for when in plan.step("A").whens]


def truths(condition: Condition, readings: Said) -> Truth:
    """What the machine says of a condition in the first look of a visit."""
    return question(condition, count())(Look(0, readings, readings, 0, {}))


def everything(readings: Mapping[str, tuple[Number | str | None, ...]]) -> Iterator[Said]:
    """Every combination of the readings."""
    for values in product(*readings.values()):
        yield dict(zip(readings, values, strict=True))


def as_read(robot: Robot, outcome: Outcome) -> Said:
    """The readings of an outcome as the machine is handed them; what it leaves out is resting."""
    found: dict[str, Number | str | bool | None] = {"range_front": 50, "gyro": 0}
    found |= {"bumper": "released", "floor_eye": "unsure"}
    for name, value in outcome.says.items():
        unit = robot.sensors[name].unit if name in robot.sensors else None
        found[name] = value / unit.size if isinstance(value, Fraction) and unit else value
    return found
