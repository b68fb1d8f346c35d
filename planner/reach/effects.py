"""What becomes of a plan when something on the robot is broken: failure mode and effect analysis.

The columns are those of IEC 60812 (2018; from memory): item, failure mode, local effect, end
effect, detection. A plan with a fault in it is searched like any other, so that an answer holds for
every run: whatever the other sensors say, and however the controller's passes fall.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

from planner.graph import Plan, unfold
from planner.graph.broken import broken, outcomes
from planner.graph.faults import Fault, faults_of
from planner.model.choices import Variant
from planner.model.routine import AfterExit, Group, Step, WhenExit
from planner.reach.position import Position
from planner.reach.search import Bounds, Fails, Holds, Stopped
from planner.reach.verdict import Window, verdict


@dataclass(frozen=True, slots=True)
class Lost:
    """An exit of a step that a fault settles."""

    step: str
    exit: WhenExit
    always: bool
    """True where it is true in every pass, so that the step is left at once; else it never is."""


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
    settled: tuple[Lost, ...]
    """The exits that the fault settles, in the steps that are still entered."""
    detected_by: tuple[AfterExit, ...]
    """The time limits that end a wait in which the fault has settled an exit as never true."""
    plan: Plan
    """The plan with the fault in it."""
    lost: tuple[str, ...] = ()
    """The finishes among `skipped`."""
    chosen: Variant = field(default_factory=dict)
    """What was chosen before the start."""

    @property
    def latest_us(self) -> int | None:
        """When the last run comes to a finish; None where none does."""
        return max((window.latest_us for window in self.finishes.values()), default=None)

    @property
    def weight(self) -> tuple[int, int, int, int]:
        """How bad it is: whether a finish is sure, how many finishes are out of reach, how much is
        skipped, how late it is, in this order."""
        grade = {Fails: 2, Stopped: 1, Holds: 0}[type(self.in_time)]
        return grade, len(self.lost), len(self.skipped), self.latest_us or 0


@dataclass(frozen=True, slots=True)
class Failure:
    """One fault, or several at once, in one variant of a plan: what is to be looked into."""

    plan: Plan
    faults: tuple[Fault, ...]
    entered: frozenset[str]
    """The steps that runs without a fault enter."""
    chosen: Variant = field(default_factory=dict)

    def effect(self, bounds: Bounds | None = None) -> Effect:
        """What it does to every run."""
        with_faults = unfold(broken(self.plan.routine, self.faults))
        found = verdict(with_faults, bounds)
        steps = self.plan.routine.steps
        skipped = tuple(name for name in steps if name in self.entered - set(found.entries))
        settled = tuple(_settled(self.plan, with_faults, found.entries))
        return Effect(
            self.faults,
            found.in_time,
            found.finishes,
            skipped,
            settled,
            tuple(_detecting(self.plan, settled)),
            with_faults,
            tuple(name for name in skipped if steps[name].is_finish),
            self.chosen,
        )


def failures(
    plan: Plan, chosen: Variant, pairs: bool = False, bounds: Bounds | None = None
) -> Iterator[Failure]:
    """Each fault in turn, in the order of `faults_of`; with `pairs` then every two faults of
    different things. The plan must be free of errors.
    """
    entered = frozenset(verdict(plan, bounds).entries)
    faults = faults_of(plan.routine)
    groups: list[tuple[Fault, ...]] = [(fault,) for fault in faults]
    if pairs:
        groups += [two for two in combinations(faults, 2) if two[0].item != two[1].item]
    return (Failure(plan, group, entered, chosen) for group in groups)


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


def _settled(plan: Plan, with_faults: Plan, entered: Mapping[str, Window]) -> Iterator[Lost]:
    """The exits of entered steps that are never true any more, or always."""
    for name in plan.routine.steps:
        if name not in entered:
            continue
        left = {when.place: when for when in with_faults.step(name).whens}
        for when in plan.step(name).whens:
            now = left.get(when.place)
            if now is None:
                yield Lost(name, when, always=False)
            elif outcomes(now.condition) == {True} != outcomes(when.condition):
                yield Lost(name, when, always=True)


def _detecting(plan: Plan, settled: Sequence[Lost]) -> Iterator[AfterExit]:
    """The limit of each step that waits in vain: its own first, else that of a group around it."""
    for name in dict.fromkeys(one.step for one in settled if not one.always):
        owners: tuple[Step | Group, ...] = (
            plan.step(name),
            *reversed(plan.routine.groups_around(name)),
        )
        limits = [min(o.afters, key=lambda a: a.limit_us) for o in owners if o.afters]
        yield from limits[:1]
