"""A run that was searched for, as a scenario that shows it again."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from planner.graph import Plan
from planner.graph.run import Event, Left
from planner.model.choices import Variant
from planner.model.routine import path_of
from planner.model.scenario import Cue, MustFinish, Scenario
from planner.rehearsal.saved import readable
from planner.rehearsal.scenarios import Played, play
from planner.rehearsal.session import Touch


def scenario_that_shows(
    plan: Plan,
    touches: Sequence[Touch],
    pass_us: int,
    chosen: Variant,
    shows: Callable[[Played], bool],
) -> Scenario | None:
    """A scenario without a name in which the sensors say so, in passes of that length.

    The touches are told at the passes that see them first. It demands to finish, and has no more
    cues than it needs to go its way. `shows` is asked of it as played; None where it says no.
    """
    place = plan.routine.place
    demands = (MustFinish(None, None, place),)
    for cues in (_in_steps(plan, touches), _on_clock(plan, touches)):
        unique = tuple(dict.fromkeys(cues))
        played = play(plan, Scenario("", "", pass_us, unique, (), demands, place, choices=chosen))
        if shows(played):
            return _without_needless(plan, played, shows)
    return None


def _in_steps(plan: Plan, touches: Sequence[Touch]) -> Iterator[Cue]:
    routine = plan.routine
    for one in touches:
        value = readable(routine.robot, one)
        yield Cue(path_of(one.step)[-1], one.in_step_us, one.reading, value, routine.place)


def _on_clock(plan: Plan, touches: Sequence[Touch]) -> Iterator[Cue]:
    routine = plan.routine
    for one in touches:
        yield Cue("", one.match_us, one.reading, readable(routine.robot, one), routine.place)


def _without_needless(plan: Plan, played: Played, shows: Callable[[Played], bool]) -> Scenario:
    scenario, way = played.scenario, _way(played.events)
    for cue in reversed(scenario.cues):
        fewer = replace(scenario, cues=tuple(one for one in scenario.cues if one is not cue))
        again = play(plan, fewer)
        if shows(again) and _way(again.events) == way:
            scenario = fewer
    return scenario


def _way(events: Sequence[Event]) -> list[tuple[str, int]]:
    return [(one.step, one.exit.number) for one in events if isinstance(one, Left)]
