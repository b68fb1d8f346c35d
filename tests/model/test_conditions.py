"""From a written condition to a resolved one: every kind of name, right and wrong."""

from __future__ import annotations

from fractions import Fraction

import pytest
from demo import resolved, said

from planner.model import Robot, missing_robot
from planner.model.condition import (
    Answers,
    Compare,
    Condition,
    Done,
    Held,
    Unresolved,
    Within,
    leaves,
    parts,
)
from planner.model.spoken import spoken_command, spoken_condition
from planner.text import Place, Source

SETTINGS = "setting near = 8 cm\nsetting power = 40 %\nsetting pause = 0.5 s\n"


def condition(text: str) -> tuple[Condition, list[tuple[str, str]]]:
    """The condition of a step as resolved, and the slips."""
    plan = (
        f"start A\n{SETTINGS}step A\n  when {text}, go to Lit\n  after 1 s, go to Lit\nfinish Lit"
    )
    routine, slips = resolved(plan)
    (exit_,) = routine.steps["A"].whens
    assert bool(slips) == routine.steps["A"].incomplete
    return exit_.condition, said(slips)


@pytest.mark.parametrize(
    ("text", "kind", "spoken"),
    [
        ("bumper pressed", Answers, None),
        ("tin_gate clear", Answers, None),
        ("floor_eye sees red", Answers, None),
        ("floor_eye sees unsure", Answers, None),
        ("post_mark sees left", Answers, None),
        ("arm done", Done, None),
        ("range_front < 8 cm", Compare, None),
        ("range_front <= near", Compare, None),
        ("drive travelled > -near", Compare, None),
        ("drive travelled >= 1.50 in", Compare, "drive travelled >= 1.5 in"),
        ("gyro within 2 deg of -90 deg", Within, None),
        ("gyro within 0.25 turns of 90 deg", Within, None),
        ("bumper pressed for pause", Held, "bumper pressed for 0.5 s"),
        ("bumper pressed for 100 ms", Held, "bumper pressed for 0.1 s"),
    ],
)
def test_resolved(text: str, kind: type, spoken: str | None) -> None:
    """A condition whose names are known resolves, and is spoken of as it was written."""
    found, slips = condition(text)
    assert (kind, []) == (type(found), slips)
    assert (spoken or text) == spoken_condition(found)


@pytest.mark.parametrize(
    ("text", "slip"),
    [
        ("bumpr pressed", ("unknown-sensor", "bumpr")),
        ("bumpr sees red", ("unknown-sensor", "bumpr")),
        ("range < 8 cm", ("unknown-sensor", "range")),
        ("left_wheels < 8 cm", ("unknown-sensor", "left_wheels")),
        ("left_wheels pressed", ("unknown-sensor", "left_wheels")),
        ("dirve travelled < 8 cm", ("unknown-mechanism", "dirve")),
        ("drive traveled < 8 cm", ("unknown-reading", "traveled")),
        ("range_front < nearr", ("unknown-setting", "nearr")),
        ("range_front < 8", ("number-without-unit", "8")),
        ("range_front < 8 furlongs", ("unknown-unit", "8 furlongs")),
        ("range_front < 8 deg", ("wrong-unit", "8 deg")),
        ("range_front < power", ("wrong-unit", "power")),
        ("range_front < -power", ("wrong-unit", "-power")),
        ("gyro within 2 cm of 90 deg", ("wrong-unit", "2 cm")),
        ("gyro within 2 deg of 90 s", ("wrong-unit", "90 s")),
        ("bumper < 8 cm", ("wrong-question", "bumper < 8 cm")),
        ("bumper open", ("wrong-question", "bumper open")),
        ("bumper sees pressed", ("wrong-question", "bumper sees pressed")),
        ("floor_eye sees green", ("wrong-question", "floor_eye sees green")),
        ("floor_eye red", ("wrong-question", "floor_eye red")),
        ("range_front pressed", ("wrong-question", "range_front pressed")),
        ("range_front sees red", ("wrong-question", "range_front sees red")),
        ("post_mark within 2 cm of 3 cm", ("wrong-question", "post_mark within 2 cm of 3 cm")),
        ("roller done", ("wrong-question", "roller done")),
        ("drive pressed", ("wrong-question", "drive pressed")),
        ("bumper pressed for near", ("wrong-unit", "near")),
        ("bumper pressed for -1 s", ("wrong-time", "-1 s")),
    ],
)
def test_wrong(text: str, slip: tuple[str, str]) -> None:
    """A condition that makes no sense is one slip at its own words, and nothing is made of it."""
    found, slips = condition(text)
    assert ([slip], True) == (slips, isinstance(found, Unresolved))


def test_two_slips_in_one_condition() -> None:
    """Each wrong name of a condition is reported."""
    _, slips = condition("bumpr pressed and (not range_front < 8 deg or arm doen)")
    assert [
        ("unknown-sensor", "bumpr"),
        ("wrong-unit", "8 deg"),
        ("wrong-question", "arm doen"),
    ] == slips


def test_thresholds_are_exact() -> None:
    """A threshold is held as it was written, in a unit of its own."""
    found, _ = condition("range_front < 0.1 in")
    assert isinstance(found, Compare)
    assert Fraction("2.54") == found.threshold.base


def test_parts_and_leaves() -> None:
    """The parts of a condition come outermost first, its leaves as written."""
    found, _ = condition("not (bumper pressed and arm done) for 1 s or tin_gate broken")
    assert ["Answers", "Done", "Answers"] == [type(leaf).__name__ for leaf in leaves(found)]
    assert ["Any", "Not", "Held", "All", "Answers", "Done", "Answers"] == [
        type(part).__name__ for part in parts(found)
    ]
    assert "not (bumper pressed and arm done) for 1 s or tin_gate broken" == spoken_condition(found)


@pytest.mark.parametrize(
    "text", ["bumper pressed", "nothing done", "x < 3 cm", "a b < 3 cm", "x sees y"]
)
def test_a_missing_robot_file_is_no_slip_of_its_names(text: str) -> None:
    """Where the robot file is missing no name can be wrong, but nothing is concluded either."""
    robot = missing_robot("moth", Place(Source("x", ""), 1, 1, 2))
    plan = f"start A\nstep A\n  when {text}, go to Lit\n  after 1 s, go to Lit\nfinish Lit"
    routine, slips = resolved(plan, robot)
    assert ((), True) == (slips, routine.steps["A"].incomplete)


def test_spoken_commands(moth: Robot) -> None:
    """A command is spoken of as a plan would write it."""
    plan = "start A\nsetting pace = 40 %\nstep A\n  drive forward -pace\n"
    routine, _ = resolved(plan + "  keep roller take\n  arm to 5.50 ticks\n", moth)
    assert ["drive forward -pace", "keep roller take", "arm to 5.5 ticks"] == [
        spoken_command(given) for given in routine.steps["A"].commands
    ]
