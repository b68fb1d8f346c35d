"""Conditions asked of one pass's readings (M1, M5, M6)."""

from __future__ import annotations

import math
import operator
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any as Anything
from typing import TypeAlias

from planner.model.condition import (
    All,
    Answers,
    Any,
    ChoiceIs,
    Compare,
    Condition,
    CounterCompare,
    Done,
    Fixed,
    Held,
    LaneIn,
    LanesDone,
    Looks,
    MatchClock,
    MemoryCompare,
    MemoryIs,
    Not,
    Once,
    Reckoned,
    Source,
    Steady,
    Unreadable,
    Within,
)
from planner.model.memory import Number as PlanNumber
from planner.model.memory import NumberMemory, Part, Table
from planner.model.robot import Reading as MechanismReading
from planner.model.routine import end_of_lane
from planner.model.units import Amount, Unit
from planner.rehearsal.truth import FALSE, TRUE, UNKNOWN, Truth, all_of, any_of, negation, truth

Number: TypeAlias = float | Fraction
Readings: TypeAlias = Mapping[str, Number | str | bool | None]
"""What the sensors say in one pass, by the name a plan uses: ``bumper`` is ``"pressed"``,
``range_front`` is a number in the sensor's own unit, ``drive travelled`` a number in the reading's
unit counted from wherever the mechanism counts, ``arm done`` is True or False. A reading that is
None, not a number or left out cannot be had (M6)."""


@dataclass(slots=True)
class Look:
    """One pass as conditions see it: the clock, the readings, and what the visit has remembered."""

    now_us: int = 0
    readings: Readings = field(default_factory=dict)
    at_entry: Readings = field(default_factory=dict)
    """The readings of the pass that entered the step, for those that count from there."""
    match_us: int = 0
    memory: dict[int, Anything] = field(default_factory=dict)
    """What conditions on several passes keep from pass to pass, by their number (M5)."""
    lanes: Mapping[str, str] = field(default_factory=dict)
    """By lane of the active block, the step it was in at the beginning of the pass (M8)."""
    remembered: Mapping[str, Number | str] = field(default_factory=dict)
    """What the plan's memories and counters hold, by name (M13, M14)."""


Question: TypeAlias = Callable[[Look], Truth]


def question(condition: Condition, numbers: Iterator[int]) -> Question:
    """A condition as a function of a look; `numbers` tells its held-for parts apart.

    Every part is asked in every pass, so that a held-for condition never misses one (M5).
    """
    match condition:
        case Compare() | Within():
            return _number_question(condition)
        case Answers(sensor, value):
            return _answer(sensor.name, value)
        case Done(mechanism):
            return _answer(f"{mechanism.name} done", True)
        case Not(part):
            inner = question(part, numbers)
            return lambda look: negation(inner(look))
        case All(parts):
            every = [question(part, numbers) for part in parts]
            return lambda look: all_of([ask(look) for ask in every])
        case Any(parts):
            some = [question(part, numbers) for part in parts]
            return lambda look: any_of([ask(look) for ask in some])
        case Held():
            return _held(condition, next(numbers), numbers)
        case Once(part):
            return _once(question(part, numbers), next(numbers))
        case Looks():
            return _looks(condition, next(numbers), numbers)
        case Steady():
            return _steady(condition, next(numbers))
        case Unreadable(source):
            return _unreadable(source)
        case ChoiceIs(holds=holds) | Fixed(holds=holds):
            return lambda _look: UNKNOWN if holds is None else truth(holds)
        case LanesDone():
            return _lanes_done(condition)
        case LaneIn(lane):
            return lambda look: truth(condition.is_true_in(look.lanes.get(lane, "")))
        case Reckoned():
            return _reckoned(condition)
        case MemoryIs(memory, value):
            word = memory.name
            return lambda look: truth(look.remembered[word] == value)
        case MemoryCompare():
            return _memory_compare(condition)
        case CounterCompare(counter, sign, number):
            counts = _COMPARISONS[sign]
            return lambda look: truth(counts(look.remembered[counter.name], number))
        case MatchClock(sign, at_us):
            compare = _COMPARISONS[sign]
            return lambda look: truth(compare(look.match_us, at_us))
        case _:
            return lambda _look: UNKNOWN


