"""What a failure settles, wherever it is asked, what turns on then, and what notices."""

from __future__ import annotations

from demo import check

from planner.pipeline import failures
from planner.reach.effects import Effect
from planner.report.fault_words import detected_by, local_effects, still_running

# Expected rows were worked out by hand from the rules of grammar/README.md, section 6.

GROUP = """\
start A
group G
  when arm_floor pressed, go to C
  after 8 s, go to C
  step A
    arm lower 20 %
    when range_front < 10 cm, go to B
    after 4 s, go to B
  step B
    arm lower 40 %
    drive forward 30 %
    when bumper pressed, go to C
    after 4 s, go to C
step C
  roller drop
  when tin_gate clear for 0.5 s, go to Still
  after 2 s, go to Still
finish Still
"""

RULED = """\
start A
step A
  arm lower 20 %
  drive forward 30 %
  whenever arm_floor pressed, arm stop
  when bumper pressed, go to Still
  after 4 s, go to Still
finish Still
"""

KEPT = """\
start A
step A
  keep roller take
  arm lower 20 %
  when tin_gate broken, go to B
  after 4 s, go to B
step B
  drive forward 30 %
  when bumper pressed, go to C
  after 4 s, go to D
step C
  roller stop
  after 0.5 s, go to Still
step D
  after 0.5 s, go to Still
finish Still
"""

TASK = """\
start Take
step Take
  do fetch
  when bumper pressed, go to Still
  when task ends got, go to Still
  when task ends missed, go to Still
  after 5 s, go to Still
task fetch ends got, missed
  step Reach
    drive forward 20 %
    when tin_gate broken, go to got
    after 2 s, go to missed
finish Still
"""

LANES = """\
start Both
together Both
  when bumper pressed, go to Still
  when all lanes done, go to Still
  after 6 s, go to Still
  lane wheels
    step Drive
      drive forward 20 %
      after 2 s, go to done
  lane lift
    step Lower
      arm lower 20 %
      when arm_floor pressed, go to done
      after 5 s, go to done
finish Still
"""

BY_CLOCK = """\
at 20 s of match, go to Still
start A
step A
  drive forward 20 %
  when bumper pressed, go to Still
  after 25 s, go to Still
finish Still
"""

UNDER_ALL = """\
start A
whenever arm_floor pressed, arm stop
step A
  arm lower 20 %
  after 2 s, go to B
step B
  drive forward 20 %
  after 2 s, go to Still
finish Still
"""


def effect(text: str, name: str) -> Effect:
    """The effect of one failure of a plan."""
    (found,) = (one for one in failures(check(text)) if str(one.faults[0]) == name)
    return found.effect()


def row(text: str, name: str) -> tuple[list[str], str]:
    """Its local effects and what detects it, in words."""
    found = effect(text, name)
    return local_effects(found), detected_by(found)


def test_exits_of_groups() -> None:
    """An exit of a group is told under the group, with what goes on in all steps of it and in some,
    and the group's limit notices."""
    assert (
        ["G: when arm_floor pressed never comes, arm goes on, drive may go on"],
        "the limit of 8 s",
    ) == row(GROUP, "arm_floor stuck at released or unplugged")
    assert (["G: when arm_floor pressed comes at once"], "nothing") == row(
        GROUP, "arm_floor stuck at pressed"
    )


def test_exits_that_only_time_holds_back() -> None:
    """What must hold for a while, and always does, comes in any case."""
    assert (["C: when tin_gate clear for 0.5 s comes in any case"], "nothing") == row(
        GROUP, "tin_gate stuck at clear or unplugged"
    )


def test_side_rules() -> None:
    """A rule that never acts lets its mechanism go on, and no time limit notices; else it acts at
    once."""
    rule = "A: whenever arm_floor pressed, arm stop: the rule"
    assert ([f"{rule} never acts, arm goes on"], "nothing") == row(
        RULED, "arm_floor stuck at released or unplugged"
    )
    assert ([f"{rule} acts at once"], "nothing") == row(RULED, "arm_floor stuck at pressed")


def test_a_rule_that_still_acts_may_end_what_goes_on() -> None:
    """What a side rule may stop only may go on."""
    assert (
        ["A: when bumper pressed never comes, drive goes on, arm may go on"],
        "the limit of 4 s",
    ) == row(RULED, "bumper stuck at released or unplugged")


def test_side_rules_of_the_routine() -> None:
    """A rule of the whole routine is told without a name; its mechanism turns in a part of it."""
    assert (
        ["whenever arm_floor pressed, arm stop: the rule never acts, arm may go on"],
        "nothing",
    ) == row(UNDER_ALL, "arm_floor stuck at released or unplugged")


def test_a_rule_that_never_acts_is_worse_than_none() -> None:
    """Of two failures that end alike, the one that nothing stops any more comes first."""
    never = effect(RULED, "arm_floor stuck at released or unplugged")
    always = effect(RULED, "arm_floor stuck at pressed")
    assert (never.latest_us, True) == (always.latest_us, never.weight > always.weight)


def test_what_an_earlier_step_keeps_going() -> None:
    """What was started with `keep` goes on in later steps too."""
    assert (
        ["B: when bumper pressed never comes, roller and drive go on"],
        "the limit of 4 s",
    ) == row(KEPT, "bumper stuck at released or unplugged")


def test_what_still_runs_at_the_finish() -> None:
    """What is kept up to a finish is told: for all its runs, for some, or not at all."""
    sound = next(iter(failures(check(KEPT)))).unbroken
    assert ["roller may still run when Still is reached"] == list(still_running(sound))
    never = effect(KEPT, "bumper stuck at released or unplugged")
    assert ["roller still runs when Still is reached"] == list(still_running(never))
    always = effect(KEPT, "bumper stuck at pressed")
    assert [] == list(still_running(always))


def test_exits_of_steps_that_do_tasks() -> None:
    """An exit of a step that does a task is told, and its limit notices; where the task always ends
    before, the limit within that ends it."""
    assert (
        ["Take: when bumper pressed never comes, drive goes on"],
        "the limit of 2 s",
    ) == row(TASK, "bumper stuck at released or unplugged")
    longer = TASK.replace("after 2 s", "after 9 s")
    assert "the limit of 5 s" == row(longer, "bumper stuck at released or unplugged")[1]


def test_exits_of_blocks_and_their_lanes() -> None:
    """An exit of a block is told under the block, one of a step in a lane under that step."""
    assert (
        ["Both: when bumper pressed never comes, drive and arm may go on"],
        "the limit of 6 s",
    ) == row(LANES.replace("after 5 s", "after 9 s"), "bumper stuck at released or unplugged")
    assert (
        ["Lower: when arm_floor pressed never comes, arm goes on, drive may go on"],
        "the limit of 5 s",
    ) == row(LANES, "arm_floor stuck at released or unplugged")


def test_the_match_clock_notices() -> None:
    """Where no limit ends a wait, an exit by the match clock does."""
    assert (
        ["A: when bumper pressed never comes, drive goes on"],
        "the match clock at 20 s",
    ) == row(BY_CLOCK, "bumper stuck at released or unplugged")
