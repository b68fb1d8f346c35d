"""Commands of a plan as calls of its parts."""

from __future__ import annotations

from planner.java.choices_code import ChoiceWriter
from planner.java.memory_code import MemoryWriter
from planner.java.plan_names import PlanNames
from planner.java.plan_parts import Parts, command_key
from planner.model.memory import Computed, Number
from planner.model.robot import Parameter
from planner.model.routine import Given


class Commands:
    """Writes the calls that send commands, with their numbers."""

    def __init__(
        self,
        parts: Parts,
        own: PlanNames,
        memories: MemoryWriter,
        choices: ChoiceWriter,
        tells: str,
    ) -> None:
        self.tells = tells
        """What commands are given to."""
        self.parts = parts
        self.own = own
        self.memories = memories
        self.choices = choices

    def call(self, given: Given) -> str:
        """The statement that sends a command."""
        told = self.parts.told.get(command_key(given.mechanism, given.command))
        method = (told or self.parts.stops[given.mechanism.name]).method
        return f"{self.tells}.{method}({', '.join(self._arguments(given))});"

    def _arguments(self, given: Given) -> list[str]:
        parameters = given.command.parameters
        return [self._argument(*one) for one in zip(given.arguments, parameters, strict=True)]

    def _argument(self, amount: Number, parameter: Parameter) -> str:
        number = self.memories.number(amount, parameter.unit)
        return self.choices.mirrored(number) if parameter.mirrors else number

    def due_numbers(self, given: Given) -> tuple[tuple[str, str], ...]:
        """The fields that keep a side rule's numbers until the end of the pass, and the numbers.

        A number is what it is when the command is given (M13), and an exit may remember another
        one before the command is sent. None where all of them are known before the start.
        """
        if not any(isinstance(number, Computed) for number in given.arguments):
            return ()
        told = (given.mechanism.name, given.command.name)
        fields = [self.own.due_number(*told, one.name) for one in given.command.parameters]
        return tuple(zip(fields, self._arguments(given), strict=True))

    def due_call(self, given: Given) -> str:
        """The statement that sends what a side rule has told."""
        numbers = self.due_numbers(given)
        if not numbers:
            return self.call(given)
        method = self.parts.told[command_key(given.mechanism, given.command)].method
        return f"parts.{method}({', '.join(field for field, _ in numbers)});"
