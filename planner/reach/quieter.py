"""A run in which as few sensors as can be speak, step by step as it was found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.model.routine import WhenExit
from planner.reach.position import Leaving
from planner.reach.search import Location, Move, Run, System, meeting
from planner.reach.zone import Zone


def quieter(system: System[Location], run: Run[Location]) -> Run[Location]:
    """The same locations, left by limits wherever those lead there too and the run still goes on.

    A sensor that speaks in the last moment is a strange thing to be told of where the limit that
    comes then is the plain one.
    """
    for number, move in enumerate(run.moves):
        spoken = _spoken(move)
        others = system.moves(run.locations[number], run.zones[number]) if spoken else ()
        alike = [one for one in others if _same_way(one, move) and _spoken(one) < spoken]
        for other in sorted(alike, key=_spoken):
            moves = (*run.moves[:number], other, *run.moves[number + 1 :])
            zones = _zones(run.zones[0], moves)
            if zones:
                run = replace(run, moves=moves, zones=zones)
                break
    return run


def _spoken(move: Move[Location]) -> int:
    """How many steps it leaves because a sensor spoke."""
    assert isinstance(move.label, Leaving)
    return sum(1 for one in move.label.taken if one.exit and isinstance(one.exit.written, WhenExit))


def _same_way(one: Move[Location], other: Move[Location]) -> bool:
    assert isinstance(one.label, Leaving)
    assert isinstance(other.label, Leaving)
    return one.target == other.target and one.label.entered == other.label.entered


def _zones(first: Zone, moves: Sequence[Move[Location]]) -> tuple[Zone, ...]:
    """The values of the clocks along these moves; none where no run makes them all."""
    zones = [first]
    for move in moves:
        zones.append(move.after(zones[-1]))
        if zones[-1].is_empty:
            return ()
    for number in reversed(range(len(moves))):
        zones[number] = meeting(moves[number].before(zones[number + 1]), zones[number])
    for number, move in enumerate(moves):
        zones[number + 1] = meeting(move.after(zones[number]), zones[number + 1])
    return tuple(zones)
