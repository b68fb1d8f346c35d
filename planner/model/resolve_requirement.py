"""From the lines of requirements to requirements, names and numbers resolved."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from planner.model.ledger import Ledger
from planner.model.requirement import (
    FinishedBy,
    Happening,
    Inside,
    LeadsTo,
    NeverWhile,
    OnlyAfter,
    Requirement,
    Told,
)
from planner.model.resolve_commands import CommandResolver
from planner.model.routine import Group, Step, path_of
from planner.text import Place
from planner.tree import nodes as n

_LINES = n.FinishedBy | n.NeverWhile | n.OnlyAfter | n.LeadsTo


class RequirementResolver:
    """Resolves requirements against a routine's steps and groups, all of them resolved already."""

    def __init__(
        self,
        ledger: Ledger,
        commands: CommandResolver,
        steps: Mapping[str, Step],
        groups: Mapping[str, Group],
    ) -> None:
        self.ledger = ledger
        self.commands = commands
        self.steps = steps
        self.groups = groups

    def resolve_all(self, lines: Iterable[n.Line]) -> Iterator[Requirement]:
        """The requirements among some lines; one that makes no sense is a slip."""
        for line in lines:
            if isinstance(line.statement, _LINES):
                requirement = self._requirement(line.statement, line.place)
                if requirement:
                    yield requirement

    def _requirement(
        self, written: n.FinishedBy | n.NeverWhile | n.OnlyAfter | n.LeadsTo, place: Place
    ) -> Requirement | None:
        match written:
            case n.FinishedBy(by):
                by_us = self.commands.time(by, "the match clock")
                return FinishedBy(by_us.us, place, by_us.chosen) if by_us else None
            case n.NeverWhile(one, other):
                pair = self._pair(one, other)
                return NeverWhile(*pair, place) if pair else None
            case n.OnlyAfter(later, earlier):
                pair = self._pair(later, earlier)
                return OnlyAfter(*pair, place) if pair else None
            case n.LeadsTo(cause, effect, within):
                pair = self._pair(cause, effect)
                time = self.commands.time(within, "the time within which it follows")
                return LeadsTo(*pair, time.us, place, time.chosen) if pair and time else None

    def _pair(self, one: n.Happening, other: n.Happening) -> tuple[Happening, Happening] | None:
        # Both are looked at, so that each has its slip.
        first, second = self._happening(one), self._happening(other)
        return (first, second) if first and second else None

    def _happening(self, written: n.Happening) -> Happening | None:
        if isinstance(written, n.InStep):
            return self._inside(written)
        found = self.commands.command(written.mechanism, written.command)
        if found is None:
            return None
        mechanism, command = found
        place = written.place
        if not written.arguments:
            return Told(mechanism.name, command.name, None, place)
        numbers = self.commands.numbers(written.arguments, mechanism, command, place)
        return Told(mechanism.name, command.name, numbers, place) if numbers else None

    def _inside(self, written: n.InStep) -> Inside | None:
        """Steps, groups, blocks and lanes go by their own names, wherever they stand."""
        name = written.step.text
        groups = [
            whole
            for whole, group in self.groups.items()
            if name in (group.lane, path_of(whole)[-1])
        ]
        steps = [step for step in self.steps if name == path_of(step)[-1] or self._in(step, groups)]
        if steps:
            return Inside(name, frozenset(steps), frozenset(groups), written.place)
        known = (part for whole in (*self.steps, *self.groups) for part in path_of(whole))
        # The names made up for lanes and their ends have a blank in them.
        lanes = (group.lane for group in self.groups.values() if group.lane)
        names = dict.fromkeys((*(part for part in known if " " not in part), *lanes))
        self.ledger.unknown("unknown-step", written.step, names, where="requirement")
        return None

    def _in(self, step: str, groups: list[str]) -> bool:
        around = self.steps[step].group
        while around and around not in groups:
            around = self.groups[around].inside
        return bool(around)
