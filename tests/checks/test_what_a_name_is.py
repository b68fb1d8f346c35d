"""A name that is there, but is something else than its place wants, is told as what it is."""

from __future__ import annotations

import pytest
from demo import check_text

PLAN = """
memory far = 60 cm
memory side: left, middle, right
counter shots: 0 to 3, normally 3
choose park: quay, here
setting high = 1200 ticks
@
start Carry
together Carry
  when all lanes done, go to Lit
  after 6 s, go to Lit
  lane wheels
    step Drive
      drive forward 40 %
      when drive travelled > far, go to done
      after 4 s, go to done
  lane lifting
    step Lift
      arm to LIFT
      when arm done, go to done
      after 3 s, go to done
finish Lit
scenario one
  in Drive, after 1 s, bumper pressed
  must visit SEEN
"""


def headlines(check: str, line: str = "", lift: str = "high", seen: str = "Lit") -> list[str]:
    """What a check says of the plan with a line above its steps, a number and a step put in."""
    text = PLAN.replace("@", line).replace("LIFT", lift).replace("SEEN", seen)
    return [finding.headline for finding in check_text(text) if finding.check == check]


@pytest.mark.parametrize(
    ("number", "told"),
    [
        ("hgih", "there is no setting `hgih`"),
        ("left", "`left` is a word of `side`, and here stands a number"),
        ("quay", "`quay` is a word of `park`, and here stands a number"),
    ],
)
def test_a_word_in_the_place_of_a_number(number: str, told: str) -> None:
    """A word of a memory or choice in the place of a number is told as one."""
    assert [told] == headlines("unknown-setting", lift=number)


def test_settings_and_memories_are_told_apart() -> None:
    """Where no setting has the name, memories are not listed as settings."""
    found = check_text(PLAN.replace("@", "").replace("LIFT", "x").replace("SEEN", "Lit"))
    way_out = next(f.way_out for f in found if f.check == "unknown-setting")
    there, remembered, *_ = way_out.split(". ")
    assert ("The settings are `high`", "Remembered are `far`") == (there, remembered)


def test_a_requirement_leads_nowhere() -> None:
    """A name behind `in` is told as a step, group, block or lane, with the block's name offered."""
    line = "require in Caryr leads to in Lit within 4 s"
    found = check_text(PLAN.replace("@", line).replace("LIFT", "high").replace("SEEN", "Lit"))
    told = [(f.headline, f.why, f.paste) for f in found if f.check == "unknown-step"]
    why = "The robot is never in it, so the requirement would ask for nothing."
    paste = ("require in Carry leads to in Lit within 4 s",)
    assert [("there is no step, group, block or lane `Caryr`", why, paste)] == told


def test_a_scenario_leads_nowhere() -> None:
    """A step that a scenario speaks of is not told as one that the robot would go to."""
    found = check_text(PLAN.replace("@", "").replace("LIFT", "high").replace("SEEN", "Lti"))
    told = [(f.headline, f.why) for f in found if f.check == "unknown-step"]
    why = "No run ever comes to it, so the scenario would be another one."
    assert [("there is no step `Lti`", why)] == told


@pytest.mark.parametrize(
    ("name", "told", "paste"),
    [
        ("wheels", "`wheels` is a lane, and a scenario speaks of steps", ("must visit Carry",)),
        ("Cycle", "`Cycle` is a group, and a scenario speaks of steps", ()),
    ],
)
def test_a_scenario_speaks_of_no_group(name: str, told: str, paste: tuple[str, ...]) -> None:
    """A group or a lane is told as what it is, and for a lane its block is offered."""
    group = "group Cycle\n  after 9 s, go to Lit\n  step Take\n    claw open\n"
    text = PLAN.replace("@", f"{group}    after 1 s, go to Carry").replace("start Carry", "")
    text = text.replace("LIFT", "high").replace("SEEN", name)
    found = [f for f in check_text(f"{text}start Take\n") if f.check == "unknown-step"]
    assert [(told, paste)] == [(f.headline, f.paste) for f in found]
