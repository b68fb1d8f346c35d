"""A plan as a Java class, ready to be printed: every decision is made here or in the graph."""

from __future__ import annotations

from collections.abc import Iterator

from planner.graph import Exit, ExitKind, Plan
from planner.java.condition_code import ConditionWriter, Words
from planner.java.errors import CannotExport
from planner.java.naming import class_name, constant_name, distinct
from planner.java.plan_names import PlanNames
from planner.java.plan_parts import (
    PLAN_METHODS,
    Asked,
    Key,
    command_key,
    done_key,
    looked_at,
    parts_of,
    sensor_key,
    source_key,
)
from planner.java.printed_plan import (
    AskedField,
    ExitCode,
    MatchCode,
    PlanCode,
    RunCode,
    SendCode,
    StepCode,
)
from planner.java.robot_names import RobotNames
from planner.java.settings_code import OWN_CONSTANTS, Settings
from planner.java.wording import comment, count, string
from planner.java.wording import time as java_time
from planner.model.condition import Answers
from planner.model.robot import Reading, SensorKind
from planner.model.routine import AfterExit, Given, MatchExit, Routine, Step, WhenExit
from planner.model.spoken import spoken_condition
from planner.model.units import seconds_text


def plan_code(plan: Plan, names: RobotNames) -> PlanCode:
    """The class of a plan; raises `CannotExport` for what Java cannot do yet."""
    return _Writer(plan, names).code()


