"""From the tree of a routine to the routine, names resolved."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from planner.findings import Slip
from planner.model.ledger import Ledger, broken_words, declare
from planner.model.resolve_condition import ConditionResolver
from planner.model.resolve_scenario import ScenarioResolver
from planner.model.robot import Command, Mechanism, Robot
from planner.model.routine import (
    AfterExit,
    Count,
    Given,
    MatchExit,
    Routine,
    SettingValue,
    Step,
    WhenExit,
)
from planner.model.scenario import Scenario
from planner.model.units import Amount, Dimension
from planner.model.values import amount_of, plain_amount, time_us
from planner.text import Place
from planner.tree import Parsed
from planner.tree import nodes as n

AUTONOMOUS_US = 30_000_000
"""The limit assumed where a routine states none, so that the other checks can go on."""

_WORD = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")


def robot_named(parsed: Parsed) -> n.Name | None:
    """The name of the robot a routine is written for; None where no line says."""
    for line in parsed.file.lines:
        if isinstance(line.statement, n.RobotUse):
            return line.statement.name
    return None


def resolve_routine(parsed: Parsed, robot: Robot) -> tuple[Routine, tuple[Slip, ...]]:
    """The routine that a tree describes, as far as it makes sense, and the slips.

    The parser's own slips are not repeated. Exits to steps that do not exist are left out.
    """
    return _RoutineResolver(parsed.file, robot).resolve()


def _words_that_use(file: n.File) -> Iterator[str]:
    """Every word of the lines that can use a setting."""
    for line in file.lines:
        if not isinstance(line.statement, n.Setting):
            for used in (line, *line.under):
                yield from _WORD.findall(used.place.words)


class _RoutineResolver:
    def __init__(self, file: n.File, robot: Robot) -> None:
        self.file = file
        self.robot = robot
        self.own_broken_words = broken_words(file.lines)
        self.ledger = Ledger(self.own_broken_words | robot.broken_words)
        self.settings: dict[str, SettingValue] = {}
        self.heads: dict[str, n.Line] = {}
        self.names: tuple[str, ...] = ()
        self.leads_anywhere = False
        self.conditions = ConditionResolver(self.ledger, robot, self.settings)
        self.words_used = frozenset(_words_that_use(file))

    def resolve(self) -> tuple[Routine, tuple[Slip, ...]]:
        self._settings()
        self._step_names()
        head = self._the(n.RoutineHead, "routine", "routine first_lamp")
        self._the(n.RobotUse, "robot", "robot moth")
        limit_us = self._limit()
        start = self._start()
        match_exits = tuple(sorted(self._match_exits(), key=lambda exit_: exit_.at_us))
        if not any(isinstance(line.statement, n.FinishHead) for line in self.heads.values()):
            self._missing("finish", 'finish Parked "parked and still"')
        steps = {name: self._step(line) for name, line in self.heads.items()}
        lost = tuple(self._lost(match_exits))
        place = head.place if head else self._top()
        statement = head.statement if head else None
        routine = Routine(
            statement.name.text if isinstance(statement, n.RoutineHead) else "",
            statement.title if isinstance(statement, n.RoutineHead) else "",
            self.robot,
            limit_us,
            self.settings,
            match_exits,
            start,
            steps,
            statement.name.place if isinstance(statement, n.RoutineHead) else place,
            incomplete=any(isinstance(part.statement, n.Broken | n.MatchExit) for part in lost),
            perhaps=frozenset(self.heads) if self.leads_anywhere else self._steps_named_in(lost),
            scenarios=self._scenarios(),
        )
        return routine, tuple(self.ledger.slips)

    # The lines above the steps.

    def _top(self) -> Place:
        return Place(self.file.source, 1, 1, 2)

    def _lines(self, kind: type[n.Statement]) -> Iterator[n.Line]:
        return (line for line in self.file.lines if isinstance(line.statement, kind))

    def _the(self, kind: type[n.Statement], word: str, example: str) -> n.Line | None:
        """The one line of its kind; none or several are slips."""
        lines = list(self._lines(kind))
        for line in lines[1:]:
            self.ledger.add("line-twice", line.place, word, other=lines[0].place)
        if not lines:
            self._missing(word, example)
        return lines[0] if lines else None

    def _missing(self, word: str, example: str) -> None:
        if word not in self.own_broken_words:
            self.ledger.add("missing-line", self._top(), word, example=example)

    def _settings(self) -> None:
        taken: dict[str, Place] = {}
        for line in self._lines(n.Setting):
            assert isinstance(line.statement, n.Setting)
            name, value = line.statement.name, line.statement.value
            if not declare(self.ledger, name, taken, "setting"):
                continue
            taken[name.text] = name.place
            amount = plain_amount(self.ledger, value, None, f"`{name.text}`")
            if amount is None:
                # Its uses are no second slip.
                self.ledger.broken_words |= {name.text}
            else:
                used = name.text in self.words_used
                self.settings[name.text] = SettingValue(name.text, amount, name.place, used)

    def _step_names(self) -> None:
        taken: dict[str, Place] = {}
        for line in self.file.lines:
            if not isinstance(line.statement, n.StepHead | n.FinishHead):
                continue
            name = line.statement.name
            if declare(self.ledger, name, taken, "step"):
                taken[name.text] = name.place
                self.heads[name.text] = line
        # Made once: a tuple of 10,000 names for each of 10,000 slips would fill the memory.
        self.names = tuple(self.heads)

    def _limit(self) -> int:
        line = self._the(n.Limit, "limit", "limit 30 s")
        if line is None:
            return AUTONOMOUS_US
        assert isinstance(line.statement, n.Limit)
        value = line.statement.value
        amount = plain_amount(self.ledger, value, Dimension.TIME, "the limit")
        return time_us(self.ledger, amount, value.place, least=1) or AUTONOMOUS_US

    def _start(self) -> str:
        line = self._the(n.Start, "start", "start Approach")
        if line is None:
            return ""
        assert isinstance(line.statement, n.Start)
        return self._target(line.statement.name)

    def _match_exits(self) -> Iterator[MatchExit]:
        for line in self._lines(n.MatchExit):
            assert isinstance(line.statement, n.MatchExit)
            value = line.statement.value
            amount = self._amount(value, Dimension.TIME, "the match clock")
            at_us = time_us(self.ledger, amount, value.place)
            target = self._target(line.statement.target)
            if at_us is not None and target:
                setting = amount.setting if amount else ""
                yield MatchExit(at_us, target, line.place, setting)

    def _lost(self, match_exits: tuple[MatchExit, ...]) -> Iterator[n.Line]:
        """The lines that are not in the routine, or not whole; what they led to is not known."""
        whole = len(match_exits) == sum(1 for _ in self._lines(n.MatchExit))
        for line in self.file.lines:
            head = line.statement
            if line.salvaged or (isinstance(head, n.MatchExit) and not whole):
                yield line
            elif isinstance(head, n.StepHead | n.FinishHead) and (
                self.heads[head.name.text] is not line
            ):
                yield from (line, *line.under)

    def _steps_named_in(self, lines: Iterable[n.Line]) -> frozenset[str]:
        words: set[str] = set()
        waiting = list(lines)
        while waiting:
            line = waiting.pop()
            words.update(_WORD.findall(line.place.words))
            if isinstance(line.statement, n.Broken):
                waiting.extend(line.under)
        return frozenset(word for word in words if word in self.heads)

    def _scenarios(self) -> tuple[Scenario, ...]:
        steps = {
            name: isinstance(line.statement, n.FinishHead) for name, line in self.heads.items()
        }
        resolver = ScenarioResolver(self.ledger, self.robot, self.conditions, steps)
        return tuple(resolver.resolve_all(self.file.lines))

    # The steps.

    def _step(self, line: n.Line) -> Step:
        head = line.statement
        assert isinstance(head, n.StepHead | n.FinishHead)
        with self.ledger.inside(head.name.text):
            commands, whens, afters = self._inside(line)
            troubled = self.ledger.troubled
        broken = [part for part in (line, *line.under) if part.salvaged]
        self.leads_anywhere |= any(self._is_exit_to_nowhere(part) for part in broken)
        if troubled:
            broken += [
                part
                for part in line.under
                if isinstance(part.statement, n.When | n.After | n.Given)
            ]
        return Step(
            head.name.text,
            head.title,
            isinstance(head, n.FinishHead),
            tuple(commands),
            tuple(whens),
            tuple(afters),
            head.name.place,
            incomplete=troubled or bool(broken),
            perhaps=self._steps_named_in(broken) - {head.name.text},
        )

    def _is_exit_to_nowhere(self, line: n.Line) -> bool:
        """Whether a line is an exit that could not be read and names no step, so may mean any."""
        exit_ = line.place.words.startswith(("when", "after")) and not line.under
        return exit_ and not self._steps_named_in([line])

    def _inside(self, line: n.Line) -> tuple[list[Given], list[WhenExit], list[AfterExit]]:
        commands: list[Given] = []
        whens: list[WhenExit] = []
        afters: list[AfterExit] = []
        for under in line.under:
            match under.statement:
                case n.Given() as given:
                    commands.extend(self._given(given, under.place))
                case n.When(condition, target):
                    resolved = self.conditions.resolve(condition)
                    step, count = self._counted(target)
                    if step:
                        whens.append(WhenExit(resolved, step, count, under.place))
                case n.After(value, target):
                    afters.extend(self._after(value, target, under.place))
                case _:
                    pass
        return commands, whens, afters

    def _after(self, value: n.Value, target: n.Target, place: Place) -> Iterator[AfterExit]:
        amount = self._amount(value, Dimension.TIME, "a time limit")
        limit_us = time_us(self.ledger, amount, value.place)
        step, count = self._counted(target)
        if step and limit_us is not None:
            yield AfterExit(limit_us, step, count, place, amount.setting if amount else "")

    def _target(self, name: n.Name) -> str:
        if name.text in self.heads:
            return name.text
        self.ledger.unknown("unknown-step", name, self.names)
        return ""

    def _counted(self, target: n.Target) -> tuple[str, Count | None]:
        step = self._target(target.step)
        if target.count is None:
            return step, None
        then = self._target(target.count.then)
        most = target.count.most
        if not most.text.isdigit() or int(most.text) == 0:
            self.ledger.add("wrong-count", most.place, most.text)
            return step, None
        return step, Count(int(most.text), then) if then else None

    # Commands.

    def _given(self, given: n.Given, place: Place) -> Iterator[Given]:
        mechanism = self.robot.mechanisms.get(given.mechanism.text)
        if mechanism is None:
            self._unknown_mechanism(given.mechanism)
            return
        command = mechanism.commands.get(given.command.text)
        if command is None:
            self.ledger.unknown(
                "unknown-command", given.command, mechanism.commands, mechanism=mechanism.name
            )
            return
        arguments = self._arguments(given, mechanism, command)
        if arguments is not None:
            yield Given(mechanism, command, arguments, given.keep, place)

    def _arguments(
        self, given: n.Given, mechanism: Mechanism, command: Command
    ) -> tuple[Amount, ...] | None:
        """The arguments in the order of the parameters; None where they cannot be told."""
        if command.salvaged:
            self.ledger.troubled = True
            return None
        if len(given.arguments) != len(command.parameters):
            place = given.mechanism.place.through(
                given.arguments[-1].place if given.arguments else given.command.place
            )
            self.ledger.add(
                "wrong-arguments",
                place,
                place.words,
                known=[f"{p.name} {p.unit.name}" for p in command.parameters],
                command=f"{mechanism.name} {command.name}",
                given=str(len(given.arguments)),
            )
            return None
        amounts = []
        for value, parameter in zip(given.arguments, command.parameters, strict=True):
            whose = f"`{parameter.name}` of `{mechanism.name} {command.name}`"
            amounts.append(self._amount(value, parameter.unit.dimension, whose))
        whole = tuple(amount for amount in amounts if amount is not None)
        return whole if len(whole) == len(amounts) else None

    def _amount(self, value: n.Value, dimension: Dimension, whose: str) -> Amount | None:
        return amount_of(self.ledger, value, dimension, whose, self.settings)

    def _unknown_mechanism(self, name: n.Name) -> None:
        self.ledger.troubled = True
        if self.robot.missing:
            return
        outputs = "yes" if name.text in self.robot.outputs else ""
        known = self.robot.mechanisms
        self.ledger.unknown("unknown-mechanism", name, known, output=outputs)
