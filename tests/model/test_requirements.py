"""Requirements as resolved: names, numbers and units."""

from __future__ import annotations

from fractions import Fraction

import pytest
from demo import resolved, robot_of, said

from planner.model import resolve_routine
from planner.model.requirement import FinishedBy, Inside, LeadsTo, OnlyAfter, Requirement, Told
from planner.text import Source
from planner.tree import parse_routine

PLAN = """
setting up = 1200 ticks
setting late = 29 s
{line}
start Take
group Cycle
  step Take
    roller take
    drive forward 40 %
    when tin_gate broken, go to First
    after 4 s, go to Still
step First
  do place up
  when task ends placed, go to Second
  after 4 s, go to Still
step Second
  do place 900 ticks
  when task ends placed, go to Still
  after 4 s, go to Still
finish Still
task place(height ticks) ends placed
  step Raise
    arm to height
    when arm done, go to placed
    after 2 s, go to placed
"""


def one(line: str) -> Requirement:
    """The requirement of a line in a plan without slips."""
    routine, slips = resolved(PLAN.format(line=line))
    assert () == slips
    (requirement,) = routine.requirements
    return requirement


def inside(name: str) -> Inside:
    """The first happening of a requirement that speaks of a name."""
    requirement = one(f"require in {name} only after roller take")
    assert isinstance(requirement, OnlyAfter)
    assert isinstance(requirement.later, Inside)
    return requirement.later


@pytest.mark.parametrize("time", ["29 s", "29000 ms", "late"])
def test_times(time: str) -> None:
    """A time is whole microseconds, in any unit or through a setting."""
    requirement = one(f"require finished by {time}")
    assert isinstance(requirement, FinishedBy)
    assert 29_000_000 == requirement.by_us


@pytest.mark.parametrize(
    ("name", "steps", "groups"),
    [
        ("Take", {"Take"}, set()),
        ("Cycle", {"Take"}, {"Cycle"}),
        ("First", {"First.Raise"}, {"First"}),
        ("Raise", {"First.Raise", "Second.Raise"}, set()),
        ("Still", {"Still"}, set()),
    ],
)
def test_steps_and_groups(name: str, steps: set[str], groups: set[str]) -> None:
    """Steps, groups, the step that does a task and a task's own steps go by their own names."""
    found = inside(name)
    assert (steps, groups) == (set(found.steps), set(found.groups))


def test_numbers_of_a_command() -> None:
    """A command stands with its numbers, a setting among them, or with none for any."""
    requirement = one("require roller take leads to arm to up within 2 s")
    assert isinstance(requirement, LeadsTo)
    assert isinstance(requirement.cause, Told)
    assert isinstance(requirement.effect, Told)
    assert requirement.cause.arguments is None
    assert requirement.effect.arguments is not None
    assert [Fraction(1200)] == [amount.base for amount in requirement.effect.arguments]


def test_a_plan_that_is_turned_round() -> None:
    """A number that mirrors has the other sign where the step's own command has it."""
    robot = """robot moth
hub main
  motor 0 wheels
mechanism drive
  uses wheels
  command turn(angle deg mirrors) runs, reports done
"""
    text = """routine example
robot moth
limit 30 s
choose alliance: red, blue mirrors
require drive turn 90 deg leads to in Still within 9 s
start Turn
step Turn
  drive turn 90 deg
  when drive done, go to Still
  after 3 s, go to Still
finish Still
"""
    parsed = parse_routine(Source("example.routine", text))
    turned, _ = resolve_routine(parsed, robot_of(robot).robot, {"alliance": "blue"})
    (requirement,) = turned.requirements
    assert isinstance(requirement, LeadsTo)
    assert isinstance(requirement.cause, Told)
    assert requirement.cause.arguments == turned.steps["Turn"].commands[0].arguments


@pytest.mark.parametrize(
    ("line", "slips"),
    [
        ("require finished by 29 cm", [("wrong-unit", "29 cm")]),
        ("require finished by 29", [("number-without-unit", "29")]),
        ("require finished by -1 s", [("wrong-time", "-1 s")]),
        ("require finished by never_set", [("unknown-setting", "never_set")]),
        (
            "require never arn to while drive forwards",
            [("unknown-mechanism", "arn"), ("unknown-command", "forwards")],
        ),
        (
            "require in Gripp only after in Placee",
            [("unknown-step", "Gripp"), ("unknown-step", "Placee")],
        ),
        ("require arm to 5 cm only after roller take", [("wrong-unit", "5 cm")]),
        (
            "require arm to 5 ticks, 6 ticks only after roller take",
            [("wrong-arguments", "arm to 5 ticks, 6 ticks")],
        ),
        ("require roller take leads to arm to within 2 cm", [("wrong-unit", "2 cm")]),
        ("require in placed only after roller take", [("unknown-step", "placed")]),
    ],
)
def test_slips(line: str, slips: list[tuple[str, str]]) -> None:
    """What makes no sense in a requirement is a slip at its own words, each part by itself."""
    routine, found = resolved(PLAN.format(line=line))
    assert slips == said(found)
    assert () == routine.requirements
