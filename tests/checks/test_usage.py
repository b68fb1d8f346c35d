"""What nobody uses is told once, in the robot file, and only when all of its routines were read."""

from __future__ import annotations

from demo import names_of, robot_of

from planner.model import Routine
from planner.pipeline import check_robot, check_routine
from planner.text import Source

ROBOT = """robot lamp_bearer
hub main
  motor 0 wheels
  encoder 1 wheel_ticks
  digital 1 bumper touch
  i2c 0 gyro heading
camera mark sees left, right
mechanism drive
  uses wheels, gyro, bumper
  command forward(power %) runs
    wheels at power
  command back(power %) runs
    wheels at -power
  reading travelled cm from step start
"""
ROUTINE = """routine ahead
robot lamp_bearer
limit 30 s
start Ahead
step Ahead
  drive forward 40 %
  LINE
  after 3 s, go to GiveUp
finish Lit
finish GiveUp
"""


def routine(line: str) -> Routine:
    """A routine with one line of its own."""
    text = ROUTINE.replace("LINE", line)
    return check_routine(Source("x.routine", text), lambda _name: robot_of(ROBOT)).plan.routine


def unused(*lines: str) -> list[tuple[str, str]]:
    """Check and name of what is found unused by routines that have these lines."""
    found = check_robot(robot_of(ROBOT), [routine(line) for line in lines])
    return [(finding.check, finding.place.words) for finding in found]


def test_nothing_is_said_of_a_robot_file_alone() -> None:
    """Where no routine was checked along, nothing is known about what they use."""
    assert [] == unused()


def test_what_no_routine_uses() -> None:
    """Sensors, commands and readings that no routine mentions are notes at their own lines.

    The gyro counts as used, since its mechanism steers by it; the loose encoder does not.
    """
    expected = [
        ("unused-sensor", "wheel_ticks"),
        ("unused-sensor", "mark"),
        ("unused-command", "back"),
        ("unused-reading", "travelled"),
    ]
    assert expected == unused("when bumper pressed, go to Lit")


def test_one_routine_that_uses_it_is_enough() -> None:
    """A thing is used when any of the routines uses it, at any depth of a condition."""
    lines = (
        "when bumper pressed and not (mark sees left or wheel_ticks > 3 ticks), go to Lit",
        "when drive travelled > 20 cm for 0.1 s, go to Lit",
        "drive back 20 %",
    )
    assert [] == unused(*lines)


def test_a_line_that_cannot_be_read_may_have_used_it() -> None:
    """Where a line of any routine is unclear, nothing is concluded from what is absent."""
    assert [] == unused("if bumper pressed, go to Lit")
    assert [] == unused("when bumper pressed, go to Lit", "when bumpr pressed, go to Lit")


def test_robot_findings_are_told_once() -> None:
    """A fault of the robot file is no finding of each routine that uses it."""
    crooked = ROBOT.replace("digital 1 bumper", "digital 2 bumper")
    text = ROUTINE.replace("LINE", "when bumper pressed, go to Lit")
    checked = check_routine(Source("x.routine", text), lambda _name: robot_of(crooked))
    assert [] == list(checked.findings)
    assert ["touch-on-even-channel"] == names_of(check_robot(robot_of(crooked)))


def test_an_output_in_a_broken_uses_line_may_be_used() -> None:
    """A device that a line mentions which cannot be read is not called unused."""
    broken = ROBOT.replace("uses wheels, gyro, bumper", "uses wheels, gyro,, bumper")
    assert "unused-device" not in names_of(check_robot(robot_of(broken)))
