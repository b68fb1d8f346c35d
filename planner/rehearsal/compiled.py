"""A plan made ready for the reference machine: what is asked in each step, looked up once."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count

from planner.graph import Plan
from planner.graph.unfold import Exit
from planner.model.routine import MatchExit, Rule, StepExit, WhenExit
from planner.rehearsal.conditions import Question, question
from planner.rehearsal.truth import FALSE


@dataclass(frozen=True, slots=True)
class Way:
    """An exit as written, asked once a pass, and the one or two places it leads to (M9)."""

    owner: str
    """The step or group whose clock and memory it goes by; empty for the routine."""
    written: StepExit | MatchExit
    ask: Question
    exits: tuple[Exit, ...]


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


def _counters(plan: Plan, group: str) -> Iterator[str]:
    """The counters of a task's inside: their owner is the group, or something within it."""
    if not plan.routine.groups[group].task:
        return
    for step, exits in plan.exits.items():
        around = [outer.name for outer in plan.routine.groups_around(step)]
        inside = {step, *around[around.index(group) :]} if group in around else set()
        yield from (exit_.counter for exit_ in exits if exit_.counted_by in inside)
