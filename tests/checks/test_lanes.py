"""What the checks say of blocks of lanes, and what they do not."""

from __future__ import annotations

import pytest
from demo import HEADER, moth_robot

from planner.graph.longest import longest_way
from planner.pipeline import Checked, check_routine
from planner.text import Source

WHEELS = """
    step Drive
      drive forward 40 %
      when drive travelled > 60 cm, go to done
      after 4 s, go to done
"""
LIFTING = """
    step Lift
      arm to 1200 ticks
      when arm done, go to done
      after 3 s, go to done
"""
ENDS = "finish Lit\nfinish GiveUp\n"
OWN = "  when all lanes done, go to Lit\n  after 6 s, go to GiveUp\n"


def plan(own: str = OWN, wheels: str = WHEELS, lifting: str = LIFTING, rest: str = "") -> str:
    """A plan of one block with two lanes, and more steps."""
    block = f"together Carry\n{own}  lane wheels{wheels}  lane lifting{lifting}"
    return f"{HEADER}start Carry\n{block}{rest}{ENDS}"


def check(text: str) -> Checked:
    """The plan, checked."""
    return check_routine(Source("x.routine", text), lambda _name: moth_robot())


def names(text: str) -> list[str]:
    """The checks that find something, in the order of the text."""
    return [finding.check for finding in check(text).findings]


def test_a_good_block_is_clean() -> None:
    """A block with a join and a limit, and lanes that end, earns nothing."""
    assert [] == names(plan())


@pytest.mark.parametrize(
    ("own", "limits_s"),
    [
        (OWN, 4),
        ("  when any lane done, go to Lit\n  after 3.5 s, go to GiveUp\n", 3.5),
        ("  when lane wheels done and bumper pressed, go to Lit\n  after 6 s, go to GiveUp\n", 6),
    ],
)
def test_how_long_a_block_lasts_at_most(own: str, limits_s: float) -> None:
    """A block lasts as long as its longest lane where that ends it, and never past its limit."""
    assert limits_s * 1_000_000 == longest_way(check(plan(own)).plan).limits_us


def test_counted_rounds_in_a_lane_are_counted() -> None:
    """The longest way through a lane goes round as often as its counts allow."""
    lifting = LIFTING.replace("when arm done, go to done", "when arm done, go to Drop") + (
        "    step Drop\n      claw open\n      after 1 s, go to Lift, at most 2 times, then done\n"
    )
    own = "  when all lanes done, go to Lit\n  after 25 s, go to GiveUp\n"
    assert 12_000_000 == longest_way(check(plan(own, lifting=lifting)).plan).limits_us


def test_a_loop_in_a_lane_is_ended_by_the_limit_of_the_block() -> None:
    """No loop of a lane is endless in a block with a limit, and it lasts as long as that."""
    lifting = LIFTING.replace("after 3 s, go to done", "after 3 s, go to Lift")
    text = plan(lifting=lifting)
    assert [] == names(text)
    assert 6_000_000 == longest_way(check(text).plan).limits_us


def test_a_loop_through_a_lane_is_found() -> None:
    """A loop that leads out of a lane and into the block again is endless where nothing counts."""
    wheels = WHEELS.replace("after 4 s, go to done", "after 4 s, go to BackOff")
    rest = "step BackOff\n  drive forward -30 %\n  when bumper released, go to Carry\n"
    text = plan(wheels=wheels, rest=f"{rest}  after 1 s, go to Carry\n")
    assert ["endless-loop"] == names(text)
    counted = text.replace("  after 1 s, go to Carry\n", "  after 1 s, go to GiveUp\n").replace(
        "go to Carry\n  after", "go to Carry, at most 2 times, then GiveUp\n  after"
    )
    assert [] == names(counted)


def test_lanes_that_wait_for_each_other_are_no_trap() -> None:
    """A lane that goes round for as long as another one works leads to a finish with it."""
    lifting = (
        "\n    step Beat\n      claw open\n      after 0.5 s, go to Clap\n"
        "    step Clap\n      claw close\n      after 0.5 s, go to Beat\n"
    )
    wheels = WHEELS.replace("go to done", "go to Lit", 1).replace("go to done", "go to GiveUp")
    assert [] == names(plan("  after 9 s, go to GiveUp\n", wheels, lifting))


def test_a_lane_may_wait_for_what_another_has_started() -> None:
    """A wait for `done` is no wait in vain where another lane gives the command."""
    wheels = WHEELS.replace("when drive travelled > 60 cm", "when arm done")
    assert [] == names(plan(wheels=wheels))
    assert ["wait-never-commanded"] == names(plan(wheels=wheels, lifting=_no_arm()))


def _no_arm() -> str:
    return LIFTING.replace("arm to 1200 ticks", "claw open").replace("arm done", "bumper pressed")


def test_a_block_without_a_limit() -> None:
    """A block needs a limit, which is told once and at the block."""
    wheels = WHEELS.replace("after 4 s, go to done", "after 4 s, go to GiveUp")
    found = check(plan("  when all lanes done, go to Lit\n", wheels)).findings
    assert [("wait-without-limit", "`Carry` waits for `all lanes done` and has no time limit")] == [
        (finding.check, finding.headline) for finding in found
    ]


