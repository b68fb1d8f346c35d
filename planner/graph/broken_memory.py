"""What a plan remembers once something has broken (M13)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from planner.graph.faults import Says
from planner.model.memory import Computed, Memory, Number, Remember, WordMemory
from planner.model.robot import Reading, Sensor
from planner.model.units import Amount


def remembered(lines: tuple[Remember, ...], says: Mapping[str, Says]) -> tuple[Remember, ...]:
    """The lines of a step or group, where what is broken always says the same.

    A line that looks at something unreadable is left out, as then the memory stays as it is.
    """
    return tuple(_remembered(lines, says))


def begun(memories: Mapping[str, Memory], says: Mapping[str, Says]) -> dict[str, Memory]:
    """The memories by name, where those that a broken camera is to settle hold what it gives.

    Conditions, lines and settings keep the memory as it was written, and mean it by its name.
    """
    return {name: _begun(memory, says) for name, memory in memories.items()}


def begins_with(memory: WordMemory, word: str) -> WordMemory:
    """A memory that holds one of its words at the start, whatever a camera sees."""
    others = (other for other in memory.words if other != word)
    return replace(memory, words=(word, *others), seen_by=None)


def _begun(memory: Memory, says: Mapping[str, Says]) -> Memory:
    if not isinstance(memory, WordMemory) or memory.seen_by is None:
        return memory
    if memory.seen_by.spoken not in says:
        return memory
    said = says[memory.seen_by.spoken]
    return begins_with(memory, _word(memory, said) or memory.first)


def _word(memory: WordMemory, said: Says) -> str | None:
    return said if isinstance(said, str) and said in memory.words else None


def _remembered(lines: tuple[Remember, ...], says: Mapping[str, Says]) -> Iterator[Remember]:
    for line in lines:
        value: Number | Sensor | str | None = line.value
        if isinstance(value, Computed):
            value = _worked_out(value, says)
        elif isinstance(value, Sensor) and value.spoken in says:
            assert isinstance(line.memory, WordMemory), "an answer is remembered as a word"
            value = _word(line.memory, says[value.spoken])
        if value is not None:
            yield replace(line, value=value)


def _worked_out(number: Computed, says: Mapping[str, Says]) -> Number | None:
    """A number with what is known of its readings added up; None where one cannot be had."""
    fixed = number.fixed
    left = []
    for part in number.parts:
        if not isinstance(part.of, Sensor | Reading) or part.of.spoken not in says:
            left.append(part)
            continue
        said = says[part.of.spoken]
        if not isinstance(said, Fraction):
            return None
        # What is said is in the first unit of its dimension.
        value = fixed.number + part.factor * said / fixed.unit.size
        fixed = Amount(value, fixed.unit, chosen=fixed.chosen)
    return replace(number, fixed=fixed, parts=tuple(left)) if left else fixed
