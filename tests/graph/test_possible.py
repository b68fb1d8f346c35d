"""What conditions can be together, judged by asking the reference machine and by z3."""

from __future__ import annotations

import random
from itertools import count

import pytest
import z3
from asked_of import READINGS, as_read, conditions, everything, random_condition, truths
from demo import check

from planner.graph.atoms import Asking, Assumed
from planner.graph.crossing import crossing
from planner.graph.possible import Verdict, always_true, can_be_true, together
from planner.graph.run import Event, Left
from planner.model import Robot
from planner.model.condition import (
    All,
    Answers,
    Any,
    Compare,
    Condition,
    Not,
    Unreadable,
    Within,
)
from planner.rehearsal import Machine
from planner.rehearsal.conditions import Look, question
from planner.rehearsal.truth import TRUE

ALL_READINGS = tuple(everything(READINGS))
PASS_US = 20_000


def drawn(seed: int, number: int, memory: bool = False) -> list[Condition]:
    """Some conditions, the same for the same seed on every machine."""
    draw = random.Random(seed)
    return conditions(*(random_condition(draw, 2, memory=memory) for _ in range(number)))


@pytest.mark.parametrize("seed", range(25))
def test_possible_is_what_some_readings_make_so(seed: int, moth: Robot) -> None:
    """A condition can be true without another exactly where some readings make it so, and those
    that are shown do."""
    for first, then in zip(drawn(seed, 8), drawn(seed + 1000, 8), strict=True):
        outcome = together([Asking(first)], [Asking(then)])
        expected = any(
            truths(first, said) == TRUE and truths(then, said) != TRUE for said in ALL_READINGS
        )
        assert (Verdict.POSSIBLE if expected else Verdict.NEVER) is outcome.verdict
        if outcome.possible:
            shown = as_read(moth, outcome)
            assert (True, True) == (truths(first, shown) == TRUE, truths(then, shown) != TRUE)


@pytest.mark.parametrize("seed", range(25))
def test_always_true_is_what_all_readable_values_make_so(seed: int) -> None:
    """A condition is always true exactly where every value that can be read makes it so."""
    for condition in drawn(seed, 8):
        asked = {word for word in ("range_front", "floor_eye") if _asks_unreadable(condition, word)}
        told = [
            truths(condition, said) == TRUE
            for said in ALL_READINGS
            if all(_is_read(said[name]) or name in asked for name in said)
        ]
        assert all(told) == always_true(condition)


def _is_read(value: object) -> bool:
    return value not in (None, 1000)


def _asks_unreadable(condition: Condition, name: str) -> bool:
    match condition:
        case Not(part):
            return _asks_unreadable(part, name)
        case All(parts) | Any(parts):
            return any(_asks_unreadable(part, name) for part in parts)
        case _:
            return isinstance(condition, Unreadable) and condition.source.spoken == name


@pytest.mark.parametrize("seed", range(60))
def test_what_several_passes_show_is_possible(seed: int) -> None:
    """What the machine finds true in some pass of a random run is never called impossible."""
    draw = random.Random(seed)
    first, then = drawn(seed, 2, memory=True)
    ask_first, ask_then = question(first, numbers := count()), question(then, numbers)
    verdicts = {
        wanted: together([Asking(first)], [] if wanted is None else [Asking(then)])
        for wanted in (None, False)
    }
    alone, without = can_be_true(first).never, verdicts[False].never
    for _ in range(40):
        memory: dict[int, object] = {}
        said = draw.choice(ALL_READINGS)
        for number in range(1, 12):
            if draw.random() < 0.5:
                said = {**said, (name := draw.choice(list(said))): draw.choice(READINGS[name])}
            look = Look(number * PASS_US, said, said, number * PASS_US, memory)
            true, other = ask_first(look) == TRUE, ask_then(look) == TRUE
            assert not (true and alone)
            assert not (true and not other and without)


@pytest.mark.parametrize("seed", range(25))
def test_overlapping_is_what_both_say_of_what_is_shown(seed: int, moth: Robot) -> None:
    """Readings that are shown for two exits that overlap make both of them true."""
    for first, then in zip(drawn(seed, 12), drawn(seed + 1000, 12), strict=True):
        outcome = crossing(Asking(first), Asking(then), ("",), Assumed())
        if outcome:
            shown = as_read(moth, outcome)
            assert [TRUE, TRUE] == [truths(first, shown), truths(then, shown)]


