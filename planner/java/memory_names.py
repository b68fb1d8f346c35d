"""The names of what a plan class remembers and counts for the plan."""

from __future__ import annotations

from collections.abc import Iterator

from planner.graph.owners import owners, remembered_in
from planner.java.chosen_names import wanted_in
from planner.java.plan_parts import Key
from planner.java.robot_names import unit_words
from planner.model.memory import NumberMemory, WordMemory
from planner.model.robot import Sensor
from planner.model.routine import Routine


def memory_methods(routine: Routine) -> Iterator[tuple[Key, str]]:
    """Keys and wished names of the methods."""
    for owner in owners(routine):
        if owner.remembers:
            kind = "group" if owner.is_group else "step"
            yield ("remember", kind, owner.name), f"remember_{owner.name}"
    for table in routine.tables.values():
        for unit in wanted_in(table.rows[table.memory.first]):
            yield ("row", table.name, unit), f"{table.name}_{unit}"
    for memory, sensor in _seen(routine):
        yield ("seen", memory, sensor), f"{memory}_by_{sensor}"


def memory_fields(routine: Routine) -> Iterator[tuple[Key, str]]:
    """Keys and wished names of the fields."""
    for memory in routine.memories.values():
        unit = f"_{unit_words(memory.unit)}" if isinstance(memory, NumberMemory) else ""
        yield ("remembered", memory.name), f"{memory.name}{unit}"
    for owner in owners(routine):
        for rule in owner.rules:
            told = (rule.given.mechanism.name, rule.given.command.name)
            for parameter in rule.given.command.parameters:
                words = "_".join((*told, parameter.name, unit_words(parameter.unit)))
                yield ("due number", *told, parameter.name), f"{words}_due"


def _seen(routine: Routine) -> Iterator[tuple[str, str]]:
    """The memories that take in an answer, and the sensors that give it."""
    for memory in routine.memories.values():
        if isinstance(memory, WordMemory) and memory.seen_by:
            yield memory.name, memory.seen_by.name
    for remember, _ in remembered_in(routine):
        if isinstance(remember.value, Sensor):
            yield remember.memory.name, remember.value.name
