"""What `planner check` says of all runs of a plan: that each finishes, and keeps to what is
required; else a run, moment by moment."""

from __future__ import annotations

import pytest
from demo import ROUTINES, check_text, names_of

from planner.findings import Finding, Moment, Severity

LATE = (ROUTINES / "broken" / "late_finish.routine").read_text(encoding="utf-8")
ROUND = """start Take
step Take
  roller take
  when roller_current > 3 A, go to Drop
  after 4 s, go to Drop
step Drop
  roller drop
  after 3 s, go to Take, at most 4 times, then Lit
finish Lit
"""
CLAW = """require claw open only after arm to 1200 ticks
start Raise
step Raise
  arm to 1200 ticks
  when arm done, go to Place
  after 3 s, go to Lit
step Place
  claw open
  after 0.6 s, go to Lit
finish Lit
"""
HIGH = """memory high = 200 ticks
start Approach
step Approach
  drive forward 40 %
  remember 200 ticks as high
  when bumper pressed, go to Raise
  after 6 s, go to Raise
step Raise
  arm to high
  when memory high > 300 ticks, go to Hold
  when arm done, go to Lit
  after 3 s, go to Lit
step Hold
  arm to 100 ticks
  when arm done, go to Lit
  after 25 s, go to Lit
finish Lit
"""


def only(text: str, check: str) -> Finding:
    """The one finding of a check in a text."""
    (found,) = (finding for finding in check_text(text) if finding.check == check)
    return found


def moments(found: Finding) -> tuple[Moment, ...]:
    """The run that a finding shows."""
    assert found.run
    return found.run.moments


def test_a_late_run_is_shown() -> None:
    """Each moment has its step, why it ends, and the earliest and latest time of it."""
    found = only(LATE, "late-finish")
    run = moments(found)
    assert ("Approach", "BackOff", "Raise") == found.steps
    assert [
        (20_000_000, 20_039_999, "Approach", "after 20 s"),
        (30_000_000, 30_039_999, "Raise", "cut off by the limit of 30 s"),
    ] == [(m.earliest_us, m.latest_us, m.step, m.why) for m in (run[0], run[-1])]


def test_what_is_offered_brings_every_run_home() -> None:
    """The match-clock exit that is offered makes the plan finish on every run."""
    found = only(LATE, "late-finish")
    assert "late-finish" not in names_of(check_text(f"{LATE}\n{found.paste[0]}\n"))


def test_a_loop_is_gone_round_as_often_as_it_is_counted() -> None:
    """Rounds that are harmless one by one can add up past the limit; one less of them does not."""
    text = ROUND.replace("at most 4", "at most 5").replace(
        "  when roller_current > 3 A, go to Drop\n", ""
    )
    steps = [moment.step for moment in moments(only(text, "late-finish"))]
    assert ["Take", "Drop"] * 4 + ["Take"] == steps
    assert "late-finish" not in names_of(check_text(text.replace("at most 5", "at most 3")))


def test_a_counter_is_followed() -> None:
    """A loop that a counter ends is gone round as often as the counter lets it."""
    text = """counter rounds: 0 to 9, normally 0
start Take
step Take
  roller take
  count rounds up
  when counter rounds >= 4, go to Lit
  after 8 s, go to Take
finish Lit
"""
    assert "late-finish" not in names_of(check_text(text))
    assert "late-finish" in names_of(check_text(text.replace(">= 4", ">= 5")))


def test_a_broken_requirement_is_shown() -> None:
    """A run that breaks a requirement is shown up to the step in which it is broken."""
    assert "broken-requirement" not in names_of(check_text(CLAW))
    text = CLAW.replace("after 3 s, go to Lit", "after 3 s, go to Place").replace(
        "  arm to 1200 ticks\n  when arm done", "  drive forward 40 %\n  when bumper pressed"
    )
    text = text.replace("finish Lit\n", "finish Lit\n  arm to 1200 ticks\n")
    found = only(text, "broken-requirement")
    assert [("Raise", "after 3 s"), ("Place", "here it is broken")] == [
        (moment.step, moment.why) for moment in moments(found)
    ]
    assert "`claw open` came at" in found.why


