"""The scenarios of a routine as unit tests of its plan, ready to be printed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.graph import Plan
from planner.java.choices_code import ChoiceCode
from planner.java.lanes_code import first_to_ask
from planner.java.naming import OBJECT_METHODS, distinct, member_name, names_in
from planner.java.plan_names import plan_type
from planner.java.plan_parts import Asked, done_key, source_key
from planner.java.printed_plan import PlanCode
from planner.java.requirement_code import requirement_code
from planner.java.robot_names import RobotNames
from planner.java.wording import comment, double, string
from planner.java.wording import name as java_name
from planner.java.wording import time as java_time
from planner.model.choices import RangeChoice
from planner.model.condition import Source
from planner.model.robot import STATES, UNSURE, Robot, Sensor, SensorKind
from planner.model.routine import Routine
from planner.model.scenario import (
    Cue,
    Demand,
    MustBeCutOff,
    MustFinish,
    MustGive,
    MustVisit,
    Ramp,
    Scenario,
)
from planner.model.units import Amount, Dimension

# Methods that the pretend robot has beside those of `Parts`, and fields of a test.
_TAKEN = OBJECT_METHODS | names_in(
    "at between fromStepStart gave hasJustEntered in isFinished isOff looksFirst movesOfPass "
    "mustBeCutOff mustFinish mustGive mustNotGive mustVisit pass plan play run step wasCutOff "
    "finishedBy inGroup leadsTo mustKeepTo mustKeepToRequirements never onlyAfter switchedOff told"
)


@dataclass(frozen=True, slots=True)
class LineCode:
    """A line of a scenario, and the statement that it becomes; either may be empty."""

    comment: str
    code: str


@dataclass(frozen=True, slots=True)
class ScenarioCode:
    """A scenario as a test method."""

    title: str
    method: str
    chosen: str
    """What the plan is made with."""
    lines: tuple[LineCode, ...]
    pass_time: str
    demands: tuple[LineCode, ...]


@dataclass(frozen=True, slots=True)
class SensorCode:
    """A pretend sensor."""

    name: str
    java_type: str
    made: str
    value_type: str
    method: str
    unboxed: str


@dataclass(frozen=True, slots=True)
class ToldCode:
    """What the pretend robot does when it is told something."""

    method: str
    parameters: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TestCode:
    """All that the template prints of a routine's scenarios."""

    type_name: str
    plan_type: str
    notes: tuple[str, ...]
    scenarios: tuple[ScenarioCode, ...]
    sensors: tuple[SensorCode, ...]
    told: tuple[ToldCode, ...]
    parameters: str
    arguments: str
    lanes: tuple[str, ...] = ()
    """The statements that say which lane looks at a number first."""
    has_lanes: bool = False
    requirements: tuple[LineCode, ...] = ()
    """What the plan requires of every run."""

    @property
    def judges(self) -> bool:
        """Whether any requirement is judged here."""
        return any(line.code.startswith("run.") for line in self.requirements)


def test_code(
    of: Plan, plan: PlanCode, names: RobotNames, scenarios: tuple[Scenario, ...]
) -> TestCode:
    """The test class of a routine's scenarios, those of other files among them."""
    return _Writer(of, plan, names).code(scenarios)


