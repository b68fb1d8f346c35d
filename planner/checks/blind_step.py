"""What it finds
    A step that moves something and is ended by time alone. So does a step that only waits while a
    command goes on that an earlier step gave with `keep`.

Why it matters on the field
    How far a motor gets in 1.5 s depends on the battery, the floor and the load. What worked on
    the practice field stops short, or hits the wall, in the match. Waiting for a servo to travel
    is another matter: it goes to its place by itself, and earns no finding.

Example
    start BackOff
    step BackOff
      drive forward -30 %
      after 1.5 s, go to Lit
    finish Lit

Instead
    start BackOff
    step BackOff
      drive forward -30 %
      when drive travelled < -20 cm, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.advice import sensor_line
from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph import Plan
from planner.graph.lanes import lane_exits_of, looks_only_at_lanes
from planner.graph.lasting import kept_moving, last_given
from planner.graph.owners import first_limit, given_in, owners_around
from planner.model.robot import Action, OutputKind, SetPower
from planner.model.routine import AfterExit, Given, Step
from planner.model.spoken import spoken_command
from planner.model.units import Amount, seconds_text


def find(case: Case) -> Iterator[Found]:
    """Steps with a moving command and `after` exits only, groups around them counted in."""
    if case.plan is None:
        return
    routine = case.plan.routine
    timed = [
        (step, first)
        for step in routine.steps.values()
        if not (step.is_finish or step.ends_lane) and (first := _only_time(case.plan, step))
    ]
    if not timed:
        return
    kept = kept_moving(case.plan, (given for given, _ in given_in(routine) if _moves(given)))
    for step, first in timed:
        moving = [given for given in last_given(step).values() if _moves(given)]
        if not step.commands:
            moving = kept.get(step.name, [])
        if moving:
            yield _found(step, first, moving)


def _only_time(plan: Plan, step: Step) -> AfterExit | None:
    """The time limit that ends a step, where nothing but time does."""
    routine, outer = plan.routine, plan.outer.get(step.name, frozenset())
    for owner in owners_around(routine, step.name):
        if owner.incomplete:
            return None
        # When the block around a lane waits for lanes, the step is over by then.
        over = owner.name in outer
        if any(not (over and looks_only_at_lanes(when.condition)) for when in owner.whens):
            return None
    if step.is_block and any(lane_exits_of(plan, step.name)):
        return None
    return first_limit(routine, step.name)


def _found(step: Step, first: AfterExit, moving: list[Given]) -> Found:
    given = next((g for g in moving if sensor_line(g, first.target)), moving[0])
    line = sensor_line(given, first.target)
    name, time = given.mechanism.name, seconds_text(first.limit_us)
    way_out = (
        "Wait for what shows that the move is over, with a line such as the one below and your own "
        "number, and keep the time as a limit that leads somewhere else."
        if line
        else f"Give `{name}` a sensor or a reading that shows when the move is over, wait for it, "
        "and keep the time as a limit that leads somewhere else."
    )
    return Found(
        first.place if first in step.afters else step.place,
        f"`{step.name}` moves `{name}` and only time ends it",
        f"How far `{name}` gets in {time} depends on the battery, the floor and the load.",
        way_out,
        paste=(line,) if line else (),
        steps=(step.name,),
        related=tuple(Related(g.place, f"`{spoken_command(g)}` moves here") for g in moving),
    )


def _moves(given: Given) -> bool:
    """Whether a command makes something turn for as long as it lasts, or until it is done."""
    command = given.command
    if not command.runs and not command.reports_done:
        return False
    if not command.actions:
        return given.mechanism.moves
    return any(_turns(action) for action in command.actions)


def _turns(action: Action) -> bool:
    kind = action.output.kind
    if isinstance(action, SetPower) and isinstance(action.value, Amount):
        return kind is OutputKind.SERVO or action.value.number != 0
    return kind is not OutputKind.LAMP
