"""A plan as a Java class, ready to be printed: every decision is made here or in the graph."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.graph import Plan
from planner.graph.owners import Owner, owners
from planner.java.lanes_code import NO_ORDER, told_codes
from planner.java.naming import constant_name, distinct
from planner.java.owner_code import OwnerWriter, spoken_exit
from planner.java.plan_names import PlanNames, plan_type
from planner.java.plan_parts import PLAN_METHODS, Asked, parts_of
from planner.java.printed_exit import MatchCode
from planner.java.printed_lanes import ToldCode
from planner.java.printed_plan import (
    AskedField,
    GroupCode,
    PlanCode,
    RulesCode,
    SendCode,
    StepCode,
)
from planner.java.robot_names import RobotNames
from planner.java.running_code import sent
from planner.java.settings_code import OWN_CONSTANTS, setting_constants
from planner.java.wording import comment, string
from planner.java.wording import name as java_name
from planner.java.wording import time as java_time
from planner.model.routine import Given, Group, Routine, Step, step_in_words
from planner.model.units import seconds_text

LONGEST_WAIT = 400
"""How many letters tell on the screen what a step waits for."""


def plan_code(plan: Plan, names: RobotNames) -> PlanCode:
    """The class of a plan; raises `CannotExport` for what Java cannot do yet."""
    return _Writer(plan, names).code()


class _Writer:
    def __init__(self, plan: Plan, names: RobotNames) -> None:
        self.plan = plan
        self.routine: Routine = plan.routine
        self.parts = parts_of(plan, names)
        self.constants = step_constants(plan.routine)
        self.own = PlanNames(plan, self.parts, PLAN_METHODS)
        self.writer = OwnerWriter(plan, names, self.parts, self.own, self.constants)
        self.running = self.writer.running
        self.owners = {(owner.is_group, owner.name): owner for owner in owners(plan.routine)}
        self.rules: dict[tuple[bool, str], RulesCode] = {}
        self.lanes = self.writer.lanes
        # Of all that is active what stands outside of lanes comes first, then lane by lane (M8).
        for key, owner in sorted(self.owners.items(), key=lambda one: self.lanes.order(one[1])):
            rules = self.writer.rules(owner) if owner.steps else None
            if rules:
                self.rules[key] = rules

    def code(self) -> PlanCode:
        routine, whole = self.routine, self.owners[False, ""]
        groups = {group.name: self._group(group) for group in self._groups()}
        blocks = self.lanes.blocks(self._lane_matches())
        steps = tuple(
            replace(self._step(step, groups), block=blocks.get(step.name))
            for step in routine.steps.values()
        )
        seen = tuple(self.writer.memories.seen_before_start(self.writer.look(whole)))
        return PlanCode(
            plan_type(routine),
            comment(routine.title or routine.name),
            java_time(routine.limit_us),
            f"limit {seconds_text(routine.limit_us)}",
            self.parts,
            tuple(map(self._field, self.parts.asked.values())),
            self.writer.settings.constants(),
            steps,
            tuple(groups.values()),
            self.own.enter(routine.start),
            self.writer.remembered(whole) if whole.steps else (),
            self.writer.matches(whole),
            tuple(self.writer.leaving.for_targets.items()),
            tuple(self.rules.values()),
            () if blocks else tuple(self.writer.orders.values()),
            self.running.runs_for(),
            tuple(self.running.codes.values()),
            tuple(stop.method for stop in self.parts.stops.values()),
            self.writer.choices.codes(),
            tuple(self.writer.choices.fields()),
            self.writer.choices.is_mirrored,
            tuple(self.writer.memories.fields()),
            tuple(self.writer.memories.tables.values()),
            tuple(self.writer.memories.seen.values()),
            seen,
            tuple(self.own.remembered(memory) for memory in whole.seen),
            self.writer.remembering.by_step,
            tuple(comment(one.place.words) for one in routine.requirements),
            self.lanes.tells,
            tuple(self._told(steps)) if blocks else (),
        )

    def _told(self, steps: tuple[StepCode, ...]) -> Iterator[ToldCode]:
        """What mechanisms are told somewhere, in a plan with lanes."""
        said = [send.call for step in steps for send in step.sends]
        said += [off for step in steps for off in step.offs]
        said += [rule.call for rules in self.rules.values() for rule in rules.rules]
        ends = {run.stop for run in self.running.codes.values()}
        for told in told_codes(self.parts):
            call = f"{self.lanes.tells}.{told.method}("
            if told.method in ends or any(words.startswith(call) for words in said):
                yield told

    def _lane_matches(self) -> dict[str, tuple[MatchCode, ...]]:
        """By lane, the match-clock exits in it that can count as taken in their own target."""
        found: dict[str, tuple[MatchCode, ...]] = {}
        for group in self._groups():
            owner = self.owners[True, group.name]
            lane = self.lanes.around(owner)
            if lane:
                own = (match for match in self.writer.matches(owner) if match.is_asked_there)
                found[lane.name] = (*found.get(lane.name, ()), *own)
        return found

    def _field(self, asked: Asked) -> AskedField:
        own, key = self.own, asked.key
        sinces = self.writer.sinces(key) if asked.from_step_start else ()
        since = self.writer.since_now(key) if sinces else ""
        value, name = own.value(key), asked.spoken
        arguments = [str(list(self.parts.asked).index(key)), string(name)]
        if asked.value_type == "double":
            arguments += [since or value, string(asked.unit)]
        elif asked.value_type == "boolean":
            yes, no = (string(word) for word in asked.words)
            arguments.append(f"{value} ? {yes} : {no}")
        else:
            arguments.append(value)
        method = "number" if asked.value_type == "double" else "word"
        shown = f"screen.{method}({', '.join(arguments)});"
        heading = string(f"{name} [{asked.unit}]" if asked.unit else name)
        return AskedField(asked, value, own.asked_in(key), sinces, heading, shown)

    # Groups.

    def _groups(self) -> Iterator[Group]:
        """The groups that steps stand in; a lane has no exits, no rules and no clock of its own."""
        groups = (g for g in self.routine.groups.values() if not g.lane)
        return (group for group in groups if self.owners[True, group.name].steps)

    def _group(self, group: Group) -> GroupCode:
        owner, own = self.owners[True, group.name], self.own
        leaving = self.writer.leaving
        writer = self.writer.writer(owner)
        exits = self.writer.exits(owner, writer)
        rules = self.rules.get((True, group.name))
        where = f", from {group.task_file}" if group.task_file else ""
        title = f' "{group.title}"' if group.title else ""
        said = f": {group.task}{where}" if group.task else title
        matches = self.writer.matches(owner)
        return GroupCode(
            comment(
                f"block {group.name}, around all its lanes"
                if group.is_block
                else f"group {group.name}{said}"
            ),
            own.active(group.name),
            own.started(group.name) if group.afters else "",
            own.start(group.name),
            own.left(group.name) if exits or matches else "",
            own.leave(group.name) if group.name in leaving.by_method else "",
            leaving.within(group.name) if group.name in leaving.by_method else (),
            self.writer.entered(owner, writer, rules),
            tuple(self._counters(group)),
            writer.memories,
            matches,
            exits,
            tuple(self.writer.memories.counts(group.counts)),
            self.writer.remembering.method(owner),
            is_block=group.is_block,
        )

    def _counters(self, group: Group) -> Iterator[str]:
        """The counters that each start of a task sets to 0: those within it (M9)."""
        if not group.task:
            return
        counters: dict[str, None] = {}
        for step in self.owners[True, group.name].steps:
            around = [outer.name for outer in self.routine.groups_around(step)]
            inside = {step, *around[around.index(group.name) :]}
            exits = [e for e in self.plan.exits[step] if e.most is not None]
            counters |= dict.fromkeys(e.counter for e in exits if e.counted_by in inside)
        yield from map(self.own.times, counters)

    # Steps.

    def _step(self, step: Step, groups: dict[str, GroupCode]) -> StepCode:
        owner: Owner = self.owners[False, step.name]
        title = f' "{step.title}"' if step.title else ""
        writer = self.writer.writer(owner)
        exits = self.writer.exits(owner, writer)
        around = [
            groups[group.name]
            for group in self.routine.groups_around(step.name)
            if not group.lane and group.name not in self.plan.outer.get(step.name, ())
        ]
        return StepCode(
            comment(f"{_head(step)}{title}"),
            self.constants[step.name],
            java_name(step_in_words(step.name)),
            string(step.title),
            step.is_finish,
            self.own.enter(step.name),
            self.own.ask(step.name),
            tuple(around),
            self.writer.entered(owner, writer, self.rules.get((False, step.name))),
            tuple(self.running.ends(step)),
            tuple(self._sends(step)),
            tuple(self._offs(step)) if step.is_finish else (),
            writer.memories,
            exits,
            string(self._waits_for(step), LONGEST_WAIT),
            tuple(self.writer.memories.counts(step.counts)),
            self.writer.remembering.method(owner),
            lane=self.lanes.of(step.name),
            ends_lane=step.ends_lane,
            is_left_out=step.ends_lane and not self.plan.steps.in_degree(step.name),
            runs_for=self.running.until_left(step.name) if self.lanes.groups else "",
        )

    def _waits_for(self, step: Step) -> str:
        if step.ends_lane:
            return "the other lanes"
        exits = [exit_ for exit_ in self.plan.asked_of(step.name) if not exit_.overflow]
        return ", or ".join(spoken_exit(exit_) for exit_ in exits)

    def _sends(self, step: Step) -> Iterator[SendCode]:
        last = {given.number for given in sent(step)}
        for given in step.commands:
            line = comment(given.place.words)
            name = comment(given.mechanism.name)
            if given.number not in last:
                yield SendCode(line, "", f"not sent: a later line tells {name} something else")
            elif step.is_finish and given.command.runs:
                yield SendCode(line, "", f"not sent: a finish leaves {name} switched off")
            else:
                yield self._send(step, given, line)

    def _send(self, step: Step, given: Given, line: str) -> SendCode:
        says_more = bool(given.arguments) or given.keep
        notes = (*self.running.of_step(step.name, given), *self._overrules(given.mechanism.name))
        return SendCode(line if says_more else "", self.writer.commands.call(given), "", notes)

    def _overrules(self, mechanism: str) -> Iterator[str]:
        """A step that tells a mechanism something has the last word (M12)."""
        if mechanism in self.running.ruled and not self.lanes.groups:
            yield f"{self.own.due(mechanism)} = Order.{NO_ORDER};"

    def _offs(self, step: Step) -> Iterator[str]:
        """What a finish switches off after its commands (M10), in the order of the names."""
        own = {given.mechanism.name for given in sent(step) if given.command.runs}
        for name in sorted(own | self.running.kept_into(step)):
            if name in own:
                yield f"{self.lanes.tells}.{self.parts.stops[name].method}();"
                yield from self._overrules(name)
            else:
                yield f"{self.running.codes[name].off}();"


def _head(step: Step) -> str:
    if step.ends_lane:
        return step_in_words(step.name)
    kind = "finish" if step.is_finish else "together" if step.is_block else "step"
    return f"{kind} {step.name}"


def step_constants(routine: Routine) -> dict[str, str]:
    """The constants of the steps, by step; none hides a constant of the plan itself."""
    taken = (*OWN_CONSTANTS, *setting_constants(routine).values())
    return distinct({name: name for name in routine.steps}, constant_name, "STEP", taken)
