"""What mechanisms do where: limit switches, lanes, and ways with and without a command."""

from __future__ import annotations

import pytest
from demo import check_text, names_of

LIFT = """robot crane
hub main
  motor 0 lift_motor
  digital 1 lift_floor SENSOR
mechanism lift
  uses lift_motor, lift_floor
  command lower LASTS
    lift_motor at -30 %
"""
DOWN = """routine down
robot crane
limit 30 s
start Lower
step Lower
  COMMAND
  when lift_floor STATE, go to Rest
  after 2 s, go to GiveUp
step Rest
  after 1 s, go to Parked
finish Parked
  lift stop
finish GiveUp
  lift stop
"""


@pytest.mark.parametrize(
    ("sensor", "lasts", "command", "state", "expected"),
    [
        ("switch", "holds", "lift lower", "closed", True),
        ("switch", "runs", "keep lift lower", "closed", True),
        # The command ends with its step.
        ("switch", "runs", "lift lower", "closed", False),
        # Away from the end of the way there is no reason to stop.
        ("switch", "holds", "lift lower", "open", False),
        ("touch", "holds", "lift lower", "pressed", True),
        # A robot that leans against a wall has a touch sensor and `keep`.
        ("touch", "runs", "keep lift lower", "pressed", False),
    ],
)
def test_a_limit_switch_stops_its_motor(
    sensor: str, lasts: str, command: str, state: str, expected: bool
) -> None:
    """Where the motor goes on behind the exit at the end of the way, the switch stops nothing."""
    robot = LIFT.replace("SENSOR", sensor).replace("LASTS", lasts)
    plan = DOWN.replace("COMMAND", command).replace("STATE", state)
    assert expected == ("limit-switch-stops-nothing" in names_of(check_text(plan, robot)))


@pytest.mark.parametrize(
    ("sensor", "command", "expected"),
    [
        ("switch", "lift lower 30 %", True),
        ("switch", "lift lower 50 %", True),
        # Less power, the other way, or a stop: whoever writes that has thought of it.
        ("switch", "lift lower 10 %", False),
        ("switch", "lift lower -30 %", False),
        ("switch", "lift stop", False),
        ("touch", "lift lower 30 %", False),
    ],
)
def test_the_same_command_again_is_no_stop(sensor: str, command: str, expected: bool) -> None:
    """A step that turns the motor on against the end of its way stops nothing either."""
    robot = LIFT.replace("SENSOR", sensor).replace("LASTS", "runs")
    robot = robot.replace("lower", "lower(power %)").replace("-30 %", "-power")
    state = "closed" if sensor == "switch" else "pressed"
    plan = DOWN.replace("COMMAND", "lift lower 30 %").replace("STATE", state)
    plan = plan.replace("step Rest\n", f"step Rest\n  {command}\n")
    assert expected == ("limit-switch-stops-nothing" in names_of(check_text(plan, robot)))


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ("whenever lift_floor closed, lamp light", True),
        ("whenever lift_floor closed, lift lower", True),
        ("whenever lift_floor closed, lift stop", False),
        ("whenever lift_floor open, lamp light", False),
        ("whenever lift_floor closed, lamp light\n  when lift_floor closed, go to Rest", False),
    ],
)
def test_a_rule_that_only_looks_stops_nothing(lines: str, expected: bool) -> None:
    """A side rule that looks at the switch and leaves the motor as it is stops nothing."""
    robot = LIFT.replace("SENSOR", "switch").replace("LASTS", "runs")
    robot = robot.replace("mechanism lift", "  digital 2 mast lamp\nmechanism lift")
    robot += "mechanism lamp\n  uses mast\n  command light holds\n    mast on\n"
    plan = DOWN.replace("COMMAND", "lift lower")
    plan = plan.replace("when lift_floor STATE, go to Rest", lines)
    assert expected == ("limit-switch-stops-nothing" in names_of(check_text(plan, robot)))


def test_a_rule_at_the_other_end_is_left_alone() -> None:
    """Where a step lowers the lift until the switch, one that raises it leads away from it."""
    robot = LIFT.replace("SENSOR", "switch").replace("LASTS", "runs")
    robot = robot.replace("mechanism lift", "  digital 2 mast lamp\nmechanism lift")
    robot += "  command raise runs\n    lift_motor at 30 %\n"
    robot += "mechanism lamp\n  uses mast\n  command light holds\n    mast on\n"
    plan = DOWN.replace("COMMAND", "lift lower").replace("STATE", "closed")
    plan = plan.replace(
        "step Rest", "step Rest\n  lift raise\n  whenever lift_floor closed, lamp light"
    )
    assert "limit-switch-stops-nothing" not in names_of(check_text(plan, robot))
    plan = plan.replace("when lift_floor closed, go to Rest", "when lift_floor open, go to GiveUp")
    plan = plan.replace("lift raise", "lift lower").replace(
        "after 2 s, go to GiveUp", "after 2 s, go to Rest"
    )
    assert "limit-switch-stops-nothing" in names_of(check_text(plan, robot))


LANES = """start Carry
together Carry
  when JOINED, go to Place
  after 6 s, go to GiveUp
  lane wheels
    step Drive
      drive forward 40 %
      when bumper pressed, go to done
      after 4 s, go to done
  lane lifting
    step Wait
      when range_front < 30 cm, go to Lift
      after 4 s, go to TARGET
    step Lift
      arm to 1200 ticks
      when tin_gate broken, go to done
      after 3 s, go to done
step Place
  when arm done, go to Lit
  after 3 s, go to GiveUp
finish Lit
finish GiveUp
"""


@pytest.mark.parametrize(
    ("joined", "target", "expected"),
    [
        ("all lanes done", "Lift", False),
        ("lane lifting done", "Lift", False),
        # One way through the lane says nothing to the arm, and so does a block left before.
        ("all lanes done", "done", True),
        ("lane wheels done", "Lift", True),
    ],
)
def test_what_a_lane_has_told_goes_on_behind_its_block(
    joined: str, target: str, expected: bool
) -> None:
    """M8: when a lane has come to its end, all that each way through it commands is in force."""
    text = LANES.replace("JOINED", joined).replace("TARGET", target)
    assert expected == ("command-missing-on-a-way" in names_of(check_text(text)))
