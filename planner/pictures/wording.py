"""Exits in the words of the language, as pictures show them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planner.graph import Exit
from planner.model.memory import Counter, Memory, NumberMemory, Table, WordMemory
from planner.model.robot import Sensor
from planner.model.routine import AfterExit, Group, Routine, Rule, Step, WhenExit
from planner.model.spoken import (
    spoken_command,
    spoken_condition,
    spoken_counting,
    spoken_remember,
)
from planner.model.units import seconds_text
from planner.pictures.lettering import TIE

END_OF_LANE = "done"


def waits_for(way: Exit) -> str:
    """What an exit waits for, as a plan would write it."""
    if way.overflow:
        return "then"
    written = way.written
    times = "" if way.most is None else f", at most {way.most} time{'' if way.most == 1 else 's'}"
    match written:
        case WhenExit(condition):
            return f"when {spoken_condition(condition)}{times}"
        case AfterExit(limit_us, setting=setting):
            return f"after {time_words(limit_us, setting)}{times}"
        case _:
            return f"at {time_words(written.at_us, written.setting)} of match"


def spoken_rule(rule: Rule) -> str:
    """A side rule as a plan would write it."""
    return f"whenever {spoken_condition(rule.condition)}, {spoken_command(rule.given)}"


def noted(owner: Step | Group) -> Iterator[str]:
    """What a step counts when it is entered and remembers when it is left, as a plan says it."""
    yield from map(spoken_counting, owner.counts)
    yield from map(spoken_remember, owner.remembers)


def memory_words(routine: Routine) -> str:
    """What a routine remembers and counts, and where that begins."""
    return f"remembers {', '.join(map(_memory, routine.memories.values()))}"


def _memory(memory: Memory) -> str:
    match memory:
        case NumberMemory(name, first):
            return f"{name}, at first {first}"
        case WordMemory(name, words, None):
            return f"{name}: {', '.join(words)}"
        case WordMemory(name, words, Sensor(camera)):
            return f"{name}: {', '.join(words)}, seen by {camera}"
        case Counter(name, low, high, normal):
            return f"{name} from {low} to {high}, at first {normal}"
        case _:
            raise AssertionError(f"no words for {memory}")


def settings_words(routine: Routine) -> str:
    """The routine's settings with their numbers."""
    plain = [f"{value.name} = {value.amount}" for value in routine.settings.values()]
    return f"with {', '.join([*plain, *map(_table, routine.tables.values())])}"


def _table(table: Table) -> str:
    rows = ", ".join(f"{word} {amount}" for word, amount in table.rows.items())
    return f"{table.name} by {table.memory.name} ({rows})"


def time_words(microseconds: int, setting: str) -> str:
    """A time in seconds, after the setting's name where it came from one."""
    seconds = seconds_text(microseconds)
    return f"{setting} ({seconds})" if setting else seconds


def arrow_to(target: str, numbers: Mapping[str, int]) -> str:
    """Where an exit leads, in the words of its frame."""
    if target not in numbers:
        return f"►{TIE}{END_OF_LANE}"
    return f"►{TIE}{numbers[target]} {target}"
