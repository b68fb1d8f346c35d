"""Small plans that wait for two sensors of the Moth, in all the ways in which a plan can."""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace

from demo import moth_robot

from planner.graph import Plan, unfold
from planner.model.condition import (
    All,
    Answers,
    Any,
    Condition,
    CounterCompare,
    Held,
    LanesDone,
    Looks,
    MatchClock,
    MemoryIs,
    Not,
    Once,
    Unreadable,
)
from planner.model.memory import Counter, Counting, Remember, WordMemory
from planner.model.routine import (
    AfterExit,
    Count,
    Group,
    MatchExit,
    Routine,
    Step,
    StepExit,
    WhenExit,
    end_of_lane,
)
from planner.text import Place, Source

TENTH_US = 100_000
PLACE = Place(Source("drawn.routine", "drawn\n"), 1, 1, 6)
SAID: dict[str, tuple[str | None, ...]] = {
    "bumper": ("released", "pressed", None),
    "tin_gate": ("clear", "broken", None),
}
BUMPER = Answers(moth_robot().robot.sensors["bumper"], "pressed", PLACE)
CLOSED = Answers(moth_robot().robot.sensors["arm_floor"], "pressed", PLACE)
GATE = Answers(moth_robot().robot.sensors["tin_gate"], "broken", PLACE)


def drawn(
    steps: Iterable[tuple[str, Iterable[StepExit]]],
    clock: Iterable[tuple[int, str]] = (),
    limit: int = 20,
    groups: Iterable[tuple[Group, Iterable[str]]] = (),
    finishes: Iterable[str] = ("F",),
) -> Plan:
    """A plan of steps with their exits, the first of them its start; times in tenths."""
    inside = {name: group.name for group, names in groups for name in names}
    made = {name: _step(name, exits, inside.get(name, "")) for name, exits in steps}
    for name in [name for name in inside if name.endswith(" done")]:
        made[name] = replace(_step(name, (), inside[name]), ends_lane=True)
    made |= {name: replace(_step(name, (), ""), is_finish=True) for name in finishes}
    exits = tuple(MatchExit(at * TENTH_US, target, PLACE) for at, target in sorted(clock))
    routine = Routine(
        "drawn", "", moth_robot().robot, limit * TENTH_US, {}, exits, next(iter(made)), made, PLACE
    )
    return unfold(replace(routine, groups={group.name: group for group, _ in groups}))


def when(condition: Condition, target: str, most: int | None = None, then: str = "F") -> WhenExit:
    """An exit that waits for something, perhaps counted."""
    return WhenExit(condition, target, Count(most, then) if most else None, PLACE)


def after(tenths: int, target: str, most: int | None = None, then: str = "F") -> AfterExit:
    """A time limit, perhaps counted."""
    return AfterExit(tenths * TENTH_US, target, Count(most, then) if most else None, PLACE)


COUNTER = Counter("shots", 0, 2, 1, PLACE)
WORD = WordMemory("side", ("left", "right"), None, PLACE)


def remembering(plan: Plan, seed: int) -> Plan:
    """The plan with a counter that its steps count, and a word that they remember and ask for."""
    draw = random.Random(seed)
    routine = plan.routine
    steps = {}
    for name, step in routine.steps.items():
        if step.is_finish or step.ends_lane or name in plan.begins:
            steps[name] = step
            continue
        by, to = draw.choice(((1, None), (-1, None), (0, 2)))
        counts = (Counting(COUNTER, by, to, PLACE),) if draw.random() < 0.5 else ()
        word = Remember(WORD, draw.choice(WORD.words), PLACE)
        remembers = (word,) if draw.random() < 0.4 else ()
        asked: list[Condition] = [
            CounterCompare(COUNTER, draw.choice(("is", "<", ">=")), draw.randint(0, 2), PLACE),
            MemoryIs(WORD, draw.choice(WORD.words), PLACE),
        ]
        whens = tuple(
            replace(one, condition=All((one.condition, draw.choice(asked))))
            if draw.random() < 0.5
            else one
            for one in step.whens
        )
        steps[name] = replace(step, whens=whens, counts=counts, remembers=remembers)
    memories = {COUNTER.name: COUNTER, WORD.name: WORD}
    return unfold(replace(routine, steps=steps, memories=memories))


