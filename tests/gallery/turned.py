"""Demands turned round, so that a run that met them meets them no more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from planner.graph.run import Event, Finished
from planner.model.routine import Routine
from planner.model.scenario import Demand, MustBeCutOff, MustFinish, MustGive, MustVisit


def turned_round(demand: Demand, routine: Routine, events: tuple[Event, ...]) -> Iterator[Demand]:
    """What the demand is not: each of these must fail on a run that met the demand."""
    match demand:
        case MustGive():
            yield replace(demand, negated=not demand.negated)
        case MustVisit():
            yield replace(demand, steps=demand.steps[::-1])
        case MustFinish():
            yield from (replace(demand, finish=name) for name in _others(demand.finish, routine))
            yield replace(demand, by_us=_end_us(events) - 1)
        case MustBeCutOff():
            yield from (MustFinish(name, None, demand.place) for name in _others("", routine))


def _others(finish: str, routine: Routine) -> Iterator[str]:
    steps = routine.steps.values()
    return (step.name for step in steps if step.is_finish and step.name != finish)


def _end_us(events: tuple[Event, ...]) -> int:
    return next(event.at_us for event in events if isinstance(event, Finished))
