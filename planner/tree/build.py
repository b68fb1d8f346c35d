"""From Lark's tree of one line to the nodes of `nodes`."""

from __future__ import annotations

from typing import Any

from lark import Token, v_args

from planner.tree import nodes as n
from planner.tree.build_parts import PartBuilder
from planner.tree.build_scenario import ScenarioBuilder


@v_args(inline=True)
class LineBuilder(PartBuilder, ScenarioBuilder):
    """Builds the statement of one line; the methods are named after the grammar's rules.

    Children that the grammar marks as optional arrive as None when they were left out.
    """

    # The robot file.
    def robot_head(self, name: n.Name, title: str | None) -> n.RobotHead:
        return n.RobotHead(name, title or "")

    def pass_time(self, span: n.Span) -> n.PassTime:
        return n.PassTime(span)

    def hub(self, name: n.Name) -> n.HubHead:
        return n.HubHead(name)

    def camera(self, name: n.Name, values: tuple[n.Name, ...]) -> n.Camera:
        return n.Camera(name, values)

    def mechanism(self, name: n.Name, title: str | None) -> n.MechanismHead:
        return n.MechanismHead(name, title or "")

    def port(self, number: n.Name) -> n.Name:
        return number

    def motor(self, port: n.Name, name: n.Name, *words: Token | None) -> n.Device:
        return n.Device("motor", port, name, "motor", _texts(words))

    def servo(self, port: n.Name, name: n.Name, *words: Token | None) -> n.Device:
        return n.Device("servo", port, name, "servo", _texts(words))

    def encoder(self, port: n.Name, name: n.Name, *words: Token | None) -> n.Device:
        return n.Device("encoder", port, name, "encoder", _texts(words))

    def digital_kind(self, word: Token) -> str:
        return str(word)

    lasts = lamp_state = digital_kind

    def digital(self, port: n.Name, name: n.Name, kind: str, active_high: str | None) -> n.Device:
        words = (active_high,) if active_high else ()
        return n.Device("digital", port, name, kind, words)

    def active_high(self) -> str:
        return "active high"

    def analog(
        self, port: n.Name, name: n.Name, light: Token | None, span: n.Span | None
    ) -> n.Device:
        return n.Device("analog", port, name, "light" if light else "analog", span=span)

    def i2c(
        self, port: n.Name, name: n.Name, what: tuple[str, Any], address: n.Name | None
    ) -> n.Device:
        kind, detail = what
        span = detail if isinstance(detail, n.Span) else None
        values = detail if isinstance(detail, tuple) else ()
        words = ("mirrors",) if detail is True else ()
        return n.Device("i2c", port, name, kind, words, span, values, address)

    def distance(self, span: n.Span | None) -> tuple[str, n.Span | None]:
        return ("distance", span)

    def heading(self, mirrors: Token | None) -> tuple[str, bool]:
        return ("heading", mirrors is not None)

    def colour(self, values: tuple[n.Name, ...]) -> tuple[str, tuple[n.Name, ...]]:
        return ("colour", values)

    def light(self, span: n.Span | None) -> tuple[str, n.Span | None]:
        return ("light", span)

    def address(self, address: n.Name) -> n.Name:
        return address

    def uses(self, names: tuple[n.Name, ...]) -> n.Uses:
        return n.Uses(names)

    def parameter(self, name: n.Name, unit: n.Name, mirrors: Token | None = None) -> n.Parameter:
        return n.Parameter(name, unit, mirrors is not None)

    def reports_done(self) -> bool:
        return True

    def command(self, name: n.Name, *rest: Any) -> n.CommandHead:
        *parameters, lasts, done = rest
        given = tuple(p for p in parameters if p is not None)
        return n.CommandHead(name, given, lasts, done is True)

    def from_step_start(self) -> bool:
        return True

    def reading(
        self,
        name: n.Name,
        unit: n.Name,
        span: n.Span | None,
        wraps: Token | None,
        mirrors: Token | None,
        start: bool | None,
    ) -> n.ReadingLine:
        counts = start is True
        return n.ReadingLine(name, unit, span, wraps is not None, counts, mirrors is not None)

    def power(self, output: n.Name, value: n.Setpoint) -> n.Power:
        return n.Power(output, value)

    def position(self, output: n.Name, target: n.Setpoint, power: n.Setpoint) -> n.Position:
        return n.Position(output, target, power)

    def lamp(self, output: n.Name, state: str) -> n.LampLine:
        return n.LampLine(output, state)

    # The routine.
    def routine_head(self, name: n.Name, title: str | None) -> n.RoutineHead:
        return n.RoutineHead(name, title or "")

    def robot_use(self, name: n.Name) -> n.RobotUse:
        return n.RobotUse(name)

    def limit(self, value: n.Quantity) -> n.Limit:
        return n.Limit(value)

    def tasks_head(self, name: n.Name, title: str | None) -> n.TasksHead:
        return n.TasksHead(name, title or "")

    def tasks_use(self, name: n.Name) -> n.TasksUse:
        return n.TasksUse(name)

    def setting(self, name: n.Name, value: n.Quantity) -> n.Setting:
        return n.Setting(name, value)

    def setting_table(self, name: n.Name, choice: n.Name) -> n.SettingTable:
        return n.SettingTable(name, choice)

    def table_row(self, value: n.Name, amount: n.Quantity) -> n.TableRow:
        return n.TableRow(value, amount)

    def choice_value(self, name: n.Name, mirrors: Token | None) -> n.ChoiceValue:
        return n.ChoiceValue(name, mirrors is not None)

    def choice(self, name: n.Name, *values: n.ChoiceValue) -> n.ChoiceLine:
        return n.ChoiceLine(name, values)

    def range_choice(self, name: n.Name, span: n.Span, normal: n.Quantity) -> n.RangeChoiceLine:
        return n.RangeChoiceLine(name, span, normal)

    def chosen(self, choice: n.Name, value: n.Name | n.Quantity) -> n.Chosen:
        return n.Chosen(choice, value)

    def memory(self, name: n.Name, first: n.Quantity) -> n.NumberMemory:
        return n.NumberMemory(name, first)

    def word_memory(self, name: n.Name, *rest: n.Name | None) -> n.WordMemory:
        *words, seen_by = rest
        return n.WordMemory(name, tuple(word for word in words if word), seen_by)

    def counter(self, name: n.Name, low: n.Name, high: n.Name, normal: n.Name) -> n.CounterLine:
        return n.CounterLine(name, low, high, normal)

    def remember(self, value: n.Value, memory: n.Name) -> n.Remember:
        return n.Remember(value, memory)

    def count_line(self, counter: n.Name, way: Token | n.Name) -> n.CountLine:
        if isinstance(way, n.Name):
            return n.CountLine(counter, "from", way)
        return n.CountLine(counter, str(way), None)

    def match_exit(self, value: n.Value, target: n.Name) -> n.MatchExit:
        return n.MatchExit(value, target)

    def told(self, mechanism: n.Name, command: n.Name, *arguments: n.Value | None) -> n.Told:
        values = tuple(a for a in arguments if a is not None)
        last = values[-1].place if values else command.place
        return n.Told(mechanism, command, values, mechanism.place.through(last))

    def in_step(self, step: n.Name) -> n.InStep:
        return n.InStep(step, step.place)

    def finished_by(self, by: n.Value) -> n.FinishedBy:
        return n.FinishedBy(by)

    def never_while(self, one: n.Happening, other: n.Happening) -> n.NeverWhile:
        return n.NeverWhile(one, other)

    def only_after(self, later: n.Happening, earlier: n.Happening) -> n.OnlyAfter:
        return n.OnlyAfter(later, earlier)

    def leads_to(self, cause: n.Happening, effect: n.Happening, within: n.Value) -> n.LeadsTo:
        return n.LeadsTo(cause, effect, within)

    def start(self, name: n.Name) -> n.Start:
        return n.Start(name)

    def step(self, name: n.Name, title: str | None) -> n.StepHead:
        return n.StepHead(name, title or "")

    def finish(self, name: n.Name, title: str | None) -> n.FinishHead:
        return n.FinishHead(name, title or "")

    def given(
        self, keep: Token | None, mechanism: n.Name, command: n.Name, *arguments: n.Value | None
    ) -> n.Given:
        values = tuple(a for a in arguments if a is not None)
        return n.Given(keep is not None, mechanism, command, values)

    def group(self, name: n.Name, title: str | None) -> n.GroupHead:
        return n.GroupHead(name, title or "")

    def together(self, name: n.Name, title: str | None) -> n.TogetherHead:
        return n.TogetherHead(name, title or "")

    def lane(self, name: n.Name) -> n.LaneHead:
        return n.LaneHead(name)

    def task(self, name: n.Name, *rest: Any) -> n.TaskHead:
        *parameters, ends = rest
        return n.TaskHead(name, tuple(p for p in parameters if p is not None), ends)

    def repeats(self, times: n.Name) -> tuple[n.Name]:
        # In a tuple, so that it cannot be taken for an argument.
        return (times,)

    def call(self, task: n.Name, *rest: Any) -> n.Call:
        *arguments, times = rest
        given = tuple(a for a in arguments if a is not None)
        return n.Call(task, given, times[0] if times else None)

    def whenever(
        self, condition: n.Condition, mechanism: n.Name, command: n.Name, *arguments: Any
    ) -> n.Whenever:
        given = tuple(a for a in arguments if a is not None)
        return n.Whenever(condition, mechanism, command, given)

    def count(self, most: n.Name, then: n.Name) -> n.Count:
        return n.Count(most, then)

    def target(self, step: n.Name, count: n.Count | None) -> n.Target:
        return n.Target(step, count)

    def when(self, condition: n.Condition, target: n.Target) -> n.When:
        return n.When(condition, target)

    def expected(
        self,
        condition: n.Condition,
        span: n.Span,
        hits: n.Name | None,
        runs: n.Name | None,
        target: n.Target,
    ) -> n.When:
        return n.When(condition, target, n.Expect(span, hits, runs))

    def ended(self, outcome: n.Name, target: n.Target) -> n.Ended:
        return n.Ended(outcome, target)

    def after(self, value: n.Value, target: n.Target) -> n.After:
        return n.After(value, target)


def _texts(words: tuple[Token | None, ...]) -> tuple[str, ...]:
    return tuple(str(word) for word in words if word is not None)