def random_block(seed: int, limit: int = 12, usual: bool = True, shared: bool = False) -> Plan:
    """A plan with a block of two or three lanes, each of one or two steps, and a step after it.

    Lanes of usual plans look each at a sensor of their own, unless they are to be `shared`.
    """
    draw = Draw(seed)
    draw.usual = usual
    lanes = [f"B.{word}" for word in ("one", "two", "three")[: draw.choice((2, 2, 3))]]
    inside: list[dict[str, list[StepExit]]] = []
    for number, lane in enumerate(lanes):
        # Where lanes share no sensor, what one does says nothing of the other.
        draw.sensors = (
            (BUMPER, GATE, CLOSED)[number : number + 1] if usual and not shared else (BUMPER, GATE)
        )
        names = [f"{lane}{number}" for number in range(draw.choice((1, 2)))]
        end = end_of_lane(lane)
        goals = [*names, end, end, *(("S", "F") if draw.random() < 0.3 else ())]
        inside.append({name: _exits(draw, goals, number) for number, name in enumerate(names)})
    every, some = (LanesDone(tuple(lanes), all_, "", PLACE) for all_ in (True, False))
    outs: list[StepExit] = [when(every, "S"), after(draw.choice((4, 6, 9)), "F2")]
    outs += [when(some, "F")] if draw.random() < 0.2 else []
    outs += [when(Held(every, 3 * TENTH_US, PLACE), "F")] if draw.random() < 0.2 else []
    outs += [when(BUMPER, "B", 1, "F2")] if not usual and draw.random() < 0.3 else []
    draw.sensors = (BUMPER, GATE)
    then: list[StepExit] = [when(GATE, draw.choice(("B", "F")), 1), after(2, "F2")]
    clock = [(draw.randint(2, 9), draw.choice(("S", "F", "B")))] if draw.random() < 0.4 else []
    return block(dict(zip(lanes, inside, strict=True)), outs, then, clock, limit)


def block(
    lanes: Mapping[str, Mapping[str, Iterable[StepExit]]],
    outs: Iterable[StepExit],
    then: Iterable[StepExit],
    clock: Iterable[tuple[int, str]],
    limit: int,
) -> Plan:
    """A plan with a block `B`, the steps of each lane by name, and a step `S` after it."""
    steps: list[tuple[str, Iterable[StepExit]]] = [("B", ())]
    groups: list[tuple[Group, list[str]]] = [
        (_block_group("B", lanes=tuple(lanes), exits=outs), ["B"])
    ]
    for lane, inside in lanes.items():
        steps += inside.items()
        group = _block_group(lane, "B", lane=lane.partition(".")[2], first=next(iter(inside)))
        groups.append((group, [*inside, end_of_lane(lane)]))
    return drawn([*steps, ("S", then)], clock, limit, groups, ("F", "F2"))


def _block_group(
    name: str,
    inside: str = "",
    lane: str = "",
    first: str = "",
    lanes: tuple[str, ...] = (),
    exits: Iterable[StepExit] = (),
) -> Group:
    whens, afters = _sorted(exits)
    return Group(
        name,
        "",
        inside,
        (),
        whens,
        afters,
        (),
        PLACE,
        lanes=lanes,
        is_block=bool(lanes),
        lane=lane,
        first=first,
    )


class Draw(random.Random):
    """A source of plans; `usual` ones wait for what plans wait for, others for anything at all."""

    usual = False
    is_lasting = False
    """Whether the step has a condition on several passes, and then none on the match clock."""
    sensors: tuple[Answers, ...] = ()
    lasting = False
    """Whether that condition is still to come."""


def random_plan(seed: int, most_steps: int = 8, limit: int = 20, usual: bool = False) -> Plan:
    """A plan with any exits; the same for the same seed on every machine."""
    draw = Draw(seed)
    draw.usual, draw.sensors = usual, (BUMPER, GATE)
    names = [f"S{number}" for number in range(draw.randint(1, most_steps))]
    goals = [*names, "F", "F2"]
    steps = [(name, _exits(draw, goals, number)) for number, name in enumerate(names)]
    clock = [
        (at, draw.choice(goals)) for at in draw.sample(range(1, limit), draw.choice((0, 0, 1, 2)))
    ]
    groups: list[tuple[Group, list[str]]] = []
    free = list(names)
    for number in range(draw.choice((0, 0, 1, 2))):
        members = draw.sample(free, min(len(free), draw.randint(1, 3)))
        free = [name for name in free if name not in members]
        inside = draw.choice(["", *(outer.name for outer, _ in groups)])
        groups.append((_group(draw, f"G{number}", inside, goals, limit), members))
    return drawn(steps, clock, limit, groups, ("F", "F2"))


