"""Where the order of two exits decides, judged by all readings and by the reference machine."""

from __future__ import annotations

import random
from itertools import count

import pytest
from asked_of import READINGS, as_read, everything, random_condition, truths
from demo import check, moth_robot

from planner.graph import Plan
from planner.graph.possible import Outcome, Verdict
from planner.graph.run import Event, Left
from planner.model.routine import WhenExit
from planner.rehearsal import Machine, Readings
from planner.rehearsal.conditions import Look, question
from planner.rehearsal.conflicts import Conflict, conflicts
from planner.rehearsal.truth import TRUE

ALL_READINGS = tuple(everything(READINGS))
PASS_US = 40_000
"""The longest pass of the demo robot."""


def drawn(seed: int, memory: bool) -> Plan:
    """A plan of one step whose four exits wait for anything, two of them for the same step."""
    draw = random.Random(seed)
    goals = ("F", "G", "F", "H")
    whens = [f"  when {random_condition(draw, 2, memory=memory)}, go to {goal}\n" for goal in goals]
    finishes = "".join(f"finish {goal}\n" for goal in "FGH")
    return check(f"start A\nstep A\n{''.join(whens)}  after 9 s, go to H\n{finishes}").plan


def numbers(plan: Plan, found: Conflict) -> tuple[int, int]:
    """The places of the two exits among those of the step."""
    whens = plan.step("A").whens
    return whens.index(found.first), whens.index(found.then)


def leads_elsewhere(one: WhenExit, other: WhenExit) -> bool:
    """Whether two exits lead to different steps."""
    return one.target != other.target


@pytest.mark.parametrize("seed", range(60))
def test_the_pairs_are_those_that_some_readings_make(seed: int) -> None:
    """Of exits that one pass settles, two are told just where some readings, unreadable ones
    included, make both true and none that is asked before them; the readings shown do."""
    plan = drawn(seed, memory=False)
    whens = plan.step("A").whens
    expected = set()
    for said in ALL_READINGS:
        true = [n for n, one in enumerate(whens) if truths(one.condition, said) == TRUE]
        expected |= {
            (true[0], other) for other in true[1:] if leads_elsewhere(whens[true[0]], whens[other])
        }
    found = list(conflicts(plan))
    assert expected == {numbers(plan, one) for one in found}
    assert all(one.shown and played(plan, one) for one in found)


@pytest.mark.parametrize("seed", range(60))
def test_what_is_shown_is_so(seed: int) -> None:
    """On several passes too, the machine takes the exit that is said to win, in a pass in which the
    other is true as well."""
    plan = drawn(seed, memory=True)
    assert all(played(plan, one) for one in conflicts(plan) if one.shown)


def played(plan: Plan, found: Conflict) -> bool:
    """Whether what is shown of two exits is so, pass by pass, by the rules themselves."""
    shown = found.shown
    assert shown is not None
    before, last = resting(shown.before), resting(shown.said)
    passes = [before] * (shown.waited_us // PASS_US)
    passes += [last] * max(1, shown.lasts_us // PASS_US)
    machine = Machine(plan)
    machine.pass_(0, before)
    ask, memory = question(found.then.condition, count()), dict[int, object]()
    events: tuple[Event, ...] = ()
    truth = None
    for number, said in enumerate(passes, 1):
        assert not events
        truth = ask(Look(number * PASS_US, said, before, number * PASS_US, memory))
        events = machine.pass_(number * PASS_US, said)
    left = [one for one in events if isinstance(one, Left)]
    taken = [one.exit.written.number for one in left]
    return ([found.first.number], TRUE) == (taken, truth)


def resting(said: Readings) -> Readings:
    """The readings of a robot of which only some are told."""
    rest = as_read(moth_robot().robot, Outcome(Verdict.POSSIBLE))
    return {**rest, "range_front": None, "gyro": None, **said}


@pytest.mark.parametrize("seed", range(60))
def test_no_run_shows_another_pair(seed: int) -> None:
    """In no pass of a random run are two exits true, one taken, that are not told of."""
    draw = random.Random(seed)
    plan = drawn(seed, memory=True)
    whens = plan.step("A").whens
    told = {numbers(plan, one) for one in conflicts(plan)}
    for _ in range(40):
        machine = Machine(plan)
        said = draw.choice(ALL_READINGS)
        machine.pass_(0, said)
        for number in range(1, 14):
            if draw.random() < 0.5:
                said = {**said, (name := draw.choice(list(said))): draw.choice(READINGS[name])}
            true = [
                one.exit.written.number
                for one in machine.asked(number * 20_000, said)
                if one.truth > 0 and isinstance(one.exit.written, WhenExit)
            ]
            order = [n for n, one in enumerate(whens) if one.number in true]
            pairs = {
                (order[0], other)
                for other in order[1:]
                if leads_elsewhere(whens[order[0]], whens[other])
            }
            assert set() == pairs - told
            if any(isinstance(one, Left) for one in machine.pass_(number * 20_000, said)):
                break


def told(text: str, whole: bool = True, **earliest_us: int) -> list[tuple[str, str, str, bool]]:
    """Of each pair where it stands and where the two lead, and whether it is shown."""
    plan = check(text).plan
    found = conflicts(plan, earliest_us or None, whole)
    return [(o.owner, o.first.target, o.then.target, o.shown is not None) for o in found]


GROUPED = """start A
group Round
  when bumper pressed for 0.5 s, go to G
  step A
    when tin_gate broken, go to B
    after 3 s, go to F
  step B
    when tin_gate clear for 0.3 s and match < 16 s, go to F
    after 3 s, go to F
finish F
finish G
"""
LANES = """start Both
together Both
  when bumper pressed, go to G
  when all lanes done, go to F
  after 9 s, go to G
  lane wheels
    step Roll
      when tin_gate broken, go to Stop
      when range_front < 8 cm, go to done
      after 2 s, go to done
    step Stop
      when lane lifting done, go to done
      when range_front < 8 cm, go to G
      after 2 s, go to done
  lane lifting
    step Lift
      when arm done, go to done
      after 2 s, go to done
finish F
finish G
"""


@pytest.mark.parametrize(
    ("text", "pairs"),
    [
        (GROUPED, [("A", "G", "B", True), ("B", "G", "F", True)]),
        (
            LANES,
            [
                ("Roll", "G", "Stop", True),
                ("Roll", "G", "Both wheels done", True),
                ("Roll", "Stop", "Both wheels done", True),
                ("Stop", "G", "Both wheels done", True),
                ("Stop", "Both wheels done", "G", True),
                ("Lift", "G", "Both lifting done", True),
            ],
        ),
    ],
    ids=("groups", "lanes"),
)
def test_where_exits_stand(text: str, pairs: list[tuple[str, str, str, bool]]) -> None:
    """A group's exits and a block's come before those of the steps in them; exits of two lanes do
    not stand in each other's way."""
    found = [one for one in told(text) if one[0] != "Both"]
    assert pairs == found


def test_only_where_a_run_comes() -> None:
    """Of a step that no run enters nothing is told, as long as it is sure that none does; and the
    match clock is never before the step's earliest entry."""
    assert [("A", "G", "B", True)] == told(GROUPED, A=0)
    assert ["A", "B"] == [one[0] for one in told(GROUPED, whole=False, A=0)]
    assert ["A"] == [one[0] for one in told(GROUPED, A=0, B=17_000_000)]
