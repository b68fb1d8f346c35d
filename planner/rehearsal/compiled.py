"""A plan made ready for the reference machine: what is asked in each step, looked up once."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from itertools import count
from typing import TypeAlias

from planner.graph import Plan
from planner.graph.unfold import Exit
from planner.model.memory import (
    Computed,
    Counter,
    Memory,
    NumberMemory,
    Remember,
    WordMemory,
)
from planner.model.robot import Sensor
from planner.model.routine import Group, MatchExit, Routine, Rule, Step, StepExit, WhenExit
from planner.model.units import Amount
from planner.rehearsal.conditions import Look, Number, Question, question, reckoner
from planner.rehearsal.truth import FALSE


@dataclass(frozen=True, slots=True)
class Way:
    """An exit as written, asked once a pass, and the one or two places it leads to (M9)."""

    owner: str
    """The step or group whose clock and memory it goes by; empty for the routine."""
    written: StepExit | MatchExit
    ask: Question
    exits: tuple[Exit, ...]


Noting: TypeAlias = Callable[[Look], "Number | str | None"]
"""What is remembered in a look; None where it cannot be had, so that the memory stays as it is."""


class Compiled:
    """Tables by step and group; nothing in them changes from pass to pass."""

    def __init__(self, plan: Plan) -> None:
        routine = plan.routine
        self._numbers: Iterator[int] = count()
        self._questions: dict[int, Question] = {}
        self._rule_numbers: dict[int, int] = {}
        self.ways = {step: tuple(self._ways(plan.asked_of(step))) for step in plan.exits}
        """The exits of each step, those of the groups around it included, in the order of M4. In a
        lane, without those of the block and of what is around it."""
        self.rules = {step: tuple(self._rules(plan, step)) for step in routine.steps}
        """The side rules of each step, outermost first: owner, number, question, rule. In a lane,
        without those of the block and of what is around it."""
        self.leads_here: dict[str, list[MatchExit]] = {step: [] for step in routine.steps}
        """The match-clock exits that lead to each step, the step being where they apply."""
        for match_exit in routine.match_exits:
            self.leads_here[match_exit.target].append(match_exit)
        for group in routine.groups.values():
            for match_exit in group.match_exits:
                if group in routine.groups_around(match_exit.target):
                    self.leads_here[match_exit.target].append(match_exit)
        self.lane_of = {
            step: lane.name for step in plan.outer if (lane := routine.lane_around(step))
        }
        """The lane of each step that stands in one."""
        self.counters = {group: tuple(_counters(plan, group)) for group in routine.groups}
        """The counters that each start of a task sets to 0."""
        self.begins = {memory.name: _begins(memory) for memory in routine.memories.values()}
        """What each memory and counter holds at the start (M13, M14)."""
        inner_first = sorted(routine.groups.values(), key=lambda one: -_depth(routine, one))
        owners: dict[str, Group | Step] = {
            **routine.steps,
            **{group.name: group for group in inner_first},
        }
        self.remembers = {
            name: tuple((line, _noting(line)) for line in owner.remembers)
            for name, owner in owners.items()
            if owner.remembers
        }
        """By step or group, what it remembers when it is left; inner ones before outer ones."""

    def _ways(self, exits: tuple[Exit, ...]) -> Iterator[Way]:
        for exit_ in exits:
            if exit_.overflow:
                continue
            both = tuple(other for other in exits if other.written is exit_.written)
            owner = exit_.group or ("" if isinstance(exit_.written, MatchExit) else exit_.source)
            yield Way(owner, exit_.written, self._question(exit_.written), both)

    def _question(self, written: StepExit | MatchExit) -> Question:
        """A group's exit stands in each of its steps, and is one question with one memory."""
        if not isinstance(written, WhenExit):
            return lambda _look: FALSE
        if written.number not in self._questions:
            self._questions[written.number] = question(written.condition, self._numbers)
        return self._questions[written.number]

    def _rules(self, plan: Plan, step: str) -> Iterator[tuple[str, int, Question, Rule]]:
        owners: list[tuple[str, tuple[Rule, ...]]] = [("", plan.routine.rules)]
        owners += [(group.name, group.rules) for group in plan.routine.groups_around(step)]
        owners.append((step, plan.step(step).rules))
        outer = plan.outer.get(step, frozenset())
        for owner, rules in owners:
            for rule in rules if owner not in outer else ():
                number, ask = self._rule_question(rule)
                yield owner, number, ask, rule

    def _rule_question(self, rule: Rule) -> tuple[int, Question]:
        if rule.number not in self._questions:
            self._questions[rule.number] = question(rule.condition, self._numbers)
            self._rule_numbers[rule.number] = next(self._numbers)
        return self._rule_numbers[rule.number], self._questions[rule.number]


def _depth(routine: Routine, group: Group) -> int:
    """In how many groups a group stands."""
    depth = 0
    while group.inside:
        group, depth = routine.groups[group.inside], depth + 1
    return depth


def _begins(memory: Memory) -> Number | str:
    match memory:
        case NumberMemory(first=first):
            return first.number
        case WordMemory():
            return memory.first
        case Counter(normal=normal):
            return normal


def _noting(line: Remember) -> Noting:
    memory, value = line.memory, line.value
    if isinstance(memory, NumberMemory):
        assert isinstance(value, Amount | Computed), "the resolver remembers numbers as numbers"
        return reckoner(value, memory.unit)
    if isinstance(value, str):
        word = value
        return lambda _look: word
    assert isinstance(value, Sensor), "the resolver remembers words and answers as words"
    name = value.name

    def answer(look: Look) -> str | None:
        said = look.readings.get(name)
        return said if isinstance(said, str) and said in memory.words else None

    return answer


def _counters(plan: Plan, group: str) -> Iterator[str]:
    """The counters of a task's inside: their owner is the group, or something within it."""
    if not plan.routine.groups[group].task:
        return
    for step, exits in plan.exits.items():
        around = [outer.name for outer in plan.routine.groups_around(step)]
        inside = {step, *around[around.index(group) :]} if group in around else set()
        yield from (exit_.counter for exit_ in exits if exit_.counted_by in inside)
