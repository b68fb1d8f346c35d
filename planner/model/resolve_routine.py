"""From the tree of a routine to the routine, names resolved."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from planner.findings import Slip
from planner.model.choices import Chosen, RangeChoice, Variant
from planner.model.declared import inner_lines
from planner.model.ledger import Ledger, broken_words, declare, perhaps_there, room_for_match_exit
from planner.model.memory import Counter, Memory, NumberMemory, Table, WordMemory
from planner.model.requirement import Requirement
from planner.model.resolve_choices import choices_of, table_amount, table_rows
from planner.model.resolve_commands import CommandResolver
from planner.model.resolve_condition import ConditionResolver
from planner.model.resolve_memory import Declaring, memory_of
from planner.model.resolve_requirement import RequirementResolver
from planner.model.resolve_scenario import ScenarioResolver
from planner.model.resolve_steps import StepResolver
from planner.model.robot import Robot
from planner.model.routine import Group, MatchExit, Named, Routine, Rule, SettingValue, Step
from planner.model.scenario import Scenario
from planner.model.scopes import words_in
from planner.model.shared_tasks import SharedFiles, shared_tasks
from planner.model.units import Amount, Dimension
from planner.model.values import plain_amount, time_us
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


def resolve_routine(
    parsed: Parsed,
    robot: Robot,
    variant: Variant | None = None,
    files: SharedFiles | None = None,
) -> tuple[Routine, tuple[Slip, ...]]:
    """The routine that a tree describes, as far as it makes sense, and the slips.

    With a variant it is the routine for what was chosen, without the exits that are ruled out;
    without one it holds them all. The parser's own slips are not repeated. Exits to steps that do
    not exist are left out. `files` are the files of tasks that it names; what makes no sense in
    them is not told here, see `resolve_tasks`.
    """
    return _RoutineResolver(parsed.file, robot, variant, files or {}).resolve()


class _RoutineResolver:
    def __init__(
        self, file: n.File, robot: Robot, variant: Variant | None, files: SharedFiles
    ) -> None:
        self.file = file
        self.robot = robot
        self.own_broken_words = broken_words(file.lines)
        self.ledger = Ledger(self.own_broken_words | robot.broken_words)
        self.settings: dict[str, SettingValue] = {}
        self.memories: dict[str, Memory] = {}
        self.tables: dict[str, Table] = {}
        self.names: dict[str, Named] = {}
        """All of these together, which stand where a number can stand."""
        self.shared = shared_tasks(self.ledger, file.lines, files)
        self.chosen = Chosen(choices_of(self.ledger, file.lines), variant)
        self.conditions = ConditionResolver(self.ledger, robot, self.names, self.chosen)
        self.commands = CommandResolver(self.ledger, robot, self.names, self.chosen)

    def resolve(self) -> tuple[Routine, tuple[Slip, ...]]:
        self._settings()
        self.resolver = StepResolver(
            self.ledger, self.robot, self.names, self.file.lines, self.chosen, self.shared
        )
        head = self._the(n.RoutineHead, "routine", "routine first_lamp")
        self._the(n.RobotUse, "robot", "robot moth")
        for line in self._lines(n.TasksHead):
            assert isinstance(line.statement, n.TasksHead)
            name = line.statement.name
            self.ledger.add("tasks-without-from", line.place, name.text)
        limit_us = self._limit()
        start = self._start()
        match_exits = tuple(sorted(self._match_exits(), key=lambda exit_: exit_.at_us))
        broken = next(self._lines(n.Broken), None)
        if next(self._lines(n.FinishHead), None) is None and broken is None:
            self._missing("finish", 'finish Parked "parked and still"')
        rules = tuple(self._rules())
        self.resolver.resolve()
        requirements = tuple(self._requirements())
        lost = tuple(self._lost(match_exits))
        place = head.place if head else self._top()
        statement = head.statement if head else None
        routine = Routine(
            statement.name.text if isinstance(statement, n.RoutineHead) else "",
            statement.title if isinstance(statement, n.RoutineHead) else "",
            self.robot,
            limit_us,
            self._settings_with_use(),
            match_exits,
            start,
            self.resolver.steps,
            statement.name.place if isinstance(statement, n.RoutineHead) else place,
            incomplete=any(isinstance(part.statement, n.Broken | n.MatchExit) for part in lost),
            perhaps=self._perhaps(lost),
            scenarios=self._scenarios(),
            groups=self.resolver.groups,
            rules=rules,
            choices=self.chosen.choices,
            requirements=requirements,
            memories=self.memories,
            tables=self._tables_with_use(),
        )
        self._never_used()
        # Those in files of tasks are told once, with the file, and not by each of its routines.
        own = (slip for slip in self.ledger.slips if slip.place.source is self.file.source)
        return routine, tuple(own)

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
        if word not in self.own_broken_words and not perhaps_there(self.file.lines, word):
            self.ledger.add("missing-line", self._top(), word, example=example)

    def _settings(self) -> None:
        taken = {choice.name: choice.place for choice in self.chosen.choices.values()}
        for choice in self.chosen.choices.values():
            if isinstance(choice, RangeChoice):
                number = self.chosen.value(choice.name)
                assert isinstance(number, Amount), "a range gives a number"
                number = replace(number, chosen=((choice.name, Fraction(1)),))
                self.settings[choice.name] = SettingValue(choice.name, number, choice.place)
        # A setting may go by a memory that is declared below it.
        for line in self.file.lines:
            if isinstance(line.statement, Declaring) and self._is_free(line.statement, taken):
                memory = memory_of(self.ledger, self.robot, line.statement)
                if memory is None:
                    # Its uses are no second slip.
                    self.ledger.broken_words |= {line.statement.name.text}
                else:
                    self.memories[memory.name] = memory
        for line in self.file.lines:
            head = line.statement
            if isinstance(head, n.Setting | n.SettingTable) and self._is_free(head, taken):
                self._setting(line, head)
        self.names.update({**self.settings, **self.memories, **self.tables})

    def _is_free(
        self, head: n.Setting | n.SettingTable | Declaring, taken: dict[str, Place]
    ) -> bool:
        """Whether a name is still free, which it is no longer after that."""
        what = "counter" if isinstance(head, n.CounterLine) else "memory"
        what = "setting" if isinstance(head, n.Setting | n.SettingTable) else what
        free = declare(self.ledger, head.name, taken, what)
        if free:
            taken[head.name.text] = head.name.place
        return free

    def _setting(self, line: n.Line, head: n.Setting | n.SettingTable) -> None:
        name = head.name
        if isinstance(head, n.SettingTable):
            memory = self.memories.get(head.choice.text)
            if isinstance(memory, NumberMemory | Counter):
                self.ledger.used.add(memory.name)
                self.ledger.broken_words |= {name.text}
                place, kind = head.choice.place, "table-by-number"
                self.ledger.add("wrong-memory", place, memory.name, kind=kind)
                return
            if isinstance(memory, WordMemory):
                rows = table_rows(self.ledger, line, head, memory.words)
                if set(rows) == set(memory.words):
                    self.tables[name.text] = Table(name.text, memory, rows, name.place)
                else:
                    self.ledger.broken_words |= {name.text}
                return
        setting = self._by_choice(line, head) if isinstance(head, n.SettingTable) else None
        if isinstance(head, n.Setting):
            amount = plain_amount(self.ledger, head.value, None, f"`{name.text}`")
            setting = SettingValue(name.text, amount, name.place) if amount else None
        if setting is None:
            self.ledger.broken_words |= {name.text}
        else:
            self.settings[name.text] = setting

    def _by_choice(self, line: n.Line, head: n.SettingTable) -> SettingValue | None:
        """A setting whose value goes by a choice; None and a slip where it makes no sense."""
        name = head.name
        amount, rows = table_amount(self.ledger, line, head, self.chosen)
        if amount is None:
            return None
        amount = replace(amount, chosen=((name.text, Fraction(1)),))
        return SettingValue(name.text, amount, name.place, choice=head.choice.text, rows=rows)

    def _never_used(self) -> None:
        """Writes down the memories and counters that nothing asks, or that nothing changes.

        Both only where every line makes sense: one that does not may be the one that does it.
        """
        parts: list[Step | Group] = [*self.resolver.steps.values(), *self.resolver.groups.values()]
        if self.own_broken_words or any(part.incomplete for part in parts):
            return
        for memory in self.memories.values():
            counts = "yes" if isinstance(memory, Counter) else ""
            camera = memory.seen_by if isinstance(memory, WordMemory) else None
            name = memory.name
            if name not in self.ledger.used:
                self.ledger.add("unused-memory", memory.place, name, counter=counts)
            elif name not in self.ledger.remembered and camera is None:
                self.ledger.add("never-remembered", memory.place, name, counter=counts)

    def _settings_with_use(self) -> dict[str, SettingValue]:
        """The settings, each with whether anything uses it, a line that was not read perhaps."""
        used = self.ledger.used | self.own_broken_words
        if any(step.incomplete for step in self.resolver.steps.values()):
            # What could not be made sense of may use whatever it names.
            kinds = n.Setting | n.SettingTable | n.ChoiceLine | n.RangeChoiceLine
            used |= words_in(ln for ln in self.file.lines if not isinstance(ln.statement, kinds))
        of_files = {s.name: s for s in self.shared.settings if s.name in self.ledger.used}
        own = {name: replace(s, used=name in used) for name, s in self.settings.items()}
        return own | of_files

    def _tables_with_use(self) -> dict[str, Table]:
        return {
            name: replace(table, used=name in self.ledger.used | self.own_broken_words)
            for name, table in self.tables.items()
        }

    def _limit(self) -> int:
        line = self._the(n.Limit, "limit", "limit 30 s")
        if line is None:
            return AUTONOMOUS_US
        assert isinstance(line.statement, n.Limit)
        value = line.statement.value
        amount = plain_amount(self.ledger, value, Dimension.TIME, "the limit")
        return time_us(self.ledger, amount, value.place, least=1) or AUTONOMOUS_US

    def _start(self) -> str:
        strays = self._starts_in_groups()
        own = next(self._lines(n.Start), None)
        for stray in strays:
            word = stray.place.words.split()[-1]
            other = own.place if own else None
            self.ledger.add("start-in-block", stray.place, word, (), other, what="group")
        line = self._the(n.Start, "start", "start Approach") if own or not strays else strays[0]
        if line is None:
            return ""
        assert isinstance(line.statement, n.Start)
        return self.resolver.target(line.statement.name)

    def _starts_in_groups(self) -> list[n.Line]:
        lines = inner_lines(self.file.lines)
        return [line for line in lines if isinstance(line.statement, n.Start)]

    def _match_exits(self) -> Iterator[MatchExit]:
        for number, line in enumerate(self._lines(n.MatchExit), start=1):
            assert isinstance(line.statement, n.MatchExit)
            time = self.commands.time(line.statement.value, "the match clock")
            target = self.resolver.target(line.statement.target)
            if time and target and room_for_match_exit(self.ledger, number, line.place):
                yield MatchExit(time.us, target, line.place, time.setting, chosen=time.chosen)

    def _rules(self) -> Iterator[Rule]:
        for line in self._lines(n.Whenever):
            assert isinstance(line.statement, n.Whenever)
            rule = self.resolver.rule(self.conditions, self.commands, line.statement, line.place)
            if rule:
                yield rule

    def _requirements(self) -> Iterator[Requirement]:
        resolver = RequirementResolver(
            self.ledger, self.commands, self.resolver.steps, self.resolver.groups
        )
        return resolver.resolve_all(self.file.lines)

    def _perhaps(self, lost: tuple[n.Line, ...]) -> frozenset[str]:
        if self.resolver.leads_anywhere:
            return frozenset(self.resolver.steps)
        return self.resolver.steps_named_in(lost)

    def _lost(self, match_exits: tuple[MatchExit, ...]) -> Iterator[n.Line]:
        """The lines that are not in the routine, or not whole; what they led to is not known."""
        whole = len(match_exits) == sum(1 for _ in self._lines(n.MatchExit))
        for line in self.file.lines:
            head = line.statement
            if line.salvaged or (isinstance(head, n.MatchExit) and not whole):
                yield line
            elif isinstance(head, n.StepHead | n.FinishHead) and (
                self.resolver.scope.heads.get(head.name.text) is not line
            ):
                yield from (line, *line.under)

    def _scenarios(self) -> tuple[Scenario, ...]:
        steps = {
            part: step.is_finish
            for step in self.resolver.steps.values()
            for part in step.path
            if not step.ends_lane
        }
        resolver = ScenarioResolver(self.ledger, self.robot, self.conditions, steps)
        return tuple(resolver.resolve_all(self.file.lines))
