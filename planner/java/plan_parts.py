"""What a plan needs of the robot: the readings it looks at and the commands it gives."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TypeAlias

from planner.graph import Plan
from planner.graph.owners import Owner, given_in, owners
from planner.java.condition_code import full_turn
from planner.java.naming import OBJECT_METHODS, distinct, member_name, names_in
from planner.java.robot_names import (
    RobotNames,
    command_line,
    parameter_names,
    reading_words,
    sensor_words,
)
from planner.java.wording import comment, double
from planner.model.condition import (
    Condition,
    Source,
    leaves,
    look_of,
)
from planner.model.robot import STATES, Command, Mechanism, Reading, Sensor, SensorKind
from planner.model.routine import Routine

# Methods that every plan class has or imports; those of `Parts` become methods of the plan too.
PLAN_METHODS = OBJECT_METHODS | names_in(
    "askStep begin followRules isFinished isOff keepWhatWasSeen laneName lanes leftByMatchClock "
    "lookBeforeStart micros millis mirrored moves movesOfPass nanosInMatch nanosInStep pass "
    "readings rememberSeen rememberStep seconds secondsInMatch secondsInStep sendDue show step "
    "stepInWords stepName stopEverything timeInMatch timeInStep waitsFor wasCutOff why"
)

Key: TypeAlias = tuple[str, ...]
"""Tells the methods of `Parts` apart."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A reading that the plan looks at, and the method of `Parts` that gives it."""

    key: Key
    method: str
    value_type: str
    doc: str
    delegate: str
    """The call of an op mode that answers it."""
    bounds: tuple[str, str] | None = None
    from_step_start: bool = False
    turn: str = ""
    """How much of its unit is a full turn; empty where it does not wrap."""
    unit: str = ""
    """Of a number."""
    words: tuple[str, str] = ("yes", "no")
    """What yes and no mean."""

    @property
    def spoken(self) -> str:
        """How a plan names it."""
        kind, *names = self.key
        return f"{names[0]} done" if kind == "done" else " ".join(names)


@dataclass(frozen=True, slots=True)
class Told:
    """A command that the plan gives, or the switching off of a mechanism."""

    key: Key
    method: str
    parameters: str
    doc: str
    delegate: str

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its parameters, which are numbers."""
        return tuple(word.removeprefix("double ") for word in self.parameters.split(", ") if word)


@dataclass(frozen=True, slots=True)
class Parts:
    """All of it, by key, in the order of the plan; the stops in the order of the robot file."""

    asked: dict[Key, Asked]
    told: dict[Key, Told]
    stops: dict[str, Told]
    """By mechanism: those that the plan commands."""
    mechanisms: tuple[str, ...]
    """Those that the plan commands or looks at, in the order of the robot file."""


def sensor_key(sensor: Sensor) -> Key:
    """The key of a sensor's reading."""
    return ("sensor", sensor.name)


def source_key(source: Source) -> Key:
    """The key of what gives a number."""
    if isinstance(source, Reading):
        return ("reading", source.mechanism, source.name)
    return sensor_key(source)


def done_key(mechanism: Mechanism) -> Key:
    """The key of a mechanism's report."""
    return ("done", mechanism.name)


def command_key(mechanism: Mechanism, command: Command) -> Key:
    """The key of a command."""
    if command.name == "stop" and not command.parameters:
        return stop_key(mechanism.name)
    return ("command", mechanism.name, command.name)


def stop_key(mechanism: str) -> Key:
    """The key of switching a mechanism off."""
    return ("stop", mechanism)


def asking(routine: Routine) -> Iterator[Owner]:
    """The routine, the groups and the steps, but for those in which nothing is ever asked."""
    return (owner for owner in owners(routine) if owner.steps or owner.seen)


def conditions(owner: Owner) -> Iterator[Condition]:
    """The conditions of an owner's exits and side rules, as written."""
    return (condition for condition, _ in owner.conditions)


def looked_at(owner: Owner) -> Iterator[Sensor | Reading | Mechanism]:
    """What an owner's lines look at; a mechanism for its report."""
    for condition in conditions(owner):
        yield from looks_of(condition)
    for remember in owner.remembers:
        yield from remember.readings
    yield from (memory.seen_by for memory in owner.seen if memory.seen_by)


def looks_of(condition: Condition) -> Iterator[Sensor | Reading | Mechanism]:
    """The same for one condition."""
    return (look for leaf in leaves(condition) if (look := look_of(leaf)))


def since_keys(owner: Owner) -> set[Key]:
    """The readings from the step's start that an owner looks at."""
    looks = (look for look in looked_at(owner) if isinstance(look, Reading))
    return {source_key(look) for look in looks if look.from_step_start}


