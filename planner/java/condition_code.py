"""A condition as Java tests of yes and no (M5, M6).

A condition has three answers, a Java test has two. So each condition can be written in two ways:
as the test that it is true, and as the test that it is false; where it is unknown, both say no.
`not` swaps the two, and by Kleene's logic of three values `and` is true where all parts are and
false where any is. What cannot be had is NaN or null, and Java's own comparisons with NaN say no.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from planner.java.errors import CannotExport
from planner.java.wording import comment, double
from planner.model.condition import (
    All,
    Answers,
    Any,
    ChoiceIs,
    Compare,
    Condition,
    CounterCompare,
    Done,
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
from planner.model.memory import Memory, Number
from planner.model.robot import STATES
from planner.model.spoken import spoken_condition
from planner.model.units import Amount, Dimension, Shares, Unit

_OPPOSITES = {"<": ">=", "<=": ">", ">": "<=", ">=": "<", "==": "!="}


@dataclass(slots=True)
class MemoryCode:
    """What a condition on several passes remembers: an object that is told in every pass."""

    type_name: str
    name: str
    arguments: str
    """Of its constructor."""
    comment: str
    told: str
    """The number, or the test that the condition it watches is true."""
    told_false: str = ""
    """The test that it is false; empty where the plan does not ask that."""
    by_choice: bool = False
    """Whether what it is made with goes by what is chosen before the start."""

    @property
    def update(self) -> str:
        """The statement that tells it, once a pass."""
        now = "now" if self.type_name in _TIMED else ""
        told = ", ".join(filter(None, [self.told, self.told_false, now]))
        return f"{self.name}.update({told});"


_TIMED = ("Held", "Steady")


@dataclass(frozen=True, slots=True)
class Words:
    """The Java expressions that conditions are made of."""

    number: Callable[[Source], str]
    """What a sensor or mechanism gives, in its own unit."""
    seen: Callable[[Source], str]
    """The same as it is compared: with the other sign where the plan is turned round."""
    answer: Callable[[Answers], str]
    """What an `Answers` looks at."""
    value: Callable[[Answers], str]
    """What it is compared with; not called for a sensor of two states."""
    done: Callable[[Done], str]
    amount: Callable[[Amount, Unit], str]
    time: Callable[[int, Shares], str]
    """A time in microseconds, and how much of it goes by what is chosen."""
    chosen: Callable[[ChoiceIs, bool], str]
    """The test that something was chosen, or that it was not."""
    memory: Callable[[Condition], str]
    """The name of the field that remembers for a condition on several passes."""
    reckoned: Callable[[Number, Unit], str]
    """A number that may be worked out from what the plan remembers."""
    remembered: Callable[[Memory], str]
    """The field of a memory or counter of the plan."""
    holds: Callable[[MemoryIs, bool], str]
    """The test that a memory holds a word, or that it does not."""
    lanes: Callable[[LanesDone | LaneIn, bool], str]
    """The test that lanes are where a condition asks, or that they are not."""


class ConditionWriter:
    """Writes the conditions of one step; `memories` collects what they need, inner ones first."""

    def __init__(self, words: Words) -> None:
        self.words = words
        self._memories: dict[int, MemoryCode] = {}

    @property
    def memories(self) -> tuple[MemoryCode, ...]:
        """What the conditions written so far have to remember."""
        return tuple(self._memories.values())

    def true(self, condition: Condition) -> str:
        """The test that a condition is true; raises `CannotExport` for what Java cannot do."""
        match condition:
            case Not(part):
                return self.false(part)
            case All(parts):
                return " && ".join(self._among(part, True) for part in parts)
            case Any(parts):
                return " || ".join(self.true(part) for part in parts)
            case Held() | Once() | Looks() | Steady():
                return f"{self._memory(condition).name}.isTrue()"
            case _:
                return self._leaf(condition, True)

    def false(self, condition: Condition) -> str:
        """The test that a condition is false."""
        match condition:
            case Not(part):
                return self.true(part)
            case All(parts):
                return " || ".join(self.false(part) for part in parts)
            case Any(parts):
                return " && ".join(self._among(part, False) for part in parts)
            case Held(part) | Once(part) | Looks(part):
                memory = self._memory(condition)
                if not memory.told_false:
                    memory.told_false = self.false(part)
                return f"{memory.name}.isFalse()"
            case Steady():
                return f"{self._memory(condition).name}.isFalse()"
            case _:
                return self._leaf(condition, False)

    def _among(self, part: Condition, wanted: bool) -> str:
        """A test between two `&&`, in parentheses where it holds an `||` of its own."""
        text = self.true(part) if wanted else self.false(part)
        return f"({text})" if _is_or(part, wanted) or self._is_of_several(part, text) else text

    def _is_of_several(self, part: Condition, text: str) -> bool:
        """Whether a test is that one of several lanes or steps is the one, or is not."""
        while isinstance(part, Not):
            part = part.part
        return isinstance(part, LanesDone | LaneIn) and " || " in text

    # Conditions on one pass.

    def _leaf(self, condition: Condition, wanted: bool) -> str:
        match condition:
            case Compare(source, operator, threshold):
                limit = self.words.amount(threshold, _unit(source))
                sign = operator if wanted else _OPPOSITES[operator]
                return f"{self.words.seen(source)} {sign} {limit}"
            case Within():
                return self._within(condition, wanted)
            case Answers():
                return self._answers(condition, wanted)
            case Done():
                return f"{'' if wanted else '!'}{self.words.done(condition)}"
            case MatchClock(operator, at_us):
                sign = operator if wanted else _OPPOSITES[operator]
                return f"timeInMatch() {sign} {self.words.time(at_us, condition.chosen)}"
            case ChoiceIs():
                return self.words.chosen(condition, wanted)
            case LanesDone() | LaneIn():
                return self.words.lanes(condition, wanted)
            case Unreadable(source):
                return self._unreadable(source, wanted)
            case Reckoned():
                return self._reckoned(condition, wanted)
            case MemoryIs():
                return self.words.holds(condition, wanted)
            case MemoryCompare(memory, operator, number):
                sign = operator if wanted else _OPPOSITES[operator]
                other = self.words.reckoned(number, memory.unit)
                return f"{self.words.remembered(memory)} {sign} {other}"
            case CounterCompare(counter, operator, number):
                equals = "==" if operator == "is" else operator
                sign = equals if wanted else _OPPOSITES[equals]
                return f"{self.words.remembered(counter)} {sign} {number}"
            case _:
                raise CannotExport(f"Java cannot ask this yet: {spoken_condition(condition)}")

    def _reckoned(self, condition: Reckoned, wanted: bool) -> str:
        source, unit = condition.source, _unit(condition.source)
        number = self.words.reckoned(condition.number, unit)
        if condition.tolerance is not None:
            tolerance = self.words.reckoned(condition.tolerance, unit)
            return self._near(source, tolerance, number, wanted)
        sign = condition.operator if wanted else _OPPOSITES[condition.operator]
        return f"{self.words.seen(source)} {sign} {number}"

    def _within(self, condition: Within, wanted: bool) -> str:
        source, unit = condition.source, _unit(condition.source)
        tolerance = self.words.amount(condition.tolerance, unit)
        centre = self.words.amount(condition.centre, unit)
        return self._near(source, tolerance, centre, wanted)

    def _near(self, source: Source, tolerance: str, centre: str, wanted: bool) -> str:
        arguments = [self.words.seen(source), tolerance, centre]
        method = "within" if wanted else "outside"
        if source.wraps:
            method, arguments = f"{method}Turn", [*arguments, full_turn(source)]
        return f"Numbers.{method}({', '.join(arguments)})"

    def _answers(self, condition: Answers, wanted: bool) -> str:
        look = self.words.answer(condition)
        if condition.sensor.kind in STATES:
            low, _high = STATES[condition.sensor.kind]
            return look if (condition.value == low) is wanted else f"!{look}"
        value = self.words.value(condition)
        # No answer is no other answer.
        return f"{look} == {value}" if wanted else f"{look} != null && {look} != {value}"

    def _unreadable(self, source: Source, wanted: bool) -> str:
        if source.unit is not None:
            return f"{'' if wanted else '!'}Double.isNaN({self.words.number(source)})"
        if _has_states(source):
            raise CannotExport(
                f"`{source.spoken} unreadable` cannot be asked in Java: its wire reads high or low "
                "whatever is plugged in. Leave that exit out, the step's time limit does its work"
            )
        return f"{self.words.number(source)} {'==' if wanted else '!='} null"

    # Conditions on several passes.

    def _memory(self, condition: Held | Once | Looks | Steady) -> MemoryCode:
        """The memory of a condition, made where it is met first, after those within it."""
        key = id(condition)
        if key not in self._memories:
            told, arguments = self._told(condition)
            name, line = self.words.memory(condition), comment(spoken_condition(condition))
            kind = type(condition).__name__
            memory = MemoryCode(kind, name, ", ".join(arguments), line, told)
            memory.by_choice = _goes_by_choice(condition)
            self._memories[key] = memory
        return self._memories[key]

    def _told(self, condition: Held | Once | Looks | Steady) -> tuple[str, list[str]]:
        """What a memory is told in each pass, and what it is made with."""
        match condition:
            case Held(part, duration_us):
                return self.true(part), [self.words.time(duration_us, condition.chosen)]
            case Once(part):
                return self.true(part), []
            case Looks(part, least, looks):
                return self.true(part), [str(least), str(looks)]
            case Steady(source, tolerance, duration_us):
                duration = self.words.time(duration_us, condition.chosen)
                made = [self.words.amount(tolerance, _unit(source)), duration]
                if source.wraps:
                    made.insert(1, full_turn(source))
                return self.words.number(source), made


def full_turn(source: Source) -> str:
    """How much of its unit a source counts in a full turn."""
    unit = _unit(source)
    if unit.dimension is not Dimension.ANGLE:
        raise CannotExport(
            f"`{source.spoken}` wraps, and {unit.name} have no full turn: leave `wraps` out, or "
            "give it in deg"
        )
    return double(360 / unit.size)


def _goes_by_choice(condition: Held | Once | Looks | Steady) -> bool:
    match condition:
        case Held():
            return bool(condition.chosen)
        case Steady(_, tolerance):
            return bool(condition.chosen or tolerance.chosen)
        case _:
            return False


def _is_or(condition: Condition, wanted: bool) -> bool:
    """Whether the test that a condition is `wanted` is several tests with `||` between them."""
    match condition:
        case Not(part):
            return _is_or(part, not wanted)
        case All():
            return not wanted
        case Any():
            return wanted
        case _:
            return False


def _has_states(source: Source) -> bool:
    return source.unit is None and source.kind in STATES


def _unit(source: Source) -> Unit:
    assert source.unit is not None, "the resolver compares numbers only"
    return source.unit