def test_a_step_of_a_lane_without_a_limit_is_ended_by_the_block() -> None:
    """The limit of the block is as good as one of the step's own."""
    assert [] == names(plan(wheels=WHEELS.replace("      after 4 s, go to done\n", "")))


def test_a_limit_that_the_block_never_lets_come() -> None:
    """A step of a lane that waits longer than its block lasts has a limit that never comes."""
    assert ["limit-after-limit"] == names(plan(wheels=WHEELS.replace("4 s", "8 s")))


def test_a_step_of_a_lane_that_nothing_leads_to() -> None:
    """A step of a lane is unreachable like any other; the end of a lane is no step to be told."""
    wheels = f"{WHEELS}    step Lost\n      after 1 s, go to done\n"
    assert ["unreachable-step"] == names(plan(wheels=wheels))


def test_only_time_ends_a_step_that_drives() -> None:
    """A lane whose wheels are stopped by time alone is blind, whatever its block waits for."""
    wheels = WHEELS.replace("      when drive travelled > 60 cm, go to done\n", "")
    assert ["blind-step"] == names(plan(wheels=wheels))


def test_what_a_lane_keeps_running() -> None:
    """A command kept by a lane is still running in the finish that the block leads to."""
    assert ["motor-left-on"] == names(
        plan(lifting=_no_arm().replace("claw open", "keep roller take"))
    )


def test_conditions_that_contradict_each_other() -> None:
    """A lane is in one step at a time, and all lanes are not done before any is."""
    own = "  when lane wheels done and lane wheels in Drive, go to Lit\n" + OWN
    assert ["never-true"] == names(plan(own))
    own = "  when any lane done, go to GiveUp\n" + OWN
    assert ["shadowed-exit"] == names(plan(own))


@pytest.mark.parametrize("where", ["group", "task"])
def test_a_block_in_a_group_or_task_is_clean(where: str) -> None:
    """A block may stand in a group and in a task, and is found nothing wrong with there."""
    block = plan().partition("start Carry\n")[2].partition("finish Lit")[0]
    inside = "".join(f"  {line}\n" for line in block.splitlines())
    if where == "group":
        text = f"start Carry\ngroup Cycle\n  at 20 s of match, go to GiveUp\n{inside}{ENDS}"
    else:
        ways = "  when task ends ready, go to Lit\n  when task ends stuck, go to GiveUp\n"
        inside = inside.replace("go to Lit", "go to ready").replace("go to GiveUp", "go to stuck")
        text = (
            f"start First\nstep First\n  do both\n{ways}{ENDS}task both ends ready, stuck\n{inside}"
        )
    assert [] == names(HEADER + text)


BOTH = """
task both ends ready, stuck
  together Pair
    when all lanes done, go to ready
    after 5 s, go to stuck
    lane one
      step P
        roller take
        when tin_gate broken, go to done
    lane two
      step Q
        when bumper pressed, go to done
"""
WAYS = "when task ends ready, go to {0}\n{2}when task ends stuck, go to {1}\n"


def test_a_lane_does_no_task_with_a_block() -> None:
    """A task with a block that a step of a lane does is told at the call, and nothing else is."""
    ways = WAYS.format("done", "done", "      ")
    wheels = f"\n    step Drive\n      do both\n      {ways}"
    assert ["lanes-within-lanes"] == names(plan(wheels=wheels) + BOTH)


def test_a_lane_may_lead_out_to_a_task_with_a_block() -> None:
    """A lane leads out of its block to a step that does a task with a block of its own."""
    rest = f"step Next\n  do both\n  {WAYS.format('Lit', 'GiveUp', '  ')}"
    wheels = WHEELS.replace("after 4 s, go to done", "after 4 s, go to Next")
    assert [] == names(plan(wheels=wheels, rest=rest) + BOTH)


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("lane lifting", "lane wheels", ["name-used-twice"]),
        ("lane lifting", "lane done", ["reserved-word"]),
        ("all lanes done", "all lane done", ["unreadable-line"]),
        ("all lanes done", "lane lift done", ["unknown-lane"]),
        ("all lanes done", "lane wheels in Drvie", ["unknown-lane-step"]),
        ("go to Lit", "go to Drive", ["leads-into-lane", "unreachable-step"]),
        ("start Carry", "start Drive", ["leads-into-lane"]),
        ("go to Lit", "go to done", ["done-outside-lane", "unreachable-step"]),
        ("together Carry", "togehter Carry", ["unreadable-line"]),
        ("  lane lifting", "  lnae lifting", ["unreadable-line"]),
        ("  lane wheels\n", "  lane wheels\n    after 2 s, go to GiveUp\n", ["line-in-lane"]),
        ("      arm to 1200 ticks", "      arm tow 1200 ticks", ["unknown-command"]),
        ("together Carry", "together Drive", ["name-used-twice", "unknown-step"]),
    ],
)
def test_slips(old: str, new: str, expected: list[str]) -> None:
    """A slip in a block earns its own finding and no other."""
    text = plan()
    assert old in text
    assert expected == sorted(names(text.replace(old, new, 1)))
