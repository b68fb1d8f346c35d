"""New names are told from new things by what the text says of them and where it stands."""

from __future__ import annotations

import pytest
from demo import HEADER, check
from java.java_tools import ROUTINES

from planner.java import renames
from planner.java.named import Named, names_in_robot, names_in_routine

ROBOT = (ROUTINES / "moth.bot").read_text(encoding="utf-8")
STEPS = """start First
step First
  claw close
  when bumper pressed, go to Second
  after 2 s, go to Done
step Second
  drive forward 30 %
  when range_front < 8 cm, go to Third
  after 3 s, go to Done
step Third
  claw open
  after 0.5 s, go to Done
finish Done
"""


def _renamed(steps: str, robot: str = ROBOT) -> list[tuple[str, str, str]]:
    """What is told as renamed against the steps and the robot above."""
    found = renames(_names(STEPS, ROBOT), _names(steps, robot))
    return [(one.after.what, one.before.spoken, one.after.spoken) for one in found]


def _names(steps: str, robot: str) -> tuple[Named, ...]:
    plan = check(HEADER + steps, robot).plan
    return (*names_in_robot(plan.routine.robot), *names_in_routine(plan))


def _with(*changes: tuple[str, str], text: str = STEPS) -> str:
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    return text


def test_nothing_has_another_name_than_before() -> None:
    """The same plan has no new names, and neither has one that only changed in a step."""
    assert [] == _renamed(STEPS)
    assert [] == _renamed(_with(("claw close", "claw open"), ("after 2 s", "after 2.5 s")))


def test_all_steps_at_once() -> None:
    """Steps are told even where every one of them and all exits have new names."""
    steps = _with(("First", "One"), ("Second", "Two"), ("Third", "Three"), ("Done", "End"))
    pairs = [("First", "One"), ("Second", "Two"), ("Third", "Three"), ("Done", "End")]
    kinds = ["step", "step", "step", "finish"]
    assert _renamed(steps) == [(k, old, new) for k, (old, new) in zip(kinds, pairs, strict=True)]


def test_a_step_with_a_new_name_in_a_new_place() -> None:
    """A step that was moved as well is told by what it does."""
    lines = _with(("Second", "Two")).splitlines(keepends=True)
    moved = [*lines[:5], *lines[9:12], *lines[5:9], *lines[12:]]
    assert [("step", "Second", "Two")] == _renamed("".join(moved))


def test_a_step_that_was_changed_too() -> None:
    """A step in the same place is told if anything in it stayed, and not if nothing did."""
    changed = (
        ("Second", "Two"),
        ("drive forward 30 %", "arm to 90 ticks"),
        ("range_front < 8", "range_front < 9"),
    )
    assert [("step", "Second", "Two")] == _renamed(_with(*changed))
    assert [] == _renamed(_with(*changed, ("after 3 s, go to Done", "after 4 s, go to Third")))


def test_one_step_for_two() -> None:
    """Where two steps went and one came, the likest is the one."""
    steps = STEPS.replace("First", "Second", 1)
    lines = steps.splitlines(keepends=True)
    one = [lines[0], *lines[5:9], *lines[12:]]
    text = "".join(one).replace("Second", "Drive").replace("Third", "Done")
    assert [("step", "Second", "Drive")] == _renamed(text)


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ((("bumper", "nose"),), ("touch", "bumper", "nose")),
        ((("arm_motor", "lift"),), ("motor", "arm_motor", "lift")),
        ((("camera post_mark", "camera mark"),), ("camera", "post_mark", "mark")),
        ((("reading travelled", "reading gone"),), ("reading", "drive travelled", "drive gone")),
        ((("command take", "command grab"),), ("command", "roller take", "roller grab")),
        ((("mechanism roller", "mechanism belt"),), ("mechanism", "roller", "belt")),
    ],
)  # fmt: skip
def test_names_of_the_robot_file(
    changes: tuple[tuple[str, str], ...], expected: tuple[str, str, str]
) -> None:
    """Devices, readings, commands and mechanisms are told by port, kind and what they do."""
    steps = STEPS.replace("bumper", "nose") if "nose" in expected else STEPS
    assert [expected] == _renamed(steps, _with(*changes, text=ROBOT))


def test_a_command_of_a_mechanism_with_a_new_name() -> None:
    """A mechanism and its command may both have new names at once."""
    robot = _with(
        ("mechanism roller", "mechanism belt"), ("command take", "command grab"), text=ROBOT
    )
    expected = [("mechanism", "roller", "belt"), ("command", "roller take", "belt grab")]
    assert expected == _renamed(STEPS, robot)


LANES = """start Carry
together Carry
  when all lanes done, go to Done
  after 6 s, go to Done
  lane wheels
    step Drive
      drive forward 30 %
      when bumper pressed, go to done
      after 3 s, go to done
  lane lifting
    step Wait
      when lane wheels done, go to done
      after 3 s, go to done
    step Lift
      arm to 900 ticks
      when arm done, go to done
      after 3 s, go to done
finish Done
"""


@pytest.mark.parametrize(
    ("changes", "expected"),
    [
        ((), []),
        (
            (("lane wheels", "lane base"),) * 2,
            [("lane", "Carry wheels", "Carry base")],
        ),
        (
            (("start Carry", "start Haul"), ("together Carry", "together Haul")),
            [
                ("step", "Carry", "Haul"),
                ("lane", "Carry wheels", "Haul wheels"),
                ("lane", "Carry lifting", "Haul lifting"),
            ],
        ),
        ((("step Lift", "step Raise"),), [("step", "Lift", "Raise")]),
    ],
    ids=["nothing", "a lane", "a block", "a step of a lane"],
)
def test_lanes_with_new_names(
    changes: tuple[tuple[str, str], ...], expected: list[tuple[str, str, str]]
) -> None:
    """Blocks and lanes are told by what stands in them, and steps of lanes like all others."""
    text = LANES
    for old, new in changes:
        text = text.replace(old, new, 1)
    found = renames(_names(LANES, ROBOT), _names(text, ROBOT))
    assert expected == [(one.after.what, one.before.spoken, one.after.spoken) for one in found]


def test_another_device_on_another_port() -> None:
    """A touch sensor that goes and another that comes elsewhere are two things."""
    robot = _with(("  digital 7 bumper touch\n", ""), (", bumper", ""), text=ROBOT)
    robot = robot.replace("  digital 1 arm", "  digital 5 stern touch\n  digital 1 arm")
    steps = STEPS.replace("bumper", "stern")
    assert [] == _renamed(steps, robot)
