"""The numbers of steps: looked up, added up, and with their units checked.

What holds no memory is known before the start and becomes one exact `Amount`; the rest becomes a
`Computed` that is worked out when it is needed (M13).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from typing import NamedTuple

from planner.model.ledger import Ledger
from planner.model.memory import (
    Computed,
    Counter,
    Looked,
    Number,
    NumberMemory,
    Part,
    Stand,
    Table,
    WordMemory,
)
from planner.model.robot import Robot
from planner.model.routine import Named, SettingValue
from planner.model.units import Amount, Dimension, Shares, Unit, added, scaled
from planner.model.values import fits, plain_amount, time_us
from planner.text import Place
from planner.tree import nodes as n
from planner.tree.format import format_value


class Time(NamedTuple):
    """A time as a plan gives it."""

    us: int
    setting: str
    """The setting that it came from; empty where it is a number."""
    chosen: Shares
    """How much of it goes by what is chosen, as for an `Amount`."""


class NumberResolver:
    """Resolves written numbers against the names that can stand there.

    A mechanism's reading or a sensor may stand in what is remembered, where it becomes a part of
    the number; elsewhere it is a slip.
    """

    def __init__(
        self,
        ledger: Ledger,
        robot: Robot,
        names: Mapping[str, Named],
        mirrored: bool = False,
        readings: bool = False,
    ) -> None:
        self.ledger = ledger
        self.robot = robot
        self.names = names
        self.mirrored = mirrored
        """Whether a choice turns the plan round, so that some readings are seen with the other
        sign."""
        self.readings = readings

    def number(self, value: n.Value, dimension: Dimension | None, whose: str) -> Number | None:
        """The number a value stands for; None and a slip where it makes no sense.

        `whose` says in words what the number is for, such as "`drive travelled`".
        """
        if not isinstance(value, n.Sum):
            return self._atom(value, dimension, whose)
        summed: Number | None = None
        whole = True
        for term in value.terms:
            number = self._atom(term.atom, dimension, whose)
            if number is None:
                whole = False
                continue
            dimension = number.dimension
            factor = Fraction(term.factor or 1) * (-1 if term.negated else 1)
            summed = _added(summed, _scaled(number, factor))
        if summed is None or not whole:
            return None
        return summed if isinstance(summed, Amount) else replace(summed, words=format_value(value))

    def fixed(self, value: n.Value, dimension: Dimension | None, whose: str) -> Amount | None:
        """The same, for a number that must be known before the start."""
        number = self.number(value, dimension, whose)
        if isinstance(number, Computed):
            self.must_be_fixed(number, value.place)
            return None
        return number

    def must_be_fixed(self, number: Computed, place: Place) -> None:
        """Writes down that a number must be known before the start."""
        time = "yes" if number.dimension is Dimension.TIME else ""
        memory = _remembered(number)
        self.ledger.add("memory-in-fixed-number", place, place.words, memory=memory, time=time)

    def time(self, value: n.Value, whose: str) -> Time | None:
        """A time and where it came from; None and a slip where it is none."""
        amount = self.fixed(value, Dimension.TIME, whose)
        microseconds = time_us(self.ledger, amount, value.place)
        if amount is None or microseconds is None:
            return None
        return Time(microseconds, amount.setting, amount.chosen)

    def _atom(self, atom: n.Atom, dimension: Dimension | None, whose: str) -> Number | None:
        match atom:
            case n.Quantity():
                return plain_amount(self.ledger, atom, dimension, whose)
            case n.ReadingValue():
                number = self._of_mechanism(atom)
            case n.NameValue(name, negated):
                named = self._named(name)
                number = named.negated() if named and negated else named
        if number is None or not fits(self.ledger, number, dimension, whose, atom.place):
            return None
        return number

    def _named(self, name: n.Name) -> Number | None:
        named = self.names.get(name.text)
        match named:
            case None:
                return self._sensor(name)
            case WordMemory() | Counter():
                kind = "word-as-number" if isinstance(named, WordMemory) else "counter-as-number"
                first = named.first if isinstance(named, WordMemory) else str(named.normal)
                self.ledger.used.add(named.name)
                self.ledger.add("wrong-memory", name.place, name.text, kind=kind, first=first)
                return None
        self.ledger.used.add(named.name)
        match named:
            case SettingValue(whole, amount):
                return Amount(amount.number, amount.unit, whole, chosen=amount.chosen)
            case Stand(number=number):
                return replace(number, words=name.text)
            case NumberMemory() | Table():
                if isinstance(named, Table):
                    self.ledger.used.add(named.memory.name)
                return _of(named, named.unit, name.text)

    def _sensor(self, name: n.Name) -> Number | None:
        sensor = self.robot.sensors.get(name.text)
        if sensor is None:
            known = [
                other
                for other, named in self.names.items()
                if not isinstance(named, WordMemory | Counter)
            ]
            self.ledger.unknown("unknown-setting", name, known)
            return None
        if sensor.unit is None:
            kind = "answer-as-number"
            self.ledger.add("wrong-memory", name.place, name.text, kind=kind)
            return None
        return self._read(sensor, sensor.unit, name.place, sensor.mirrors)

    def _of_mechanism(self, written: n.ReadingValue) -> Number | None:
        mechanism = self.robot.mechanisms.get(written.mechanism.text)
        if mechanism is None:
            self.ledger.troubled = True
            if not self.robot.missing:
                name = written.mechanism
                self.ledger.unknown("unknown-mechanism", name, self.robot.mechanisms)
            return None
        reading = mechanism.readings.get(written.reading.text)
        if reading is None:
            known, owner = mechanism.readings, mechanism.name
            self.ledger.unknown("unknown-reading", written.reading, known, mechanism=owner)
            return None
        return self._read(reading, reading.unit, written.place, reading.mirrors)

    def _read(self, source: Looked, unit: Unit, place: Place, mirrors: bool) -> Number | None:
        if not self.readings:
            self.ledger.add("reading-in-number", place, place.words, unit=unit.name)
            return None
        number = _of(source, unit, place.words)
        return number.negated() if mirrors and self.mirrored else number


def _of(looked: Looked, unit: Unit, words: str) -> Computed:
    return Computed(Amount.zero(unit), (Part(Fraction(1), looked),), words)


def _scaled(number: Number, factor: Fraction) -> Number:
    """A number times a plain factor; it has no name of its own any more."""
    if isinstance(number, Amount):
        chosen = scaled(number.chosen, factor)
        return Amount(number.number * factor, number.unit, chosen=chosen)
    chosen = scaled(number.fixed.chosen, factor)
    fixed = Amount(number.fixed.number * factor, number.unit, chosen=chosen)
    parts = tuple(Part(part.factor * factor, part.of) for part in number.parts)
    return Computed(fixed, parts, "")


def _added(one: Number | None, other: Number) -> Number:
    """The sum in the unit of the first; what is added several times stands in it once."""
    if one is None:
        return other
    fixed = one if isinstance(one, Amount) else one.fixed
    more = other if isinstance(other, Amount) else other.fixed
    chosen = added(fixed.chosen, more.chosen)
    total = Amount(fixed.number + more.in_unit(fixed.unit), fixed.unit, chosen=chosen)
    parts: dict[Looked, Fraction] = {}
    for number in (one, other):
        for part in number.parts if isinstance(number, Computed) else ():
            parts[part.of] = parts.get(part.of, Fraction(0)) + part.factor
    left = tuple(Part(factor, of) for of, factor in parts.items() if factor)
    return Computed(total, left, "") if left else total


def _remembered(number: Computed) -> str:
    """The name of the first memory in a number."""
    of = number.parts[0].of
    return of.memory.name if isinstance(of, Table) else of.spoken
