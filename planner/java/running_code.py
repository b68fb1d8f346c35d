"""What is to be remembered of mechanisms that run, and where that ends (M7, M10, M12)."""

from __future__ import annotations

from collections.abc import Iterator

from planner.graph import Exit, Plan
from planner.graph.owners import Owner, groups_left, owners
from planner.java.naming import constant_name, distinct
from planner.java.plan_names import PlanNames
from planner.java.plan_parts import Parts
from planner.java.printed_plan import GroupEnd, RunCode, RunsForCode
from planner.java.wording import comment
from planner.model.routine import Given, Step

NOTHING, STEP, PLAN = "NOTHING", "STEP", "PLAN"


class Running:
    """The mechanisms of a plan that run for a step, a group or the whole plan."""

    def __init__(self, plan: Plan, parts: Parts, own: PlanNames) -> None:
        self.plan = plan
        self.routine = plan.routine
        self.parts = parts
        self.own = own
        rules = [rule for owner in owners(plan.routine) for rule in owner.rules]
        self.ruled = frozenset(rule.given.mechanism.name for rule in rules)
        """The mechanisms that side rules tell something."""
        self.by_rules = self._by_rules()
        self.kept = self._kept()
        groups = {owner: owner for owner, told in self.by_rules.items() if told}
        groups = {name: name for name in groups if name in self.routine.groups}
        self.constants = distinct(groups, constant_name, "GROUP", (NOTHING, STEP, PLAN))
        self.ended_in = {name: self._ended(step) for name, step in self.routine.steps.items()}
        self.codes = self._codes()
        """By mechanism, in the order of the robot file."""

    def runs_for(self) -> tuple[RunsForCode, ...]:
        """What something can run for; empty where nothing is to be remembered."""
        if not self.codes:
            return ()
        words = {
            NOTHING: "It does not run.",
            STEP: "Until the step is left.",
            PLAN: "Until a finish.",
        }
        fixed = [RunsForCode(constant, line) for constant, line in words.items()]
        groups = [
            RunsForCode(constant, f"Until {comment(name)} is left.")
            for name, constant in self.constants.items()
        ]
        return (*fixed, *groups)

    def of_step(self, given: Given) -> Iterator[str]:
        """What is to be noted when a step gives a command."""
        yield from self._noted(given, PLAN if given.keep else STEP)

    def of_rule(self, owner: Owner, given: Given) -> Iterator[str]:
        """What is to be noted when a side rule of a step, a group or the routine gives one."""
        fixed = STEP if owner.name else PLAN
        yield from self._noted(given, self.constants.get(owner.name, fixed))

    def ends(self, step: Step) -> Iterator[str]:
        """The methods that end what ran for the step or groups left before this step."""
        return (code.end for name, code in self.codes.items() if name in self.ended_in[step.name])

    def kept_into(self, finish: Step) -> set[str]:
        """The mechanisms that may still run in a finish that does not tell them anything (M10)."""
        around = [group.name for group in self.routine.groups_around(finish.name)]
        running = self.kept.union(*(self.by_rules[group] for group in around))
        return running - {given.mechanism.name for given in finish.commands}

    def _noted(self, given: Given, runs_for: str) -> Iterator[str]:
        code = self.codes.get(given.mechanism.name)
        if code:
            yield f"{code.runs_for} = RunsFor.{runs_for if given.command.runs else NOTHING};"

    def _by_rules(self) -> dict[str, set[str]]:
        """What side rules set running, by what they stand under."""
        return {
            owner.name: {r.given.mechanism.name for r in owner.rules if r.given.command.runs}
            for owner in owners(self.routine)
        }

    def _kept(self) -> set[str]:
        """The mechanisms that run on when steps and groups are left."""
        steps = [step for step in self.routine.steps.values() if not step.is_finish]
        given = [given for step in steps for given in sent(step) if given.command.runs]
        return {g.mechanism.name for g in given if g.keep} | self.by_rules[""]

    def _ended(self, step: Step) -> set[str]:
        """The mechanisms that run only for what an exit to this step leaves (M7)."""
        ended: set[str] = set()
        exit_: Exit
        for _, _, exit_ in self.plan.steps.in_edges(step.name, data="exit"):
            left = self.plan.step(exit_.source)
            given = [g for g in sent(left) if g.command.runs and not g.keep]
            ended.update(g.mechanism.name for g in given)
            for name in (left.name, *groups_left(self.plan, exit_)):
                ended |= self.by_rules[name]
        return ended - {given.mechanism.name for given in step.commands}

    def _codes(self) -> dict[str, RunCode]:
        ended = set[str]().union(*self.ended_in.values())
        finished = set[str]().union(*map(self.kept_into, self.routine.finishes))
        return {
            name: RunCode(
                self.own.runs_for(name),
                self.own.end(name) if name in ended else "",
                self.own.switch_off(name) if name in finished else "",
                tuple(self._group_ends(name)),
                stop.method,
                self.own.due(name) if name in self.ruled else "",
            )
            for name, stop in self.parts.stops.items()
            if name in ended | finished
        }

    def _group_ends(self, mechanism: str) -> Iterator[GroupEnd]:
        for group, constant in self.constants.items():
            if mechanism in self.by_rules[group]:
                yield GroupEnd(constant, self.own.active(group))


def sent(step: Step) -> tuple[Given, ...]:
    """A step's commands without those that a later line to the same mechanism replaces (M7)."""
    last = {given.mechanism.name: given for given in step.commands}
    return tuple(given for given in step.commands if last[given.mechanism.name] is given)
