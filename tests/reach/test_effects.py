"""What failures do to every run, judged by runs of the reference machine."""

from __future__ import annotations

import random

import pytest
from demo import check
from finishing import Finishing
from gallery.examples import NAMES, checked
from graph.test_faults import PASS_US, REMEMBERS, reading_of, trace, values

from planner.graph.run import Entered, Finished
from planner.pipeline import failures
from planner.reach.effects import Effect, worst_first
from planner.reach.effects import failures as failures_of_plan
from planner.reach.losses import How
from planner.reach.search import Fails, Holds

HOPES = """\
start A
step A
  drive forward 40 %
  when bumper pressed, go to B
  after 3 s, go to C
step B
  arm to 10 ticks
  when arm done, go to Lit
  after 3 s, go to C
step C
  drive forward -30 %
  when drive travelled < -20 cm, go to Lit
  after 1 s, go to GiveUp
finish Lit
finish GiveUp
"""


PICKED = """\
memory side: middle, left, right, seen by post_mark
start A
step A
  drive forward 40 %
  when bumper pressed, go to Which
  after 3 s, go to Which
step Which
  when memory side is left, go to Lit
  when memory side is right, go to Far
  after 2 s, go to GiveUp
step Far
  drive forward 40 %
  when arm_floor pressed, go to Lit
  after 40 s, go to Lit
finish Lit
finish GiveUp
"""


def effects(text: str) -> dict[str, Effect]:
    """The effect of each failure of a plan, by its name."""
    return {str(f.faults[0]): f.effect() for f in failures(check(text))}


def test_end_effect() -> None:
    """A failure says which finishes are left, when the last run is there, and what it skips."""
    found = effects(HOPES)["bumper stuck at released or unplugged"]
    assert isinstance(found.in_time, Holds)
    assert {"Lit", "GiveUp"} == set(found.finishes)
    assert ("B",) == found.skipped
    # Limits of 3 s and 1 s, each up to one longest pass of the Moth (40 ms) late.
    assert 4_000_000 <= (found.latest_us or 0) < 4_080_000


def test_local_effect_and_detection() -> None:
    """It says which exit it settles, and which limit notices."""
    found = effects(HOPES)
    never = found["bumper stuck at released or unplugged"]
    assert [("A", How.NEVER)] == [(lost.owner, lost.how) for lost in never.settled]
    assert ["after 3 s, go to C"] == [after.place.words for after in never.detected_by]
    always = found["bumper stuck at pressed"]
    assert [("A", How.AT_ONCE)] == [(lost.owner, lost.how) for lost in always.settled]
    assert () == always.detected_by


def test_a_finish_that_is_not_sure() -> None:
    """Where a failure takes the only way out, some run misses the finish."""
    text = "start A\nstep A\n  drive forward 40 %\n  when bumper pressed, go to Lit\n"
    text += "  when arm_floor pressed, go to Lit\n  after 40 s, go to Lit\nfinish Lit\n"
    # Such a plan has an error of its own, and the command would tell that instead.
    every = failures_of_plan(check(text).plan, {})
    found = {" ".join(map(str, one.faults)): one.effect() for one in every}
    assert isinstance(found["bumper stuck at released or unplugged"].in_time, Fails)
    assert isinstance(found["bumper stuck at pressed"].in_time, Holds)


def test_a_memory_of_a_broken_camera_is_known() -> None:
    """What a broken camera has settled before the start is followed: the way it leads, no other."""
    every = failures_of_plan(check(PICKED).plan, {})
    found = {str(one.faults[0]): one.effect() for one in every}
    assert {
        "post_mark stuck at left": (Holds, {"Lit"}),
        "post_mark stuck at middle": (Holds, {"GiveUp"}),
        # It leads to a wait of 40 s, of which only the floor switch makes an end in time.
        "post_mark stuck at right": (Fails, {"Lit"}),
        "post_mark stuck at unsure": (Holds, {"GiveUp"}),
        "post_mark unplugged": (Holds, {"GiveUp"}),
    } == {
        name: (type(one.in_time), set(one.finishes))
        for name, one in found.items()
        if name.startswith("post_mark")
    }


def test_pairs() -> None:
    """Two at once are two different things, and each pair comes once."""
    plan = check(HOPES)
    alone = [f for f in failures(plan) if len(f.faults) == 1]
    two = [f.faults for f in failures(plan, pairs=True) if len(f.faults) == 2]
    items = [f.faults[0].item for f in alone]
    expected = sum(items[i] != items[j] for i in range(len(items)) for j in range(i))
    assert expected == len(two) == len({frozenset(map(str, pair)) for pair in two})
    assert all(one.item != other.item for one, other in two)


def test_nothing_broken() -> None:
    """Every failure comes with what becomes of runs without one, which is the same for all."""
    (sound,) = {id(one.unbroken): one.unbroken for one in failures(check(HOPES))}.values()
    assert ((), (), ()) == (sound.faults, sound.settled, sound.skipped)
    assert {"Lit", "GiveUp"} == set(sound.finishes)
    # B is left by its limit of 3 s after the one of A, then C by that of 1 s, each up to one
    # longest pass of the Moth (40 ms) late.
    assert 7_000_000 <= (sound.latest_us or 0) < 7_120_000


def test_worst_first() -> None:
    """What makes a finish unsure comes first, then what puts one out of reach, then the rest."""
    found = worst_first(f.effect() for f in failures(check(HOPES)))
    weights = [one.weight for one in found]
    assert sorted(weights, reverse=True) == weights


@pytest.mark.parametrize("name", [*NAMES, "REMEMBERS", "PICKED"])
def test_no_run_does_otherwise(name: str) -> None:
    """Runs with a broken sensor enter no step that is said to be out of reach, finish within the
    time that is said to be the latest, and bring what is said to run still into the finish."""
    choose = random.Random(name)
    own = {"REMEMBERS": REMEMBERS, "PICKED": PICKED}.get(name)
    every = list(failures_of_plan(check(own).plan, {})) if own else failures(checked(name))
    for failure in choose.sample(every, min(8, len(every))):
        effect = failure.effect()
        routine = failure.plan.routine
        (fault,) = failure.faults
        machine = Finishing(failure.plan)
        seed = f"{name} {fault}"
        for number, readings in enumerate(trace(values(routine), reading_of(routine, fault), seed)):
            for event in machine.pass_(number * PASS_US, readings):
                if isinstance(event, Entered):
                    assert event.step not in effect.skipped, seed
                if isinstance(event, Finished):
                    window = effect.finishes[event.step]
                    assert window.earliest_us <= event.at_us <= window.latest_us, seed
                    turning = effect.still_running[event.step]
                    foreseen = {*turning.surely, *turning.perhaps}
                    assert set(turning.surely) <= machine.brought <= foreseen, seed
