"""Random runs, for the Java and the reference machine to agree on."""

from __future__ import annotations

import random
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from java.java_tools import ORIGIN_NANOS

from planner.graph import Plan
from planner.graph.run import Commanded, Entered, Event, Finished, LimitReached, SwitchedOff
from planner.java.plan_code import plan_code, step_constants
from planner.java.plan_names import plan_type
from planner.java.plan_parts import (
    Asked,
    Parts,
    asking,
    command_key,
    conditions,
    looked_at,
    parts_of,
    sensor_key,
    source_key,
)
from planner.java.printed_plan import PlanCode
from planner.java.robot_names import RobotNames, names_of
from planner.model.choices import AnyChoice, Choice, RangeChoice, Variant, normal_variant, variants
from planner.model.condition import Compare, Reckoned, Steady, Within, leaves
from planner.model.memory import Computed, NumberMemory, Table, WordMemory
from planner.model.robot import STATES, Mechanism, Reading, Sensor, SensorKind
from planner.model.units import Amount
from planner.pipeline import Checked, plan_for
from planner.rehearsal import Machine, Readings

RUNS_OF_EACH = 3
RUNS_OF_A_VARIANT = 1


@dataclass(frozen=True)
class Trace:
    """A run: what the bench is to play, and what the reference machine does."""

    name: str
    script: list[str]
    expected: list[str]
    is_free: bool
    """Side rules, and whatever a plan with lanes tells, is sent last; between mechanisms the order
    of one pass is free (M7)."""

    def comparable(self, lines: list[str]) -> list[str]:
        """Lines of the bench, in an order of their own where the order is free.

        The reference reckons with exact numbers and Java with doubles, so what is worked out of
        inches and centimetres is compared in nine digits.
        """
        rounded = [_NUMBER.sub(_nine_digits, line) for line in lines]
        return [in_order(line) for line in rounded] if self.is_free else rounded


_NUMBER = re.compile(r"(?<=[=(,])-?\d+\.\d+(?:[eE][-+]?\d+)?(?=[ ,)]|$)")


def _nine_digits(found: re.Match[str]) -> str:
    # A number that is nothing has no sign.
    return f"{float(found[0]) + 0.0:.9g}"


def in_order(line: str) -> str:
    """A line with what is told in the order of its letters; steps and ends stay as they are."""
    words = line.split()
    told = sorted(word for word in words if "(" in word)
    return " ".join([*(word for word in words if "(" not in word), *told])


def random_traces(name: str, checked: Checked) -> Iterator[Trace]:
    """Runs of a plan on random sensors, always the same ones; each variant has its own."""
    plan = checked.plan
    names = names_of(plan.routine.robot)
    code = plan_code(plan, names)
    for variant in some_variants(plan.routine.choices, random.Random(name)):
        chosen = plan_for(checked, variant)
        arguments = " ".join(_arguments(plan.routine.choices, code, variant))
        if variant == normal_variant(plan.routine.choices):
            # Nobody chooses.
            arguments = ""
        for number in range(RUNS_OF_EACH if not variant else RUNS_OF_A_VARIANT):
            whole = " ".join(filter(None, [name, arguments, str(number)]))
            writer = _Writer(plan, chosen, names, random.Random(whole))
            yield writer.trace(whole, name.partition(".")[0], arguments)


def traces_of(package: str, plan: Plan, runs: int) -> Iterator[Trace]:
    """Runs of a plan without choices, always the same ones."""
    names = names_of(plan.routine.robot)
    for number in range(runs):
        whole = f"{package}.{plan.routine.name} {number}"
        yield _Writer(plan, plan, names, random.Random(whole)).trace(whole, package, "")


def some_variants(
    choices: Mapping[str, AnyChoice], chance: random.Random
) -> Iterator[dict[str, str | Amount]]:
    """What is normal, every variant that the checks go through, and each with other numbers."""
    yield normal_variant(choices)
    for variant in variants(choices) if choices else ():
        yield variant
        between = {
            name: replace(low, number=low.number + (high.number - low.number) * part)
            for name, choice in choices.items()
            if isinstance(choice, RangeChoice)
            for low, high in [(choice.low, choice.high)]
            for part in [Fraction(chance.randrange(1, 20), 20)]
        }
        if between:
            yield {**variant, **between}


