"""How a step is left: stretches of the match clock in which a pass can stay, and ways to go.

The match clock is cut where something changes that no sensor decides: at the times of match-clock
exits, at the thresholds of conditions on it and at the routine's limit. Within a stretch a pass
finds the same exits possible, and the same is certain.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise

from planner.graph import Plan
from planner.graph.unfold import Exit
from planner.model.choices import RangeChoice
from planner.model.condition import (
    Condition,
    CounterCompare,
    LaneIn,
    LanesDone,
    Lasting,
    Leaf,
    MatchClock,
    MemoryCompare,
    MemoryIs,
    Reckoned,
    lasting_parts,
    leaves,
    parts,
)
from planner.model.routine import (
    AfterExit,
    MatchExit,
    Routine,
    StepExit,
    WhenExit,
    end_of_lane,
)
from planner.reach.agreeing import ANYTHING, Sayings, Shared, any_of
from planner.reach.glances import (
    Asking,
    Glance,
    Glances,
    Known,
    Told,
    needs_before,
    time_for,
)
from planner.reach.pace import Pace
from planner.reach.saying import TRUE, counts_so


@dataclass(frozen=True, slots=True)
class Way:
    """An exit as a step asks it; a counted one leads to one of two places (M9)."""

    number: int
    """Its place in the order in which the step's exits are asked (M4)."""
    owner: str
    """The step or group whose clock and memory it goes by; empty for the routine."""
    written: StepExit | MatchExit
    exits: tuple[Exit, ...]
    first: int = 0
    last: int = 0
    """When a clock makes it true, in ticks, at the earliest and at the latest: the same, but where
    a number is chosen from a range before the start."""

    @property
    def is_match(self) -> bool:
        """Whether the match clock makes it true."""
        return isinstance(self.written, MatchExit)

    @property
    def is_limit(self) -> bool:
        """Whether the clock of its step or group makes it true."""
        return isinstance(self.written, AfterExit)


@dataclass(frozen=True, slots=True)
class Around:
    """What is known of a run besides the step it is in."""

    lanes: Mapping[str, str] = field(default_factory=dict)
    """By lane, the step it is in."""
    held: Mapping[str, int | str] = field(default_factory=dict)
    """What counters and word memories hold, where that is known."""
    in_block: bool = False
    """Whether lanes are active."""
    shared: Shared = field(default_factory=dict)
    """What active steps ask of the readings that several of them look at."""


@dataclass(frozen=True, slots=True)
class Going:
    """A way that a pass can take, and what must be so for it."""

    way: Way | None
    """None where the routine's limit ends the run (M11)."""
    least: int = 0
    """The clock of the way's owner must have come to this, in ticks."""
    glances: tuple[Glance, ...] = ()
    """What a pass finds then; empty where there was too much to go through."""
    quick: bool = True
    """Whether the first pass after the entry can take it."""
    sayings: Sayings = ANYTHING
    """What shared readings can say then."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A stretch of the match clock, from `low` up to but not at `high`, in ticks."""

    low: int
    high: int | None
    """None where nothing ends it."""
    may_stay: bool
    goings: tuple[Going, ...]
    staying: tuple[Glance, ...] = ()
    """What a pass finds that stays; empty where there was too much to go through."""
    sayings: Sayings = ANYTHING
    """What shared readings can say in a pass that stays."""


@dataclass(frozen=True, slots=True)
class Stay:
    """The match clock from `low` up to but not at `high`: there passes can stay, around it not."""

    low: int
    high: int
    reached_from: int
    """The step must have been entered at this time or later, for a pass to come there: what lies
    between is jumped over by passes a longest pass apart."""


@dataclass(frozen=True, slots=True)
class Staying:
    """All there is to know about one step, while the same match-clock exits are open."""

    ways: tuple[Way, ...]
    stretches: tuple[Stretch, ...]
    limits: tuple[Way, ...]
    """The `after` exits of the step and of the groups around it."""


def joined(stretches: Iterable[tuple[int, int]], longest: int) -> tuple[Stay, ...]:
    """Stretches in which a pass can stay, in order, joined where one follows the other."""
    found: list[Stay] = []
    for low, high in stretches:
        last = found[-1] if found else None
        if last and last.high == low:
            found[-1] = replace(last, high=high)
        elif last and low - last.high < longest:
            found.append(Stay(low, high, last.reached_from))
        else:
            found.append(Stay(low, high, max(0, low - longest)))
    return tuple(found)


def looks_at_lanes(ways: Iterable[Way]) -> bool:
    """Whether a condition asks where lanes are."""
    return any(isinstance(leaf, LanesDone | LaneIn) for leaf in _asked_leaves(ways))