def _lanes_done(condition: LanesDone) -> Question:
    ends = [(lane, end_of_lane(lane)) for lane in condition.lanes]
    enough = all if condition.every else any
    return lambda look: truth(enough(look.lanes.get(lane) == end for lane, end in ends))


def _reckoned(condition: Reckoned) -> Question:
    source = condition.source
    assert source.unit is not None, "the resolver compares numbers only"
    read, other = number_reader(source), reckoner(condition.number, source.unit)
    if condition.tolerance is None:
        holds = _COMPARISONS[condition.operator]
        return lambda look: _asked(read(look), lambda said: holds(said, other(look)))
    reach, turn = reckoner(condition.tolerance, source.unit), full_turn(source)

    def near(look: Look, said: Number) -> bool:
        away = said - _known(other(look))
        away = wrapped(away, turn) if source.wraps else away
        tolerance = _known(reach(look))
        return -tolerance <= away <= tolerance

    return lambda look: _asked(read(look), lambda said: near(look, said))


def _asked(said: Number | None, holds: Callable[[Number], bool]) -> Truth:
    """What is asked of a reading; unknown where it cannot be had (M6)."""
    return UNKNOWN if said is None else truth(holds(said))


def _memory_compare(condition: MemoryCompare) -> Question:
    name, holds = condition.memory.name, _COMPARISONS[condition.operator]
    other = reckoner(condition.number, condition.memory.unit)
    return lambda look: truth(holds(look.remembered[name], other(look)))


def reckoner(number: PlanNumber, unit: Unit) -> Callable[[Look], Number | None]:
    """A plan's number in a unit of its dimension, worked out anew in each look (M13).

    None where a reading in it cannot be had; such numbers stand in what is remembered alone.
    """
    if isinstance(number, Amount):
        plain = _plain(number.in_unit(unit))
        return lambda _look: plain
    fixed = _plain(number.fixed.in_unit(unit))
    parts = [_part(part, unit) for part in number.parts]

    def work_out(look: Look) -> Number | None:
        total: Number = fixed
        for part in parts:
            value = part(look)
            if value is None:
                return None
            total += value
        return total

    return work_out


def _part(part: Part, unit: Unit) -> Callable[[Look], Number | None]:
    """A part of a number in a unit."""
    of = part.of
    if isinstance(of, Table):
        rows = {word: _plain(part.factor * row.in_unit(unit)) for word, row in of.rows.items()}
        return lambda look: rows[str(look.remembered[of.memory.name])]
    assert of.unit is not None, "the resolver reckons with numbers only"
    factor = _plain(part.factor * of.unit.size / unit.size)
    if isinstance(of, NumberMemory):
        name = of.name
        return lambda look: _known(_number(look.remembered[name])) * factor
    read = number_reader(of)

    def times(look: Look) -> Number | None:
        value = read(look)
        return value * factor if value is not None and math.isfinite(value) else None

    return times


def _known(number: Number | None) -> Number:
    assert number is not None, "outside of what is remembered there are no readings in a number"
    return number


def _answer(name: str, wanted: str | bool) -> Question:
    def ask(look: Look) -> Truth:
        said = look.readings.get(name)
        return UNKNOWN if said is None else truth(said == wanted)

    return ask


def _held(condition: Held, number: int, numbers: Iterator[int]) -> Question:
    inner, duration_us = question(condition.part, numbers), condition.duration_us

    def ask(look: Look) -> Truth:
        value = inner(look)
        if value <= 0:
            look.memory.pop(number, None)
            return value
        since = look.memory.setdefault(number, look.now_us)
        return truth(look.now_us - since >= duration_us)

    return ask


def _once(inner: Question, number: int) -> Question:
    def ask(look: Look) -> Truth:
        value = inner(look)
        if value > 0:
            look.memory[number] = True
        return TRUE if number in look.memory else value

    return ask


def _looks(condition: Looks, number: int, numbers: Iterator[int]) -> Question:
    inner = question(condition.part, numbers)

    def ask(look: Look) -> Truth:
        seen = (*look.memory.get(number, ()), inner(look))[-condition.looks :]
        look.memory[number] = seen
        if seen.count(TRUE) >= condition.least:
            return TRUE
        # With other answers from the unreadable passes it could have been enough.
        return UNKNOWN if len(seen) - seen.count(FALSE) >= condition.least else FALSE

    return ask


