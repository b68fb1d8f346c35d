"""The longest time that the limits of a plan add up to."""

from __future__ import annotations

from dataclasses import dataclass

from planner.graph.blocks import Blocks
from planner.graph.lanes import is_joined
from planner.graph.owners import is_incomplete
from planner.graph.pass_time import longest_pass_us
from planner.graph.timed_way import Lasting
from planner.graph.unfold import Plan
from planner.graph.walks import own_ways, played, reached, ways
from planner.model.routine import MatchExit


@dataclass(frozen=True, slots=True)
class LongestWay:
    """A way through a plan on which every step lasts as long as its limit."""

    from_us: int
    """When it begins: 0, or the time of the match-clock exit that it begins with."""
    steps: tuple[Lasting, ...]
    """Each step of it with its limit, as often as it is done; or a group that is left by its own
    limit. 0 where there is none."""
    pass_us: int
    """The longest pass. Each limit may be noticed that much late."""
    exact: bool
    """False where so many counts play together that each loop was gone through only once."""

    @property
    def limits_us(self) -> int:
        """What the limits add up to, with the time it begins at."""
        return self.from_us + sum(step.lasts_us for step in self.steps)

    @property
    def passes(self) -> int:
        """How many limits run out on the way, the match clock's counted in."""
        return sum(1 for step in self.steps if step.lasts_us) + bool(self.from_us)

    @property
    def total_us(self) -> int:
        """The limits, and a longest pass for each of them."""
        return self.limits_us + self.passes * self.pass_us


@dataclass(frozen=True, slots=True)
class Ending:
    """How long a plan can last, and the match-clock exits of the routine that come after it."""

    longest: LongestWay
    lasting: bool
    """Whether something on the way may last until the match ends."""
    too_late: tuple[MatchExit, ...]


def longest_way(plan: Plan) -> LongestWay:
    """The longest way from the start to where it ends, as the limits add up.

    A counted exit is taken as often as its count allows; a loop that nothing counts is gone
    through once. A match-clock exit at T cuts short what lasts longer than T, and so does the time
    limit of a group. What could not be read adds nothing.

    Raises ValueError where the routine has no start.
    """
    return ending(plan).longest


def ending(plan: Plan) -> Ending:
    """As `longest_way`, with what comes too late to be taken."""
    routine = plan.routine
    if not routine.start:
        raise ValueError("a routine without a start has no longest way")
    blocks = Blocks(plan, longest_pass_us(plan))
    start, from_us, reached_by = routine.start, 0, blocks.longest_from(routine.start)
    may_last = _may_last(plan, blocks)
    lasting = start in may_last
    too_late: tuple[MatchExit, ...] = ()
    for number, exit_ in enumerate(routine.match_exits):
        over = from_us + reached_by.total_us <= exit_.at_us and start not in may_last
        if over or exit_.at_us >= routine.limit_us:
            too_late = routine.match_exits[number:] if over else ()
            break
        from_us, start = exit_.at_us, exit_.target
        reached_by = blocks.longest_from(start)
        if start in may_last:
            lasting = True
    longest = LongestWay(from_us, reached_by.steps, blocks.pass_us, blocks.exact)
    return Ending(longest, lasting or _unknown(plan), too_late)


def _may_last(plan: Plan, blocks: Blocks) -> set[str]:
    """The steps from which a run can go on until the match clock ends it.

    It goes round an endless loop, or waits in a step that no time limit ends.
    """
    lasting = {
        name
        for name, step in plan.routine.steps.items()
        if not step.is_finish
        and not is_incomplete(plan.routine, name)
        and not step.afters
        and not blocks.is_limited(name)
        and not step.ends_lane
        and not (step.is_block and is_joined(plan, name))
    }
    return reached(own_ways(plan).reverse(copy=False), lasting | blocks.endless)


def _unknown(plan: Plan) -> bool:
    """Whether a run may come to a step that could not be read whole."""
    return any(is_incomplete(plan.routine, name) for name in played(plan, ways(plan)))