def held_for(ways: Iterable[Way]) -> frozenset[str]:
    """The counters and word memories that conditions ask."""
    asked = _asked_leaves(ways)
    return frozenset(name for leaf in asked if (name := held_name(leaf)))


def held_name(leaf: Leaf) -> str:
    """The counter or word memory that a condition asks; empty where it asks none."""
    match leaf:
        case CounterCompare(counter):
            return counter.name
        case MemoryIs(memory):
            return memory.name
        case _:
            return ""


def _asked_leaves(ways: Iterable[Way]) -> Iterator[Leaf]:
    for way in ways:
        if isinstance(way.written, WhenExit):
            yield from leaves(way.written.condition)


def ways_of(plan: Plan, step: str, pace: Pace, as_chosen: bool = False) -> tuple[Way, ...]:
    """The exits of a step in the order they are asked, those of its groups included.

    A limit that is chosen from a range before the start is any of it, or `as_chosen` in the plan.
    """
    found: list[Way] = []
    for exit_ in plan.asked_of(step):
        if exit_.overflow:
            continue
        both = tuple(other for other in plan.exits[step] if other.written is exit_.written)
        written = exit_.written
        owner = exit_.group or ("" if isinstance(written, MatchExit) else exit_.source)
        span = (0, 0)
        if isinstance(written, AfterExit):
            span = _span(plan.routine, written, as_chosen)
        elif isinstance(written, MatchExit):
            # One whose time is chosen before the start is as this variant of the plan has it.
            span = (written.at_us, written.at_us)
        first, last = (pace.ticks(time_us) for time_us in span)
        found.append(Way(len(found), owner, written, both, first, last))
    return tuple(found)


def chosen_from(routine: Routine, after: AfterExit) -> RangeChoice | None:
    """The range that a limit is chosen from before the start."""
    choice = routine.choices.get(after.setting)
    if not isinstance(choice, RangeChoice):
        return None
    # A task may call a number of its own like the choice.
    return choice if choice.low.base <= after.limit_us <= choice.high.base else None


def needs_clock(routine: Routine, group: str) -> bool:
    """Whether anything depends on how long a group has lasted."""
    written = routine.groups[group]
    return bool(written.afters) or any(any(lasting_parts(w.condition)) for w in written.whens)


def staying(
    plan: Plan,
    ways: tuple[Way, ...],
    cuts: frozenset[int],
    pace: Pace,
    around: Around,
) -> Staying:
    """What a step does in each stretch of the match clock.

    `ways` are those of the step without the match-clock exits that are spent; `cuts` are more
    times, in ticks, at which something changes.
    """
    limit = pace.ticks(plan.routine.limit_us)
    asked = [
        _asking(way, way.written.condition) for way in ways if isinstance(way.written, WhenExit)
    ]
    points = {0, limit, *cuts, *(t for w in ways if w.is_match for t in (w.first, w.last))}
    points |= {point for asking in asked for point in _thresholds(asking.condition, pace)}
    lows_and_highs = list(pairwise(sorted(point for point in points if point <= limit)))
    sights: dict[tuple[bool, ...], Glances] = {}
    seen = [_sight(asked, sights, low, pace, around) for low, _ in lows_and_highs]
    history = _History(ways, sights.values(), around.in_block)
    stretches = [
        _stretch(ways, sight, history, low, high, pace)
        for sight, (low, high) in zip(seen, lows_and_highs, strict=True)
    ]
    over = Stretch(limit, None, False, (Going(None),))
    limits = tuple(way for way in ways if way.is_limit)
    return Staying(ways, (*stretches, over), limits)


def holds_at(leaf: MatchClock, tick: int, pace: Pace) -> bool:
    """Whether a condition on the match clock is true in a pass at a tick."""
    now_us = pace.time_us(tick)
    return {
        "<": now_us < leaf.at_us,
        "<=": now_us <= leaf.at_us,
        ">": now_us > leaf.at_us,
        ">=": now_us >= leaf.at_us,
    }[leaf.operator]


def _span(routine: Routine, written: AfterExit, as_chosen: bool) -> tuple[int, int]:
    """The shortest and the longest that a limit can be, if it is chosen before the start."""
    choice = None if as_chosen else chosen_from(routine, written)
    if choice:
        return int(choice.low.base), int(choice.high.base)
    return written.limit_us, written.limit_us


def _asking(way: Way, condition: Condition) -> Asking:
    return Asking(way.number, way.owner, condition)


def _thresholds(condition: Condition, pace: Pace) -> Iterator[int]:
    """The ticks at which conditions on the match clock change their answer."""
    for leaf in leaves(condition):
        if isinstance(leaf, MatchClock):
            # True at T, or from the first moment after it.
            yield pace.ticks(leaf.at_us + (leaf.operator in ("<=", ">")))