@pytest.mark.parametrize("seed", range(40))
def test_an_exit_called_never_taken_is_never_taken(seed: int) -> None:
    """Whatever the sensors say from pass to pass, no run takes an exit that has such a finding."""
    draw = random.Random(seed)
    whens = [f"when {random_condition(draw, 2, memory=True)}, go to F{n}" for n in range(4)]
    lines = "".join(f"  {when}\n" for when in whens)
    finishes = "".join(f"finish F{number}\n" for number in range(4))
    checked = check(f"start A\nstep A\n{lines}  after 1 s, go to G\n{finishes}finish G\n")
    called = {f.place.line for f in checked.findings if f.check in ("shadowed-exit", "twin-exits")}
    for _ in range(60):
        machine = Machine(checked.plan)
        said = draw.choice(ALL_READINGS)
        events: list[Event] = []
        for number in range(14):
            if draw.random() < 0.4:
                said = {**said, (name := draw.choice(list(said))): draw.choice(READINGS[name])}
            events += machine.pass_(number * PASS_US, said)
        taken = {event.exit.place.line for event in events if isinstance(event, Left)}
        assert set() == taken & called


@pytest.mark.parametrize("seed", range(30))
def test_z3_finds_the_same(seed: int) -> None:
    """An independent solver (z3, Microsoft Research) over the reals and all words agrees."""
    draw = random.Random(seed)
    leaves = tuple(_random_leaf(draw) for _ in range(7))
    pairs = conditions(*(random_condition(draw, 3, leaves) for _ in range(6)))
    for first, then in zip(pairs[::2], pairs[1::2], strict=True):
        solver = z3.Solver()
        for name, low, high in (("range_front", 20, 2000), ("gyro", -180, 180)):
            solver.add(z3.Real(name) >= low, z3.Real(name) <= high)
        for name, words in (("floor_eye", 4), ("bumper", 2)):
            solver.add(z3.Int(name) >= 0, z3.Int(name) < words)
        solver.add(_z3(first)[0], z3.Not(_z3(then)[0]))
        expected = solver.check() == z3.sat
        found = together([Asking(first)], [Asking(then)], (), Assumed()).verdict
        assert (Verdict.POSSIBLE if expected else Verdict.NEVER) is found


def _random_leaf(draw: random.Random) -> str:
    sign, number = draw.choice(("<", "<=", ">", ">=")), draw.randint(-10, 2200) / 10
    heading, reach = draw.randint(-400, 400), draw.randint(1, 120)
    return draw.choice(
        (
            f"range_front {sign} {number} cm",
            f"range_front within {reach} mm of {number} cm",
            f"gyro {sign} {draw.randint(-170, 170)} deg",
            f"gyro within {reach} deg of {heading} deg",
            f"floor_eye sees {draw.choice(('red', 'blue', 'white', 'unsure'))}",
            f"bumper {draw.choice(('pressed', 'released'))}",
            f"{draw.choice(('gyro', 'range_front', 'floor_eye', 'bumper'))} unreadable",
        )
    )


def _z3(condition: Condition) -> tuple[z3.BoolRef, z3.BoolRef]:
    """When a condition is true, and when it is false; unknown where it is neither."""
    match condition:
        case Not(part):
            true, false = _z3(part)
            return false, true
        case All(parts) | Any(parts):
            told = [_z3(part) for part in parts]
            trues, falses = [true for true, _ in told], [false for _, false in told]
            if isinstance(condition, All):
                return z3.And(trues), z3.Or(falses)
            return z3.Or(trues), z3.And(falses)
        case Unreadable(source):
            readable = z3.Bool(f"{source.spoken} readable")
            return z3.Not(readable), readable
        case Answers(sensor, value):
            source, said = sensor, z3.Int(sensor.name) == sensor.values.index(value)
        case Compare(source, operator, threshold):
            number, limit = z3.Real(source.spoken), z3.Q(*threshold.base.as_integer_ratio())
            said = {
                "<": number < limit,
                "<=": number <= limit,
                ">": number > limit,
                ">=": number >= limit,
            }[operator]
        case Within(source, tolerance, centre):
            number, middle = z3.Real(source.spoken), z3.Q(*centre.base.as_integer_ratio())
            reach = z3.Q(*tolerance.base.as_integer_ratio())
            turns = range(-3, 4) if source.wraps else (0,)
            said = z3.Or(
                [
                    z3.And(number - middle + 360 * k <= reach, number - middle + 360 * k >= -reach)
                    for k in turns
                ]
            )
        case _:
            raise AssertionError(f"{condition} is not drawn here")
    readable = z3.Bool(f"{source.spoken} readable")
    return z3.And(readable, said), z3.And(readable, z3.Not(said))
