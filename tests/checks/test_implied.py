"""Whether one exit always comes before another, judged by asking the reference machine."""

from __future__ import annotations

import random
from itertools import count, product

import pytest
from demo import check, check_text, names_of

from planner.checks.implied import implies
from planner.model.condition import Condition
from planner.rehearsal.conditions import Look, question
from planner.rehearsal.truth import TRUE

LEAVES = (
    *("range_front < 8 cm", "range_front <= 8 cm", "range_front > 20 cm", "range_front >= 8 cm"),
    *("range_front within 5 cm of 10 cm", "range_front unreadable", "bumper pressed"),
    *("bumper released", "gyro within 10 deg of 175 deg", "gyro > 170 deg", "gyro < -170 deg"),
)
# At the thresholds, between them and beyond; 1000 cm lies outside of what the sensor gives.
DISTANCES_CM = (2, 5, 7, 8, 9, 15, 16, 20, 21, 200, 1000)
HEADINGS_DEG = (-180, -176, -175, -171, -170, 0, 164, 165, 170, 171, 180)


def random_condition(draw: random.Random, depth: int = 2) -> str:
    """A condition without memory, with parentheses around all that is made of parts."""
    kind = draw.choice(("leaf", "leaf", "not", "and", "or")) if depth else "leaf"
    if kind == "leaf":
        return draw.choice(LEAVES)
    if kind == "not":
        return f"not ({random_condition(draw, depth - 1)})"
    return f"({random_condition(draw, depth - 1)} {kind} {random_condition(draw, depth - 1)})"


def conditions(*texts: str) -> list[Condition]:
    """Some conditions, resolved for the demo robot."""
    lines = "".join(f"  when {text}, go to F\n" for text in texts)
    plan = check(f"start A\nstep A\n{lines}  after 1 s, go to G\nfinish F\nfinish G\n").plan
    return [when.condition for when in plan.step("A").whens]


def always_together(first: Condition, then: Condition) -> bool:
    """Whether the machine finds the second true whenever the first is, whatever is read."""
    asked = [question(condition, count()) for condition in (first, then)]
    for distance, heading, bumper in product(DISTANCES_CM, HEADINGS_DEG, ("pressed", "released")):
        readings = {"range_front": distance, "gyro": heading, "bumper": bumper}
        answers = [ask(Look(0, readings, readings, 0, {})) for ask in asked]
        if answers[0] == TRUE and answers[1] != TRUE:
            return False
    return True


@pytest.mark.parametrize("seed", range(60))
def test_what_is_implied_is_true_whenever_the_other_is(seed: int) -> None:
    """Nothing is called implied that some reading tells apart."""
    draw = random.Random(seed)
    drawn = conditions(*(random_condition(draw) for _ in range(8)))
    for first, then in product(drawn, drawn):
        assert not implies(first, then) or always_together(first, then)


@pytest.mark.parametrize("first", LEAVES)
def test_two_questions_to_one_sensor_are_told_apart_exactly(first: str) -> None:
    """Of two conditions on one sensor it is found exactly where one implies the other."""
    for then in (leaf for leaf in LEAVES if leaf.split()[0] == first.split()[0]):
        pair = conditions(first, then)
        assert always_together(*pair) == implies(*pair), (first, then)


@pytest.mark.parametrize(
    ("first", "then", "expected"),
    [
        ("bumper pressed for 0.3 s", "bumper pressed for 0.2 s", True),
        ("bumper pressed for 0.2 s", "bumper pressed for 0.3 s", False),
        ("bumper pressed for 0.2 s", "bumper pressed", True),
        ("bumper pressed", "bumper pressed for 0.2 s", False),
        ("bumper pressed", "once bumper pressed", True),
        ("once bumper pressed", "bumper pressed", False),
        ("bumper pressed for 4 of 5 looks", "bumper pressed for 3 of 5 looks", True),
        ("bumper pressed for 3 of 5 looks", "bumper pressed for 4 of 5 looks", False),
        ("bumper pressed for 3 of 5 looks", "bumper pressed for 3 of 4 looks", False),
        ("arm done and bumper pressed", "arm done", True),
        ("arm done", "arm done or bumper pressed", True),
        ("match > 20 s", "match > 10 s", True),
        ("match > 10 s", "match > 20 s", False),
    ],
)
def test_what_is_remembered(first: str, then: str, expected: bool) -> None:
    """Conditions on several passes are compared by how long and how often they ask."""
    assert expected == implies(*conditions(first, then))


GROUPED = """start A
group Cycle
  when GROUP, go to F
  after 5 s, go to G
  step A
    drive forward 40 %
    when STEP, go to G
    after 3 s, go to G
finish F
finish G
"""


@pytest.mark.parametrize(
    ("group", "step", "expected"),
    [
        ("bumper pressed", "bumper pressed and arm done", ["shadowed-exit"]),
        ("bumper pressed", "bumper pressed", ["shadowed-exit"]),
        ("bumper pressed", "range_front < 8 cm", []),
        # A group counts its readings from its own entry.
        ("drive travelled > 20 cm", "drive travelled > 30 cm", []),
        ("range_front < 20 cm", "range_front < 8 cm", ["shadowed-exit"]),
        ("tin_gate broken", "bumper pressed for 3 s", ["shadowed-exit"]),
        ("tin_gate broken for 5 s", "bumper pressed", ["shadowed-exit"]),
        ("tin_gate broken for 4.9 s", "bumper pressed for 2.9 s", []),
    ],
)
def test_a_group_is_asked_before_its_steps(group: str, step: str, expected: list[str]) -> None:
    """M4: what a group waits for comes before what its steps wait for, and so does its limit."""
    text = GROUPED.replace("GROUP", group).replace("STEP", step)
    assert expected == [n for n in names_of(check_text(text)) if n != "wait-never-commanded"]
