"""Motors that go on at the end of their way, although the plan looks at the switch there."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.graph.atoms import Asking, named
from planner.graph.doing import Doings, Stance, after, doings
from planner.graph.lasting import last_given, turned_by, turning
from planner.graph.owners import is_incomplete, owners_around, rules_around
from planner.graph.possible import untrue_with
from planner.graph.unfold import Exit, Plan
from planner.graph.walks import open_exits, played, ways
from planner.model.condition import Answers, Condition, leaves
from planner.model.robot import STATES, Mechanism, Sensor, SensorKind, SetPosition
from planner.model.routine import Given, Step, WhenExit
from planner.text import Place


@dataclass(frozen=True, slots=True)
class GoesOn:
    """A motor that turns on when a switch of its mechanism has been reached."""

    place: Place
    """The exit or side rule that waits for the switch."""
    sensor: Sensor
    given: Given
    """The command that is in force then."""
    source: str
    step: str
    """Where the motor goes on; for a side rule it is `source` too."""
    certain: bool
    """Whether the switch is an end of the way; else it may be a bumper that the robot leans on."""
    again: bool = False
    """Whether the step gives the command anew."""


def pushing_on(plan: Plan) -> Iterator[GoesOn]:
    """The exits and rules at the end of a way after which the motor goes on, each line once."""
    flows: dict[str, Doings | None] = {}
    told: set[tuple[Place, str]] = set()
    playable = played(plan, ways(plan))
    for step, exits in open_exits(plan).items():
        if step in playable:
            every = [found for exit_ in exits for found in _after_exit(plan, exit_, flows)]
            for found in (*every, *_under_rules(plan, plan.step(step))):
                key = (found.place, found.given.mechanism.name)
                if key not in told:
                    told.add(key)
                    yield found


_SWITCHES = (SensorKind.SWITCH, SensorKind.TOUCH)


def _reached(plan: Plan, condition: Condition, owner: str) -> Iterator[tuple[Sensor, Mechanism]]:
    """The switches that a condition needs to be reached, with the mechanisms they belong to."""
    for leaf in leaves(condition):
        if not isinstance(leaf, Answers) or leaf.sensor.kind not in _SWITCHES:
            continue
        reached, free = STATES[leaf.sensor.kind]
        needed = untrue_with(Asking(condition, owner), named(leaf.sensor.name), free)
        if leaf.value == reached and needed:
            for mechanism in plan.routine.robot.mechanisms.values():
                if leaf.sensor in mechanism.sensors:
                    yield leaf.sensor, mechanism


def _after_exit(plan: Plan, exit_: Exit, flows: dict[str, Doings | None]) -> Iterator[GoesOn]:
    if not isinstance(exit_.written, WhenExit):
        return
    owner = exit_.group or exit_.source
    for sensor, mechanism in _reached(plan, exit_.written.condition, owner):
        name = mechanism.name
        if name not in flows:
            flows[name] = doings(plan, name)
        given = _goes_on(plan, exit_, name, flows[name])
        certain = given is not None and _is_end(sensor, given)
        if given is not None and (certain or _has_places(given)):
            again = name in last_given(plan.step(exit_.target))
            yield GoesOn(exit_.place, sensor, given, exit_.source, exit_.target, certain, again)


def _goes_on(plan: Plan, exit_: Exit, mechanism: str, flow: Doings | None) -> Given | None:
    """A command that turns the motor on after the exit, as it was turned before it."""
    target = plan.step(exit_.target)
    rules = rules_around(plan.routine, target.name)
    ruled = any(rule.given.mechanism.name == mechanism for rule in rules)
    if flow is None or is_incomplete(plan.routine, target.name) or ruled or target.is_finish:
        return None
    again = last_given(target).get(mechanism)
    for doing in flow.during.get(exit_.source, ()):
        if doing.stance is not Stance.TOLD or doing.given is None or not turned_by(doing.given):
            continue
        left = after(plan, exit_, doing, mechanism)
        if again is None and left.stance is Stance.TOLD:
            return doing.given
        if again is not None and _as_hard(doing.given, again):
            return again
    return None


def _as_hard(before: Given, again: Given) -> bool:
    """Whether a motor is turned the same way by the second command, and with no less power."""
    first, then = turning(before), turning(again)
    return any(
        motor in then and power * then[motor] > 0 and abs(then[motor]) >= abs(power)
        for motor, power in first.items()
    )


def _under_rules(plan: Plan, step: Step) -> Iterator[GoesOn]:
    """The step's own rules that look at the switch and leave the motor as it is, where nothing
    else in the step looks at the switch or speaks to the mechanism."""
    # Beside a lane another may see to it.
    if step.is_finish or is_incomplete(plan.routine, step.name) or plan.block_of(step.name):
        return
    for rule in step.rules:
        for sensor, mechanism in _reached(plan, rule.condition, step.name):
            given = last_given(step).get(mechanism.name)
            if given is None or not turned_by(given) or _is_seen_to(plan, step, sensor, given):
                continue
            certain = _is_end(sensor, given)
            away = _is_met_the_other_way(plan, sensor, given)
            if not away and (certain or _has_places(given)):
                yield GoesOn(rule.place, sensor, given, step.name, step.name, certain)


def _is_seen_to(plan: Plan, step: Step, sensor: Sensor, given: Given) -> bool:
    """Whether a rule may change what the mechanism does, or an exit waits for the switch."""
    name = given.mechanism.name
    for rule in rules_around(plan.routine, step.name):
        if rule.given.mechanism.name == name and not _as_hard(given, rule.given):
            return True
    return any(
        isinstance(leaf, Answers) and leaf.sensor == sensor
        for owner in owners_around(plan.routine, step.name)
        for when in owner.whens
        for leaf in leaves(when.condition)
    )


def _is_met_the_other_way(plan: Plan, sensor: Sensor, given: Given) -> bool:
    """Whether a step that turns the motor the other way waits for the switch: then it lies at that
    end, and the command leads away from it."""
    ahead = turning(given)
    for step in plan.routine.steps.values():
        back = turning(told) if (told := last_given(step).get(given.mechanism.name)) else {}
        if any(back.get(motor, 0) * power < 0 for motor, power in ahead.items()):
            waits = (leaf for when in step.whens for leaf in leaves(when.condition))
            if any(isinstance(leaf, Answers) and leaf.sensor == sensor for leaf in waits):
                return True
    return False


def _is_end(sensor: Sensor, given: Given) -> bool:
    # A robot that is to lean against a wall has a touch sensor and a command that runs.
    return sensor.kind is SensorKind.SWITCH or not given.command.runs


def _has_places(given: Given) -> bool:
    """Whether the mechanism runs the same motor to places too, as an arm or a lift does: then its
    way has ends."""
    motor = turned_by(given)
    return any(
        isinstance(action, SetPosition) and action.output.name == motor
        for command in given.mechanism.commands.values()
        for action in command.actions
    )
