"""What one pass can find in a step: which exit is the first true one, and by what readings.

All that sensors can say is gone through, as far as the step's conditions tell it apart. Conditions
on several passes (M5) are taken as free to be true or not, within what holds in the pass itself:
what was true for a time is true now, and so on. What it takes to make them true, passes and time,
is told along with it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product
from math import prod
from typing import TypeAlias

from planner.model.condition import (
    All,
    Any,
    ChoiceIs,
    Condition,
    CounterCompare,
    Fixed,
    Held,
    LaneIn,
    LanesDone,
    Lasting,
    Leaf,
    Looks,
    MatchClock,
    MemoryIs,
    Not,
    Once,
    Steady,
    lasting_parts,
    leaves,
    parts,
)
from planner.reach.agreeing import Saying, Sayings, Shared
from planner.reach.pace import Pace
from planner.reach.saying import (
    FALSE,
    TRUE,
    UNKNOWN,
    Value,
    answer,
    counts_from_entry,
    reading_of,
    values_for,
)

MOST_GLANCES = 4096
"""With more to go through than this, each exit is taken to be true whenever it likes."""

_NOTHING: Shared = {}

Key: TypeAlias = tuple[str, str]
"""A reading, and the step or group from whose entry it counts; that is empty for most."""
Told: TypeAlias = tuple[int, int]
"""A condition on several passes, by identity, and whether it (or its part) is true, or unknown."""
Known: TypeAlias = MatchClock | LanesDone | LaneIn | CounterCompare | MemoryIs
"""The conditions that no sensor decides, but where a run is; what is remembered may be unknown."""


@dataclass(frozen=True, slots=True)
class Asking:
    """A condition that a step asks for one of its exits."""

    number: int
    """Its place in the order in which the step's exits are asked."""
    owner: str
    condition: Condition


@dataclass(frozen=True, slots=True)
class Glance:
    """What a pass can find, of one kind."""

    first: int | None
    """The number of the first true exit that waits for a condition; None where none is true."""
    views: Mapping[Saying, Mapping[Key, Value]]
    """Readings that make it so, by what those among them say that other active steps look at
    too."""
    remembered: frozenset[Told]
    """The conditions on several passes that are true in it, and those on a number of looks that are
    unknown, since that takes as many looks (M6)."""
    now: frozenset[Told]
    """Those among all of them whose part is so in this pass."""

    @property
    def sayings(self) -> Sayings:
        """What shared readings can say then."""
        return frozenset(self.views)


_Kind: TypeAlias = tuple[int | None, frozenset[Told], frozenset[Told]]


class Glances:
    """All that a pass can find in a step, while the match clock's conditions answer alike."""

    def __init__(
        self,
        asked: Sequence[Asking],
        known: Callable[[Known], bool | None],
        shared: Shared = _NOTHING,
    ) -> None:
        self.asked = asked
        self.complete = True
        """False where there was too much to go through; then anything may be found."""
        self.all = tuple(self._all(known, shared))

    def _all(self, known: Callable[[Known], bool | None], shared: Shared) -> Iterator[Glance]:
        sight = _Sight(self.asked, known, shared)
        if sight.size > MOST_GLANCES:
            self.complete = False
            return
        found: dict[_Kind, dict[Saying, Mapping[Key, Value]]] = {}
        for values, answers in sight.views():
            for remembered, truths in sight.memories(answers):
                first = next((a.number for a in self.asked if truths[id(a.condition)] > 0), None)
                parts_now = {id(n): _part(n, truths, answers) for n in sight.nodes}
                now = frozenset(_told(sight.nodes, parts_now))
                views = found.setdefault((first, remembered, now), {})
                views.setdefault(sight.saying(values), values)
        for (first, remembered, now), views in found.items():
            yield Glance(first, views, remembered, now)


def needs_before(node: Lasting, told: Told, glance: Glance) -> bool:
    """Whether what is told of a condition needs its part to have been so in an earlier pass."""
    match node:
        case Held() | Steady():
            return node.duration_us > 0
        case Looks(least=least):
            return least > (told in glance.now)
        case Once():
            return told not in glance.now


def time_for(node: Lasting, glance: Glance, pace: Pace) -> int:
    """The least time, in ticks since its step or group was entered, after which it can be true.

    The first pass that asks comes a shortest pass after the entry.
    """
    later = 0 if (id(node), TRUE) in glance.now else pace.shortest
    return _least(node, pace) + (later if isinstance(node, Looks | Once) else 0)


def _least(condition: Condition, pace: Pace) -> int:
    """The least time after which any condition can be true, by what it cannot do without."""
    match condition:
        case Held(part, duration_us):
            return pace.ticks(duration_us) + _least(part, pace)
        case Steady():
            return pace.ticks(condition.duration_us) + pace.shortest
        case Looks(part, least):
            return (least - 1) * pace.shortest + _least(part, pace)
        case Once(part):
            return _least(part, pace)
        case All(inner):
            return max(_least(part, pace) for part in inner)
        case Any(inner):
            return min(_least(part, pace) for part in inner)
        case _:
            return pace.shortest


