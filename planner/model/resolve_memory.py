"""Memories and counters: the lines that declare them, change them and ask them (M13, M14)."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from planner.model.condition import Condition, CounterCompare, MemoryCompare, MemoryIs, Unresolved
from planner.model.ledger import NOT_RESERVED, Ledger, declare
from planner.model.memory import (
    Counter,
    Counting,
    Memory,
    NumberMemory,
    Remember,
    WordMemory,
)
from planner.model.numbers import NumberResolver
from planner.model.robot import STATES, Robot, Sensor
from planner.model.routine import Named
from planner.model.values import plain_amount
from planner.text import Place
from planner.tree import nodes as n

MOST_COUNTED = 1000
"""How far a counter can count; no match has room for more."""

Declaring = n.NumberMemory | n.WordMemory | n.CounterLine


def memory_of(ledger: Ledger, robot: Robot, written: Declaring) -> Memory | None:
    """What a line declares; None and a slip where it makes no sense."""
    name, place = written.name.text, written.name.place
    match written:
        case n.NumberMemory(first=first):
            amount = plain_amount(ledger, first, None, f"`{name}`")
            return NumberMemory(name, amount, place) if amount else None
        case n.WordMemory():
            return _words(ledger, robot, written)
        case n.CounterLine():
            return _counter(ledger, written)


def _words(ledger: Ledger, robot: Robot, written: n.WordMemory) -> WordMemory | None:
    name, taken = written.name, dict[str, Place]()
    for word in written.words:
        if declare(ledger, word, taken, "value", NOT_RESERVED):
            taken[word.text] = word.place
    if len(taken) < 2:
        ledger.add("wrong-memory", name.place, name.text, kind="one-word")
        return None
    seen_by = written.seen_by
    camera = _camera(ledger, robot, seen_by, tuple(taken)) if seen_by else None
    return WordMemory(name.text, tuple(taken), camera, name.place)


def _camera(ledger: Ledger, robot: Robot, name: n.Name, words: tuple[str, ...]) -> Sensor | None:
    """The sensor whose answers are remembered; None and a slip where it gives none of the words."""
    sensor = robot.sensors.get(name.text)
    if sensor is None:
        ledger.troubled = True
        if not robot.missing:
            answering = [s.name for s in robot.sensors.values() if _sees(s)]
            ledger.unknown("unknown-sensor", name, answering)
        return None
    if not _sees(sensor) or not set(words) & set(sensor.values):
        kind = "answers-none" if sensor.values else "number-for-word"
        known = sensor.values or words
        ledger.add("wrong-memory", name.place, name.text, known, kind=kind)
        return None
    return sensor


def _sees(sensor: Sensor) -> bool:
    return bool(sensor.values) and sensor.kind not in STATES


def _counter(ledger: Ledger, written: n.CounterLine) -> Counter | None:
    low, high, normal = (whole(ledger, w) for w in (written.low, written.high, written.normal))
    if low is None or high is None or normal is None:
        return None
    place = written.low.place.through(written.high.place)
    if low >= high:
        if low > high:
            ledger.add("span-backwards", place, place.words, low=str(low), high=str(high))
        else:
            ledger.add("wrong-counter", place, place.words, kind="stands-still")
        return None
    counter = Counter(written.name.text, low, high, normal, written.name.place)
    return counter if _in_range(ledger, counter, normal, written.normal) else None


def whole(ledger: Ledger, written: n.Name) -> int | None:
    """A number that can be counted; None and a slip where it cannot."""
    if written.text.isdigit() and int(written.text) <= MOST_COUNTED:
        return int(written.text)
    ledger.add("wrong-counter", written.place, written.text, kind="not-whole")
    return None


def _in_range(ledger: Ledger, counter: Counter, number: int, written: n.Name) -> bool:
    if counter.low <= number <= counter.high:
        return True
    low, high = str(counter.low), str(counter.high)
    ledger.add(
        "wrong-counter",
        written.place,
        written.text,
        kind="out-of-range",
        counter=counter.name,
        low=low,
        high=high,
    )
    return False


# What changes them.


def remember_of(numbers: NumberResolver, written: n.Remember, place: Place) -> Remember | None:
    """What a line remembers; None and a slip where it makes no sense.

    `numbers` takes readings. What a memory is to itself (``remember far + 1 cm as far``) is no use
    of it.
    """
    ledger, name = numbers.ledger, written.memory
    named = numbers.names.get(name.text)
    used_before = name.text in ledger.used
    value: object = None
    match named:
        case NumberMemory():
            ledger.remembered.add(named.name)
            value = numbers.number(written.value, named.unit.dimension, f"`{named.name}`")
            if not used_before:
                ledger.used.discard(named.name)
            return None if value is None else Remember(named, value, place)
        case WordMemory():
            ledger.remembered.add(named.name)
            said = _word(numbers, named, written.value)
            return None if said is None else Remember(named, said, place)
        case None:
            known = _names(numbers.names, NumberMemory | WordMemory)
            ledger.unknown("unknown-memory", name, known)
        case _:
            ledger.remembered.add(name.text)
            kind = "counter-as-memory" if isinstance(named, Counter) else "setting-as-memory"
            ledger.add("wrong-memory", name.place, name.text, kind=kind)
    return None


def _word(numbers: NumberResolver, memory: WordMemory, value: n.Value) -> Sensor | str | None:
    ledger, robot = numbers.ledger, numbers.robot
    if not isinstance(value, n.NameValue) or value.negated:
        ledger.add(
            "wrong-memory",
            value.place,
            value.place.words,
            memory.words,
            kind="number-for-word",
            memory=memory.name,
        )
        return None
    name = value.name
    if name.text in memory.words:
        return name.text
    sensor = robot.sensors.get(name.text)
    if sensor is None:
        answering = [s.name for s in robot.sensors.values() if set(s.values) & set(memory.words)]
        known = (*memory.words, *answering)
        ledger.unknown("unknown-value", name, known, choice=memory.name, kind="memory")
        return None
    if not set(sensor.values) & set(memory.words):
        kind = "answers-none" if sensor.values else "number-for-word"
        known = sensor.values or memory.words
        ledger.add("wrong-memory", name.place, name.text, known, kind=kind, memory=memory.name)
        return None
    return sensor


def counting_of(
    ledger: Ledger, names: Mapping[str, Named], written: n.CountLine, place: Place
) -> Counting | None:
    """How a line changes a counter; None and a slip where it makes no sense."""
    counter = _counter_named(ledger, names, written.counter)
    if counter is None:
        return None
    ledger.remembered.add(counter.name)
    if written.start is None:
        return Counting(counter, -1 if written.way == "down" else 1, None, place)
    start = whole(ledger, written.start)
    if start is None or not _in_range(ledger, counter, start, written.start):
        return None
    return Counting(counter, 0, start, place)


def _counter_named(ledger: Ledger, names: Mapping[str, Named], name: n.Name) -> Counter | None:
    named = names.get(name.text)
    if isinstance(named, Counter):
        return named
    if named is None:
        ledger.unknown("unknown-counter", name, _names(names, Counter))
    else:
        ledger.used.add(name.text)
        ledger.add("wrong-memory", name.place, name.text, kind="memory-as-counter")
    return None


def _names(names: Mapping[str, Named], kinds: object) -> Iterable[str]:
    return [name for name, named in names.items() if isinstance(named, kinds)]  # type: ignore[arg-type]


# What asks them.


def asked_of_memory(
    ledger: Ledger,
    numbers: NumberResolver,
    written: n.MemoryIs | n.MemoryCompared | n.CounterCompared,
) -> Condition:
    """A question about what is remembered; `Unresolved` and a slip where it makes no sense."""
    names = numbers.names
    if isinstance(written, n.CounterCompared):
        counter = _counter_named(ledger, names, written.counter)
        number = whole(ledger, written.number)
        if counter is None or number is None:
            return Unresolved(written.place)
        ledger.used.add(counter.name)
        return CounterCompare(counter, written.operator, number, written.place)
    name = written.memory
    named = names.get(name.text)
    if named is None:
        ledger.unknown("unknown-memory", name, _names(names, NumberMemory | WordMemory))
        return Unresolved(written.place)
    ledger.used.add(name.text)
    match named, written:
        case WordMemory(), n.MemoryIs(value=value):
            if value.text in named.words:
                return MemoryIs(named, value.text, written.place)
            known = named.words
            ledger.unknown("unknown-value", value, known, choice=named.name, kind="memory")
        case NumberMemory(), n.MemoryCompared(operator=operator, value=threshold):
            found = numbers.number(threshold, named.unit.dimension, f"`{named.name}`")
            if found is not None:
                return MemoryCompare(named, operator, found, written.place)
        case _:
            kinds = {
                WordMemory: "word-compared",
                NumberMemory: "number-as-word",
                Counter: "counter-as-memory",
            }
            kind = kinds.get(type(named), "setting-as-memory")
            first = named.first if isinstance(named, WordMemory) else ""
            ledger.add(
                "wrong-memory",
                written.place,
                written.place.words,
                kind=kind,
                memory=name.text,
                first=first,
            )
    return Unresolved(written.place)
