"""Runs that the routine's limit ends outside of a finish (M11), the shortest first."""

from __future__ import annotations

from collections.abc import Iterator

from planner.graph import Plan
from planner.model.routine import WhenExit
from planner.reach.pace import Pace
from planner.reach.position import CUT_OFF, MATCH, Leaving, Position
from planner.reach.search import Move
from planner.reach.staying import ways_of
from planner.reach.timed_plan import TimedPlan
from planner.reach.zone import Zone


def is_cut_off(position: Position) -> bool:
    """Whether a run was ended there by the routine's limit."""
    return position.step == CUT_OFF


class SoonestCutOff(TimedPlan):
    """The runs of a plan, those first that can come to the routine's limit in the fewest moves."""

    def __init__(self, plan: Plan, pace: Pace | None = None, as_chosen: bool = False) -> None:
        super().__init__(plan, pace, as_chosen)
        self._limit = self.pace.ticks(plan.routine.limit_us)
        self._longest = list(self._longest_after_moves(as_chosen))

    def moves(self, position: Position, zone: Zone) -> Iterator[Move[Position]]:
        """Those of time limits first: of runs as short, that on which no sensor speaks is told."""
        return iter(sorted(super().moves(position, zone), key=_asks_sensors))

    def rank(self, position: Position, zone: Zone, moves: int) -> int:
        """By the fewest moves with which it can be cut off; of as many, what is nearer to it."""
        left = 0 if position.step == CUT_OFF else self._fewest(position.step, zone.most(MATCH))
        return (moves + left) * _MANY - moves

    def _fewest(self, step: str, tick: int) -> int:
        """No run comes from a step to the limit in fewer moves than that."""
        return next(
            (n for n, after in enumerate(self._longest, 1) if tick + after[step] >= self._limit),
            len(self._longest) + 1,
        )

    def _longest_after_moves(self, as_chosen: bool) -> Iterator[dict[str, int]]:
        """For one move, two and so on, how long they can take from each step, in ticks."""
        steps = [name for name in self.plan.routine.steps if name not in self.plan.outer]
        stays = {step: self._longest_stay(step, as_chosen) for step in steps}
        leads = {step: self._leading(step) for step in steps}
        longest = stays
        while True:
            yield longest
            further = {
                step: stays[step] + max((longest[to] for to in leads[step]), default=0)
                for step in steps
            }
            further = {step: min(ticks, self._limit) for step, ticks in further.items()}
            if further == longest:
                return
            longest = further

    def _longest_stay(self, step: str, as_chosen: bool) -> int:
        """A step is left before each of its limits, and that of its groups, plus a longest pass."""
        if self.plan.step(step).is_finish:
            return 0
        ways = ways_of(self.plan, step, self.pace, as_chosen)
        limits = (way.last + self.pace.longest for way in ways if way.is_limit)
        return min([self._limit, *limits])

    def _leading(self, step: str) -> set[str]:
        """Where moves lead from a step; from a block, to itself where a lane goes on."""
        block_of = self.plan.block_of
        inside = [step, *(lane for lane in self.plan.outer if block_of(lane) == step)]
        targets = {exit_.target for one in inside for exit_ in self.plan.exits[one]}
        return {block_of(target) or target for target in targets}


_MANY = 1_000_000
"""More than the moves of any run."""


def _asks_sensors(move: Move[Position]) -> bool:
    """Whether an exit of a move waits for a condition."""
    leaving = move.label
    assert isinstance(leaving, Leaving)
    return any(one.exit and isinstance(one.exit.written, WhenExit) for one in leaving.taken)
