"""What it finds
    A step that moves something and is ended by time alone.

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
from planner.graph.lasting import last_given
from planner.model.robot import Action, OutputKind, SetPower
from planner.model.routine import Given, Step
from planner.model.spoken import spoken_command
from planner.model.units import Amount, seconds_text


def find(case: Case) -> Iterator[Found]:
    """Steps with a moving command and `after` exits only."""
    if case.plan is None:
        return
    for step in case.plan.routine.steps.values():
        if step.whens or not step.afters or step.incomplete or step.is_finish:
            continue
        moving = [given for given in last_given(step).values() if _moves(given)]
        if moving:
            yield _found(step, moving)


def _found(step: Step, moving: list[Given]) -> Found:
    first = min(step.afters, key=lambda after: after.limit_us)
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
        first.place,
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
