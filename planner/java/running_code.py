"""What is to be remembered of mechanisms that run, and where that ends (M7, M10, M12)."""

from __future__ import annotations

from collections.abc import Iterator

from planner.graph import Exit, Plan
from planner.graph.owners import Owner, groups_left, owners
from planner.java.lanes_code import Lanes
from planner.java.naming import constant_name, distinct
from planner.java.plan_names import PlanNames
from planner.java.plan_parts import Parts, asking
from planner.java.printed_plan import GroupEnd, RunCode, RunsForCode
from planner.java.wording import comment
from planner.model.routine import Given, Step

NOTHING, STEP, PLAN = "NOTHING", "STEP", "PLAN"


class Running:
    """The mechanisms of a plan that run for a step, a group or the whole plan."""

    def __init__(self, plan: Plan, parts: Parts, own: PlanNames, lanes: Lanes) -> None:
        self.plan = plan
        self.lanes = lanes
        self.routine = plan.routine
        self.parts = parts
        self.own = own
        rules = [rule for owner in asking(plan.routine) for rule in owner.rules]
        self.ruled = frozenset(rule.given.mechanism.name for rule in rules)
        """The mechanisms that side rules tell something."""
        self.by_rules = self._by_rules()
        self.by_steps = self._by_steps()
        self.by_blocks = self._by_blocks()
        self.kept = self._kept()
        groups = {owner: owner for owner, told in self.by_rules.items() if told}
        groups = {name: name for name in groups if name in self.routine.groups}
        self.by_lanes = self._by_lanes()
        self.ended_in = {name: self._ended(step) for name, step in self.routine.steps.items()}
        groups |= {lane: lane for lane in self.lanes.groups if self._runs_in(lane)}
        self.constants = distinct(groups, constant_name, "GROUP", (NOTHING, STEP, PLAN))
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
            RunsForCode(constant, f"Until {self._ended_with(name)}.")
            for name, constant in self.constants.items()
        ]
        return (*fixed, *groups)

    def _ended_with(self, group: str) -> str:
        lane = self.lanes.groups.get(group)
        return (
            f"{comment(f'lane {lane.lane}')} leaves its step"
            if lane
            else (f"{comment(group)} is left")
        )

    def until_left(self, step: str) -> str:
        """What the `runs` commands of a step run for: in a lane, for the lane's step."""
        lane = self.routine.lane_around(step)
        return self.constants.get(lane.name, STEP) if lane else STEP

    def of_step(self, step: str, given: Given) -> Iterator[str]:
        """What is to be noted when a step gives a command."""
        yield from self._noted(given, PLAN if given.keep else self.until_left(step))

    def of_rule(self, owner: Owner, given: Given) -> Iterator[str]:
        """What is to be noted when a side rule of a step, a group or the routine gives one."""
        fixed = PLAN
        if owner.name and not owner.is_group:
            fixed = self.until_left(owner.name)
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
        found: dict[str, set[str]] = {}
        for owner in owners(self.routine):
            # A block and the step that stands for it have one name.
            told = found.setdefault(owner.name, set())
            rules = owner.rules if owner.steps else ()
            told |= {rule.given.mechanism.name for rule in rules if rule.given.command.runs}
        return found

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
            block = self.plan.block_of(exit_.source) or exit_.source
            if block in self.by_blocks and self.plan.block_of(exit_.target) != block:
                ended |= self.by_blocks[block]
            else:
                ended |= self.by_steps[exit_.source] | self.by_rules[exit_.source]
            for group in groups_left(self.plan, exit_):
                ended |= self.by_rules[group]
        return ended - {given.mechanism.name for given in step.commands}

    def _by_blocks(self) -> dict[str, set[str]]:
        """The mechanisms that run for what ends with a block, all in its lanes included."""
        found: dict[str, set[str]] = {}
        for block in self.plan.begins:
            inside = self.lanes.inside(block)
            names = {block, *inside}
            for step in inside:
                around = self.routine.groups_around(step)
                names |= {g.name for g in around if g.name not in self.plan.outer[step]}
            told = (self.by_steps.get(name, set()) | self.by_rules[name] for name in names)
            found[block] = set[str]().union(*told)
        return found

    def _by_steps(self) -> dict[str, set[str]]:
        """The mechanisms that run for a step, by its commands."""
        return {
            name: {g.mechanism.name for g in sent(step) if g.command.runs and not g.keep}
            for name, step in self.routine.steps.items()
        }

    def _by_lanes(self) -> dict[str, set[str]]:
        """The mechanisms that run for the steps of lanes, by lane."""
        return {
            lane: {name for step in steps for name in (*self.by_steps[step], *self.by_rules[step])}
            for lane, steps in self.lanes.steps.items()
        }

    def _runs_in(self, lane: str) -> bool:
        """Whether something runs for the steps of a lane, or ends when one of them is entered."""
        return bool(self.by_lanes[lane]) or any(map(self.ended_in.get, self.lanes.steps[lane]))

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
                self.own.due(name) if name in self.ruled and not self.lanes.groups else "",
            )
            for name, stop in self.parts.stops.items()
            if name in ended | finished
        }

    def _group_ends(self, mechanism: str) -> Iterator[GroupEnd]:
        for group, constant in self.constants.items():
            if mechanism in self.by_lanes.get(group, ()):
                yield GroupEnd(constant, f"{self.own.lane(group)}.step == null")
            elif mechanism in self.by_rules[group]:
                yield GroupEnd(constant, f"!{self.own.active(group)}")


def sent(step: Step) -> tuple[Given, ...]:
    """A step's commands without those that a later line to the same mechanism replaces (M7)."""
    last = {given.mechanism.name: given for given in step.commands}
    return tuple(given for given in step.commands if last[given.mechanism.name] is given)