def _steady(condition: Steady, number: int) -> Question:
    source = condition.source
    assert source.unit is not None, "the resolver measures numbers only"
    read, wraps, turn = number_reader(source), source.wraps, full_turn(source)
    tolerance = _plain(condition.tolerance.in_unit(source.unit))

    def ask(look: Look) -> Truth:
        value = read(look)
        if value is None:
            look.memory.pop(number, None)
            return UNKNOWN
        mark, since = look.memory.setdefault(number, (value, look.now_us))
        moved = wrapped(value - mark, turn) if wraps else value - mark
        if not -tolerance <= moved <= tolerance:
            since = look.now_us
            look.memory[number] = (value, since)
        return truth(look.now_us - since >= condition.duration_us)

    return ask


def _unreadable(source: Source) -> Question:
    if source.unit is None:
        return lambda look: truth(look.readings.get(source.spoken) is None)
    read = number_reader(source)
    return lambda look: truth(read(look) is None)


def _number_question(condition: Compare | Within) -> Question:
    read = number_reader(condition.source)
    holds = _comparison(condition) if isinstance(condition, Compare) else _band(condition)

    def ask(look: Look) -> Truth:
        number = read(look)
        return UNKNOWN if number is None else truth(holds(number))

    return ask


def number_reader(source: Source) -> Callable[[Look], Number | None]:
    """The number a source gives in a look, in its own unit; None where it cannot be had (M6)."""
    name = source.spoken
    low: Number = -math.inf
    high: Number = math.inf
    if source.bounds is not None and source.unit is not None:
        low = _plain(source.bounds.low.in_unit(source.unit))
        high = _plain(source.bounds.high.in_unit(source.unit))
    from_start = isinstance(source, MechanismReading) and source.from_step_start
    wraps, turn = source.wraps, full_turn(source)

    def read(look: Look) -> Number | None:
        number = _number(look.readings.get(name))
        if number is not None and from_start:
            begin = _number(look.at_entry.get(name))
            number = None if begin is None else number - begin
            if number is not None and wraps:
                number = wrapped(number, turn)
        # Not a number compares false with everything, so it is out of bounds too.
        return number if number is not None and low <= number <= high else None

    return read


def full_turn(source: Source) -> Number:
    """A full turn in a source's own unit; only for one that wraps does it mean anything."""
    return _plain(360 / source.unit.size) if source.unit else 360


def wrapped(angle: Number, turn: Number) -> Number:
    """The same heading from minus half a turn up to, but not at, half a turn."""
    return (angle + turn / 2) % turn - turn / 2


def _number(value: Number | str | bool | None) -> Number | None:
    return None if value is None or isinstance(value, str | bool) else value


def _comparison(condition: Compare) -> Callable[[Number], bool]:
    assert condition.source.unit is not None, "the resolver compares numbers only"
    threshold = _plain(condition.threshold.in_unit(condition.source.unit))
    compare = _COMPARISONS[condition.operator]
    return lambda number: compare(number, threshold)


_COMPARISONS: Mapping[str, Callable[[Anything, Anything], bool]] = {
    "is": operator.eq,
    "<": operator.lt,
    "<=": operator.le,
    ">": operator.gt,
    ">=": operator.ge,
}


def _band(condition: Within) -> Callable[[Number], bool]:
    unit = condition.source.unit
    assert unit is not None, "the resolver measures bands of numbers only"
    tolerance = _plain(condition.tolerance.in_unit(unit))
    centre = _plain(condition.centre.in_unit(unit))
    if condition.source.wraps:
        turn = full_turn(condition.source)
        return lambda number: -tolerance <= wrapped(number - centre, turn) <= tolerance
    return lambda number: -tolerance <= number - centre <= tolerance


def _plain(number: Fraction) -> Number:
    """The same number as an int or float where that is exact, since those compare faster."""
    if number.denominator == 1:
        return number.numerator
    near = float(number)
    return near if Fraction(near) == number else number
