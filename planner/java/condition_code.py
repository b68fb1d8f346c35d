"""A condition as a Java expression of three values (M5, M6)."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import reduce

from planner.java.errors import CannotExport
from planner.java.wording import comment, double, nanos
from planner.model.condition import (
    All,
    Answers,
    Any,
    Compare,
    Condition,
    Done,
    Held,
    Not,
    Source,
    Within,
)
from planner.model.robot import STATES
from planner.model.spoken import spoken_condition
from planner.model.units import Amount, Dimension, Unit

_COMPARISONS = {"<": "below", "<=": "atMost", ">": "above", ">=": "atLeast"}


@dataclass(frozen=True, slots=True)
class HeldCode:
    """A held-for condition: a clock of its own, told about the condition in every pass."""

    name: str
    length: str
    inner: str
    comment: str


@dataclass(frozen=True, slots=True)
class Words:
    """The Java expressions that conditions are made of."""

    number: Callable[[Source], str]
    """A sensor's or mechanism's number in its own unit."""
    answer: Callable[[Answers], str]
    """What an `Answers` looks at."""
    value: Callable[[Answers], str]
    """What it is compared with; not called for a sensor of two states."""
    done: Callable[[Done], str]
    amount: Callable[[Amount, Unit], str]


class ConditionWriter:
    """Writes the conditions of one step; `held` collects the clocks they need, inner ones first."""

    def __init__(self, words: Words, held_name: Callable[[int], str]) -> None:
        self.words = words
        self.held_name = held_name
        self.held: list[HeldCode] = []

    def test(self, condition: Condition) -> str:
        """The Java test that is true when the condition is: no less than that will do (M6)."""
        plain = self._plain(condition)
        return plain if plain else f"sure({self.expression(condition)})"

    def _plain(self, condition: Condition) -> str:
        """A yes or no that Java can test by itself; empty for what may be unknown."""
        match condition:
            case Answers(sensor, value) if sensor.kind in STATES:
                low, _high = STATES[sensor.kind]
                return f"{'' if value == low else '!'}{self.words.answer(condition)}"
            case Done():
                return self.words.done(condition)
            case _:
                return ""

    def expression(self, condition: Condition) -> str:
        """The Java expression; raises `CannotExport` for what Java cannot do yet."""
        match condition:
            case Compare(source, operator, threshold):
                limit = self.words.amount(threshold, _unit(source))
                return f"{_COMPARISONS[operator]}({self.words.number(source)}, {limit})"
            case Within():
                return self._within(condition)
            case Answers():
                return self._answers(condition)
            case Done():
                return f"is({self.words.done(condition)})"
            case Not(part):
                return f"not({self.expression(part)})"
            case All(parts):
                return self._joined("and", parts)
            case Any(parts):
                return self._joined("or", parts)
            case Held():
                return self._held(condition)
            case _:
                raise CannotExport(f"Java cannot ask this yet: {spoken_condition(condition)}")

    def _within(self, condition: Within) -> str:
        source, unit = condition.source, _unit(condition.source)
        arguments = [
            self.words.number(source),
            self.words.amount(condition.tolerance, unit),
            self.words.amount(condition.centre, unit),
        ]
        if not source.wraps:
            return f"within({', '.join(arguments)})"
        return f"withinTurn({', '.join([*arguments, full_turn(source)])})"

    def _answers(self, condition: Answers) -> str:
        if condition.sensor.kind in STATES:
            return f"is({self._plain(condition)})"
        return f"sees({self.words.answer(condition)}, {self.words.value(condition)})"

    def _joined(self, word: str, parts: tuple[Condition, ...]) -> str:
        written = [self.expression(part) for part in parts]
        return reduce(lambda first, second: f"{word}({first}, {second})", written)

    def _held(self, condition: Held) -> str:
        inner = self.expression(condition.part)
        name = self.held_name(len(self.held) + 1)
        length = nanos(condition.duration_us)
        self.held.append(HeldCode(name, length, inner, comment(spoken_condition(condition))))
        return f"{name}.truth()"


def full_turn(source: Source) -> str:
    """How much of its unit a source counts in a full turn."""
    unit = _unit(source)
    if unit.dimension is not Dimension.ANGLE:
        raise CannotExport(
            f"`{source.spoken}` wraps, and {unit.name} have no full turn: leave `wraps` out, or "
            "give it in deg"
        )
    return double(360 / unit.size)


def _unit(source: Source) -> Unit:
    assert source.unit is not None, "the resolver compares numbers only"
    return source.unit
