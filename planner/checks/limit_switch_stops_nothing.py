"""What it finds
    An exit that waits for a limit switch of a mechanism, and leads to a step where the motor of
    that mechanism still turns: the command that ran it goes on, with `keep` or because it holds.

Why it matters on the field
    A limit switch says that there is no way left. A motor that pushes on against the end of the way
    stalls, grows hot, and bends what is in between.

Example
    robot example
    hub main
      motor 0 lift_motor
      digital 1 lift_floor switch
    mechanism lift
      uses lift_motor, lift_floor
      command lower holds
        lift_motor at -30 %

    routine down
    robot example
    limit 30 s
    start Lower
    step Lower
      lift lower
      when lift_floor closed, go to Rest
      after 2 s, go to GiveUp
    step Rest
      after 1 s, go to Parked
    finish Parked
      lift stop
    finish GiveUp
      lift stop

Instead
    robot example
    hub main
      motor 0 lift_motor
      digital 1 lift_floor switch
    mechanism lift
      uses lift_motor, lift_floor
      command lower holds
        lift_motor at -30 %

    routine down
    robot example
    limit 30 s
    start Lower
    step Lower
      lift lower
      when lift_floor closed, go to Rest
      after 2 s, go to GiveUp
    step Rest
      lift stop
      after 1 s, go to Parked
    finish Parked
      lift stop
    finish GiveUp
      lift stop
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph import Plan
from planner.graph.atoms import Asking, named
from planner.graph.doing import Doing, Doings, Stance, after, doings
from planner.graph.lasting import last_given, turned_by
from planner.graph.owners import is_incomplete, rules_around
from planner.graph.possible import untrue_with
from planner.graph.unfold import Exit
from planner.graph.walks import open_exits
from planner.model.condition import Answers, leaves
from planner.model.robot import STATES, Mechanism, Sensor, SensorKind
from planner.model.routine import WhenExit
from planner.model.spoken import spoken_command


def find(case: Case) -> Iterator[Found]:
    """The exits at the end of a way after which the motor goes on, each line once."""
    if case.plan is None or case.robot.missing:
        return
    flows: dict[str, Doings | None] = {}
    told: set[tuple[int, str]] = set()
    for exits in open_exits(case.plan).values():
        for exit_ in exits:
            for sensor, mechanism in _ends_of_way(case, exit_):
                name = mechanism.name
                if name not in flows:
                    flows[name] = doings(case.plan, name)
                doing = _goes_on(case.plan, exit_, sensor, name, flows[name])
                if doing and (id(exit_.written), name) not in told:
                    told.add((id(exit_.written), name))
                    yield _found(exit_, sensor, name, doing)


def _ends_of_way(case: Case, exit_: Exit) -> Iterator[tuple[Sensor, Mechanism]]:
    """The switches that an exit needs to be reached, with the mechanisms that they belong to."""
    if not isinstance(exit_.written, WhenExit):
        return
    for leaf in leaves(exit_.written.condition):
        if not isinstance(leaf, Answers) or leaf.sensor.kind not in _SWITCHES:
            continue
        reached, free = STATES[leaf.sensor.kind]
        asking = Asking(exit_.written.condition, exit_.group or exit_.source)
        if leaf.value == reached and untrue_with(asking, named(leaf.sensor.name), free):
            for mechanism in case.robot.mechanisms.values():
                if leaf.sensor in mechanism.sensors:
                    yield leaf.sensor, mechanism


_SWITCHES = (SensorKind.SWITCH, SensorKind.TOUCH)


def _goes_on(
    plan: Plan, exit_: Exit, sensor: Sensor, mechanism: str, flow: Doings | None
) -> Doing | None:
    """A command that turns the motor before the exit and after it."""
    target = plan.step(exit_.target)
    spoken_to = mechanism in last_given(target) or is_incomplete(plan.routine, target.name)
    ruled = any(
        rule.given.mechanism.name == mechanism for rule in rules_around(plan.routine, target.name)
    )
    if flow is None or spoken_to or ruled or target.is_finish:
        return None
    for doing in flow.during.get(exit_.source, ()):
        left = after(plan, exit_, doing, mechanism)
        if left.stance is not Stance.TOLD or left.given is None or not turned_by(left.given):
            continue
        # A robot that is to lean against a wall has a touch sensor and `keep`.
        if sensor.kind is SensorKind.SWITCH or not left.given.command.runs:
            return left
    return None


def _found(exit_: Exit, sensor: Sensor, mechanism: str, doing: Doing) -> Found:
    assert doing.given is not None
    spoken = spoken_command(doing.given)
    return Found(
        exit_.place,
        f"`{sensor.name}` stops nothing: `{mechanism}` goes on in `{exit_.target}`",
        f"`{spoken}` is still in force there, so `{turned_by(doing.given)}` pushes on against the "
        "end of its way.",
        f"Write `{mechanism} stop` in `{exit_.target}`, or another command that lets go.",
        paste=(f"{mechanism} stop",),
        steps=(exit_.source, exit_.target),
        related=(Related(doing.given.place, "this goes on"),),
    )
