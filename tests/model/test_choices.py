"""Choices before the start: one file is every variant."""

from __future__ import annotations

import pytest
from demo import check, names_of, robot_of

from planner.model.condition import Compare, Within
from planner.model.units import Amount
from planner.pipeline import plan_for

ROBOT = """robot moth
hub main
  motor 0 left_wheels
  i2c 0 gyro heading mirrors
mechanism drive
  uses left_wheels, gyro
  command turn(angle deg mirrors, power %) runs, reports done
  reading sideways cm mirrors
  reading travelled cm
"""
PLAN = """routine example
robot moth
limit 30 s
choose alliance: red, blue mirrors
choose place: near, far
choose delay: 0 s to 5 s, normally 1 s
setting angle by place
  near 45 deg
  far 90 deg
start Wait
step Wait
  after delay, go to Turn
step Turn
  drive turn angle, 30 %
  when gyro within 2 deg of angle, go to Side
  when gyro > 120 deg, go to Still
  after 2 s, go to Still
step Side
  drive turn -10 deg, 20 %
  when choice place is near and drive sideways <= -5 cm, go to Lit
  when choice place is far and drive travelled >= 5 cm, go to Lit
  after 2 s, go to Still
finish Lit
finish Still
"""


def plan(**choices: str | Amount):  # type: ignore[no-untyped-def]
    """The plan of a variant."""
    checked = check(PLAN, ROBOT)
    assert not [f for f in checked.findings if f.severity.word == "error"]
    return plan_for(checked, choices)


def test_what_nobody_chooses_is_the_first_or_the_normal() -> None:
    """A choice that is left out has its first value, a range its normal one."""
    step = plan().step("Wait")
    assert [1_000_000] == [after.limit_us for after in step.afters]
    (given,) = plan().step("Turn").commands
    assert "angle 45 deg" == f"{given.arguments[0].written} {given.arguments[0]}"


def test_a_setting_goes_by_its_choice() -> None:
    """A setting by choice has the number of the value that was chosen."""
    (given,) = plan(place="far").step("Turn").commands
    assert "90 deg" == str(given.arguments[0])


def test_a_mirrored_command_changes_its_sign() -> None:
    """A parameter that mirrors arrives with the other sign, the others as they are."""
    (given,) = plan(alliance="blue").step("Turn").commands
    assert ["-45 deg", "30 %"] == [str(amount) for amount in given.arguments]
    assert "-angle" == given.arguments[0].written


def test_a_mirrored_reading_is_seen_with_the_other_sign() -> None:
    """-r <= -5 says the same as r >= 5; a band has its centre on the other side."""
    turn, side = plan(alliance="blue").step("Turn"), plan(alliance="blue").step("Side")
    band, more = (when.condition for when in turn.whens)
    assert isinstance(band, Within)
    assert "-45 deg" == str(band.centre)
    assert isinstance(more, Compare)
    assert ("<", "-120 deg") == (more.operator, str(more.threshold))
    (when,) = side.whens
    (_, sideways) = when.condition.parts  # type: ignore[union-attr]
    assert (">=", "5 cm") == (sideways.operator, str(sideways.threshold))


def test_what_does_not_mirror_stays() -> None:
    """A reading that is not declared to mirror is the same for every choice."""
    (when,) = plan(alliance="blue", place="far").step("Side").whens
    (_, travelled) = when.condition.parts  # type: ignore[union-attr]
    assert (">=", "5 cm") == (travelled.operator, str(travelled.threshold))


@pytest.mark.parametrize(("place", "count"), [("near", 1), ("far", 1)])
def test_exits_that_the_choice_rules_out_are_gone(place: str, count: int) -> None:
    """A variant has only the exits that it can take."""
    assert count == len(plan(place=place).step("Side").whens)
    assert 2 == len(check(PLAN, ROBOT).plan.step("Side").whens)


def test_a_fault_of_one_variant_is_told_with_its_choice() -> None:
    """A finding that only some variants earn says which."""
    text = PLAN.replace("  when choice place is far and drive travelled >= 5 cm, go to Lit\n", "")
    text = text.replace("  after 2 s, go to Still\nfinish", "finish")
    found = check(text, ROBOT).findings
    headlines = {f.check: f.headline for f in found if f.severity.word == "error"}
    assert {"wait-without-limit", "dead-end"} == set(headlines)
    assert headlines["dead-end"].endswith("if `place` is `far`")
    assert headlines["wait-without-limit"].endswith("if `place` is `near`")


def test_a_step_that_one_variant_leaves_out_is_not_unreachable() -> None:
    """What one choice does not reach another may."""
    text = PLAN.replace(
        "after delay, go to Turn", "when choice place is far, go to Turn\n  after delay, go to Side"
    )
    assert "unreachable-step" not in names_of(check(text, ROBOT).findings)


def test_the_verdict_takes_the_ends_of_a_range() -> None:
    """The limits of the longest way are added up with the largest number that can be chosen."""
    text = PLAN.replace("0 s to 5 s", "0 s to 40 s")
    assert "late-finish" in names_of(check(text, ROBOT).findings)


def test_two_mirrors_are_none() -> None:
    """Turned round twice a plan is as it was."""
    text = PLAN.replace("choose place: near, far", "choose place: near mirrors, far")
    checked = check(text, ROBOT)
    (given,) = plan_for(checked, {"alliance": "blue", "place": "near"}).step("Turn").commands
    assert "45 deg" == str(given.arguments[0])


def test_robot_file_is_clean() -> None:
    """The robot of these tests says what mirrors without a slip."""
    assert () == robot_of(ROBOT).slips
