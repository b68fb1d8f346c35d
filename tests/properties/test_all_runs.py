"""What is said of all runs of a plan, against all of its runs, played one by one.

The judge is the reference machine, in passes of tenths of a second, with anything said by the
sensors in any pass. Time goes on in tenths for both sides, so that both can be exact.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

import pytest
from brute_force import AllRuns, all_runs
from hypothesis import settings
from played_runs import plays
from random_plans import (
    BUMPER,
    GATE,
    PLACE,
    SAID,
    TENTH_US,
    after,
    block,
    drawn,
    random_block,
    random_plan,
    remembering,
    when,
)

from planner.graph import Plan
from planner.graph.unfold import Exit
from planner.model.condition import Answers, Held, LanesDone, lasting_parts
from planner.model.routine import StepExit, WhenExit, end_of_lane
from planner.reach.pace import Pace
from planner.reach.search import Fails
from planner.reach.verdict import Verdict, verdict

LONG = settings.default is not None and settings.default.max_examples > 1000
SEEDS = 10_000 if LONG else 400
"""`--hypothesis-profile=long` plays all of them."""
PACES = ((1, 1), (2, 2), (3, 3), (1, 2), (2, 3))
TWO_WORDS = {"bumper": ("released", "pressed"), "tin_gate": ("clear", "broken")}


def both(
    plan: Plan, shortest: int, longest: int, said: dict[str, tuple[str | None, ...]] | None = None
) -> tuple[Verdict, AllRuns]:
    """The answer and its judge, for passes between two numbers of tenths."""
    pace = in_tenths(shortest, longest)
    gaps = tuple(gap * TENTH_US for gap in range(shortest, longest + 1))
    return verdict(plan, pace=pace), all_runs(plan, gaps, said or dict(SAID))


def in_tenths(shortest: int, longest: int) -> Pace:
    """A pace in which nothing happens between two tenths."""
    if shortest == longest:
        return Pace.between(shortest * TENTH_US, longest * TENTH_US)
    return Pace(shortest, longest, TENTH_US)


def entries(found: Verdict) -> dict[str, tuple[int, int]]:
    """When each step is entered."""
    return {name: (w.earliest_us, w.latest_us) for name, w in found.entries.items()}


@pytest.mark.parametrize("pace", PACES, ids=str)
def test_usual_plans(pace: tuple[int, int]) -> None:
    """On plans with what plans have, every step is entered just when the answer says, to the tenth,
    and a run is cut off just if the answer says so."""
    for seed in range(pace[0] + 10 * pace[1], SEEDS, len(PACES)):
        plan = random_plan(seed, most_steps=3 + seed % 6, limit=12, usual=True)
        found, judge = both(plan, *pace)
        assert judge.entries == entries(found), seed
        assert judge.cut_off == isinstance(found.in_time, Fails), seed


@pytest.mark.parametrize("pace", PACES, ids=str)
def test_strange_plans(pace: tuple[int, int]) -> None:
    """On plans with anything in them, nothing that a run does is left out of the answer."""
    for seed in range(pace[0] + 10 * pace[1], SEEDS, len(PACES)):
        plan = random_plan(seed, most_steps=3 + seed % 6, limit=12)
        found, judge = both(plan, *pace)
        assert kept(found, judge), seed


def kept(found: Verdict, judge: AllRuns) -> bool:
    """Whether nothing that some run does is left out of the answer."""
    said = entries(found)
    return (isinstance(found.in_time, Fails) or not judge.cut_off) and all(
        step in said and said[step][0] <= low and high <= said[step][1]
        for step, (low, high) in judge.entries.items()
    )


@pytest.mark.parametrize("pace", PACES, ids=str)
def test_counters_and_words(pace: tuple[int, int]) -> None:
    """Counters and remembered words are followed; in lanes nothing is left out."""
    for seed in range(pace[0] + 10 * pace[1], SEEDS // 2, len(PACES)):
        plan = random_plan(seed, most_steps=3 + seed % 4, limit=12, usual=True)
        found, judge = both(remembering(plan, seed), *pace)
        assert judge.entries == entries(found), seed
        assert judge.cut_off == isinstance(found.in_time, Fails), seed
    for seed in range(pace[0] + 10 * pace[1], SEEDS // 8, len(PACES)):
        assert kept(*both(remembering(random_block(seed, usual=False), seed), *pace)), seed


@pytest.mark.parametrize("pace", PACES, ids=str)
def test_lanes(pace: tuple[int, int]) -> None:
    """Lanes that share no sensor are told of to the tenth; of others nothing is left out."""
    for seed in range(pace[0] + 10 * pace[1], SEEDS // 4, len(PACES)):
        found, judge = both(random_block(seed), *pace, {**SAID, "arm_floor": SAID["bumper"]})
        assert judge.entries == entries(found), seed
        assert judge.cut_off == isinstance(found.in_time, Fails), seed
        assert kept(*both(random_block(seed, usual=False), *pace)), seed


@pytest.mark.parametrize("pace", PACES, ids=str)
def test_lanes_that_share_sensors(pace: tuple[int, int]) -> None:
    """What a sensor says in a pass it says to all lanes: where no condition is on several passes,
    lanes that share sensors are told of to the tenth too, and of twenty runs that are cut off at
    least nineteen are played."""
    played = []
    for seed in range(pace[0] + 10 * pace[1], SEEDS // 2, len(PACES)):
        plan = random_block(seed, shared=True)
        if any(map(is_on_several_passes, plan.all_exits())):
            continue
        found, judge = both(plan, *pace)
        assert judge.entries == entries(found), seed
        assert judge.cut_off == isinstance(found.in_time, Fails), seed
        if isinstance(found.in_time, Fails):
            played.append(plays(found.timed, found.in_time.run))
    assert played.count(False) * 20 <= len(played)
    assert played


def is_on_several_passes(exit_: Exit) -> bool:
    """Whether it waits for something that one pass does not tell (M5)."""
    written = exit_.written
    return isinstance(written, WhenExit) and any(lasting_parts(written.condition))


def test_runs_can_be_played() -> None:
    """Of usual plans, the run that is cut off and the one that finishes last can be played."""
    for seed in range(SEEDS // 2):
        shortest, longest = PACES[seed % len(PACES)]
        plan = random_plan(seed, most_steps=3 + seed % 6, limit=12, usual=True)
        found = verdict(plan, pace=in_tenths(shortest, longest))
        last = found.latest_finish()
        assert last is None or plays(found.timed, last), seed
        if isinstance(found.in_time, Fails):
            assert plays(found.timed, found.in_time.run), seed


def shapes(goals: tuple[str, ...]) -> Iterator[list[StepExit]]:
    """The steps that the plans below are made of."""
    for one in goals:
        yield [after(2, one)]
    for one, other in product(goals, repeat=2):
        yield [when(BUMPER, one), after(3, other)]
        yield [when(Held(GATE, 2 * TENTH_US, PLACE), one), after(4, other)]
        yield [when(BUMPER, one, 1, other), after(2, one)]


def small_plans() -> Iterator[Plan]:
    """All plans of two steps of these shapes and, for the long run, of three; each with and without
    an exit by the match clock, that leads to a finish or round again."""
    for names in (("A", "B"), ("A", "B", "C"))[: 2 if LONG else 1]:
        for exits in product(list(shapes((*names, "F"))), repeat=len(names)):
            steps = list(zip(names, exits, strict=True))
            yield drawn(steps, limit=9)
            yield drawn(steps, [(5, "F2")], limit=9, finishes=("F", "F2"))
            if LONG:
                yield drawn(steps, [(4, "A"), (6, "F")], limit=9)


def test_all_small_plans() -> None:
    """On all small plans of some shapes, both sides agree in every entry and in the verdict."""
    for plan in small_plans():
        found, judge = both(plan, 2, 3, TWO_WORDS)
        assert (judge.entries, judge.cut_off) == (entries(found), isinstance(found.in_time, Fails))


def small_blocks() -> Iterator[Plan]:
    """All blocks of two lanes of one step of these shapes, with two ways out, each with and without
    an exit by the match clock."""
    lanes = ("B.one", "B.two")
    for first, second in product(range(4), repeat=2):
        inside = {
            lane: {f"{lane}0": list(lane_shapes(lane, other, sensor))[shape]}
            for lane, other, sensor, shape in (
                (*lanes, BUMPER, first),
                (*reversed(lanes), GATE, second),
            )
        }
        for every, clock in product((True, False), ([], [(4, "S")])):
            out = when(LanesDone(lanes, every, "", PLACE), "S" if every else "F")
            yield block(inside, [out, after(5, "F2")], [when(GATE, "F"), after(2, "F2")], clock, 9)


def lane_shapes(lane: str, other: str, sensor: Answers) -> Iterator[list[StepExit]]:
    """The steps that the lanes above are made of."""
    end = end_of_lane(lane)
    yield [after(2, end)]
    yield [when(sensor, end), after(3, end)]
    yield [when(Held(sensor, 2 * TENTH_US, PLACE), end), after(4, "F2")]
    yield [when(LanesDone((other,), True, "", PLACE), end), after(3, "S")]


@pytest.mark.parametrize("pace", [(1, 1), (2, 3)], ids=str)
def test_all_small_blocks(pace: tuple[int, int]) -> None:
    """So they do on all small blocks of lanes, lanes that wait for each other among them."""
    for plan in small_blocks():
        found, judge = both(plan, *pace, TWO_WORDS)
        assert (judge.entries, judge.cut_off) == (entries(found), isinstance(found.in_time, Fails))