class _Sight:
    """The readings that some conditions look at, and what each of its values answers."""

    def __init__(
        self, asked: Sequence[Asking], known: Callable[[Known], bool | None], shared: Shared
    ) -> None:
        self._asked = asked
        conditions = [asking.condition for asking in asked]
        every = [part for condition in conditions for part in parts(condition)]
        self.nodes = [node for condition in conditions for node in lasting_parts(condition)]
        # Where nothing is denied, what is unknown counts as what is false does.
        self._denied = any(isinstance(part, Not) for part in every)
        self._inner_first = [(node, self._values_of(node)) for node in reversed(self.nodes)]
        self._settled: dict[int, int] = {}
        by_key: dict[Key, list[Leaf]] = {}
        for asking in asked:
            for leaf in leaves(asking.condition):
                if isinstance(leaf, ChoiceIs | Fixed):
                    self._settled[id(leaf)] = _settled(leaf)
                elif isinstance(leaf, Known) and (told := known(leaf)) is not None:
                    self._settled[id(leaf)] = TRUE if told else FALSE
                else:
                    owner = asking.owner if counts_from_entry(leaf) else ""
                    name = reading_of(leaf) or f"? {id(leaf)}"
                    by_key.setdefault((name, owner), []).append(leaf)
        self._shared = [key for key in sorted(by_key) if not key[1] and key[0] in shared]
        self._choices = [
            (key, list(self._said(of_key, shared.get(key[0], ()) if key in self._shared else ())))
            for key, of_key in by_key.items()
        ]
        self.size = prod(len(said) for _, said in self._choices)
        self.size *= prod(len(values) for _, values in self._inner_first)

    def views(self) -> Iterator[tuple[dict[Key, Value], dict[int, int]]]:
        """All that the readings can say together, and the answers of the conditions on one."""
        keys = [key for key, _ in self._choices]
        for said in product(*(said for _, said in self._choices)):
            answers = dict(self._settled)
            for _, answered in said:
                answers.update(answered)
            yield dict(zip(keys, (value for value, _ in said), strict=True)), answers

    def saying(self, values: Mapping[Key, Value]) -> Saying:
        """What the readings that others look at too say in a view."""
        return tuple((key[0], values[key]) for key in self._shared)

    def memories(self, answers: dict[int, int]) -> Iterator[tuple[frozenset[Told], dict[int, int]]]:
        """The ways in which conditions on several passes can be true, and all that follows."""
        for tried in product(*(values for _, values in self._inner_first)):
            truths = dict(answers)
            if all(
                _remembers(node, value, truths)
                for (node, _), value in zip(self._inner_first, tried, strict=True)
            ):
                for asking in self._asked:
                    _truth(asking.condition, truths)
                yield frozenset(_told(self.nodes, truths)), truths

    def _values_of(self, node: Lasting) -> tuple[int, ...]:
        """What a condition on several passes can be while its part is what it likes."""
        if isinstance(node, Looks) and self._denied:
            return (FALSE, TRUE, UNKNOWN)
        return (FALSE, TRUE)

    def _said(
        self, of_key: list[Leaf], of_all: tuple[Leaf, ...]
    ) -> Iterator[tuple[Value, dict[int, int]]]:
        """One value for each way in which a reading can answer its conditions, and those of other
        steps where it is shared."""
        seen: set[tuple[int, ...]] = set()
        for value in values_for(of_all or of_key):
            answers = [answer(leaf, value) for leaf in of_key]
            told = tuple(answer(leaf, value) for leaf in of_all) or tuple(
                a if self._denied or a > 0 else FALSE for a in answers
            )
            if told not in seen:
                seen.add(told)
                yield value, {id(leaf): a for leaf, a in zip(of_key, answers, strict=True)}


def _remembers(node: Lasting, value: int, truths: dict[int, int]) -> bool:
    """Sets what a condition on several passes is; False where it cannot be that in this pass.

    A `value` of false stands for untrue: it is unknown where the condition's part is (M6).
    """
    if isinstance(node, Steady):
        readable = truths[id(node)] > 0
        truths[id(node)] = value if readable else UNKNOWN
        return readable or value <= 0
    part = _truth(node.part, truths)
    truths[id(node)] = value
    match node:
        case Held(_, duration_us):
            if value <= 0:
                truths[id(node)] = FALSE if part > 0 else part
                return part <= 0 or duration_us > 0
            return part > 0
        case Once():
            truths[id(node)] = value if value > 0 else part
            return value > 0 or part <= 0
        case Looks(_, least, looks):
            if part > 0:
                return value > 0 or least > 1
            # Without this look it must have been enough among the others.
            return value <= 0 or least < looks


def _settled(leaf: ChoiceIs | Fixed) -> int:
    return UNKNOWN if leaf.holds is None else TRUE if leaf.holds else FALSE


def _truth(condition: Condition, truths: dict[int, int]) -> int:
    """A condition's value, from those of what it is made of (M6)."""
    found = truths.get(id(condition))
    if found is not None:
        return found
    match condition:
        case Not(part):
            found = -_truth(part, truths)
        case All(inner):
            found = min(_truth(part, truths) for part in inner)
        case Any(inner):
            found = max(_truth(part, truths) for part in inner)
        case _:
            raise ValueError("a condition whose value is not known yet")
    truths[id(condition)] = found
    return found


def _told(nodes: Iterable[Lasting], values: Mapping[int, int]) -> Iterator[Told]:
    for node in nodes:
        found = values[id(node)]
        if found > 0:
            yield id(node), TRUE
        if found >= 0 and isinstance(node, Looks):
            yield id(node), UNKNOWN


def _part(node: Lasting, truths: dict[int, int], answers: dict[int, int]) -> int:
    """What the part of a condition on several passes is in this pass."""
    return answers[id(node)] if isinstance(node, Steady) else _truth(node.part, truths)
