"""A run that a search proposes, as a person follows it, once the reference machine has gone it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from planner.checks.words import listed
from planner.findings import Moment, ShownRun
from planner.graph import Plan
from planner.graph.run import Event, Left
from planner.graph.unfold import Exit
from planner.model.units import seconds_text
from planner.reach.picked import PickedPass, picked
from planner.reach.position import MATCH, Leaving, Position, Taken, knows_all_it_holds
from planner.reach.ranges import at_ends, has_ranges
from planner.reach.search import Run
from planner.reach.timed_plan import TimedPlan
from planner.rehearsal import Machine
from planner.rehearsal.facts import fact, readings_of_exit, reason


@dataclass(frozen=True, slots=True)
class PlayedRun:
    """A run that was played."""

    shown: ShownRun
    passes: tuple[PickedPass, ...]
    """One run of these moments."""
    exits: tuple[Exit, ...]
    """The exits it takes, in order."""
    events: tuple[Event, ...]
    """What happens in it."""
    entered: tuple[str, ...]
    """The steps that the last pass enters."""


def run_that_shows(
    plan: Plan,
    found: Run[Position],
    search: Callable[[Plan], Run[Position] | None],
    shows: Callable[[Sequence[Event]], bool],
    early: bool = False,
) -> PlayedRun | str:
    """A run like the one that was found, once it was played; else why that is no answer, after the
    words *The search of all runs*. The text is empty where another variant of the plan tells it.

    `search` finds a run of a plan as chosen, `shows` is asked of what happens in it. Of the times
    that its moves can have the latest are taken, or the `early` ones.
    """
    run: Run[Position] | None = found
    if has_ranges(plan):
        # A limit that is chosen before the start is one number on a run that is shown.
        run = search(plan)
    if run:
        return as_played(plan, run, shows, early) or _not_played(plan, run)
    if any(search(one) for one in at_ends(plan)):
        return ""
    return "found a run for some number of a range, and for neither of its ends"


def as_played(
    plan: Plan,
    run: Run[Position],
    shows: Callable[[Sequence[Event]], bool],
    early: bool = False,
) -> PlayedRun | None:
    """A run of a plan as chosen, once it was played; None where the reference machine does not go
    that way or the events of its run do not show what they should."""
    timed = TimedPlan(plan, as_chosen=True)
    taken = _taken(run)
    for passes in picked(timed, run, early):
        events = _played(plan, passes)
        left = [event for event in events if isinstance(event, Left)]
        went = [(event.step, event.exit.number) for event in left]
        if went == [(one.step, one.exit.number) for one in taken if one.exit] and shows(events):
            exits = tuple(one.exit for one in taken if one.exit)
            told = ShownRun(tuple(_moments(timed, run, passes, left)))
            entered = _leaving(run.moves[-1].label).entered if run.moves else ()
            return PlayedRun(told, passes, exits, events, entered)
    return None


def _not_played(plan: Plan, run: Run[Position]) -> str:
    through = listed(dict.fromkeys(one.step for one in _taken(run)), "and")
    if knows_all_it_holds(plan):
        because = "it takes some things to be possible together that are not"
    else:
        because = "it takes remembered numbers, and words that sensors have said, to be anything"
    return f"found a run through {through} that cannot be played; {because}"


def _taken(run: Run[Position]) -> list[Taken]:
    return [one for move in run.moves for one in _leaving(move.label).taken]


def _played(plan: Plan, passes: tuple[PickedPass, ...]) -> tuple[Event, ...]:
    machine = Machine(plan)
    return tuple(event for one in passes for event in machine.pass_(one.at_us, one.said))


def _moments(
    timed: TimedPlan, run: Run[Position], passes: tuple[PickedPass, ...], left: Sequence[Left]
) -> Iterator[Moment]:
    time_us, shown = timed.pace.time_us, {one.at_us: one.shown for one in passes}
    leaving = iter(left)
    for move, zone in zip(run.moves, run.zones[1:], strict=True):
        low, high = time_us(zone.least(MATCH)), time_us(zone.most(MATCH))
        for one in _leaving(move.label).taken:
            if one.exit is None:
                limit = seconds_text(timed.plan.routine.limit_us)
                yield Moment(low, high, one.step, f"cut off by the limit of {limit}")
                continue
            said = shown[next(leaving).at_us]
            names = dict.fromkeys(readings_of_exit(one.exit))
            seen = tuple(fact(timed.plan, n, said[n]) for n in names if n in said)
            yield Moment(low, high, one.step, reason(one.exit), seen)


def _leaving(label: object) -> Leaving:
    assert isinstance(label, Leaving)
    return label
