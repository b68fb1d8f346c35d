"""Scenarios: what the sensors do, and what must be seen."""

from __future__ import annotations

import pytest
from demo import ROUTINES, check

from planner.model.scenario import Scenario
from planner.pipeline import rehearse
from planner.rehearsal import Played, play

PLAN = """
setting standoff = 8 cm
start A
step A
  drive forward 40 %
  when bumper pressed, go to B
  when range_front < standoff, go to C
  after 2 s, go to D
step B
  arm to 1200 ticks
  when arm done, go to Lit
  after 3 s, go to D
step C
  drive forward -30 %
  when drive travelled < -10 cm, go to D
  after 1 s, go to Lit
step D
  arm to 100 ticks
  when arm done, go to GiveUp
finish Lit
finish GiveUp
"""


def played(*lines: str) -> Played:
    """A scenario of those lines, played."""
    text = PLAN + "scenario s\n" + "".join(f"  {line}\n" for line in lines)
    plan = check(text).plan
    (scenario,) = plan.routine.scenarios
    assert not scenario.incomplete
    return play(plan, scenario)


def differences(*lines: str) -> list[str]:
    """What a scenario of those lines saw instead."""
    return [difference.seen for difference in played(*lines).differences]


@pytest.mark.parametrize(
    "lines",
    [
        ("at 1 s, bumper pressed", "must visit A, B"),
        ("in A, after 1 s, bumper pressed", "in B, after 0.5 s, arm done", "must finish in Lit"),
        ("at 0.5 s, range_front is 7 cm", "must visit A, C, Lit"),
        ("at 0.5 s, range_front is standoff", "must visit A, D"),
        ("from 0 s to 1 s, range_front goes from 100 cm to 5 cm", "must visit A, C, Lit"),
        ("at 0 s, range_front is 5 cm", "at 0 s, range_front unreadable", "must visit A, D"),
        ("must visit A, D", "must be cut off"),
        ("in A, after 2 s, bumper pressed", "must visit A, B"),
        ("in D, after 1 s, arm done", "must finish in GiveUp by 3 s"),
        ("in D, after 1 s, arm done", "must finish by 3 s", "must finish"),
        ("must give arm to", "must not give roller take"),
        ("pass 1 s", "at 2 s, bumper pressed", "must visit A, B"),
    ],
)
def test_met(lines: tuple[str, ...]) -> None:
    """A run that shows all that must be seen has no differences."""
    assert [] == differences(*lines)


@pytest.mark.parametrize(
    ("lines", "seen"),
    [
        (("must visit B",), "`B` was not entered in its turn; the way was A, D"),
        (("must visit D, A",), "`A` was not entered in its turn; the way was A, D"),
        (("must finish in Lit",), "the run was cut off in `D` at 30 s"),
        (("must finish",), "the run was cut off in `D` at 30 s"),
        (("in D, after 1 s, arm done", "must finish by 2.9 s"), "it was reached only at 3 s"),
        (
            ("in D, after 1 s, arm done", "must finish in Lit"),
            "the run finished in `GiveUp` at 3 s",
        ),
        (
            ("in D, after 1 s, arm done", "must finish in GiveUp by 2.9 s"),
            "it was reached only at 3 s",
        ),
        (("in D, after 1 s, arm done", "must be cut off"), "the run finished in `GiveUp` at 3 s"),
        (("must give roller take",), "it was never given"),
        (("must not give arm to",), "it was given at 2 s"),
    ],
)
def test_missed(lines: tuple[str, ...], seen: str) -> None:
    """A run that does not show what must be seen says what was seen instead."""
    assert [seen] == differences(*lines)


def test_a_new_command_is_not_done() -> None:
    """A mechanism that is sent a command is not done any more."""
    lines = ("at 0 s, bumper pressed", "at 0 s, arm done", "must be cut off")
    assert ["the run finished in `Lit` at 0.04 s"] == differences("at 0.03 s, arm done", *lines)
    assert "the run was cut off in `D` at 30 s" in differences("must finish in Lit", *lines[:2])


def test_travel_is_counted_from_the_step() -> None:
    """A cue for a reading from the step's start is what the plan sees in that step."""
    lines = ("at 0 s, drive travelled is 50 cm", "at 1 s, range_front is 5 cm")
    back = "in C, after 0.5 s, drive travelled is -11 cm"
    assert played(*lines, back, "must visit A, C, D").passed
    assert not played(*lines, "must visit A, C, D").passed


def test_the_same_scenario_gives_the_same_run() -> None:
    """A run is repeated to the event."""
    lines = ("from 0 s to 1 s, range_front goes from 100 cm to 5 cm", "must visit A")
    assert played(*lines).events == played(*lines).events


