"""A run by hand as a scenario that shows the same run again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TypeAlias

from planner.graph.run import Event, Finished, LimitReached
from planner.model.robot import Robot
from planner.model.routine import path_of
from planner.model.scenario import (
    Cue,
    Demand,
    MustBeCutOff,
    MustFinish,
    MustVisit,
    Scenario,
)
from planner.model.units import Amount
from planner.rehearsal.scenario_lines import scenario_lines
from planner.rehearsal.scenarios import play
from planner.rehearsal.session import PASS_US, Session, Touch
from planner.rehearsal.world import Value

_Timed: TypeAlias = tuple[str, int, Touch]

# A line that visits more is hard to read, and would at some time be too long to be read at all.
_MOST_VISITS = 12


def scenario_of(session: Session, name: str) -> tuple[str, ...]:
    """The lines of a scenario that visits the same steps and ends the same way.

    Where they lead to the same run, its cues count from the steps, and a reading that was set
    after 1.2 s is said to be set then; else they count on the match clock, pass by pass.
    """
    for scenario in _candidates(session, name):
        if _same(session, play(session.plan, scenario).events):
            return tuple(scenario_lines(session.plan, scenario))
    raise AssertionError("the cues of a run, pass by pass, lead to another run")


def _candidates(session: Session, name: str) -> Iterator[Scenario]:
    touches = list(_last_of_each_moment(session.touches))
    # What is set after a pass is seen in the next one.
    yield _scenario(session, name, [_in_step(touch, 0) for touch in touches])
    yield _scenario(session, name, [_in_step(touch, PASS_US) for touch in touches])
    yield _scenario(session, name, [_on_clock(touch) for touch in touches])


def _last_of_each_moment(touches: list[Touch]) -> Iterator[Touch]:
    """Without what was set to something else before any pass saw it."""
    last = {(touch.match_us, touch.reading): touch for touch in touches}
    return (touch for touch in touches if last[touch.match_us, touch.reading] is touch)


def _scenario(session: Session, name: str, cues: list[_Timed]) -> Scenario:
    place = session.plan.routine.place
    robot = session.plan.routine.robot
    written = (
        Cue(step, at, touch.reading, readable(robot, touch), place) for step, at, touch in cues
    )
    unique = tuple(dict.fromkeys(written))
    demands = tuple(_demands(session))
    return Scenario(name, "", PASS_US, unique, (), demands, place, choices=session.choices)


def readable(robot: Robot, touch: Touch) -> Value:
    """What a sensor said; a number outside of its range is one that cannot be read (M6)."""
    sensor = robot.sensors.get(touch.reading)
    bounds = sensor.bounds if sensor else None
    if bounds is None or not isinstance(touch.value, Amount):
        return touch.value
    inside = bounds.low.base <= touch.value.base <= bounds.high.base
    return touch.value if inside else None


def _in_step(touch: Touch, later_us: int) -> _Timed:
    if touch.before_start:
        return "", 0, touch
    return _own(touch.step), touch.in_step_us + later_us, touch


def _on_clock(touch: Touch) -> _Timed:
    if touch.before_start:
        return "", 0, touch
    return "", touch.match_us + PASS_US, touch


def _demands(session: Session) -> Iterator[Demand]:
    place = session.plan.routine.place
    visits = [_own(step) for step in session.visits()]
    # Each line begins with the last step of the one before, so that the lines hang together.
    for start in range(0, max(1, len(visits) - 1), _MOST_VISITS):
        yield MustVisit(tuple(visits[start : start + _MOST_VISITS + 1]), place)
    match session.end:
        case Finished(_, step):
            yield MustFinish(step, None, place)
        case LimitReached():
            yield MustBeCutOff(place)


def _own(step: str) -> str:
    """The name by which a scenario calls a step, without the step that does its task."""
    return path_of(step)[-1]


def _same(session: Session, played: tuple[Event, ...]) -> bool:
    """Whether a run begins with all that happened by hand; a pass earlier or later is the same."""
    by_hand = session.events
    return [_timeless(event) for event in by_hand] == [
        _timeless(event) for event in played[: len(by_hand)]
    ]


def _timeless(event: Event) -> Event:
    return replace(event, at_us=0)