class _Writer:
    def __init__(self, of: Plan, plan: PlanCode, names: RobotNames) -> None:
        self.routine: Routine = of.routine
        self.first_to_ask = first_to_ask(of.routine)
        self.plan = plan
        self.names = names
        self.looks: dict[str, Source] = dict(_sources(of.routine.robot))
        keys = {name: source_key(source) for name, source in self.looks.items()}
        keys |= {f"{m.name} done": done_key(m) for m in of.routine.robot.mechanisms.values()}
        asked = plan.parts.asked
        self.asked: dict[str, Asked] = {n: asked[key] for n, key in keys.items() if key in asked}
        """What the plan looks at, by the names of a scenario."""
        wanted = {name: asked.method for name, asked in self.asked.items()}
        self.fields = distinct(wanted, member_name, "sensor", _TAKEN)

    def code(self, scenarios: tuple[Scenario, ...]) -> TestCode:
        played = [scenario for scenario in scenarios if not self._unplugged_wires(scenario)]
        methods = distinct({s.name: s.name for s in played}, member_name, "run", _TAKEN)
        parameters = [f"{self._type(choice)} {choice.parameter}" for choice in self.plan.choices]
        arguments = ["this", *(choice.parameter for choice in self.plan.choices)]
        return TestCode(
            f"{plan_type(self.routine)}Test",
            plan_type(self.routine),
            tuple(self._notes(scenarios, played)),
            tuple(self._scenario(scenario, methods[scenario.name]) for scenario in played),
            tuple(self._sensor(name) for name in self.asked),
            tuple(self._told()),
            ", ".join(parameters),
            ", ".join(arguments),
            tuple(self._lanes()),
            bool(self.plan.blocks),
            tuple(LineCode(*line) for line in requirement_code(self.routine)),
        )

    def _lanes(self) -> Iterator[str]:
        fields = {asked.key: self.fields[name] for name, asked in self.asked.items()}
        for (block, key), lane in self.first_to_ask.items():
            yield f"looksFirst({java_name(block)}, {java_name(lane.lane)}, {fields[key]});"

    def _notes(self, scenarios: tuple[Scenario, ...], played: list[Scenario]) -> Iterator[str]:
        left_out = [scenario.name for scenario in scenarios if scenario not in played]
        if left_out:
            yield comment(
                f"Not here: {', '.join(left_out)}. A wire that is unplugged reads high or low in "
                "Java, never nothing."
            )

    def _unplugged_wires(self, scenario: Scenario) -> bool:
        """Whether something cannot be had whose Java is a plain yes or no."""
        return any(
            cue.value is None
            and cue.reading in self.asked
            and self.asked[cue.reading].value_type == "boolean"
            for cue in scenario.cues
        )

    # A scenario.

    def _scenario(self, scenario: Scenario, method: str) -> ScenarioCode:
        facts: list[Cue | Ramp] = [*scenario.cues, *scenario.ramps]
        lines = [LineCode(comment(fact.place.words), self._fact(fact)) for fact in facts]
        demands = [LineCode(comment(d.place.words), self._demand(d)) for d in scenario.demands]
        return ScenarioCode(
            comment(scenario.title),
            method,
            ", ".join(self._chosen(scenario, choice) for choice in self.plan.choices),
            tuple(lines),
            java_time(scenario.pass_us),
            tuple(demands),
        )

    def _chosen(self, scenario: Scenario, choice: ChoiceCode) -> str:
        value = scenario.choices.get(choice.name)
        if value is None:
            normal = choice.normal
            return f"{plan_type(self.routine)}.{normal}" if choice.values else normal
        if isinstance(value, Amount):
            declared = self.routine.choices[choice.name]
            assert isinstance(declared, RangeChoice), "only a range is a number"
            if value.dimension is Dimension.TIME:
                return java_time(int(value.base))
            return double(value.in_unit(declared.low.unit))
        constant = next(v.constant for v in choice.values if v.word == string(value))
        return f"{self._type(choice)}.{constant}"

    def _type(self, choice: ChoiceCode) -> str:
        return (
            f"{plan_type(self.routine)}.{choice.java_type}" if choice.values else choice.java_type
        )

    def _fact(self, fact: Cue | Ramp) -> str:
        if fact.reading not in self.asked:
            return "// (the plan does not look at it)"
        when = self._when(fact)
        field = f"run.{self.fields[fact.reading]}"
        if isinstance(fact, Ramp):
            low, high = (self._number(fact.reading, a) for a in (fact.low, fact.high))
            return f"{when}.goes({field}, {low}, {high});"
        if isinstance(fact.value, Amount):
            return f"{when}.gives({field}, {self._number(fact.reading, fact.value)});"
        if fact.value is None and self.asked[fact.reading].value_type == "double":
            return f"{when}.cannotGive({field});"
        return f"{when}.says({field}, {self._word(fact.reading, fact.value)});"

    def _when(self, fact: Cue | Ramp) -> str:
        times = [fact.at_us] if isinstance(fact, Cue) else [fact.start_us, fact.end_us]
        java = ", ".join(map(java_time, times))
        if fact.step:
            return f"run.in({java_name(fact.step)}, {java})"
        return f"run.{'at' if isinstance(fact, Cue) else 'between'}({java})"

    def _number(self, reading: str, amount: Amount) -> str:
        unit = self.looks[reading].unit
        assert unit is not None, "what answers in words has no numbers"
        return double(amount.in_unit(unit))

    def _word(self, reading: str, value: str | bool | None) -> str:
        if isinstance(value, bool):
            return "Boolean.TRUE" if value else "Boolean.FALSE"
        if value is None:
            return "null"
        return self._answer(self.routine.robot.sensors[reading], value)

    def _answer(self, sensor: Sensor, value: str) -> str:
        if sensor.kind in STATES:
            return "Boolean.TRUE" if value == STATES[sensor.kind][0] else "Boolean.FALSE"
        if sensor.kind is SensorKind.COLOUR:
            return f"Colour.{value.upper()}"
        camera = self.names.cameras[sensor.name]
        return f"{camera.sees}.{camera.values[value]}"

    def _demand(self, demand: Demand) -> str:
        match demand:
            case MustVisit(steps):
                return f"run.mustVisit({', '.join(map(java_name, steps))});"
            case MustFinish(finish, by_us):
                where = [java_name(finish)] if finish else []
                by = [java_time(by_us)] if by_us is not None else []
                return f"run.mustFinish({', '.join([*where, *by])});"
            case MustBeCutOff():
                return "run.mustBeCutOff();"
            case MustGive(_, "stop"):
                return "// (a pretend robot cannot tell it from switching off)"
            case MustGive(mechanism, command, negated):
                method = "mustNotGive" if negated else "mustGive"
                told = [string(f"{mechanism} {command}"), *self._numbers(demand)]
                return f"run.{method}({', '.join(told)});"
        return ""

    def _numbers(self, demand: MustGive) -> Iterator[str]:
        """The numbers with which a command must be given; none where any will do."""
        command = self.routine.robot.mechanisms[demand.mechanism].commands[demand.command]
        for amount, parameter in zip(demand.arguments or (), command.parameters, strict=False):
            yield double(amount.in_unit(parameter.unit))

    # The pretend robot.

    def _sensor(self, name: str) -> SensorCode:
        asked, field = self.asked[name], self.fields[name]
        if asked.value_type == "double":
            made = "fromStepStart()" if asked.from_step_start else "new Number()"
            return SensorCode(field, "Number", made, "double", asked.method, "")
        if asked.value_type == "boolean":
            made = "new Says<>(Boolean.FALSE)"
            return SensorCode(
                field, "Says<Boolean>", made, "boolean", asked.method, ".booleanValue()"
            )
        unsure = self._answer(self.routine.robot.sensors[name], UNSURE)
        kind = f"Says<{asked.value_type}>"
        return SensorCode(field, kind, f"new Says<>({unsure})", asked.value_type, asked.method, "")

    def _told(self) -> Iterator[ToldCode]:
        for told in self.plan.parts.told.values():
            _, mechanism, command = told.key
            numbers = told.parameters.replace("double ", "")
            given = ", ".join(filter(None, [string(f"{mechanism} {command}"), numbers]))
            lines = [f"gave({given});"]
            done = self.fields.get(f"{mechanism} done")
            if done:
                lines.append(f"{done}.set(Boolean.FALSE);")
            yield ToldCode(told.method, told.parameters, tuple(lines))
        for told in self.plan.parts.stops.values():
            line = f"switchedOff({string(told.key[1])});"
            yield ToldCode(told.method, told.parameters, (line,))


def _sources(robot: Robot) -> Iterator[tuple[str, Source]]:
    """What a scenario can speak of, by the names it has there."""
    yield from robot.sensors.items()
    for mechanism in robot.mechanisms.values():
        yield from ((reading.spoken, reading) for reading in mechanism.readings.values())