def test_a_scenario_that_makes_no_sense_is_not_played() -> None:
    """A line that could not be made sense of leaves its scenario incomplete, and no other."""
    text = PLAN + "scenario s\n  at 1 s, bumpr pressed\nscenario t\n  must visit A\n"
    scenarios: tuple[Scenario, ...] = check(text).plan.routine.scenarios
    assert [("s", True), ("t", False)] == [(s.name, s.incomplete) for s in scenarios]


def test_cues_in_a_task_and_of_the_step_that_does_it() -> None:
    """A step of a task goes by its own name, or by that of the step that does the task."""
    text = """start First
step First
  do place 1200 ticks
  when task ends placed, go to Lit
  after 4 s, go to GiveUp
finish Lit
finish GiveUp
task place(height ticks) ends placed
  step Raise
    arm to height
    when arm done, go to Wait
  step Wait
    when bumper pressed, go to placed
scenario s
  in Raise, after 1 s, arm done
  in First, after 2 s, bumper pressed
  must visit First, Raise, Wait, Lit
  must finish in Lit by 2.02 s
"""
    plan = check(text).plan
    (scenario,) = plan.routine.scenarios
    assert () == play(plan, scenario).differences


@pytest.mark.parametrize(
    ("line", "seen"),
    [
        ("must give arm to 100 ticks", []),
        ("must give arm to 100.0 ticks", []),
        ("must give drive forward 40 %", []),
        ("must not give arm to 1200 ticks", []),
        ("must give arm to 1200 ticks", ["it was given with 100 ticks"]),
        ("must give drive forward 40.0001 %", ["it was given with 40 %"]),
        ("must not give arm to 100 ticks", ["it was given at 2 s"]),
        ("must give drive spin 40 %", ["it was never given"]),
    ],
)
def test_commands_with_numbers(line: str, seen: list[str]) -> None:
    """A command that must be given with numbers is sent with exactly these."""
    assert seen == differences(line)


def test_cues_of_a_block_count_from_its_entry() -> None:
    """A block goes by its name: its cues go on while its lanes move, begin anew when it is entered
    again, and are over when it is left."""
    text = """start Wait
step Wait
  after 1 s, go to Carry
together Carry
  when bumper pressed, go to Again
  after 5 s, go to GiveUp
  lane wheels
    step One
      after 0.2 s, go to Two
    step Two
      after 4 s, go to done
  lane lifting
    step Lift
      when tin_gate broken, go to done
      after 4 s, go to done
step Again
  when bumper released, go to Carry, at most 1 time, then Lit
  when tin_gate broken, go to GiveUp
  after 4 s, go to GiveUp
finish Lit
finish GiveUp
scenario s
  in Carry, after 0.5 s, bumper pressed
  in Carry, after 0.6 s, tin_gate broken
  in Again, after 0.3 s, bumper released
  must visit Wait, Carry, One, Two, Again, Carry, One, Two, Again, Lit
  must finish in Lit by 2.6 s
"""
    plan = check(text).plan
    (scenario,) = plan.routine.scenarios
    assert () == play(plan, scenario).differences


def test_a_command_is_demanded_as_it_is_sent() -> None:
    """Where a choice turns the plan round, a scenario names the number that the robot gets."""
    text = """choose alliance: red, blue mirrors
start Turn
step Turn
  drive turn 90 deg
  when drive done, go to Lit
  after 2 s, go to Lit
finish Lit
scenario turned
  choose alliance blue
  must give drive turn -90 deg
  must not give drive turn 90 deg
"""
    mirrored = (
        (ROUTINES / "moth.bot")
        .read_text(encoding="utf-8")
        .replace("command turn(angle deg)", "command turn(angle deg mirrors)")
    )
    checked = check(text, mirrored)
    (scenario,) = checked.plan.routine.scenarios
    assert () == rehearse(checked, scenario).differences


@pytest.mark.parametrize(
    ("requirement", "seen"),
    [
        ("require finished by 4 s", ["no finish by 4 s"]),
        ("require finished by 5 s", []),
        ("require never arm to while in D", ["`arm to` and `in D` were both on at 2 s"]),
    ],
)
def test_requirements_are_judged_in_every_scenario(requirement: str, seen: list[str]) -> None:
    """A scenario whose run breaks a requirement fails with the requirement's own line."""
    text = requirement + PLAN + "scenario s\n  in D, after 2.5 s, arm done\n  must visit A, D\n"
    plan = check(text).plan
    played = play(plan, plan.routine.scenarios[0])
    assert seen == [difference.seen for difference in played.differences]
    assert {requirement} >= {one.demand.place.words for one in played.differences}
