"""The fields of a plan that follow from what is chosen before the start, and their names."""

from __future__ import annotations

from collections.abc import Iterator

from planner.java.robot_names import unit_words
from planner.model.choices import RangeChoice
from planner.model.routine import Routine
from planner.model.units import UNITS, Amount, Dimension

TIME = "time"
"""Stands for a unit where a number is wanted as a time in nanoseconds."""


def wanted_in(amount: Amount) -> list[str]:
    """The units that a number can be wanted in, as words of names, and `TIME` for a time."""
    words = [unit_words(unit) for unit in UNITS.values() if unit.dimension is amount.dimension]
    return [*words, TIME] if amount.dimension is Dimension.TIME else words


def chosen_fields(routine: Routine) -> Iterator[tuple[tuple[str, ...], str]]:
    """Keys and wished names of the fields for choices and for settings that go by them."""
    for name, choice in routine.choices.items():
        words = name
        if isinstance(choice, RangeChoice) and choice.low.dimension is not Dimension.TIME:
            words = f"{name}_{unit_words(choice.low.unit)}"
        yield ("choice", name), words
    for name, setting in routine.settings.items():
        if setting.amount.chosen:
            for unit in wanted_in(setting.amount):
                yield ("setting", name, unit), f"{name}_{unit}"
