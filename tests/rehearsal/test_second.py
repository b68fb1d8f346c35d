"""The reference machine against a second interpreter that shares no code with it."""

from __future__ import annotations

from itertools import product
from pathlib import Path

from demo import moth_robot
from hypothesis import given, settings
from hypothesis import strategies as st
from second import EXIT, moves

from planner.graph import unfold
from planner.graph.run import Entered
from planner.model.condition import Answers, Condition, Held
from planner.model.routine import AfterExit, Count, MatchExit, Routine, Step, WhenExit
from planner.rehearsal import Machine
from planner.text import Place, Source

HERE = Place(Source(Path(__file__).name, ""), 1, 1, 1)
ROBOT = moth_robot().robot
LIMIT_US = 20_000


def routine(plan: dict[str, list[EXIT]], at: list[tuple[int, str]]) -> Routine:
    """The model of a plan that is given as plain data."""
    steps = {name: _step(name, exits) for name, exits in plan.items()}
    match_exits = tuple(MatchExit(at_us, to, HERE) for at_us, to in sorted(at, key=lambda a: a[0]))
    return Routine("example", "", ROBOT, 10**9, {}, match_exits, "A", steps, HERE)


def _step(name: str, exits: list[EXIT]) -> Step:
    whens, afters = [], []
    for kind, what, target, most, then in exits:
        count = Count(most, then) if most is not None and then is not None else None
        if kind == "when":
            sensor, value, held_us = what
            condition: Condition = Answers(ROBOT.sensors[sensor], value, HERE)
            condition = Held(condition, held_us, HERE) if held_us else condition
            whens.append(WhenExit(condition, target, count, HERE))
        else:
            afters.append(AfterExit(what, target, count, HERE))
    return Step(name, "", not exits, (), tuple(whens), tuple(afters), HERE)


def entered(
    plan: dict[str, list[EXIT]], at: list[tuple[int, str]], trace: list[tuple[int, dict[str, str]]]
) -> list[tuple[int, str]]:
    """Each step that the reference machine enters, with the time."""
    machine = Machine(unfold(routine(plan, at)))
    events = [event for now, seen in trace for event in machine.pass_(now, seen)]
    return [(event.at_us, event.step) for event in events if isinstance(event, Entered)]


def _passes(*seen: str) -> list[tuple[int, dict[str, str]]]:
    """One pass each 10 ms; `b` presses the bumper, `f` the floor switch, `.` neither."""
    words = {"b": ("pressed", "released"), "f": ("released", "pressed"), ".": ("released",) * 2}
    return [
        (10_000 * number, dict(zip(("bumper", "arm_floor"), words[key], strict=True)))
        for number, key in enumerate("".join(seen))
    ]


TRACES = [_passes("..b.f..bf."), _passes("bbff...."), _passes("........"), _passes("f.b.b.b.b")]


def test_all_plans_of_three_steps_with_two_sensors_and_a_limit() -> None:
    """Every plan of three steps, each with up to one sensor exit and one limit, runs alike."""
    targets = ("A", "B", "C", "F")
    whens: list[list[EXIT]] = [[]]
    whens += [
        [("when", (sensor, "pressed", 0), to, None, None)]
        for sensor, to in product(("bumper", "arm_floor"), targets)
    ]
    afters: list[list[EXIT]] = [[]]
    afters += [[("after", LIMIT_US, to, None, None)] for to in targets]
    kinds = [when + after for when, after in product(whens, afters)]
    differing = []
    for number, (a, b, c) in enumerate(product(kinds, repeat=3)):
        plan = {"A": a, "B": b, "C": c, "F": []}
        trace = TRACES[number % len(TRACES)]
        if moves(plan, [], trace) != entered(plan, [], trace):
            differing.append((plan, trace))
    assert [] == differing[:3]


NAMES = ("A", "B", "C", "D")
TIMES = st.sampled_from((0, 10_000, 20_000, 35_000, 50_000))
COUNTED = st.one_of(
    st.just((None, None)),
    st.tuples(st.integers(1, 3), st.sampled_from((*NAMES, "F"))),
)
SENSED = st.tuples(
    st.sampled_from(("bumper", "arm_floor")), st.sampled_from(("pressed", "released")), TIMES
)


@st.composite
def exits(draw: st.DrawFn) -> EXIT:
    """An exit of any kind, counted or not."""
    most, then = draw(COUNTED)
    target = draw(st.sampled_from((*NAMES, "F")))
    if draw(st.booleans()):
        return ("when", draw(SENSED), target, most, then)
    return ("after", draw(TIMES), target, most, then)


PLANS = st.fixed_dictionaries(
    {name: st.lists(exits(), min_size=1, max_size=4) for name in NAMES}
    | {"F": st.just([])}
)  # fmt: skip
ATS = st.lists(
    st.tuples(st.sampled_from((15_000, 40_000, 70_000)), st.sampled_from((*NAMES, "F"))),
    max_size=3,
    unique=True,
)
PASSES = st.lists(
    st.tuples(st.sampled_from((10_000, 15_000)), st.sampled_from("bf.")), min_size=2, max_size=20
)


@settings(max_examples=400)
@given(PLANS, ATS, PASSES)
def test_random_plans_run_alike(
    plan: dict[str, list[EXIT]], at: list[tuple[int, str]], passes: list[tuple[int, str]]
) -> None:
    """Held-for, counts, several limits and match-clock exits mean the same to both."""
    trace, now = [], 0
    for (gap, _), (_, seen) in zip(passes, _passes("".join(key for _, key in passes)), strict=True):
        trace.append((now, seen))
        now += gap
    assert moves(plan, at, trace) == entered(plan, at, trace)
