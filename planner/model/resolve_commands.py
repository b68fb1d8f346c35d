"""From a written command to one with its names and numbers resolved."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from planner.model.choices import Chosen
from planner.model.ledger import Ledger
from planner.model.memory import Computed, Number
from planner.model.numbers import NumberResolver, Time
from planner.model.robot import Command, Mechanism, Parameter, Robot
from planner.model.routine import Given, Named
from planner.model.units import Amount, Dimension
from planner.text import Place
from planner.tree import nodes as n


class CommandResolver:
    """Resolves commands against one robot, and the numbers they are given."""

    def __init__(
        self,
        ledger: Ledger,
        robot: Robot,
        names: Mapping[str, Named],
        chosen: Chosen,
    ) -> None:
        self.ledger = ledger
        self.robot = robot
        self.names = names
        self.chosen = chosen
        self._numbers = NumberResolver(ledger, robot, names, chosen.mirrored)

    def given(self, written: n.Given | n.Whenever, place: Place) -> Given | None:
        """The command a line gives; None and a slip where it makes no sense."""
        found = self.command(written.mechanism, written.command)
        if found is None:
            return None
        mechanism, command = found
        last = written.arguments[-1].place if written.arguments else written.command.place
        place_told = written.mechanism.place.through(last)
        arguments = self._given(written.arguments, mechanism, command, place_told)
        if arguments is None:
            return None
        keep = isinstance(written, n.Given) and written.keep
        return Given(mechanism, command, arguments, keep, place)

    def command(self, owner: n.Name, name: n.Name) -> tuple[Mechanism, Command] | None:
        """A mechanism and one of its commands; None and a slip where there is no such thing."""
        mechanism = self.robot.mechanisms.get(owner.text)
        if mechanism is None:
            self._unknown_mechanism(owner)
            return None
        command = mechanism.commands.get(name.text)
        if command is None:
            known = mechanism.commands
            self.ledger.unknown("unknown-command", name, known, mechanism=mechanism.name)
            return None
        return mechanism, command

    def numbers(
        self, values: tuple[n.Value, ...], owner: Mechanism, command: Command, place: Place
    ) -> tuple[Amount, ...] | None:
        """The numbers of a command that is spoken of, all known before the start.

        None and a slip where they cannot be told; `place` as for `bound`.
        """
        numbers = self._given(values, owner, command, place)
        fixed = tuple(number for number in numbers or () if isinstance(number, Amount))
        if numbers is None or len(fixed) == len(numbers):
            return numbers if numbers is None else fixed
        for value, number in zip(values, numbers, strict=True):
            if isinstance(number, Computed):
                self._numbers.must_be_fixed(number, value.place)
        return None

    def _given(
        self, values: tuple[n.Value, ...], owner: Mechanism, command: Command, place: Place
    ) -> tuple[Number, ...] | None:
        """The numbers that a command is given."""
        if command.salvaged:
            self.ledger.troubled = True
            return None
        return self.bound(values, command.parameters, f"{owner.name} {command.name}", place)

    def called(
        self, call: n.Call, task: str, wanted: tuple[Parameter, ...], whole: bool
    ) -> tuple[Number, ...]:
        """The numbers that a task is given, 0 for those that cannot be told.

        `whole` is false where the task's own line could not be read, so that nobody knows what it
        takes. Either way it is no second slip in the task's steps.
        """
        last = call.arguments[-1].place if call.arguments else call.task.place
        place = call.task.place.through(last)
        bound = self.bound(call.arguments, wanted, task, place) if whole else None
        return bound or tuple(Amount.zero(parameter.unit) for parameter in wanted)

    def bound(
        self,
        values: tuple[n.Value, ...],
        parameters: Iterable[Parameter],
        told: str,
        place: Place,
    ) -> tuple[Number, ...] | None:
        """The numbers for some parameters, in their order; None where they cannot be told.

        `told` is what they are given to, such as ``arm to``, and `place` covers it and them.
        """
        wanted = tuple(parameters)
        if len(values) != len(wanted):
            self.ledger.add(
                "wrong-arguments",
                place,
                place.words,
                known=[f"{parameter.name} {parameter.unit.name}" for parameter in wanted],
                command=told,
                given=str(len(values)),
            )
            return None
        amounts = []
        for value, parameter in zip(values, wanted, strict=True):
            whose = f"`{parameter.name}` of `{told}`"
            amount = self.amount(value, parameter.unit.dimension, whose)
            turned = amount is not None and parameter.mirrors and self.chosen.mirrored
            amounts.append(amount.negated() if amount and turned else amount)
        whole = tuple(amount for amount in amounts if amount is not None)
        return whole if len(whole) == len(amounts) else None

    def amount(self, value: n.Value, dimension: Dimension, whose: str) -> Number | None:
        """The number a value stands for; None and a slip where it does not fit."""
        return self._numbers.number(value, dimension, whose)

    def time(self, value: n.Value, whose: str) -> Time | None:
        """A time and where it came from; None and a slip where it is none."""
        return self._numbers.time(value, whose)

    def _unknown_mechanism(self, name: n.Name) -> None:
        self.ledger.troubled = True
        if self.robot.missing:
            return
        outputs = "yes" if name.text in self.robot.outputs else ""
        self.ledger.unknown("unknown-mechanism", name, self.robot.mechanisms, output=outputs)
