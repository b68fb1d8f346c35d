"""How long a pass takes, by what is read and told in it."""

from __future__ import annotations

import pytest
from demo import check

from planner.graph.pass_time import USUAL_PASS_US, longest_pass_us, longest_passes_us, pass_times

ROBOT = """robot tram
hub front
  motor 0 left_wheel
  motor 1 right_wheel
  motor 2 left_arm
  motor 3 right_arm
  digital 1 bumper touch
  digital 3 gate beam
  i2c 0 gyro heading
  i2c 1 range distance 2 cm to 200 cm
hub back
  digital 1 tail touch
camera mark sees left, right
mechanism drive
  uses left_wheel, right_wheel, gyro
  command forward(power %) runs
    left_wheel at power
    right_wheel at power
  command turn(angle deg) runs, reports done
  reading travelled cm from step start
mechanism arms
  uses left_arm, right_arm
  command up holds
    left_arm at 40 %
    right_arm at 40 %
"""


def times(step: str, before: str = "") -> tuple[int, int]:
    """Calls and I2C reads of a step of a plan with a robot file that states no pass."""
    text = f"routine r\nrobot tram\nlimit 30 s\n{before}start A\nstep A\n{step}finish F\n"
    time = pass_times(check(text, ROBOT).plan)["A"]
    return time.calls, time.i2c_reads


@pytest.mark.parametrize(
    ("step", "expected"),
    [
        ("  after 1 s, go to F\n", (0, 0)),
        ("  when bumper pressed, go to F\n  after 1 s, go to F\n", (1, 0)),
        # Bulk reading fetches all inputs of a hub at once; another hub is another call.
        ("  when bumper pressed and gate clear, go to F\n  after 1 s, go to F\n", (1, 0)),
        ("  when bumper pressed or tail pressed, go to F\n  after 1 s, go to F\n", (2, 0)),
        ("  when range < 8 cm or gyro > 9 deg, go to F\n  after 1 s, go to F\n", (0, 2)),
        # A camera's answers come by no call to a hub.
        ("  when mark sees left, go to F\n  after 1 s, go to F\n", (0, 0)),
        ("  drive forward 40 %\n  after 1 s, go to F\n", (2, 0)),
        ("  drive forward 40 %\n  when bumper pressed, go to F\n  after 1 s, go to F\n", (3, 0)),
        # What no line spells out the team's Java steers pass by pass, with the mechanism's sensors.
        ("  drive turn 90 deg\n  when bumper pressed, go to F\n  after 1 s, go to F\n", (3, 1)),
        ("  when drive travelled > 9 cm, go to F\n  after 1 s, go to F\n", (1, 1)),
        ("  whenever bumper pressed, arms up\n  after 1 s, go to F\n", (3, 0)),
    ],
)
def test_what_is_asked_of_the_hubs(step: str, expected: tuple[int, int]) -> None:
    """A pass counts one call a hub for all that is read, one for each output set, one read for each
    I2C device."""
    assert expected == times(step)


def test_five_calls_and_one_i2c_read_make_22_ms() -> None:
    """About 22 ms a pass, 45 passes a second: common practice, no source."""
    step = (
        "  drive forward 40 %\n  arms up\n  when bumper pressed or range < 8 cm, go to F\n"
        "  after 1 s, go to F\n"
    )
    text = f"routine r\nrobot tram\nlimit 30 s\nstart A\nstep A\n{step}finish F\n"
    assert (5, 1) == times(step)
    plan = check(text, ROBOT).plan
    assert 22_000 == longest_passes_us(plan)["A"]
    # What is proved has to hold for more than an estimate.
    assert USUAL_PASS_US == longest_pass_us(plan)


def test_what_the_robot_file_states_counts() -> None:
    """An estimate is for a robot file without a `pass` line."""
    text = "routine r\nrobot tram\nlimit 30 s\nstart A\nstep A\n  after 1 s, go to F\nfinish F\n"
    stated = ROBOT.replace("tram\n", "tram\npass 8 ms to 31 ms\n", 1)
    assert {"A": 31_000, "F": 31_000} == longest_passes_us(check(text, stated).plan)
    assert USUAL_PASS_US == longest_pass_us(check(text, ROBOT).plan)


def test_lanes_share_a_pass() -> None:
    """M8: while lanes run, one pass reads and tells for all of them."""
    text = (
        "routine r\nrobot tram\nlimit 30 s\nstart A\ntogether A\n  when all lanes done, go to F\n"
        "  after 9 s, go to F\n  lane one\n    step B\n      drive forward 40 %\n"
        "      when bumper pressed, go to done\n      after 4 s, go to done\n  lane two\n"
        "    step C\n      arms up\n      when gate clear or range < 8 cm, go to done\n"
        "      after 4 s, go to done\nfinish F\n"
    )
    assert 22_000 == longest_passes_us(check(text, ROBOT).plan)["B"]