@pytest.mark.parametrize(
    ("text", "check"),
    [
        (HIGH, "finish-undecided"),
        (CLAW.replace("after 0.6 s", "whenever bumper pressed, claw open\n  after 0.6 s"), ""),
    ],
)
def test_what_is_not_settled_is_said(text: str, check: str) -> None:
    """A run that cannot be played is no error, and a search without an answer is no pass."""
    found = [one for one in check_text(text) if one.check.endswith("-undecided")]
    assert [check or "requirement-undecided"] == [one.check for one in found]
    assert [Severity.WARNING] == [one.severity for one in found]
    assert found[0].why.startswith("The search of all runs")


def test_a_rule_that_only_ends_things_is_no_hindrance() -> None:
    """A side rule that stops what must not be at once leaves the requirement proved."""
    text = """require never roller take while claw open
whenever tin_gate broken, roller stop
start A
step A
  claw close
  roller take
  when tin_gate broken, go to B
  after 4 s, go to B
step B
  claw open
  after 0.5 s, go to Still
finish Still
"""
    assert "requirement-undecided" not in names_of(check_text(text))
    keeps = text.replace("  roller take", "  keep roller take")
    assert "broken-requirement" in names_of(check_text(keeps))


def test_each_moment_has_its_own_pass() -> None:
    """What the sensors said is told of the pass that ends the step, also where lanes move soon one
    after the other."""
    text = """require claw open only after arm to 1200 ticks
start Both
together Both
  when all lanes done, go to Place
  after 12 s, go to Lit
  lane wheels
    step Near
      drive forward 40 %
      when range_front < 20 cm, go to done
      after 6 s, go to Lit
  lane lifting
    step Wait
      when range_front > 30 cm, go to done
      after 6 s, go to Up
    step Up
      arm to 1200 ticks
      after 3 s, go to done
step Place
  claw open
  after 1 s, go to Lit
finish Lit
"""
    run = moments(only(text, "broken-requirement"))
    said = {one.step: float(one.seen[0].split()[2]) for one in run if one.seen}
    assert {"Near", "Wait"} == said.keys()
    assert said["Near"] < 20
    assert said["Wait"] > 30


def test_a_limit_is_plainer_than_a_sensor_at_the_last_moment() -> None:
    """Where a limit leads where a sensor would, a late run is told with the limit."""
    step = "step {}\n  drive forward 30 %\n  when bumper pressed, go to {}\n  after 9 s, go to {}\n"
    text = "start A\n" + "".join(step.format(a, b, b) for a, b in ("AB", "BC", "CD", "DF"))
    run = moments(only(f"{text}finish F\n", "late-finish"))
    assert ["after 9 s"] * 3 == [one.why for one in run[:-1]]


def test_a_broken_requirement_says_by_which_line() -> None:
    """The soonest run is told, with the line that leads to where the requirement is broken."""
    text = """require claw open only after arm to 1200 ticks
start A
step A
  drive forward 30 %
  when bumper pressed, go to B
  when tin_gate broken, go to C
  after 5 s, go to B
step B
  arm to 1200 ticks
  when arm done, go to C
  after 3 s, go to F
step C
  claw open
  after 0.5 s, go to F
finish F
"""
    found = only(text, "broken-requirement")
    assert "`claw open` came at 0.008 s" in found.why
    (related,) = found.related
    assert "when tin_gate broken, go to C" == related.place.words.strip()
    assert "before `C`" in found.way_out


def test_lanes_that_wait_for_each_other() -> None:
    """What ends the block is named, and that one lane has to go on by itself: time is no help."""
    text = """start A
together A
  when all lanes done, go to Lit
  after 5 s, go to Still
  lane one
    step X
      drive forward 40 %
      when lane two done, go to done
      after 4 s, go to Still
  lane two
    step Y
      arm to 100 ticks
      when lane one done, go to done
      after 4 s, go to Still
finish Lit
finish Still
"""
    found = only(text, "never-in-time")
    assert found.headline == "no run reaches the finish `Lit` in time"
    assert "`A` is left by `after 4 s`, before `all lanes done` comes true" in found.why
    assert "Let one lane go on without waiting for the other" in found.way_out
    assert [11, 16] == [r.place.line for r in found.related if "never comes to its end" in r.label]
