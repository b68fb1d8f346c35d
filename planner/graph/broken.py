"""The plan as it is once something has broken: what the faults settle is left out or made plain."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import product
from typing import TypeVar

from planner.graph.broken_memory import begun, remembered
from planner.graph.cells import holds
from planner.graph.faults import Fault, Says, item_of
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
    Leaf,
    Looks,
    MatchClock,
    MemoryCompare,
    MemoryIs,
    Not,
    Once,
    Reckoned,
    Steady,
    Unreadable,
    Within,
    each,
)
from planner.model.routine import Group, Routine, Rule, Step, WhenExit

_Owner = TypeVar("_Owner", Step, Group)
_Asking = TypeVar("_Asking", Rule, WhenExit)


def broken(routine: Routine, faults: Sequence[Fault]) -> Routine:
    """The routine as it runs with these faults: what they settle is left out or made plain.

    Of several faults of one thing the last counts.
    """
    says = {fault.item: fault.says for fault in faults}

    def settle(leaf: Leaf) -> Condition:
        return _settled(leaf, says) if item_of(leaf) in says else leaf

    def change(condition: Condition) -> Condition:
        return simplified(each(condition, settle))

    def with_faults(owner: _Owner) -> _Owner:
        return replace(
            owner,
            rules=_kept(owner.rules, change),
            whens=_kept(owner.whens, change),
            remembers=remembered(owner.remembers, says),
        )

    return replace(
        routine,
        rules=_kept(routine.rules, change),
        steps={name: with_faults(step) for name, step in routine.steps.items()},
        groups={name: with_faults(group) for name, group in routine.groups.items()},
        memories=begun(routine.memories, says),
    )


def simplified(condition: Condition) -> Condition:
    """The same condition (M6) with what a fault has settled worked out as far as it goes."""
    match condition:
        case Not(part):
            inner = simplified(part)
            if isinstance(inner, Fixed):
                return Fixed(inner.asked, None if inner.holds is None else not inner.holds)
            return Not(inner)
        case All(parts):
            return _joined(All, [simplified(part) for part in parts], strongest=False)
        case Any(parts):
            return _joined(Any, [simplified(part) for part in parts], strongest=True)
        case Held(part) | Once(part) | Looks(part):
            inner = simplified(part)
            if isinstance(inner, Fixed) and _settles(condition, inner.holds):
                return inner
            return replace(condition, part=inner)
        case _:
            return condition


def outcomes(condition: Condition) -> frozenset[bool | None]:
    """The truth values (M6) that a condition may have in some pass, whatever is true in others."""
    match condition:
        case Fixed(holds=value):
            return frozenset({value})
        case (
            Unreadable()
            | MatchClock()
            | LanesDone()
            | LaneIn()
            | MemoryIs()
            | MemoryCompare()
            | CounterCompare()
        ):
            return frozenset({True, False})
        case ChoiceIs(holds=value):
            return frozenset({value})
        case Not(part):
            return frozenset(None if v is None else not v for v in outcomes(part))
        case All(parts) | Any(parts):
            each = [outcomes(part) for part in parts]
            ends = isinstance(condition, Any)
            return frozenset(_kleene(values, ends) for values in product(*each))
        case Held(part) | Once(part) | Looks(part):
            return outcomes(part) | {False}
        case _:
            return frozenset({True, False, None})


def _kleene(values: Sequence[bool | None], settling: bool) -> bool | None:
    """`or` where True settles it, `and` where False does."""
    return settling if settling in values else None if None in values else not settling


def _settles(condition: Held | Once | Looks, holds: bool | None) -> bool:
    """Whether a part that never changes makes the whole the same in every pass."""
    return (
        holds is False
        or isinstance(condition, Once)
        or (isinstance(condition, Held) and holds is None)
    )


def _joined(kind: type[All] | type[Any], parts: list[Condition], *, strongest: bool) -> Condition:
    """`and` without what is true, `or` without what is false; settled where one part settles it."""
    settling = [part for part in parts if isinstance(part, Fixed) and part.holds is strongest]
    if settling:
        return settling[0]
    left = [p for p in parts if not (isinstance(p, Fixed) and p.holds is not None)]
    if all(isinstance(part, Fixed) for part in left):
        return (left or parts)[0]
    return left[0] if len(left) == 1 else kind(tuple(left))


def _kept(
    asking: Iterable[_Asking], change: Callable[[Condition], Condition]
) -> tuple[_Asking, ...]:
    """Rules or exits that ask something else; what never can be true is left out, as where a
    choice rules it out."""
    changed = [replace(one, condition=change(one.condition)) for one in asking]
    return tuple(one for one in changed if True in outcomes(one.condition))


def _settled(leaf: Leaf, says: Mapping[str, Says]) -> Condition:
    """What a look gives where the thing it looks at always says the same."""
    assert not isinstance(leaf, Fixed)
    value = says[item_of(leaf)]
    match leaf:
        case Done():
            assert isinstance(value, bool)
            return Fixed(leaf, value)
        case Steady(duration_us=duration_us, place=place):
            if value is None:
                return Fixed(leaf, None)
            return Held(Fixed(leaf, True), duration_us, place)
        case Reckoned():
            # What a number that can be had is measured against is not known here.
            return Fixed(leaf, None) if value is None else leaf
        case Compare() | Within() | Answers() | Unreadable():
            assert not isinstance(value, bool)
            return Fixed(leaf, holds(leaf, value))
        case _:
            return leaf
