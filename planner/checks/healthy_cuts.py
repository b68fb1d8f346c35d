"""Which limits of groups, and which times of the match clock, a healthy robot can run into."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import networkx as nx

from planner.checks.case import Case
from planner.checks.timing import bounds_for
from planner.findings import Related
from planner.graph.brisk import Brisk, Limit, brisk, lengthened, unclocked
from planner.graph.healthy import expects, expects_anything, seen_before
from planner.graph.owners import groups_left
from planner.graph.pass_time import longest_pass_us
from planner.graph.unfold import Exit, Plan
from planner.model.routine import AfterExit, MatchExit, Routine
from planner.model.units import seconds_text
from planner.reach.healthy_runs import HealthyRuns, healthy_runs, is_cut
from planner.reach.verdict import Window, spanning

_TENTH_US = 100_000


@dataclass(frozen=True, slots=True)
class Cut:
    """A limit that can take a healthy robot away from its work."""

    owner: str
    """The group whose it is; empty for the routine."""
    written: AfterExit | MatchExit
    step: str
    """A step that expects something, in which it can come."""
    always: bool
    """Whether no healthy robot gets through the group before it comes."""
    takes: Window | None
    """How long a healthy robot takes without it: in the group, or of the match for all. None where
    that has no bound, or is not known."""


def cuts_of(case: Case) -> tuple[Cut, ...]:
    """The limits of groups and the exits by the match clock that a healthy robot can run into.

    They are worked out once for each case. Where the search is stopped there are none.
    """
    return case.once(_all_cuts)


def expected_in(routine: Routine, step: str) -> tuple[Related, ...]:
    """What a step expects, as a finding refers to it."""
    return tuple(
        Related(when.expect.place, "what is expected")
        for when in routine.steps[step].whens
        if when.expect
    )


def in_tenths(takes: Window) -> tuple[str, str]:
    """The times that a healthy robot needs, passes included, as one remembers them."""
    low, high = takes.earliest_us // _TENTH_US, -(-takes.latest_us // _TENTH_US)
    return seconds_text(low * _TENTH_US), seconds_text(high * _TENTH_US)


def _all_cuts(case: Case) -> tuple[Cut, ...]:
    plan = case.whole_plan
    if plan is None or case.tasks_alone or not expects_anything(plan.routine):
        return ()
    routine = plan.routine
    limited = any(one.afters or one.match_exits for one in routine.groups.values())
    if not (limited or routine.match_exits):
        return ()
    pass_us = longest_pass_us(plan)
    found: dict[Limit, Cut] = {}
    for begun in seen_before(routine) or ():
        for cut in _cuts_of(begun, pass_us):
            found.setdefault((cut.owner, cut.written.place), cut)
    return tuple(found.values())


def _cuts_of(routine: Routine, pass_us: int) -> Iterator[Cut]:
    plan = brisk(routine, pass_us)
    seen = _runs(plan)
    if seen is None:
        return
    ended = {key: seen.taken[key] for key in seen.ended}
    afters = {_limit(e) for e in ended.values() if isinstance(e.written, AfterExit)}
    clocks = {_limit(e) for e in ended.values() if isinstance(e.written, MatchExit)}
    longer = _runs(brisk(lengthened(routine, afters), pass_us)) if afters else None
    later = None
    if clocks and not plan.unclear & {step for step, _ in seen.taken}:
        later = _runs(brisk(unclocked(routine, clocks), pass_us))
    for key, exit_ in ended.items():
        asked = longer if isinstance(exit_.written, AfterExit) else later
        cut = asked and _cut(routine, plan, seen, asked, key)
        if cut:
            yield cut


def _runs(plan: Brisk) -> HealthyRuns | None:
    return healthy_runs(plan.plan, bounds_for(plan.plan))


def _limit(exit_: Exit) -> Limit:
    return exit_.group, exit_.place


def _cut(
    routine: Routine, plan: Brisk, seen: HealthyRuns, lifted: HealthyRuns, key: tuple[str, int]
) -> Cut | None:
    """What an exit takes a healthy robot away from; None where the plan may mean it to."""
    written, owner = seen.taken[key].written, seen.taken[key].group
    if isinstance(written, AfterExit):
        takes, always = lifted.through.get(owner), owner not in seen.through
        inside = _steps_in(routine, owner)
        if takes is None or inside & plan.unclear:
            return None
        rounds = _on_rounds(plan, lifted, owner, inside, counted=False)
    elif isinstance(written, MatchExit):
        inside = frozenset(routine.steps)
        rounds = _on_rounds(plan, lifted, "", inside, counted=True)
        takes, always = None if rounds else spanning(lifted.finished.values()), False
    else:
        return None
    # A loop that no count ends goes on for as long as it may: the limit is there to end it.
    active = (
        step
        for block_or_step, *lanes in sorted(seen.ended[key])
        for step in (*lanes, block_or_step)
        if step in inside
    )
    step = next((one for one in active if _expects(routine, plan.plan, one, owner, rounds)), None)
    return Cut(owner, written, step, always, takes) if step else None


def _steps_in(routine: Routine, group: str) -> frozenset[str]:
    return frozenset(
        name
        for name in routine.steps
        if any(around.name == group for around in routine.groups_around(name))
    )


def _on_rounds(
    plan: Brisk, runs: HealthyRuns, owner: str, inside: frozenset[str], *, counted: bool
) -> frozenset[str]:
    """The steps on loops that healthy runs go through without leaving a group; those that a count
    ends too, if wanted."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    for exit_ in runs.taken.values():
        stays = exit_.source in inside and exit_.target in inside
        stays = stays and owner not in groups_left(plan.plan, exit_)
        if stays and not is_cut(exit_) and (counted or exit_.most is None):
            graph.add_edge(exit_.source, exit_.target)
    graph.add_edges_from(
        (block, first) for block, firsts in plan.plan.begins.items() for first in firsts
    )
    loops: list[set[str]] = list(nx.strongly_connected_components(graph))
    return frozenset(
        step for loop in loops for step in loop if len(loop) > 1 or graph.has_edge(step, step)
    )


def _expects(routine: Routine, plan: Plan, step: str, owner: str, rounds: frozenset[str]) -> bool:
    """Whether a step, or a group around it up to the owner of a limit, expects something that is
    still to come; of loops none but the owner does."""
    if owner and expects(routine.groups[owner]):
        return True
    if {step, plan.block_of(step)} & rounds:
        return False
    names = [around.name for around in routine.groups_around(step)]
    inner = names[names.index(owner) + 1 :] if owner in names else names
    return expects(routine.steps[step]) or any(expects(routine.groups[name]) for name in inner)
