"""Conditions taken apart into what they look at, each with the values that tell answers apart.

What a condition says in one pass rests on the values of its sources, cut into cells (`cells`), and
on what it remembers from earlier passes. The memory is a value too, tied to the part that it
remembers: what has been true for a time is true now, and what was true once stays so (M5). Nothing
else is assumed of it, so more may seem possible than is, and never less.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TypeAlias

from planner.graph import kleene
from planner.graph.cells import Asked, asks, edges_of, holds, values_of
from planner.graph.kleene import ANY, FALSE, TRUE, UNKNOWN, Mask
from planner.model.condition import (
    All,
    Any,
    ChoiceIs,
    Compare,
    Condition,
    Done,
    Fixed,
    Held,
    LaneIn,
    LanesDone,
    Lasting,
    Looks,
    Not,
    Once,
    Steady,
    Unreadable,
    Unresolved,
    Within,
    parts,
)
from planner.model.meaning import meaning
from planner.model.robot import Reading
from planner.model.routine import end_of_lane

Key: TypeAlias = tuple[object, ...]
"""What is looked at or remembered; two conditions with one key are settled by one value."""
Cell: TypeAlias = Fraction | str | bool | int | None
"""A value of a key: what a sensor says with None for unreadable, or what is remembered."""
Chosen: TypeAlias = Mapping[Key, Cell]
"""The values of some keys."""
Answer: TypeAlias = Callable[[Chosen], Mask]
"""What a condition may be, with the values of some keys given."""

SOURCE = "source"


@dataclass(frozen=True, slots=True)
class Asking:
    """A condition, and the step or group it is asked for: its memory and its step start (M5)."""

    condition: Condition
    owner: str = ""


@dataclass(frozen=True, slots=True)
class Assumed:
    """What is taken for granted of all that is looked at."""

    limit_us: int | None = None
    """Up to when the match clock goes; None where that is not known."""
    readable: bool = False
    """Whether everything can be read, but what a condition asks for being `unreadable`."""
    at_start: bool = False
    """Whether it is the first look: readings from the step's start are where they began, at 0, and
    nothing has lasted yet."""
    given: Mapping[Key, Cell] = field(default_factory=dict)
    """The values of some keys, where they are known."""


class Atoms:
    """The keys of some conditions with their values, and each condition as an `Answer`."""

    def __init__(self, asking: Sequence[Asking], assumed: Assumed) -> None:
        self.domains: dict[Key, tuple[Cell, ...]] = {}
        self.memories: dict[Key, tuple[Lasting, str, Answer]] = {}
        """By key, what remembers, for whom, and the answer of all of it."""
        self.parts: dict[int, Answer] = {}
        """Of a condition on several looks, by its identity, the answer of its part."""
        self._assumed = assumed
        self.leaves: dict[Key, list[Asked]] = {}
        """By key of a source, what is asked of it."""
        for one in asking:
            for part in parts(one.condition):
                self._gather(part, one.owner)
        for key, leaves in self.leaves.items():
            values = tuple(self._values(key, leaves))
            self.domains[key] = (assumed.given[key],) if key in assumed.given else values
        self.answers = [self._answer(one.condition, one.owner) for one in asking]
        for key in self.domains.keys() & assumed.given.keys():
            self.domains[key] = (assumed.given[key],)

    def _gather(self, part: Condition, owner: str) -> None:
        if isinstance(part, Asked):
            self.leaves.setdefault(source_key(part, owner), []).append(part)
        elif isinstance(part, Steady):
            # Whether its number can be read is all that the pass says of it.
            twin = Unreadable(part.source, part.place)
            self.leaves.setdefault(source_key(twin, owner), []).append(twin)

    def _values(self, key: Key, leaves: list[Asked]) -> Iterator[Cell]:
        numbered = [leaf for leaf in leaves if not isinstance(leaf, Unreadable)]
        asked_for = len(numbered) < len(leaves)
        values = values_of(leaves, self._assumed.limit_us)
        edges = edges_of(leaves)
        # Numbers between thresholds come first, for an example that speaks plainly.
        readable = sorted((v for v in values if v is not None), key=lambda v: v in edges)
        if self._assumed.at_start and key[2]:
            # That it is 0 at first is all that is known of it.
            readable = [Fraction(0)]
        # Where nothing is known of its values, it has one all the same.
        yield from readable or [""]
        always_known = key[1] == "match" or str(key[1]).startswith(("memory ", "counter "))
        if not always_known and (asked_for or not self._assumed.readable):
            yield None

    # Each kind of condition as an answer.

    def _answer(self, condition: Condition, owner: str) -> Answer:
        match condition:
            case Not(part):
                inner = self._answer(part, owner)
                return lambda chosen: kleene.negation(inner(chosen))
            case All(parts):
                return _joined([self._answer(part, owner) for part in parts], kleene.both)
            case Any(parts):
                return _joined([self._answer(part, owner) for part in parts], kleene.either)
            case Held() | Once() | Looks() | Steady():
                return self._memory(condition, owner)
            case Fixed(_, settled):
                return _always(kleene.of(settled))
            case ChoiceIs(choice, value, settled):
                if settled is not None:
                    return _always(kleene.of(settled))
                return self._one_of((SOURCE, f"choice {choice}", ""), value)
            case Done(mechanism):
                return self._one_of((SOURCE, f"{mechanism.name} done", ""), True)
            case LanesDone(lanes, every):
                done = [self._one_of(lane_key(lane), end_of_lane(lane)) for lane in lanes]
                return _joined(done, kleene.both if every else kleene.either)
            case LaneIn(lane, step):
                return self._one_of(lane_key(lane), step)
            case _ if isinstance(condition, Asked):
                return self._look(condition, owner)
            case _:
                return self._unheard_of(condition, owner)

    def _look(self, leaf: Asked, owner: str) -> Answer:
        key = source_key(leaf, owner)
        domain = self.domains[key]
        if "" in domain and not isinstance(leaf, Unreadable):
            return self._unheard_of(leaf, owner)
        table: dict[Cell, Mask] = {
            value: kleene.of(holds(leaf, value))
            for value in domain
            if value is None or isinstance(value, Fraction | str)
        }
        every = _union(table.values())
        return lambda chosen: table[chosen[key]] if key in chosen else every

    def _one_of(self, key: Key, wanted: Cell) -> Answer:
        """Whether a word or flag is the one wanted."""
        others: tuple[Cell, ...] = (False,) if wanted is True else ("",)
        known = self.domains.setdefault(key, others)
        if wanted not in known:
            self.domains[key] = (wanted, *known)
        either = TRUE | FALSE
        return lambda chosen: kleene.of(chosen[key] == wanted) if key in chosen else either

    def _unheard_of(self, condition: Condition, owner: str) -> Answer:
        """A condition of which nothing is known but that it is the same wherever it is written."""
        said = None if isinstance(condition, Unresolved) else meaning(condition)
        key: Key = ("unheard", owner, id(condition) if said is None else said)
        self.domains[key] = self._any_answer()
        return _remembered(key)

    def _any_answer(self) -> tuple[Cell, ...]:
        return (TRUE, FALSE) if self._assumed.readable else (TRUE, FALSE, UNKNOWN)

    def _memory(self, condition: Lasting, owner: str) -> Answer:
        said = meaning(condition)
        key: Key = ("memory", owner, id(condition) if said is None else said)
        match condition:
            case Held(part, duration_us):
                inner = self._answer(part, owner)
                if not duration_us:
                    return inner
                found = _held(key, inner)
            case Once(part):
                found = _once(key, self._answer(part, owner))
            case Looks(part):
                self.parts[id(condition)] = self._answer(part, owner)
                found = _remembered(key)
            case Steady(source, _, _, place):
                found = _held(key, self._readable(Unreadable(source, place), owner))
        self.domains[key] = self._remembered_values(condition)
        self.memories[key] = (condition, owner, found)
        return found

    def _remembered_values(self, condition: Lasting) -> tuple[Cell, ...]:
        if not isinstance(condition, Looks):
            return (False,) if self._assumed.at_start else (True, False)
        first = self._assumed.at_start and condition.least > 1
        return (FALSE,) if first else self._any_answer()

    def _readable(self, twin: Unreadable, owner: str) -> Answer:
        """True where a number can be read, else unknown."""
        look = self._look(twin, owner)

        def answer(chosen: Chosen) -> Mask:
            unreadable = look(chosen)
            return (TRUE if unreadable & FALSE else 0) | (UNKNOWN if unreadable & TRUE else 0)

        return answer


def looks_at(asking: Asking) -> frozenset[Key]:
    """All that a condition looks at; conditions that share nothing say nothing of each other."""
    return frozenset(key for key in Atoms([asking], Assumed()).domains if key[0] != "memory")


def named(spoken: str) -> Key:
    """The key of a sensor that answers in words, or of ``arm done``."""
    return (SOURCE, spoken, "")


def source_key(leaf: Asked, owner: str) -> Key:
    """What a leaf looks at; the owner is part of it where the reading counts from its entry."""
    return (SOURCE, asks(leaf), owner if counts_from_entry(leaf) else "")


def lane_key(lane: str) -> Key:
    """Which step a lane is in; it is in one at a time."""
    return (SOURCE, f"lane {lane}", "")


def counts_from_entry(leaf: Condition) -> bool:
    """Whether it looks at a reading that counts from the entry of whatever asks it."""
    return (
        isinstance(leaf, Compare | Within | Steady | Unreadable)
        and isinstance(leaf.source, Reading)
        and leaf.source.from_step_start
    )


def _joined(answers: list[Answer], join: Callable[[Mask, Mask], Mask]) -> Answer:
    def answer(chosen: Chosen) -> Mask:
        found = answers[0](chosen)
        for other in answers[1:]:
            found = join(found, other(chosen))
        return found

    return answer


def _held(key: Key, inner: Answer) -> Answer:
    def answer(chosen: Chosen) -> Mask:
        now = inner(chosen)
        if not now & TRUE or chosen.get(key) is True:
            return now
        return now & ~TRUE | FALSE if key in chosen else now | FALSE

    return answer


def _once(key: Key, inner: Answer) -> Answer:
    def answer(chosen: Chosen) -> Mask:
        if chosen.get(key) is True:
            return TRUE
        return inner(chosen) if key in chosen else inner(chosen) | TRUE

    return answer


def _remembered(key: Key) -> Answer:
    return lambda chosen: _mask(chosen[key]) if key in chosen else ANY


def _always(mask: Mask) -> Answer:
    return lambda _chosen: mask


def _mask(cell: Cell) -> Mask:
    assert isinstance(cell, int)
    return cell


def _union(cells: Iterable[Cell]) -> Mask:
    found = 0
    for cell in cells:
        found |= _mask(cell)
    return found