def _arguments(choices: Mapping[str, AnyChoice], code: PlanCode, variant: Variant) -> Iterator[str]:
    """What the plan is made with, in the words of the bench."""
    for choice, made in zip(choices.values(), code.choices, strict=True):
        value = variant[choice.name]
        if isinstance(choice, Choice):
            assert isinstance(value, str)
            yield made.values[choice.values.index(value)].constant
        else:
            assert isinstance(value, Amount)
            # Whoever chooses more than there is gets the most there is.
            beyond = (value == choice.high) - (value == choice.low)
            number = value.in_unit(choice.low.unit) + beyond
            nanos = int(number * choice.low.unit.size) * 1000
            yield str(nanos) if made.is_time else repr(float(number))


class _Writer:
    def __init__(self, plan: Plan, chosen: Plan, names: RobotNames, chance: random.Random) -> None:
        self.plan = plan
        self.chosen = chosen
        self.names = names
        self.chance = chance
        self.parts: Parts = parts_of(plan, names)
        self.constants = step_constants(plan.routine)
        looks = (look for owner in asking(plan.routine) for look in looked_at(owner))
        self.looks = {_name(look): look for look in looks}
        self.borders = self._borders()
        self.readings: dict[str, float | str | bool | None] = {}

    def trace(self, name: str, package: str, arguments: str) -> Trace:
        """One run, a little longer than the routine's limit."""
        machine = Machine(self.chosen)
        script = [f"plan {package}.plans.{plan_type(self.plan.routine)} {arguments}".strip()]
        expected = ["ok"]
        self._look_before_start(machine, script, expected)
        now_us, longest_us = 0, self.chance.choice((40_000, 400_000))
        while now_us < self.plan.routine.limit_us + 2 * longest_us and len(script) < 500:
            changing = [look for look in self.looks.values() if now_us == 0 or self._changes()]
            words = [self._changed(look) for look in changing]
            nanos = ORIGIN_NANOS + now_us * 1000
            script.append(" ".join(["pass", str(nanos), *words]))
            before = dict(machine.state.remembered)
            line = self._line(machine.pass_(now_us, dict(self.readings)))
            expected.append(self._with_remembered(line, before, machine))
            now_us += self.chance.choice((1_000, 20_000, longest_us))
        has_rules = any(owner.rules for owner in asking(self.plan.routine))
        return Trace(name, script, expected, has_rules or bool(self.plan.begins))

    def _look_before_start(self, machine: Machine, script: list[str], expected: list[str]) -> None:
        """Some looks while the robot waits, where the plan remembers what it sees then."""
        memories = self.plan.routine.memories.values()
        seen = [m.seen_by for m in memories if isinstance(m, WordMemory) and m.seen_by]
        for _ in range(self.chance.randrange(4) if seen else 0):
            words = [self._changed(sensor) for sensor in dict.fromkeys(seen)]
            script.append(" ".join(["look", *words]))
            before = dict(machine.state.remembered)
            machine.look_before_start(dict(self.readings))
            expected.append(self._with_remembered("-", before, machine))

    def _with_remembered(self, line: str, before: Mapping[str, object], machine: Machine) -> str:
        """The line, and what memories and counters hold from now on."""
        now = machine.state.remembered
        changed = [
            f"{name}={float(value) if isinstance(memory, NumberMemory) else value}"
            for name, memory in self.plan.routine.memories.items()
            for value in [now[name]]
            if value != before[name]
        ]
        return " ".join([*([] if line == "-" and changed else [line]), *changed])

    # Sensors.

    def _changes(self) -> bool:
        return self.chance.random() < 0.2

    def _changed(self, look: Sensor | Reading | Mechanism) -> str:
        """Gives a sensor another value; the word that tells the bench."""
        method = self._asked(look).method
        if isinstance(look, Mechanism):
            done = self.chance.random() < 0.5
            self.readings[_name(look)] = done
            return f"{method}={str(done).lower()}"
        if isinstance(look, Sensor) and look.unit is None:
            return f"{method}={self._word(look)}"
        number = self._number(_name(look))
        self.readings[_name(look)] = None if number is None else number
        return f"{method}={'NaN' if number is None else repr(number)}"

    def _word(self, sensor: Sensor) -> str:
        word = self.chance.choice(sensor.values)
        self.readings[sensor.name] = word
        if sensor.kind in STATES:
            return str(word == sensor.values[0]).lower()
        if self.chance.random() < 0.1:
            self.readings[sensor.name] = None
            return "null"
        if sensor.kind is SensorKind.COLOUR:
            return word.upper()
        return self.names.cameras[sensor.name].values[word]

    def _number(self, name: str) -> float | None:
        if self.chance.random() < 0.1:
            return None
        near = float(self.chance.choice(self.borders[name]))
        return near + self.chance.choice((-50.0, -0.5, 0.0, 0.5, 50.0))

    def _borders(self) -> dict[str, list[Fraction]]:
        """Numbers at which something changes, by reading."""
        borders: dict[str, list[Fraction]] = {name: [Fraction(0)] for name in self.looks}
        asked = (c for owner in asking(self.chosen.routine) for c in conditions(owner))
        for condition in asked:
            for leaf in leaves(condition):
                if isinstance(leaf, Compare) and leaf.source.unit:
                    limit = leaf.threshold.in_unit(leaf.source.unit)
                    borders[leaf.source.spoken].append(limit)
                if isinstance(leaf, Within) and leaf.source.unit:
                    centre = leaf.centre.in_unit(leaf.source.unit)
                    reach = leaf.tolerance.in_unit(leaf.source.unit)
                    borders[leaf.source.spoken] += [centre - reach, centre + reach]
                if isinstance(leaf, Reckoned) and leaf.source.unit:
                    borders[leaf.source.spoken] += self._reckoned(leaf)
                if isinstance(leaf, Steady) and leaf.source.unit:
                    # From 0 to here is just within; from half of it on the mark moves, or not.
                    reach = leaf.tolerance.in_unit(leaf.source.unit)
                    borders[leaf.source.spoken] += [reach, -reach, reach / 2]
        return borders

    def _reckoned(self, leaf: Reckoned) -> Iterator[Fraction]:
        """Numbers near those that are worked out, with what memories hold at the start."""
        number, unit = leaf.number, leaf.source.unit
        assert unit is not None, "the resolver compares numbers only"
        fixed = number.fixed if isinstance(number, Computed) else number
        yield fixed.in_unit(unit)
        for part in number.parts if isinstance(number, Computed) else ():
            if isinstance(part.of, NumberMemory):
                first = part.factor * part.of.first.in_unit(unit)
                yield from (first, first + fixed.in_unit(unit))
            if isinstance(part.of, Table):
                for row in part.of.rows.values():
                    yield part.factor * row.in_unit(unit) + fixed.in_unit(unit)

    def _asked(self, look: Sensor | Reading | Mechanism) -> Asked:
        if isinstance(look, Mechanism):
            return self.parts.asked["done", look.name]
        key = sensor_key(look) if isinstance(look, Sensor) else source_key(look)
        return self.parts.asked[key]

    # What the machine did, in the words of the bench.

    def _line(self, events: tuple[Event, ...]) -> str:
        words = [word for event in events if (word := self._event(event))]
        ends = [word for word in words if word in ("off", "cut off")]
        return " ".join([*(word for word in words if word not in ends), *ends]) or "-"

    def _event(self, event: Event) -> str:
        match event:
            case Entered(_, step):
                lane = self.plan.routine.lane_around(step)
                done = self.plan.step(step).ends_lane
                constant = "done" if done else self.constants[step]
                return f"{lane.lane}:{constant}" if lane else constant
            case Commanded(_, name, command_name, arguments):
                mechanism = self.plan.routine.robot.mechanisms[name]
                command = mechanism.commands[command_name]
                key = command_key(mechanism, command)
                told = self.parts.told.get(key) or self.parts.stops[name]
                numbers = [
                    repr(float(amount.in_unit(parameter.unit)))
                    for amount, parameter in zip(arguments, command.parameters, strict=True)
                ]
                return f"{told.method}({','.join(numbers)})"
            case SwitchedOff(_, name):
                stop = self.parts.stops.get(name)
                return f"{stop.method}()" if stop else ""
            case Finished():
                return "finished"
            case LimitReached(_, _, cut_off):
                return "cut off" if cut_off else "off"
            case _:
                return ""


def _name(look: Sensor | Reading | Mechanism) -> str:
    return f"{look.name} done" if isinstance(look, Mechanism) else look.spoken


__all__ = ["Readings", "Trace", "random_traces", "traces_of"]
