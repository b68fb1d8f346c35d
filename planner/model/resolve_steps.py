"""From the lines of steps, groups and tasks to steps and groups, names resolved.

A step that does a task becomes a group: the task's steps stand in it under names of their own
(``First.Raise``), with the numbers it was given, and its outcomes lead where the caller says.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from planner.findings import nearest
from planner.model.choices import Chosen
from planner.model.condition import settled_by_choice
from planner.model.declared import declared_in, name_of
from planner.model.expectation import expectation
from planner.model.ledger import Ledger, room_for_match_exit
from planner.model.numbers import NumberResolver
from planner.model.resolve_commands import CommandResolver
from planner.model.resolve_condition import ConditionResolver
from planner.model.resolve_memory import counting_of, remember_of
from planner.model.robot import Robot
from planner.model.routine import (
    Count,
    Group,
    Named,
    Rule,
    Step,
    WhenExit,
    end_of_lane,
)
from planner.model.scopes import (
    Lead,
    Parts,
    Scope,
    after_exit,
    call_of,
    match_exit,
    owned,
    settings_of,
    spoken_call,
    times_of,
    words_of,
)
from planner.model.shared_tasks import NOTHING_SHARED, Shared
from planner.model.tasks import Task, tasks_of, tell_never_reached, tell_unused
from planner.model.units import Amount
from planner.text import Place
from planner.tree import nodes as n

_WORD = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")


DEEPEST_TASKS = 5
"""How deep tasks may do tasks; nobody reads a plan that goes deeper."""

MOST_STEPS = 20_000
"""How many steps there may be before another task is unfolded."""


class StepResolver:
    """Resolves the steps, groups and tasks of one routine; what it finds is in its fields."""

    def __init__(
        self,
        ledger: Ledger,
        robot: Robot,
        names: Mapping[str, Named],
        lines: tuple[n.Line, ...],
        chosen: Chosen,
        shared: Shared = NOTHING_SHARED,
    ) -> None:
        self.chosen = chosen
        self.ledger = ledger
        self.robot = robot
        self.steps: dict[str, Step] = {}
        self.groups: dict[str, Group] = {}
        self._refused: list[Task] = []
        self.leads_anywhere = False
        """True where an exit could not be read and names no step, so that it may lead to any."""
        self.own_tasks = tasks_of(ledger, lines, names)
        self._tasks = {**shared.tasks, **self.own_tasks}
        self._tasks_missing = shared.missing
        shared.tell_clashes(ledger, self.own_tasks)
        self.scope = Scope(declared_in(ledger, lines, {}), names)
        # Made once: a tuple of 10,000 names for each of 10,000 slips would fill the memory.
        self._names = tuple(self.scope.heads)

    def resolve(self) -> None:
        """Fills `steps` and `groups`."""
        self._add_steps(self.scope)
        self.resolve_tasks()
        tell_unused(self.ledger, self.own_tasks)
        tell_never_reached(self.ledger, self.own_tasks)

    def resolve_tasks(self, alone: bool = False) -> None:
        """Resolves the tasks that nothing does, for their slips.

        With `alone`, in a file that has nothing but tasks, their steps are kept, and each outcome
        is a finish.
        """
        # The slips of a task are told even where nothing does it, or there is no room for it.
        tasks = self.own_tasks.values()
        for task in [task for task in tasks if not task.used or task in self._refused]:
            self._try(task, alone)

    def entry(self, task: Task) -> str:
        """The step that a task begins with where it is done alone."""
        alone = Scope(task.declared, {}, f"{task.name}.", calls=(task,))
        return self._entry(alone, task.first)

    def target(self, name: n.Name) -> str:
        """The whole name of the step that a name of the routine leads to; empty and a slip where
        there is none."""
        return self._lead(self.scope, name).step

    def steps_named_in(self, lines: Iterable[n.Line]) -> frozenset[str]:
        """The steps of the routine that some lines name, and those under lines not read at all."""
        return self._named_in(lines, self.scope)

    # Which names there are.

    def _lead(self, scope: Scope, name: n.Name) -> Lead:
        if name.text in scope.heads:
            return self._lead_to(scope, name)
        if name.text == "done" and scope.lane:
            return Lead(end_of_lane(scope.whole(scope.lane)))
        if name.text in scope.outcomes:
            lead = scope.outcomes[name.text]
            scope.calls[-1].reached.add(name.text)
            if not lead.step:
                self._lost_way()
            return lead
        if scope.calls and not scope.calls[-1].ends:
            self._lost_way()
            return Lead()
        if name.text == "done":
            self.ledger.add("done-outside-lane", name.place, name.text)
            return Lead()
        known = (*scope.heads, *scope.outcomes) if scope.calls else self._names
        self.ledger.unknown("unknown-step", name, known)
        return Lead()

    def _lead_to(self, scope: Scope, name: n.Name) -> Lead:
        """Where a name leads that is declared; nothing leads into a lane from outside (M8)."""
        declared = scope.declared
        lane = declared.lane_of(declared.at(name.text))
        if lane and lane != scope.lane:
            block = declared.containers[lane].inside
            from_lane = "yes" if declared.block_around(scope.container) == block else ""
            of_lane = lane.rpartition(" ")[2]
            self.ledger.add(
                "leads-into-lane",
                name.place,
                name.text,
                block=block,
                lane=of_lane,
                beside=from_lane,
            )
            return Lead()
        return Lead(self._entry(scope, name.text))

    def _lost_way(self) -> None:
        """An exit leads where nobody said, so it may lead anywhere; that is told elsewhere."""
        self.ledger.troubled = self.leads_anywhere = True

    def _entry(self, scope: Scope, name: str) -> str:
        """The step that is entered under a name: for one that does a task, the task's first."""
        whole = f"{scope.prefix}{name}"
        call = call_of(scope.heads[name])
        calls = scope.calls
        in_lane = scope.in_lane or bool(scope.declared.lane_of(scope.declared.at(name)))
        task = self._known(calls).get(call.task.text) if call else None
        while task is not None and task.first and task not in calls and len(calls) < DEEPEST_TASKS:
            if in_lane and task.declared.lanes:
                break
            calls = (*calls, task)
            whole = f"{whole}.{task.first}"
            call = call_of(task.heads[task.first])
            task = self._known(calls).get(call.task.text) if call else None
        return whole

    # Steps and groups.

    def _add_steps(self, scope: Scope) -> None:
        declared = scope.declared
        blocks = {name: self._add_group(scope, name) for name in declared.containers}
        ends = {steps[-1]: lane for lane, steps in declared.lane_steps.items() if steps}
        for name, line in scope.heads.items():
            own = scope.within(declared.at(name))
            call = call_of(line)
            task = self._task(call, own) if call else None
            if call and task:
                self._add_call(own, name, line, call, task)
            elif name in blocks:
                self._add_block(scope.whole(name), line, blocks[name])
            else:
                self.steps[scope.whole(name)] = self._step(own, name, line)
            if name in ends:
                self._add_end(scope.whole(ends[name]))

    def _add_block(self, whole: str, line: n.Line, parts: Parts) -> None:
        """The step that stands for a block of lanes."""
        group, head = self.groups[whole], line.statement
        assert isinstance(head, n.TogetherHead)
        self.steps[whole] = Step(
            whole,
            head.title,
            False,
            tuple(parts.commands),
            (),
            (),
            head.name.place,
            incomplete=group.incomplete,
            group=whole,
            is_block=True,
        )

    def _add_end(self, lane: str) -> None:
        """The step in which a lane waits that has come to its end."""
        end, place = end_of_lane(lane), self.groups[lane].place
        self.steps[end] = Step(end, "", False, (), (), (), place, group=lane, ends_lane=True)

    def _step(self, scope: Scope, name: str, line: n.Line) -> Step:
        head = line.statement
        assert isinstance(head, n.StepHead | n.FinishHead)
        whole = scope.whole(name)
        with self.ledger.inside(whole):
            parts = self._parts(scope, line)
            # A step whose task cannot be done is not known to do anything.
            troubled = self.ledger.troubled or call_of(line) is not None
        broken = self._broken(line, troubled)
        return Step(
            whole,
            head.title,
            isinstance(head, n.FinishHead),
            tuple(parts.commands),
            tuple(parts.whens),
            tuple(parts.afters),
            head.name.place,
            incomplete=troubled or bool(broken),
            perhaps=self._named_in(broken, scope) - {whole},
            group=scope.group_of(name),
            rules=tuple(parts.rules),
            counts=tuple(parts.counts),
            remembers=tuple(parts.remembers),
        )

    def _add_group(self, scope: Scope, name: str) -> Parts:
        """Adds a group, block or lane of a scope; gives what stands under it."""
        container, whole = scope.declared.containers[name], scope.whole(name)
        line, head = container.line, name_of(container.line)
        own = scope.within(name)
        with self.ledger.inside(whole):
            if container.is_lane:
                self._tell_strays(line, head.text)
            parts = Parts() if container.is_lane else self._parts(own, line, whole)
            troubled = self.ledger.troubled
        inner = n.StepHead | n.GroupHead | n.TogetherHead | n.LaneHead
        lines = [part for part in line.under if not isinstance(part.statement, inner)]
        broken = self._broken(n.Line(line.statement, line.place, tuple(lines)), troubled)
        broken += [line] if line.salvaged else []
        lost = any(
            isinstance(part.statement, n.TogetherHead) and container.is_lane for part in line.under
        )
        steps = scope.declared.lane_steps.get(name, ())
        lanes = scope.declared.lanes.get(name, {})
        self.groups[whole] = Group(
            whole,
            getattr(line.statement, "title", ""),
            scope.inside(container.inside),
            tuple(sorted(parts.match_exits, key=lambda exit_: exit_.at_us)),
            tuple(parts.whens),
            tuple(parts.afters),
            tuple(parts.rules),
            head.place,
            incomplete=troubled or bool(broken) or lost,
            perhaps=self._named_in(broken, own),
            lanes=tuple(map(scope.whole, lanes.values())),
            is_block=container.is_block,
            lane=head.text if container.is_lane else "",
            first=self._entry(scope, steps[0]) if steps else "",
        )
        return parts

    def _tell_strays(self, line: n.Line, lane: str) -> None:
        """Writes down the exits and rules that stand in a lane and under none of its steps."""
        for under in line.under:
            if isinstance(under.statement, n.When | n.After | n.MatchExit | n.Whenever):
                self.ledger.add("line-in-lane", under.place, under.place.words, lane=lane)

    def _broken(self, line: n.Line, troubled: bool) -> list[n.Line]:
        """The lines of a step that were not made sense of, or may not have been."""
        broken = [part for part in (line, *line.under) if part.salvaged]
        self.leads_anywhere |= any(self._is_exit_to_nowhere(part) for part in broken)
        if troubled:
            kinds = (n.When, n.After, n.Ended, n.Given, n.Call, n.MatchExit)
            broken += [part for part in line.under if isinstance(part.statement, kinds)]
        return broken

    def _is_exit_to_nowhere(self, line: n.Line) -> bool:
        heads = n.StepHead | n.FinishHead | n.GroupHead | n.TogetherHead | n.LaneHead
        head = isinstance(line.statement, heads)
        # Half a word may be the start of `after`; only what begins like a command is no exit.
        words = _WORD.findall(line.place.words.removeprefix("keep"))
        command = words and nearest(words[0], self.robot.mechanisms)
        return not (head or command or self._named_in([line], self.scope))

    def _named_in(self, lines: Iterable[n.Line], scope: Scope) -> frozenset[str]:
        words = words_of(lines)
        return frozenset(self._entry(scope, word) for word in words if word in scope.heads)

    # What stands under a step or group.

    def _parts(self, scope: Scope, line: n.Line, group: str = "") -> Parts:
        """The lines under a step, or under the heading of the group of that whole name."""
        parts = Parts()
        conditions = ConditionResolver(
            self.ledger, self.robot, scope.names, self.chosen, scope.lanes()
        )
        commands = CommandResolver(self.ledger, self.robot, scope.names, self.chosen)
        mirrored = self.chosen.mirrored
        readable = NumberResolver(self.ledger, self.robot, scope.names, mirrored, readings=True)
        for under in line.under:
            place = under.place
            match under.statement:
                case n.Given() as written:
                    given = commands.given(written, place)
                    parts.commands.extend([given] if given else [])
                case n.When(condition, target, expected):
                    resolved, lead = conditions.resolve(condition), self._counted(scope, target)
                    expect = expectation(self.ledger, expected) if expected else None
                    # What the choice rules out is no exit of this variant.
                    if lead.step and settled_by_choice(resolved) is not False:
                        when = WhenExit(
                            resolved,
                            lead.step,
                            lead.count,
                            place,
                            lead.restarts,
                            lead.ended,
                            expect,
                        )
                        parts.whens.append(when)
                case n.After(value, target):
                    time, lead = commands.time(value, "a time limit"), self._counted(scope, target)
                    if time and lead.step:
                        parts.afters.append(after_exit(time, lead, place))
                case n.MatchExit(value, name):
                    time, lead = commands.time(value, "the match clock"), self._lead(scope, name)
                    if lead.count:
                        self.ledger.add("counted-twice", name.place, name.text)
                    number = len(parts.match_exits) + 1
                    room = room_for_match_exit(self.ledger, number, place)
                    if time and lead.step and room and group:
                        parts.match_exits.append(match_exit(time, lead, place, group))
                case n.Whenever() as written:
                    rule = self.rule(conditions, commands, written, place)
                    parts.rules.extend([rule] if rule else [])
                case n.CountLine() as written:
                    counting = counting_of(self.ledger, scope.names, written, place)
                    parts.counts.extend([counting] if counting else [])
                case n.Remember() as written:
                    remember = remember_of(readable, written, place)
                    parts.remembers.extend([remember] if remember else [])
                case n.Ended(outcome, target):
                    # Looked up even where the task cannot be done, so that what it names counts.
                    self._counted(scope, target)
                    if call_of(line) is None:
                        self.ledger.add("ends-without-task", place, outcome.text)
                case _:
                    pass
        return parts

    def rule(
        self,
        conditions: ConditionResolver,
        commands: CommandResolver,
        written: n.Whenever,
        place: Place,
    ) -> Rule | None:
        """The side rule of a line; None and a slip where it makes no sense."""
        if written.mechanism.text == "go":
            self.ledger.add("whenever-leads-on", place, place.words)
            return None
        condition, given = conditions.resolve(written.condition), commands.given(written, place)
        ruled_out = settled_by_choice(condition) is False
        return Rule(condition, given, place) if given and not ruled_out else None

    def _counted(self, scope: Scope, target: n.Target) -> Lead:
        lead = self._lead(scope, target.step)
        if target.count is None:
            return lead
        then, most = self._lead(scope, target.count.then), target.count.most
        times = times_of(self.ledger, most)
        if lead.count or then.count:
            self.ledger.add("counted-twice", most.place, most.text)
            self._lost_way()
        if times is None or not then.step or lead.count or then.count:
            return Lead(lead.step)
        count = Count(times, then.step, then_restarts=then.restarts)
        return Lead(lead.step, count, lead.restarts, lead.ended or then.ended)

    # Tasks.

    def _known(self, calls: tuple[Task, ...]) -> Mapping[str, Task]:
        """The tasks that can be done within some calls: a task does only those of its own file."""
        return calls[-1].beside if calls and calls[-1].beside is not self.own_tasks else self._tasks

    def _task(self, call: n.Call, scope: Scope) -> Task | None:
        """The task that is called, if it can be done there."""
        known = self._known(scope.calls)
        task = known.get(call.task.text)
        if task is None:
            self.ledger.troubled = True
            if known is not self._tasks or not self._tasks_missing:
                self.ledger.unknown("unknown-task", call.task, known)
            return None
        task.used = True
        if task.declared.lanes and (scope.in_lane or scope.lane):
            self.ledger.add("lanes-within-lanes", call.task.place, task.name, task="yes")
            self._refused.append(task)
            self.leads_anywhere = True
            return None
        if task in scope.calls:
            self.ledger.add("task-calls-itself", call.task.place, task.name)
            self.leads_anywhere = True
            return None
        if len(scope.calls) >= DEEPEST_TASKS or len(self.steps) > MOST_STEPS:
            deep = len(scope.calls) >= DEEPEST_TASKS
            because = (
                f"tasks are done in tasks {DEEPEST_TASKS} deep"
                if deep
                else (f"there are {MOST_STEPS} steps by then")
            )
            self.ledger.add("too-many-steps", call.task.place, task.name, because=because)
            self._refused.append(task)
            self.leads_anywhere = True
            return None
        return task if task.first else None

    def _add_call(self, scope: Scope, name: str, line: n.Line, call: n.Call, task: Task) -> None:
        head = line.statement
        assert isinstance(head, n.StepHead | n.FinishHead)
        whole = f"{scope.prefix}{name}"
        with self.ledger.inside(whole):
            parts = self._parts(scope, line)
            for given in parts.commands:
                self.ledger.add("command-beside-task", given.place, given.place.words)
            commands = CommandResolver(self.ledger, self.robot, scope.names, self.chosen)
            amounts = commands.called(call, task.name, task.parameters, whole=bool(task.ends))
            outcomes = self._outcomes(scope, name, line, call, task)
            rounds = times_of(self.ledger, call.times) if call.times else None
            troubled = self.ledger.troubled
        broken = self._broken(line, troubled)
        self.groups[whole] = Group(
            whole,
            head.title,
            scope.group_of(name),
            (),
            tuple(parts.whens),
            tuple(parts.afters),
            tuple(parts.rules),
            head.name.place,
            task=spoken_call(call),
            ends=task.ends,
            task_file=self._file_of(scope, task),
            incomplete=troubled or bool(broken),
            perhaps=self._named_in(broken, scope),
            counts=tuple(parts.counts),
            remembers=tuple(parts.remembers),
        )
        group = self._rounds(whole, head.name.place, rounds)
        inner = Scope(
            task.declared,
            {**task.settings, **settings_of(task.parameters, amounts, task.place)},
            f"{whole}.",
            group,
            outcomes,
            (*scope.calls, task),
            in_lane=scope.in_lane or bool(scope.lane),
        )
        self._add_steps(inner)

    def _file_of(self, scope: Scope, task: Task) -> str:
        """The file of a task where its caller stands in another; empty where it does not."""
        around = scope.calls[-1].beside if scope.calls else self.own_tasks
        return "" if task.beside is around else ".".join(task.place.source.file)

    def _rounds(self, whole: str, place: Place, rounds: int | None) -> str:
        """The group of one round of a task that is done several times; it starts with each."""
        if rounds is None:
            return whole
        # No name of a plan has a blank in it, so no step is called like this.
        name = f"{whole} round"
        self.groups[name] = Group(name, "", whole, (), (), (), (), place, task="one round")
        return name

    def _outcomes(
        self, scope: Scope, name: str, line: n.Line, call: n.Call, task: Task
    ) -> dict[str, Lead]:
        """Where each outcome of a called task leads."""
        whole = f"{scope.prefix}{name}"
        found: dict[str, Lead] = {}
        for under in line.under:
            if not isinstance(under.statement, n.Ended):
                continue
            outcome = under.statement.outcome
            if not task.ends:
                self._lost_way()
            elif outcome.text not in task.ends:
                self.ledger.unknown("unknown-outcome", outcome, task.ends, task=task.name)
            elif outcome.text in found:
                self.ledger.add("outcome-twice", under.place, outcome.text)
            else:
                lead = self._counted(scope, under.statement.target)
                group = scope.group_of(name)
                counter = f"{whole} {outcome.text}"
                found[outcome.text] = owned(lead, counter, group, under.place, whole)
        for end in task.ends:
            if end not in found:
                self.ledger.add("unhandled-outcome", call.task.place, end, task=task.name)
        times = times_of(self.ledger, call.times) if call.times else None
        if times and times > 1 and task.ends and task.ends[0] in found:
            found[task.ends[0]] = self._again(scope, name, call, found[task.ends[0]], times)
        return {end: found.get(end, Lead()) for end in task.ends}

    def _again(self, scope: Scope, name: str, call: n.Call, lead: Lead, times: int) -> Lead:
        """The first outcome of a task that is done several times starts the next round."""
        whole = f"{scope.prefix}{name}"
        if lead.count:
            assert call.times is not None, "only a call with times is done again"
            self.ledger.add("counted-twice", call.times.place, call.times.text)
        if not lead.step:
            return lead
        count = Count(times - 1, lead.step, f"{whole} round count", whole, lead.restarts)
        return Lead(self._entry(scope, name), count, f"{whole} round", lead.ended)

    def _try(self, task: Task, alone: bool) -> None:
        """Resolves a task that nothing calls, for its slips; `alone` keeps its steps as well."""
        steps, groups, anywhere = dict(self.steps), dict(self.groups), self.leads_anywhere
        zeros = tuple(Amount.zero(parameter.unit) for parameter in task.parameters)
        settings = {**task.settings, **settings_of(task.parameters, zeros, task.place)}
        prefix = f"{task.name}."
        outcomes = {end: Lead(f"{prefix}{end}" if alone else "") for end in task.ends}
        group = task.name if alone else ""
        if alone:
            self.groups[group] = Group(
                group, "", "", (), (), (), (), task.place, task=group, ends=task.ends
            )
        self._add_steps(Scope(task.declared, settings, prefix, group, outcomes, (task,)))
        if alone:
            ends = zip(task.ends, task.end_places, strict=True)
            finishes = {f"{prefix}{end}": place for end, place in ends}
            self.steps |= {n: Step(n, "", True, (), (), (), at) for n, at in finishes.items()}
        else:
            self.steps, self.groups, self.leads_anywhere = steps, groups, anywhere
