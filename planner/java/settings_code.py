"""The settings of a routine as Java constants, or as fields where a choice changes them."""

from __future__ import annotations

from dataclasses import dataclass

from planner.java.choices_code import ChoiceWriter
from planner.java.chosen_names import TIME, wanted_in
from planner.java.naming import constant_name, distinct
from planner.java.robot_names import unit_words
from planner.java.wording import comment, double
from planner.java.wording import time as java_time
from planner.model.routine import Routine, SettingValue
from planner.model.units import Amount, Shares, Unit

OWN_CONSTANTS = ("LIMIT", "READINGS")


@dataclass(frozen=True, slots=True)
class Constant:
    """A setting in one unit."""

    java_type: str
    name: str
    value: str
    comment: str


def setting_constants(routine: Routine) -> dict[tuple[str, str], str]:
    """The constants of settings, by setting and unit.

    Every unit that a setting could be wanted in has its name from the start, so that the names do
    not depend on the order in which the plan uses them.
    """
    wanted = {
        (name, unit): f"{name}_{unit}"
        for name, setting in routine.settings.items()
        for unit in wanted_in(setting.amount)
    }
    return distinct(wanted, constant_name, "SETTING", OWN_CONSTANTS)


class Settings:
    """Names a setting wherever the plan did, and remembers which constants that takes."""

    def __init__(self, routine: Routine, choices: ChoiceWriter) -> None:
        self.routine = routine
        self.choices = choices
        self.names = setting_constants(routine)
        self.used: dict[tuple[str, str], Constant] = {}

    def amount(self, amount: Amount, unit: Unit) -> str:
        """A number in `unit`, by its setting's name where the plan used one."""
        if amount.chosen:
            return self.choices.amount(amount, unit)
        setting = self.routine.settings.get(amount.setting)
        # A number of a task may have the name of a setting, and hides it.
        if setting is None or amount not in (setting.amount, setting.amount.negated()):
            return double(amount.in_unit(unit))
        value = double(setting.amount.in_unit(unit))
        name = self._constant(setting, unit_words(unit), "double", value)
        return f"-{name}" if amount.setting_negated else name

    def time(self, microseconds: int, setting: str = "", chosen: Shares = ()) -> str:
        """A time in nanoseconds, by its setting's name where the plan used one."""
        if chosen:
            return self.choices.time(microseconds, chosen)
        value, named = java_time(microseconds), self.routine.settings.get(setting)
        if named is None or named.amount.base != microseconds:
            return value
        return self._constant(named, TIME, "long", value)

    def constants(self) -> tuple[Constant, ...]:
        """The constants that were used, in the order of the routine's settings."""
        return tuple(self.used[key] for key in self.names if key in self.used)

    def _constant(self, setting: SettingValue, unit: str, java_type: str, value: str) -> str:
        key = (setting.name, unit)
        line = comment(f"setting {setting.name} = {setting.amount}")
        self.used[key] = Constant(java_type, self.names[key], value, line)
        return self.names[key]
