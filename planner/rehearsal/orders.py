"""What a student types in a run by hand, as orders to the session."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeAlias

from planner.findings import nearest
from planner.model.units import UNITS, Amount, Dimension, Unit
from planner.rehearsal.conditions import Readings
from planner.rehearsal.handles import Handle
from planner.rehearsal.world import Value

LONGEST = 200
"""In characters; more was never meant as an order."""


@dataclass(frozen=True, slots=True)
class Set:
    """A reading gives a value from now on."""

    handle: Handle
    value: Value


@dataclass(frozen=True, slots=True)
class Wait:
    """A time passes."""

    duration_us: int


@dataclass(frozen=True, slots=True)
class Save:
    """The run so far becomes a scenario of that name."""

    name: str


@dataclass(frozen=True, slots=True)
class Word:
    """An order of one word: one of `WORDS`, or `go on` for an empty line."""

    word: str


@dataclass(frozen=True, slots=True)
class Unclear:
    """No order; `why` says in one sentence what to type instead."""

    why: str


Order: TypeAlias = Set | Wait | Save | Word | Unclear

WORDS = ("back", "sensors", "help", "quit")
GO_ON = Word("go on")

_NUMBER = re.compile(r"([+-]?\d+(?:\.\d+)?)\s*([^\s\d]\S*)?")
_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]{0,59}")
_HELP = "type `help` to see what can be typed"


def order(text: str, handles: Sequence[Handle], shown: Readings) -> Order:
    """The order that a line means; `shown` is what the readings give now."""
    if len(text) > LONGEST:
        return Unclear(f"that is too long for an order; {_HELP}")
    words = text.split()
    if not words:
        return GO_ON
    if words[0] == "save":
        return _save(words[1:])
    if words[0] in WORDS and not _sets(words, handles):
        return Word(words[0]) if len(words) == 1 else Unclear(f"`{words[0]}` stands alone")
    if words[0][0] in "+-.0123456789":
        return _wait(" ".join(words))
    return _setting(words, handles, shown)


def phrases(handles: Sequence[Handle]) -> Iterator[str]:
    """What can be typed, for a line editor to complete."""
    for handle in handles:
        if handle.is_done:
            yield from (handle.reading, f"not {handle.reading}")
            continue
        yield from (f"{handle.reading} {word}" for word in (*handle.words, "unreadable"))
    yield from (*WORDS, "save ")


def amount_typed(text: str, own: Unit) -> Amount | None:
    """A number in a unit that fits, or in its reading's or choice's own where none is written."""
    found = _NUMBER.fullmatch(text)
    if found is None:
        return None
    unit = UNITS.get(found.group(2)) if found.group(2) else own
    if unit is None or unit.dimension is not own.dimension:
        return None
    return Amount(Fraction(found.group(1)), unit)


def _sets(words: Sequence[str], handles: Sequence[Handle]) -> bool:
    """Whether more words follow the name of a sensor that is called like an order."""
    return len(words) > 1 and any(handle.reading == words[0] for handle in handles)


def _save(words: Sequence[str]) -> Order:
    if len(words) == 1 and _NAME.fullmatch(words[0]):
        return Save(words[0])
    return Unclear(
        "to keep this run type `save` and one name of letters, digits and `_`: `save good_run`"
    )


def _wait(text: str) -> Order:
    found = _NUMBER.fullmatch(text)
    unit = UNITS.get(found.group(2) or "") if found else None
    if found is None or unit is None or unit.dimension is not Dimension.TIME:
        return Unclear("to let time pass type a number and its unit, such as `1.5 s`")
    duration = Amount(Fraction(found.group(1)), unit).base
    if duration <= 0:
        return Unclear("time only goes on; to go back to before the last move type `back`")
    return Wait(-(-duration.numerator // duration.denominator))


def _setting(words: list[str], handles: Sequence[Handle], shown: Readings) -> Order:
    if words == ["not"]:
        return Unclear("`not` goes in front of a `done`, such as `not arm done`")
    negated = words[0] == "not"
    by_name = {handle.reading: handle for handle in handles}
    by_key = {handle.key: handle for handle in handles if handle.key}
    handle, rest = _named(words[negated:], by_name, by_key)
    if handle is None:
        return _unknown(" ".join(words[negated:][:2]), by_name)
    if negated or rest == ["not", "done"]:
        if handle.is_done and rest in ([], ["not", "done"]):
            return Set(handle, False)
        return Unclear(f"`not` goes with `done` alone; {_says(handle)}")
    if not rest:
        # The whole name of a `done` says what it is to be, as in a scenario.
        plain = handle.is_done and words[0] != handle.key
        return Set(handle, True) if plain else _next(handle, shown.get(handle.reading))
    return _value(handle, rest)


def _named(
    words: list[str], by_name: Mapping[str, Handle], by_key: Mapping[str, Handle]
) -> tuple[Handle | None, list[str]]:
    """The reading that a line begins with, and the words after it; names come before keys."""
    for count in (2, 1):
        name = " ".join(words[:count])
        if len(words) >= count and name in by_name:
            return by_name[name], words[count:]
    if words and words[0] in by_key:
        return by_key[words[0]], words[1:]
    return None, []


def _unknown(name: str, by_name: Mapping[str, Handle]) -> Unclear:
    first = name.split()[0] if name else ""
    near = nearest(name, by_name, most=1) or nearest(first, (*by_name, *WORDS, "save"), most=1)
    if near:
        return Unclear(f"there is no `{name}`. Did you mean `{near[0]}`?")
    return Unclear(f"there is no `{name}`; {_HELP}")


def _next(handle: Handle, now: object) -> Order:
    """What a key alone does: the other state, or the next of several answers."""
    if handle.is_done:
        return Set(handle, now is not True)
    if not handle.words:
        return Unclear(_says(handle))
    place = handle.words.index(now) + 1 if isinstance(now, str) and now in handle.words else 0
    return Set(handle, handle.words[place % len(handle.words)])


def _value(handle: Handle, rest: list[str]) -> Order:
    if len(rest) > 1 and rest[0] == ("sees" if handle.words else "is"):
        rest = rest[1:]
    if rest == ["unreadable"] and not handle.is_done:
        return Set(handle, None)
    if rest == ["done"] and handle.is_done:
        return Set(handle, True)
    if len(rest) == 1 and rest[0] in handle.words:
        return Set(handle, rest[0])
    amount = amount_typed(" ".join(rest), handle.unit) if handle.unit else None
    return Set(handle, amount) if amount else Unclear(_says(handle))


def _says(handle: Handle) -> str:
    """What can be typed behind a reading's name."""
    name = handle.key or handle.reading
    if handle.is_done:
        return f"type `{handle.reading}`, `not {handle.reading}`, or `{name}` to change it"
    if handle.unit is None:
        answers = ", ".join(f"`{word}`" for word in handle.words)
        return f"`{handle.reading}` is {answers} or `unreadable`"
    return (
        f"`{handle.reading}` gives a number in {handle.unit.name}: "
        f"type `{name} 7 {handle.unit.name}`, or `{name} unreadable`"
    )
