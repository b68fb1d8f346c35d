"""What the runs of a healthy robot do: which exits they take, and how long they are in a group."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from planner.graph import Plan
from planner.graph.healthy import is_window
from planner.graph.owners import groups_left
from planner.graph.unfold import Exit
from planner.model.routine import AfterExit, MatchExit
from planner.reach.position import MATCH, Leaving, Position, knows_all_it_holds
from planner.reach.search import Bounds, Move, Reset, explore
from planner.reach.timed_plan import TimedPlan
from planner.reach.verdict import Window
from planner.reach.zone import Zone


@dataclass(frozen=True, slots=True)
class HealthyRuns:
    """What is seen of all runs of a healthy plan."""

    taken: dict[tuple[str, int], Exit] = field(default_factory=dict)
    """The exits that some run takes, by step and number."""
    ended: dict[tuple[str, int], set[tuple[str, ...]]] = field(default_factory=dict)
    """By exit that a group's limit or the match clock makes true, the steps that are active when a
    run takes it."""
    through: dict[str, Window] = field(default_factory=dict)
    """By group that its work leads out of, and neither a group's limit nor the match clock, the
    shortest and the longest time spent in it."""
    finished: dict[str, Window] = field(default_factory=dict)
    """By finish that is come to like that, the time on the match clock."""


def is_cut(exit_: Exit) -> bool:
    """Whether a limit of a group, or the match clock, takes the robot away from its work."""
    if isinstance(exit_.written, MatchExit):
        return True
    return isinstance(exit_.written, AfterExit) and bool(exit_.group) and not is_window(exit_)


def healthy_runs(plan: Plan, bounds: Bounds) -> HealthyRuns | None:
    """What the runs of a healthy plan do; None where the search is stopped, or goes through runs
    that the robot may not have."""
    if not knows_all_it_holds(plan):
        return None
    watched = _Watched(plan)
    return watched.seen if explore(watched, bounds).stopped is None else None


class _Watched(TimedPlan):
    """The runs of a plan; what they do is noted while they are searched."""

    def __init__(self, plan: Plan) -> None:
        super().__init__(plan)
        self.seen = HealthyRuns()

    def moves(self, position: Position, zone: Zone) -> Iterator[Move[Position]]:
        """The moves, each noted if it can be made."""
        for move in super().moves(position, zone):
            then = zone
            for change in move.changes:
                if not isinstance(change, Reset):
                    then = change.after(then)
            if not then.is_empty:
                self._note(position, move, then)
                yield move

    def _note(self, position: Position, move: Move[Position], zone: Zone) -> None:
        leaving = move.label
        assert isinstance(leaving, Leaving)
        for one in leaving.taken:
            if one.exit is None:
                continue
            key = (one.step, one.exit.number)
            self.seen.taken[key] = one.exit
            if is_cut(one.exit):
                self.seen.ended.setdefault(key, set()).add(position.steps)
                continue
            for group in groups_left(self.plan, one.exit):
                if group in self._leads.clocks:
                    self._widen(self.seen.through, group, zone, self._leads.clocks[group])
            if self.plan.step(one.exit.target).is_finish:
                self._widen(self.seen.finished, one.exit.target, zone, MATCH)

    def _widen(self, windows: dict[str, Window], name: str, zone: Zone, clock: int) -> None:
        low, high = (self.pace.time_us(tick) for tick in (zone.least(clock), zone.most(clock)))
        before = windows.get(name, Window(low, high))
        windows[name] = Window(min(before.earliest_us, low), max(before.latest_us, high))
