"""Exits in the words of the language, as pictures show them."""

from __future__ import annotations

from collections.abc import Mapping

from planner.graph import Exit
from planner.model.routine import AfterExit, Routine, Rule, WhenExit
from planner.model.spoken import spoken_command, spoken_condition
from planner.model.units import seconds_text
from planner.pictures.lettering import TIE


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


def settings_words(routine: Routine) -> str:
    """The routine's settings with their numbers."""
    settings = routine.settings.values()
    return f"with {', '.join(f'{value.name} = {value.amount}' for value in settings)}"


def time_words(microseconds: int, setting: str) -> str:
    """A time in seconds, after the setting's name where it came from one."""
    seconds = seconds_text(microseconds)
    return f"{setting} ({seconds})" if setting else seconds


def arrow_to(target: str, numbers: Mapping[str, int]) -> str:
    """Where an exit leads, in the words of its frame."""
    return f"►{TIE}{numbers[target]} {target}"