def _sight(
    asked: list[Asking],
    sights: dict[tuple[bool, ...], Glances],
    tick: int,
    pace: Pace,
    around: Around,
) -> Glances:
    """What a pass can find at a tick; the same for all ticks with the same answers of the clock."""

    def known(leaf: Known) -> bool | None:
        match leaf:
            case CounterCompare(counter):
                held = around.held.get(counter.name)
                return counts_so(leaf, held) if isinstance(held, int) else None
            case MemoryIs(memory, value):
                word = around.held.get(memory.name)
                return None if word is None else word == value
            case MatchClock():
                return holds_at(leaf, tick, pace)
            case LanesDone(lanes, every):
                enough = all if every else any
                return enough(around.lanes.get(lane) == end_of_lane(lane) for lane in lanes)
            case LaneIn(lane):
                return leaf.is_true_in(around.lanes.get(lane, ""))

    clock = [leaf for asking in asked for leaf in leaves(asking.condition)]
    answers = tuple(holds_at(leaf, tick, pace) for leaf in clock if isinstance(leaf, MatchClock))
    if answers not in sights:
        sights[answers] = Glances(asked, known, around.shared)
    return sights[answers]


_Changing = LanesDone | LaneIn | CounterCompare | MemoryIs | MemoryCompare | Reckoned
"""Conditions whose answer other lanes may change during a visit."""


class _History:
    """What the earlier passes of a visit can have left behind: which conditions on several passes
    can be true, and which of them in the first pass already."""

    def __init__(self, ways: tuple[Way, ...], sights: Iterable[Glances], in_block: bool) -> None:
        self._own: dict[int, Lasting] = {}
        for way in ways:
            # A group's conditions may have been true for a while in other steps of the group; and
            # in a block, with other lanes elsewhere and other things remembered.
            if isinstance(way.written, WhenExit) and way.owner == way.exits[0].source:
                for node in lasting_parts(way.written.condition):
                    if not in_block or not any(isinstance(p, _Changing) for p in parts(node)):
                        self._own[id(node)] = node
        stays = [glance for seen in sights for glance in seen.all if glance.first is None]
        self._prepared: set[Told] = set()
        more = True
        while more:
            before = len(self._prepared)
            for glance in stays:
                if self.allows(glance):
                    self._prepared.update(glance.now)
            more = len(self._prepared) > before

    def allows(self, glance: Glance) -> bool:
        """Whether a pass can find that."""
        return all(told in self._prepared for told in self._needs(glance))

    def allows_at_first(self, glance: Glance) -> bool:
        """Whether the first pass after the entry can find that."""
        return not any(True for _ in self._needs(glance))

    def _needs(self, glance: Glance) -> Iterator[Told]:
        for told in glance.remembered:
            node = self._own.get(told[0])
            if node is not None and needs_before(node, told, glance):
                yield told


def _stretch(
    ways: tuple[Way, ...], seen: Glances, history: _History, low: int, high: int, pace: Pace
) -> Stretch:
    found = [glance for glance in seen.all if history.allows(glance)]
    may_stay = not seen.complete or any(glance.first is None for glance in found)
    goings: list[Going] = []
    for way in ways:
        if isinstance(way.written, WhenExit):
            possible = [glance for glance in found if glance.first == way.number]
        elif way.is_limit or way.first <= low:
            possible = [g for g in found if g.first is None or g.first > way.number]
        else:
            continue
        if possible or not seen.complete:
            goings.append(_going(way, possible, history, pace))
        if way.is_match and way.last <= low:
            may_stay = False
            break
    stays = tuple(glance for glance in found if glance.first is None)
    said = _sayings(stays) if seen.complete else ANYTHING
    return Stretch(low, high, may_stay, tuple(goings), stays, said)


def _going(way: Way, glances: list[Glance], history: _History, pace: Pace) -> Going:
    nodes = list(lasting_parts(way.written.condition)) if isinstance(way.written, WhenExit) else []

    def least(glance: Glance) -> int:
        true = (node for node in nodes if (id(node), TRUE) in glance.remembered)
        return max((time_for(node, glance, pace) for node in true), default=0)

    timed = sorted(((least(glance), glance) for glance in glances), key=lambda pair: pair[0])
    quick = not timed or any(history.allows_at_first(glance) for _, glance in timed)
    in_order = tuple(glance for _, glance in timed)
    said = _sayings(in_order) if timed else ANYTHING
    return Going(way, timed[0][0] if timed else 0, in_order, quick, said)


def _sayings(glances: Iterable[Glance]) -> Sayings:
    return any_of(glance.sayings for glance in glances)
