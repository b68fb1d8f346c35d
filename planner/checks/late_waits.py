"""Where the time of a run goes: the steps that last longest, and the clocks that start anew."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from planner.checks.timing import Timing
from planner.findings import Related
from planner.graph import Plan
from planner.graph.run import Entered, Left
from planner.graph.unfold import Exit
from planner.model.routine import AfterExit
from planner.text import Place

_MOST_STEPS = 3
_LEAST_US = 1_000_000
"""What lasts shorter than this is not worth a line."""


def waits_of(timing: Timing) -> Iterator[Related]:
    """The steps that last longest on a run, each at the line that ends it at the latest, and the
    groups whose limit was not what it seemed."""
    lasted, visits = _stays(timing)
    for step, lasts_us in lasted.most_common(_MOST_STEPS):
        if lasts_us >= _LEAST_US:
            often = f", in {visits[step]} visits" if visits[step] > 1 else ""
            told = f"`{step}` lasts {lasts_us / 1_000_000:.1f} s of this run{often}"
            yield Related(_limit_of(timing, step), told)
    yield from _anew(timing)


def _stays(timing: Timing) -> tuple[Counter[str], Counter[str]]:
    """How long a run is in each step, in microseconds, and how often it enters it."""
    lasted: Counter[str] = Counter()
    visits: Counter[str] = Counter()
    since: dict[str, int] = {}
    steps = timing.plan.routine.steps
    for event in timing.events:
        # What lasts in a block are the steps of its lanes.
        if isinstance(event, Entered) and not _only_stands(timing.plan, event.step):
            since[event.step] = event.at_us
            visits[event.step] += 1
        elif isinstance(event, Left) and event.step in since:
            lasted[event.step] += event.at_us - since.pop(event.step)
    for step in filter(steps.__contains__, since):
        lasted[step] += timing.events[-1].at_us - since[step]
    return lasted, visits


def _only_stands(plan: Plan, name: str) -> bool:
    step = plan.step(name)
    return step.is_block or step.ends_lane


def _limit_of(timing: Timing, step: str) -> Place:
    """The line that ends a step at the latest; else what it waits for, or the step itself."""
    owner = timing.plan.step(step)
    shortest = min(owner.afters, key=lambda after: after.limit_us, default=None)
    if shortest:
        return shortest.place
    left = (one.place for one in timing.exits if one.source == step)
    return next(left, owner.place)


def _anew(timing: Timing) -> Iterator[Related]:
    """The limits of groups that run out more than once on a run."""
    ran_out = Counter(
        (exit_.place, exit_.group) for exit_ in timing.exits if exit_.group and _is_limit(exit_)
    )
    for (place, group), times in ran_out.items():
        if times > 1:
            yield Related(
                place,
                f"the clock of `{group}` starts anew each time `{group}` is entered: this runs "
                f"out {times} times",
            )


def _is_limit(exit_: Exit) -> bool:
    return isinstance(exit_.written, AfterExit)