def _exits(draw: Draw, goals: list[str], number: int) -> list[StepExit]:
    draw.lasting = draw.is_lasting = draw.usual and draw.random() < 0.4
    return [_exit(draw, goals, number) for _ in range(draw.choice((1, 1, 2, 2, 3)))]


def _group(draw: Draw, name: str, inside: str, goals: list[str], limit: int) -> Group:
    # What a group's conditions remember from one of its steps to the next is left to the others.
    exits = (
        [after(draw.randint(2, 7), draw.choice(goals))]
        if draw.usual
        else [_exit(draw, goals, len(goals)) for _ in range(draw.choice((0, 1, 1, 2)))]
    )
    clock = [
        MatchExit(draw.randrange(1, limit) * TENTH_US, draw.choice(goals), PLACE, group=name)
        for _ in range(draw.choice((0, 0, 1)))
    ]
    whens, afters = _sorted(exits)
    return Group(name, "", inside, tuple(clock), whens, afters, (), PLACE, draw.choice(("", "t")))


def _exit(draw: Draw, goals: list[str], number: int) -> StepExit:
    # Most ways lead on, so that plans come to an end now and then.
    onward = [*goals[number + 1 :], *goals[-2:]]
    target = draw.choice(onward) if draw.random() < 0.7 else draw.choice(goals)
    most, then = draw.choice((None, None, None, 1, 2)), draw.choice(onward)
    if draw.random() < 0.5:
        return after(draw.choice((0, 1, 2, 3, 4, 5, 7)), target, most, then)
    return when(usual(draw) if draw.usual else condition(draw), target, most, then)


def usual(draw: Draw) -> Condition:
    """A condition as plans have it: on sensors and the match clock, or on a sensor for a time."""
    one, other = draw.choice(draw.sensors), draw.choice(draw.sensors)
    plain: list[Condition] = [one, Not(one), All((one, other)), Any((one, Not(other)))]
    clock = [All((one, _clock(draw))), _clock(draw)]
    lasting = [
        Held(one, draw.choice((2, 3, 5)) * TENTH_US, PLACE),
        All((Once(one, PLACE), other)),
        Looks(one, draw.randint(1, 2), draw.randint(2, 3), PLACE),
    ]
    # Two of them in a step may stand in each other's way, as no single pass tells.
    if draw.lasting:
        draw.lasting = False
        return draw.choice(lasting)
    return draw.choice(plain if draw.is_lasting else plain + clock)


def condition(draw: Draw, depth: int = 2) -> Condition:
    """Any condition on the two sensors and the match clock."""
    leaf = draw.choice((BUMPER, BUMPER, GATE, GATE, _clock(draw), Unreadable(GATE.sensor, PLACE)))
    if depth == 0 or draw.random() < 0.4:
        return leaf
    inner = condition(draw, depth - 1)
    kinds: list[Callable[[], Condition]] = [
        lambda: Not(inner),
        lambda: All((inner, leaf)),
        lambda: Any((inner, leaf)),
        lambda: Held(inner, draw.choice((0, 2, 3, 5)) * TENTH_US, PLACE),
        lambda: Once(inner, PLACE),
        lambda: Looks(inner, draw.randint(1, 2), draw.randint(2, 3), PLACE),
    ]
    return draw.choice(kinds)()


def _clock(draw: Draw) -> Condition:
    return MatchClock(draw.choice(("<", "<=", ">", ">=")), draw.randint(1, 15) * TENTH_US, PLACE)


def _step(name: str, exits: Iterable[StepExit], group: str) -> Step:
    whens, afters = _sorted(exits)
    return Step(name, "", False, (), whens, afters, PLACE, group=group)


def _sorted(exits: Iterable[StepExit]) -> tuple[tuple[WhenExit, ...], tuple[AfterExit, ...]]:
    every = list(exits)
    whens = tuple(exit_ for exit_ in every if isinstance(exit_, WhenExit))
    return whens, tuple(exit_ for exit_ in every if isinstance(exit_, AfterExit))
