"""What becomes of a plan when something on the robot is broken: failure mode and effect analysis.

The columns are those of IEC 60812 (2018; from memory): item, failure mode, local effect, end
effect, detection. A plan with a fault in it is searched like any other, so that an answer holds for
every run: whatever the other sensors say, and however the controller's passes fall.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

from planner.graph import Plan, unfold
from planner.graph.broken import broken
from planner.graph.faults import Fault, faults_of
from planner.graph.running import Turning, running
from planner.model.choices import Variant
from planner.model.routine import AfterExit, MatchExit
from planner.reach.losses import Settled, Taken, detecting, settled
from planner.reach.position import Position
from planner.reach.search import Bounds, Fails, Holds, Stopped
from planner.reach.verdict import Verdict, Window, verdict


@dataclass(frozen=True, slots=True)
class Effect:
    """What one fault, or several at once, do to every run of a plan."""

    faults: tuple[Fault, ...]
    in_time: Holds | Fails[Position] | Stopped
    """Whether every run still reaches a finish within the routine's limit."""
    finishes: dict[str, Window]
    """The finishes that some run still reaches, and when."""
    skipped: tuple[str, ...]
    """Steps that runs without a fault can enter and those with it cannot, as written."""
    settled: tuple[Settled, ...]
    """The exits and side rules that the fault settles, where they are still asked."""
    detected_by: tuple[AfterExit | MatchExit, ...]
    """What ends the waits in which the fault has settled an exit as never true: time limits, else
    an exit by the match clock."""
    still_running: dict[str, Turning] = field(default_factory=dict)
    """By finish, what still turns when it is reached, and is switched off there."""
    lost: tuple[str, ...] = ()
    """The finishes among `skipped`."""
    chosen: Variant = field(default_factory=dict)
    """What was chosen before the start."""

    @property
    def latest_us(self) -> int | None:
        """When the last run comes to a finish; None where none does."""
        return max((window.latest_us for window in self.finishes.values()), default=None)

    @property
    def weight(self) -> tuple[int, int, int, int, int]:
        """How bad it is: whether a finish is sure, how many finishes are out of reach, how much is
        skipped, how much no side rule stops any more, how late it is, in this order."""
        grade = {Fails: 2, Stopped: 1, Holds: 0}[type(self.in_time)]
        unruled = sum(one.is_unruled for one in self.settled)
        return grade, len(self.lost), len(self.skipped), unruled, self.latest_us or 0


@dataclass(frozen=True, slots=True)
class Failure:
    """One fault, or several at once, in one variant of a plan: what is to be looked into."""

    plan: Plan
    faults: tuple[Fault, ...]
    entered: frozenset[str]
    """The steps that runs without a fault enter."""
    unbroken: Effect
    """What becomes of runs without a fault, to compare with."""
    chosen: Variant = field(default_factory=dict)

    def effect(self, bounds: Bounds | None = None) -> Effect:
        """What it does to every run."""
        with_faults = unfold(broken(self.plan.routine, self.faults))
        found = verdict(with_faults, bounds)
        return _effect(self.plan, self.faults, found, self.entered, self.chosen)


def _effect(
    plan: Plan,
    faults: tuple[Fault, ...],
    found: Verdict,
    entered: frozenset[str],
    chosen: Variant,
) -> Effect:
    """What faults do to a plan, given what is known of all runs with them."""
    with_faults, steps = found.timed.plan, plan.routine.steps
    # A search that came to no end has not seen all exits that may be taken.
    taken: Taken | None = None if found.stopped else found.taken
    turning = running(with_faults, taken)
    skipped = tuple(name for name in steps if name in entered - set(found.entries))
    lost = tuple(settled(plan, with_faults, found.entries, turning)) if faults else ()
    return Effect(
        faults,
        found.in_time,
        found.finishes,
        skipped,
        lost,
        tuple(detecting(plan, with_faults, lost, taken)),
        {name: turning.during([name]) for name in found.finishes},
        tuple(name for name in skipped if steps[name].is_finish),
        chosen,
    )


def failures(
    plan: Plan, chosen: Variant, pairs: bool = False, bounds: Bounds | None = None
) -> Iterator[Failure]:
    """Each fault in turn, in the order of `faults_of`; with `pairs` then every two faults of
    different things. The plan must be free of errors.
    """
    sound = verdict(plan, bounds)
    entered = frozenset(sound.entries)
    unbroken = _effect(plan, (), sound, entered, chosen)
    faults = faults_of(plan.routine)
    groups: list[tuple[Fault, ...]] = [(fault,) for fault in faults]
    if pairs:
        groups += [two for two in combinations(faults, 2) if two[0].item != two[1].item]
    return (Failure(plan, group, entered, unbroken, chosen) for group in groups)


def worst_unbroken(every: Iterable[Failure]) -> Effect | None:
    """What becomes of runs with nothing broken, in the worst variant; None without failures."""
    return next(iter(worst_first(one.unbroken for one in every)), None)


def worst_first(effects: Iterable[Effect]) -> tuple[Effect, ...]:
    """The worst effect of each failure among all variants of a plan, the worst of all first.

    Where all variants fare alike, it does not say what was chosen.
    """
    by_name: dict[tuple[str, ...], list[Effect]] = {}
    for one in effects:
        by_name.setdefault(tuple(str(fault) for fault in one.faults), []).append(one)
    # Of equal weight the first thing asked comes first.
    worst = [_worst(of_one) for of_one in by_name.values()]
    return tuple(sorted(worst, key=lambda effect: effect.weight, reverse=True))


def _worst(effects: Sequence[Effect]) -> Effect:
    alike = len({one.weight for one in effects}) == 1
    worst = max(effects, key=lambda one: one.weight)
    return replace(worst, chosen={}) if alike else worst
