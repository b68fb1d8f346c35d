"""Conditions with their names resolved: what an exit waits for."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from planner.model.memory import Counter, Number, NumberMemory, WordMemory
from planner.model.robot import Mechanism, Reading, Sensor
from planner.model.units import Amount, Shares
from planner.text import Place

Source: TypeAlias = Sensor | Reading
"""What gives a number or a word: a sensor, or a reading of a mechanism."""


@dataclass(frozen=True, slots=True)
class Compare:
    """A number against a threshold; `operator` is one of ``<``, ``<=``, ``>``, ``>=``."""

    source: Source
    operator: str
    threshold: Amount
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Within:
    """A number at most `tolerance` away from `centre`, the short way round if it wraps."""

    source: Source
    tolerance: Amount
    centre: Amount
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Answers:
    """A sensor answering one of its words: ``bumper pressed``, ``floor_eye sees red``."""

    sensor: Sensor
    value: str
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Done:
    """The last command given to a mechanism has reported done."""

    mechanism: Mechanism
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Not:
    """True where `part` is false; unknown where it is unknown (M6)."""

    part: Condition


@dataclass(frozen=True, slots=True)
class All:
    """All of `parts`, by Kleene's three-valued logic (M6)."""

    parts: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class Any:
    """Any of `parts`, by Kleene's three-valued logic (M6)."""

    parts: tuple[Condition, ...]


@dataclass(frozen=True, slots=True)
class Held:
    """`part` true in every pass for `duration_us` (M5)."""

    part: Condition
    duration_us: int
    place: Place = field(compare=False)
    chosen: Shares = field(default=(), compare=False)
    """How much of the time goes by what is chosen, as for an `Amount`."""


@dataclass(frozen=True, slots=True)
class Unresolved:
    """A condition with a name or unit that made no sense; a slip says which."""

    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Steady:
    """A number that has not moved by more than `tolerance` for `duration_us` (M5)."""

    source: Source
    tolerance: Amount
    duration_us: int
    place: Place = field(compare=False)
    chosen: Shares = field(default=(), compare=False)
    """As for `Held`."""


@dataclass(frozen=True, slots=True)
class Unreadable:
    """A reading that cannot be had (M6); itself never unknown."""

    source: Source
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class MatchClock:
    """The match clock against a time; `operator` as for `Compare`."""

    operator: str
    at_us: int
    place: Place = field(compare=False)
    chosen: Shares = field(default=(), compare=False)
    """As for `Held`."""


@dataclass(frozen=True, slots=True)
class ChoiceIs:
    """What was chosen before the start; `holds` is None where the plan is for every choice."""

    choice: str
    value: str
    holds: bool | None
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Reckoned:
    """A number against one that is worked out from memories in each pass that asks (M13).

    `operator` is one of ``<``, ``<=``, ``>``, ``>=``, or ``within``; then the number is at most
    `tolerance` away from `number`, the short way round if it wraps.
    """

    source: Source
    operator: str
    number: Number
    tolerance: Number | None
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class MemoryIs:
    """A word memory holds one of its words; never unknown (M13)."""

    memory: WordMemory
    value: str
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class MemoryCompare:
    """A number memory against a number; `operator` as for `Compare`; never unknown (M13)."""

    memory: NumberMemory
    operator: str
    number: Number
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class CounterCompare:
    """A counter against a whole number; `operator` is one of `Compare`'s or ``is`` (M14)."""

    counter: Counter
    operator: str
    number: int
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Once:
    """`part` has been true in some pass of this visit (M5)."""

    part: Condition
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Looks:
    """`part` was true in at least `least` of the last `looks` passes of this visit (M5)."""

    part: Condition
    least: int
    looks: int
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class LanesDone:
    """Lanes of the block around have come to their end, at the beginning of the pass (M8).

    `lanes` are names of groups of the routine. All of them with `every`, otherwise at least one.
    """

    lanes: tuple[str, ...]
    every: bool
    spoken: str
    """As the plan says it: ``all lanes done``, ``any lane done``, ``lane wheels done``."""
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class LaneIn:
    """A lane of the block around was in a step at the beginning of the pass (M8).

    A step that does a task is meant as a whole: a lane in `Place` may be in ``Place.Raise``.
    """

    lane: str
    """The name of a group of the routine."""
    step: str
    spoken: str
    place: Place = field(compare=False)

    def is_true_in(self, step: str) -> bool:
        """Whether it is true while the lane is in a step."""
        return step == self.step or step.startswith(f"{self.step}.")


Plain: TypeAlias = (
    Compare | Within | Answers | Done | Steady | Unreadable | MatchClock | ChoiceIs
    | Reckoned | MemoryIs | MemoryCompare | CounterCompare
    | LanesDone | LaneIn | Unresolved
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Fixed:
    """A condition whose answer a fault has settled for every pass; None for unknown (M6)."""

    asked: Plain
    holds: bool | None

    @property
    def place(self) -> Place:
        """Where the condition stands."""
        return self.asked.place


Leaf: TypeAlias = Plain | Fixed
Condition: TypeAlias = Leaf | Not | All | Any | Held | Once | Looks
Lasting: TypeAlias = Held | Once | Looks | Steady
"""A condition on several passes (M5)."""


def settled_by_choice(condition: Condition) -> bool | None:
    """Whether what was chosen makes a condition true or false whatever the sensors say."""
    match condition:
        case ChoiceIs() | Fixed():
            return condition.holds
        case Not(part):
            inner = settled_by_choice(part)
            return None if inner is None else not inner
        case All(inner_parts):
            found = [settled_by_choice(part) for part in inner_parts]
            return False if False in found else None if None in found else True
        case Any(inner_parts):
            found = [settled_by_choice(part) for part in inner_parts]
            return True if True in found else None if None in found else False
        case Held(part) | Once(part) | Looks(part):
            # Even what is true from the first pass is held only after a while.
            return False if settled_by_choice(part) is False else None
        case _:
            return None


def leaves(condition: Condition) -> Iterator[Leaf]:
    """The conditions that look at one thing each, as written."""
    match condition:
        case Not(part) | Held(part) | Once(part) | Looks(part):
            yield from leaves(part)
        case All(parts) | Any(parts):
            for part in parts:
                yield from leaves(part)
        case _:
            yield condition


def look_of(leaf: Leaf) -> Sensor | Reading | Mechanism | None:
    """What on the robot it looks at; None for the clock, for what was chosen, and for what a run
    remembers or has come to."""
    match leaf:
        case (
            Compare(source)
            | Within(source)
            | Steady(source)
            | Unreadable(source)
            | Reckoned(source)
        ):
            return source
        case Answers(sensor):
            return sensor
        case Done(mechanism):
            return mechanism
        case _:
            return None


def parts(condition: Condition) -> Iterator[Condition]:
    """The condition and all that it is made of, outermost first."""
    yield condition
    match condition:
        case Not(part) | Held(part) | Once(part) | Looks(part):
            yield from parts(part)
        case All(inner) | Any(inner):
            for part in inner:
                yield from parts(part)


def lasting_parts(condition: Condition) -> Iterator[Lasting]:
    """The conditions on several passes in a condition, outermost first."""
    return (part for part in parts(condition) if isinstance(part, Lasting))


def each(condition: Condition, change: Callable[[Leaf], Condition]) -> Condition:
    """The condition with each look in it changed."""
    match condition:
        case Not(part) | Held(part) | Once(part) | Looks(part):
            return replace(condition, part=each(part, change))
        case All(inner) | Any(inner):
            return replace(condition, parts=tuple(each(part, change) for part in inner))
        case _:
            return change(condition)