def parts_of(plan: Plan, names: RobotNames) -> Parts:
    """The parts that a plan needs, with names that stay apart."""
    robot = plan.routine.robot
    looks = {_look_key(look): look for own in asking(plan.routine) for look in looked_at(own)}
    given = {command_key(g.mechanism, g.command): g for g, _ in given_in(plan.routine)}
    commanded = {given.mechanism.name for given in given.values()}
    stops = [name for name in robot.mechanisms if name in commanded]
    wanted = {key: _look_words(look) for key, look in looks.items()}
    # Stops before commands: a command `stop` with parameters is the one to step aside.
    wanted |= {stop_key(name): f"{name}_stop" for name in stops}
    wanted |= {key: "_".join(key[1:]) for key in given if key[0] == "command"}
    methods = distinct(wanted, member_name, "part", PLAN_METHODS)
    asked = {key: _asked(key, look, methods[key], names) for key, look in looks.items()}
    told = {
        key: _told(key, given.mechanism, given.command, methods[key], names)
        for key, given in given.items()
        if key[0] == "command"
    }
    owners = commanded | {_owner(look, names) for look in looks.values()}
    return Parts(
        asked,
        told,
        {name: _stop(name, methods[stop_key(name)], names) for name in stops},
        tuple(name for name in names.mechanisms if name in owners),
    )


def _look_key(look: Sensor | Reading | Mechanism) -> Key:
    return done_key(look) if isinstance(look, Mechanism) else source_key(look)


def _look_words(look: Sensor | Reading | Mechanism) -> str:
    match look:
        case Sensor():
            return sensor_words(look)
        case Reading():
            return f"{look.mechanism}_{reading_words(look)}"
        case Mechanism():
            return f"is_{look.name}_done"


def _owner(look: Sensor | Reading | Mechanism, names: RobotNames) -> str:
    match look:
        case Sensor():
            return names.owners[look.name]
        case Reading():
            return look.mechanism
        case Mechanism():
            return look.name


def _asked(key: Key, look: Sensor | Reading | Mechanism, method: str, names: RobotNames) -> Asked:
    own = names.mechanisms[_owner(look, names)]
    match look:
        case Sensor():
            delegate = f"{own.variable}.{own.getters[look.name]}()"
            doc = comment(f"{look.name}{_answers(look)}")
            return Asked(
                key,
                method,
                value_type(look, names),
                doc,
                delegate,
                _bounds(look),
                unit=look.unit.name if look.unit else "",
                words=STATES.get(look.kind, ("yes", "no")),
            )
        case Reading():
            return Asked(
                key,
                method,
                "double",
                comment(f"{look.spoken} in {look.unit.name}{_NO_NUMBER}"),
                f"{own.variable}.{own.readings[look.name]}()",
                _bounds(look),
                look.from_step_start,
                full_turn(look) if look.wraps else "",
                look.unit.name,
            )
        case Mechanism():
            doc = comment(f"Whether {look.name} has done what it was last told")
            return Asked(key, method, "boolean", doc, f"{own.variable}.isDone()")


_NO_NUMBER = "; Double.NaN where it cannot be had"


def _answers(sensor: Sensor) -> str:
    if sensor.kind in STATES:
        low, high = STATES[sensor.kind]
        return f": true while {low}, false while {high}"
    if sensor.unit:
        return f" in {sensor.unit.name}{_NO_NUMBER}"
    return f": {' or '.join(sensor.values)}; null where it cannot be had"


def value_type(sensor: Sensor, names: RobotNames) -> str:
    """The Java type of what a sensor gives."""
    if sensor.kind in STATES:
        return "boolean"
    if sensor.kind is SensorKind.COLOUR:
        return "Colour"
    if sensor.kind is SensorKind.CAMERA:
        return names.cameras[sensor.name].sees
    return "double"


def _bounds(source: Source) -> tuple[str, str] | None:
    if source.bounds is None or source.unit is None:
        return None
    low, high = source.bounds.low, source.bounds.high
    return double(low.in_unit(source.unit)), double(high.in_unit(source.unit))


def _told(key: Key, mechanism: Mechanism, command: Command, method: str, names: RobotNames) -> Told:
    own = names.mechanisms[mechanism.name]
    parameters = list(parameter_names(command.parameters).values())
    call = f"{own.variable}.{own.commands[command.name]}({', '.join(parameters)})"
    declared = ", ".join(f"double {name}" for name in parameters)
    doc = comment(f"{mechanism.name}: {command_line(command)}")
    return Told(key, method, declared, doc, call)


def _stop(mechanism: str, method: str, names: RobotNames) -> Told:
    variable = names.mechanisms[mechanism].variable
    doc = f"{mechanism}: command stop, which every mechanism has"
    return Told(stop_key(mechanism), method, "", doc, f"{variable}.stop()")
