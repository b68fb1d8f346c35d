"""From a written condition to one with its names resolved."""

from __future__ import annotations

from collections.abc import Mapping

from planner.model.choices import Choice, Chosen
from planner.model.condition import (
    All,
    Answers,
    Any,
    ChoiceIs,
    Compare,
    Condition,
    Done,
    Held,
    Looks,
    MatchClock,
    Not,
    Once,
    Reckoned,
    Source,
    Steady,
    Unreadable,
    Unresolved,
    Within,
)
from planner.model.ledger import Ledger
from planner.model.memory import Computed, Number
from planner.model.numbers import NumberResolver, Time
from planner.model.resolve_lanes import Lanes, lanes_condition
from planner.model.resolve_memory import asked_of_memory
from planner.model.robot import STATES, Mechanism, Robot, Sensor
from planner.model.routine import Named
from planner.model.units import Amount, Dimension
from planner.text import Place
from planner.tree import nodes as n

_TURNED = {"<": ">", "<=": ">=", ">": "<", ">=": "<="}

MOST_LOOKS = 1000
"""How many passes a condition can look back on: more is a time, and says so with `for`."""


class ConditionResolver:
    """Resolves conditions against one robot and one routine's settings."""

    def __init__(
        self,
        ledger: Ledger,
        robot: Robot,
        names: Mapping[str, Named],
        chosen: Chosen,
        lanes: Lanes | None = None,
    ) -> None:
        self.ledger = ledger
        self.robot = robot
        self.names = names
        self.chosen = chosen
        self.lanes = lanes
        self.numbers = NumberResolver(ledger, robot, names, chosen.mirrored)

    def resolve(self, written: n.Condition) -> Condition:
        """The condition; parts that make no sense become `Unresolved` and a slip."""
        match written:
            case n.Comparison():
                return self._comparison(written)
            case n.Band():
                return self._band(written)
            case n.State():
                return self._state(written)
            case n.Sees():
                return self._sees(written)
            case n.Stays():
                return self._stays(written)
            case n.Unreadable(subject, place):
                source = self.any_source(subject, place)
                return Unreadable(source, place) if source else Unresolved(place)
            case n.MatchClock():
                return self._match_clock(written)
            case n.ChoiceIs():
                return self._choice_is(written)
            case n.LanesDone() | n.LaneDone() | n.LaneIn():
                return lanes_condition(self.ledger, self.lanes, written)
            case n.MemoryIs() | n.MemoryCompared() | n.CounterCompared():
                return asked_of_memory(self.ledger, self.numbers, written)
            case n.Negated(part):
                return Not(self.resolve(part))
            case n.Once(part, place):
                return Once(self.resolve(part), place)
            case n.InLooks():
                return self._looks(written)
            case n.HeldFor(part, duration, place):
                return self._held(part, duration, place)
            case n.Both(parts):
                return All(tuple(self.resolve(part) for part in parts))
            case n.Either(parts):
                return Any(tuple(self.resolve(part) for part in parts))

    def _comparison(self, written: n.Comparison) -> Condition:
        source = self.source(written.subject, written.place)
        threshold = self.number(written.value, source, written.subject)
        if source is None or threshold is None:
            return Unresolved(written.place)
        operator = written.operator
        if self._mirrors(source):
            operator, threshold = _TURNED[operator], threshold.negated()
        if isinstance(threshold, Computed):
            return Reckoned(source, operator, threshold, None, written.place)
        return Compare(source, operator, threshold, written.place)

    def _band(self, written: n.Band) -> Condition:
        source = self.source(written.subject, written.place)
        tolerance = self.number(written.tolerance, source, written.subject)
        centre = self.number(written.centre, source, written.subject)
        if source is None or tolerance is None or centre is None:
            return Unresolved(written.place)
        if self._negative(tolerance, written.tolerance):
            return Unresolved(written.place)
        if self._mirrors(source):
            centre = centre.negated()
        if isinstance(centre, Computed) or isinstance(tolerance, Computed):
            return Reckoned(source, "within", centre, tolerance, written.place)
        return Within(source, tolerance, centre, written.place)

    def _mirrors(self, source: Source) -> bool:
        """Whether a number is seen with the other sign: -r < 3 says the same as r > -3."""
        return source.mirrors and self.chosen.mirrored

    def _choice_is(self, written: n.ChoiceIs) -> Condition:
        name, value = written.choice, written.value
        choice = self.chosen.choices.get(name.text)
        if not isinstance(choice, Choice):
            words = [c.name for c in self.chosen.choices.values() if isinstance(c, Choice)]
            self.ledger.unknown("unknown-choice", name, words)
        elif value.text not in choice.values:
            self.ledger.unknown("unknown-value", value, choice.values, choice=choice.name)
        else:
            holds = None
            if self.chosen.variant is not None:
                holds = self.chosen.value(choice.name) == value.text
            return ChoiceIs(choice.name, value.text, holds, written.place)
        return Unresolved(written.place)

    def _held(self, part: n.Condition, duration: n.Value, place: Place) -> Condition:
        held = self._time(duration, "how long it is held")
        inner = self.resolve(part)
        return Held(inner, held.us, place, held.chosen) if held else Unresolved(place)

    def _stays(self, written: n.Stays) -> Condition:
        source = self.source(written.subject, written.place)
        tolerance = self.amount(written.tolerance, source, written.subject)
        duration = self._time(written.duration, "how long it stays")
        if source is None or tolerance is None or duration is None:
            return Unresolved(written.place)
        if self._negative(tolerance, written.tolerance):
            return Unresolved(written.place)
        return Steady(source, tolerance, duration.us, written.place, duration.chosen)

    def _negative(self, tolerance: Number, written: n.Value) -> bool:
        """Whether a tolerance is below nothing; then a slip."""
        if isinstance(tolerance, Computed) or tolerance.number >= 0:
            return False
        self.ledger.add("negative-tolerance", written.place, written.place.words)
        return True

    def _match_clock(self, written: n.MatchClock) -> Condition:
        at = self._time(written.value, "the match clock")
        if at is None:
            return Unresolved(written.place)
        return MatchClock(written.operator, at.us, written.place, at.chosen)

    def _looks(self, written: n.InLooks) -> Condition:
        part = self.resolve(written.part)
        least, looks = written.least, written.looks
        if least.text.isdigit() and looks.text.isdigit():
            most = min(int(looks.text), MOST_LOOKS)
            if 0 < int(least.text) <= most == int(looks.text):
                return Looks(part, int(least.text), most, written.place)
        place = least.place.through(looks.place)
        self.ledger.add("wrong-looks", place, place.words)
        return Unresolved(written.place)

    def _time(self, value: n.Value, whose: str) -> Time | None:
        return self.numbers.time(value, whose)

    def number(self, value: n.Value, source: Source | None, subject: n.Subject) -> Number | None:
        """A number that a source is measured against; None and a slip where it does not fit."""
        return self.numbers.number(value, *_asked_of(source, subject))

    def amount(self, value: n.Value, source: Source | None, subject: n.Subject) -> Amount | None:
        """The same, for a number that must be known before the start."""
        return self.numbers.fixed(value, *_asked_of(source, subject))

    def any_source(self, subject: n.Subject, place: Place) -> Source | None:
        """A sensor of any kind, or a mechanism's reading; None and a slip where there is none."""
        if subject.second is None and subject.first.text in self.robot.sensors:
            return self.robot.sensors[subject.first.text]
        return self.source(subject, place)

    def source(self, subject: n.Subject, place: Place) -> Source | None:
        """The sensor or reading that gives a number; None and a slip where there is none."""
        name = subject.first
        if subject.second is not None:
            return self._reading(name, subject.second)
        sensor = self.robot.sensors.get(name.text)
        if sensor is None:
            self._unknown_subject(name)
        elif sensor.unit is None:
            self.wrong_question(sensor, place)
        else:
            return sensor
        return None

    def _reading(self, owner: n.Name, name: n.Name) -> Source | None:
        mechanism = self.mechanism(owner)
        if mechanism is None:
            return None
        reading = mechanism.readings.get(name.text)
        if reading is None and self._known():
            self.ledger.unknown("unknown-reading", name, mechanism.readings, mechanism=owner.text)
        return reading

    def _state(self, written: n.State) -> Condition:
        name, state = written.subject, written.state
        mechanism = self.robot.mechanisms.get(name.text)
        if mechanism is not None:
            if state.text == "done" and mechanism.reports_done:
                return Done(mechanism, written.place)
            self._wrong_mechanism_state(written)
            return Unresolved(written.place)
        sensor = self.robot.sensors.get(name.text)
        if sensor is None:
            self._unknown_subject(name)
            return Unresolved(written.place)
        if sensor.kind in STATES and state.text in sensor.values:
            return Answers(sensor, state.text, written.place)
        self.wrong_question(sensor, written.place)
        return Unresolved(written.place)

    def _sees(self, written: n.Sees) -> Condition:
        sensor = self.robot.sensors.get(written.subject.text)
        if sensor is None:
            self._unknown_subject(written.subject)
            return Unresolved(written.place)
        if sensor.kind in STATES or written.value.text not in sensor.values:
            self.wrong_question(sensor, written.place)
            return Unresolved(written.place)
        return Answers(sensor, written.value.text, written.place)

    def wrong_question(self, sensor: Sensor, place: Place) -> None:
        """Writes down that a sensor cannot be asked this."""
        self.ledger.add(
            "wrong-question",
            place,
            place.words,
            known=questions(sensor),
            sensor=sensor.name,
            kind=sensor.kind.value,
        )

    def _wrong_mechanism_state(self, written: n.State) -> None:
        mechanism = self.robot.mechanisms[written.subject.text]
        known = [f"{mechanism.name} {reading} ..." for reading in mechanism.readings]
        if mechanism.reports_done:
            known.insert(0, f"{mechanism.name} done")
        self.ledger.add(
            "wrong-question",
            written.place,
            written.place.words,
            known=known,
            sensor=mechanism.name,
            kind="mechanism",
            done="yes" if written.state.text == "done" else "",
        )

    def _unknown_subject(self, name: n.Name) -> None:
        if not self._known():
            return
        if name.text in self.robot.outputs:
            self.ledger.add("unknown-sensor", name.place, name.text, output="yes")
        else:
            known = (*self.robot.sensors, *self.robot.mechanisms)
            self.ledger.unknown("unknown-sensor", name, known)

    def mechanism(self, name: n.Name) -> Mechanism | None:
        """The mechanism of that name; None and a slip where there is none."""
        found = self.robot.mechanisms.get(name.text)
        if found is None and self._known():
            self.ledger.unknown("unknown-mechanism", name, self.robot.mechanisms)
        return found

    def _known(self) -> bool:
        """Whether the robot's names can be looked up at all."""
        self.ledger.troubled = self.ledger.troubled or self.robot.missing
        return not self.robot.missing


def _asked_of(source: Source | None, subject: n.Subject) -> tuple[Dimension | None, str]:
    """What a number must measure that a source is measured against, and what it is for."""
    second = f" {subject.second.text}" if subject.second else ""
    dimension = source.unit.dimension if source and source.unit else None
    return dimension, f"`{subject.first.text}{second}`"


def questions(sensor: Sensor) -> tuple[str, ...]:
    """What a sensor can be asked, as a condition would write it."""
    if sensor.kind in STATES:
        return tuple(f"{sensor.name} {state}" for state in sensor.values)
    if sensor.values:
        return tuple(f"{sensor.name} sees {value}" for value in sensor.values)
    unit = sensor.unit.name if sensor.unit else ""
    return (f"{sensor.name} < 20 {unit}", f"{sensor.name} within 2 {unit} of 20 {unit}")