class _Writer:
    def __init__(self, plan: Plan, names: RobotNames) -> None:
        self.plan = plan
        self.routine: Routine = plan.routine
        self.names = names
        self.parts = parts_of(plan, names)
        self.settings = Settings(plan.routine)
        self.constants = step_constants(plan.routine)
        self.own = PlanNames(plan.routine, self.parts, PLAN_METHODS)
        self.asked = {key: self._field(asked) for key, asked in self.parts.asked.items()}
        self.kept = self._kept()
        self.runs = self._runs()
        self.words = Words(
            lambda source: self._look(source_key(source)),
            lambda answers: self._look(sensor_key(answers.sensor)),
            self._value,
            lambda done: self._look(done_key(done.mechanism)),
            self.settings.amount,
            self.own.memory,
        )

    def code(self) -> PlanCode:
        routine = self.routine
        steps = tuple(self._step(step) for step in routine.steps.values())
        matches = tuple(self._match(i, m) for i, m in enumerate(routine.match_exits))
        return PlanCode(
            plan_type(routine),
            comment(routine.title or routine.name),
            java_time(routine.limit_us),
            f"limit {seconds_text(routine.limit_us)}",
            self.parts,
            tuple(self.asked.values()),
            self.settings.constants(),
            steps,
            self.own.enter(routine.start),
            matches,
            tuple(self.runs.values()),
            tuple(stop.method for stop in self.parts.stops.values()),
        )

    # Names.

    def _field(self, asked: Asked) -> AskedField:
        own, key = self.own, asked.key
        return AskedField(asked, own.value(key), own.asked_in(key), own.at_entry(key))

    def _look(self, key: Key) -> str:
        return f"{self.parts.asked[key].look}()"

    def _value(self, answers: Answers) -> str:
        if answers.sensor.kind is SensorKind.COLOUR:
            return f"Colour.{answers.value.upper()}"
        camera = self.names.cameras[answers.sensor.name]
        return f"{camera.sees}.{camera.values[answers.value]}"

    def _runs(self) -> dict[str, RunCode]:
        """What is to be remembered of running mechanisms, in the order of the robot file."""
        steps = self.routine.steps.values()
        ended = {name for step in steps for name in self._ended(step)}
        finished = {name for step in steps if step.is_finish for name in self._kept_into(step)}
        stops = {n: stop for n, stop in self.parts.stops.items() if n in ended | finished}
        return {
            name: RunCode(
                self.own.runs(name),
                self.own.kept(name) if name in ended & self.kept else "",
                self.own.end(name) if name in ended else "",
                self.own.switch_off(name) if name in finished else "",
                stop.method,
            )
            for name, stop in stops.items()
        }

    def _kept(self) -> set[str]:
        """The mechanisms that some step keeps running."""
        steps = [step for step in self.routine.steps.values() if not step.is_finish]
        given = [given for step in steps for given in sent(step) if given.command.runs]
        return {g.mechanism.name for g in given if g.keep}

    def _ended(self, step: Step) -> set[str]:
        """The mechanisms that a step before this one runs only for itself (M7)."""
        before = [self.plan.step(name) for name in self.plan.steps.predecessors(step.name)]
        ended = {
            given.mechanism.name
            for left in before
            for given in sent(left)
            if given.command.runs and not given.keep
        }
        return ended - {given.mechanism.name for given in step.commands}

    def _kept_into(self, finish: Step) -> set[str]:
        """The mechanisms that may still run in a finish that does not tell them anything (M10)."""
        return self.kept - {given.mechanism.name for given in finish.commands}

    # Steps.

    def _step(self, step: Step) -> StepCode:
        title = f' "{step.title}"' if step.title else ""
        writer = ConditionWriter(self.words)
        exits = tuple(self._exits(step, writer))
        return StepCode(
            comment(f"{'finish' if step.is_finish else 'step'} {step.name}{title}"),
            self.constants[step.name],
            string(step_label(step)),
            step.is_finish,
            self.own.enter(step.name),
            self.own.ask(step.name),
            writer.memories,
            self._remembered(step),
            tuple(self._ends(step)),
            tuple(self._sends(step)),
            tuple(self._offs(step)) if step.is_finish else (),
            exits,
        )

    def _remembered(self, step: Step) -> tuple[AskedField, ...]:
        looks = [look for look in looked_at(step) if isinstance(look, Reading)]
        keys = dict.fromkeys(source_key(look) for look in looks if look.from_step_start)
        return tuple(self.asked[key] for key in keys)

    def _ends(self, step: Step) -> Iterator[str]:
        ended = self._ended(step)
        return (run.end for name, run in self.runs.items() if name in ended)

    def _sends(self, step: Step) -> Iterator[SendCode]:
        last = set(map(id, sent(step)))
        for given in step.commands:
            line = comment(given.place.words)
            name = comment(given.mechanism.name)
            if id(given) not in last:
                yield SendCode(line, "", f"not sent: a later line tells {name} something else")
            elif step.is_finish and given.command.runs:
                yield SendCode(line, "", f"not sent: a finish leaves {name} switched off")
            else:
                yield self._send(given, line)

    def _send(self, given: Given, line: str) -> SendCode:
        told = self.parts.told.get(command_key(given.mechanism, given.command))
        method = (told or self.parts.stops[given.mechanism.name]).method
        arguments = ", ".join(
            self.settings.amount(amount, parameter.unit)
            for amount, parameter in zip(given.arguments, given.command.parameters, strict=True)
        )
        run = self.runs.get(given.mechanism.name)
        flags = []
        if run:
            runs = given.command.runs
            flags.append(f"{run.runs} = {_java(runs)};")
            if run.kept and runs:
                flags.append(f"{run.kept} = {_java(given.keep)};")
        says_more = bool(given.arguments) or given.keep
        return SendCode(
            line if says_more else "", f"parts.{method}({arguments});", "", tuple(flags)
        )

    def _offs(self, step: Step) -> Iterator[str]:
        """What a finish switches off after its commands (M10), in the order of the names."""
        own = {given.mechanism.name for given in sent(step) if given.command.runs}
        for name in sorted(own | self._kept_into(step)):
            if name in own:
                yield f"parts.{self.parts.stops[name].method}();"
            else:
                yield f"{self.runs[name].off}();"

    # Exits.

    def _match(self, number: int, exit_: MatchExit) -> MatchCode:
        at = self.settings.time(exit_.at_us, exit_.setting)
        return MatchCode(
            comment(exit_.place.words),
            self.own.taken(number),
            at,
            self.constants[exit_.target],
            self.own.enter(exit_.target),
            string(f"{seconds_text(exit_.at_us)} of match"),
        )

    def _exits(self, step: Step, writer: ConditionWriter) -> Iterator[ExitCode]:
        """The step's own exits in the order of the graph; the two edges of a count make one."""
        own = [e for e in self.plan.exits[step.name] if e.kind is not ExitKind.MATCH]
        overflows = {id(e.written): e for e in own if e.overflow}
        numbers = {id(written): number for number, written in enumerate(step.exits)}
        for exit_ in own:
            if not exit_.overflow:
                key = id(exit_.written)
                yield self._exit(exit_, writer, numbers[key], overflows.get(key))

    def _exit(
        self, exit_: Exit, writer: ConditionWriter, number: int, overflow: Exit | None
    ) -> ExitCode:
        test, why = self._test(exit_.written, writer)
        line, enter = comment(exit_.place.words), self.own.enter(exit_.target)
        if exit_.most is None or overflow is None:
            return ExitCode(line, test, enter, string(why))
        times = "once" if exit_.most == 1 else f"{exit_.most} times"
        return ExitCode(
            line,
            test,
            enter,
            string(why),
            self.own.times(exit_.source, number),
            count(exit_.most),
            self.own.enter(overflow.target),
            string(f"{why}, more than {times}"),
        )

    def _test(
        self, written: WhenExit | AfterExit | MatchExit, writer: ConditionWriter
    ) -> tuple[str, str]:
        match written:
            case WhenExit(condition):
                return writer.true(condition), spoken_condition(condition)
            case AfterExit(limit_us):
                limit = self.settings.time(limit_us, written.setting)
                return f"timeInStep() >= {limit}", f"after {seconds_text(limit_us)}"
            case _:
                raise CannotExport(f"Java cannot take this exit yet: {written.place.words}")


def step_constants(routine: Routine) -> dict[str, str]:
    """The constants of the steps, by step; none hides a constant of the plan itself."""
    taken = (*OWN_CONSTANTS, *Settings(routine).names.values())
    return distinct({name: name for name in routine.steps}, constant_name, "STEP", taken)


def plan_type(routine: Routine) -> str:
    """The name of a plan's class."""
    return f"{routine_type(routine)}Plan"


def routine_type(routine: Routine) -> str:
    """A routine's name as the beginning of class names."""
    return class_name(routine.name, "Routine")


def step_label(step: Step) -> str:
    """A step in words, for the driver station's screen."""
    return f"{step.name}: {step.title}" if step.title else step.name


def sent(step: Step) -> tuple[Given, ...]:
    """A step's commands without those that a later line to the same mechanism replaces (M7)."""
    last = {given.mechanism.name: given for given in step.commands}
    return tuple(given for given in step.commands if last[given.mechanism.name] is given)


def _java(value: bool) -> str:
    return "true" if value else "false"
