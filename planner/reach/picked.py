"""A run in passes that a machine can play: when the controller looks, and what the sensors say.

A run of the search stands for many; here some of them are picked. They are only proposals: the
search lets in moves that no run makes (`timed_plan`), so whoever shows one has to see it played
first.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from planner.model.condition import (
    Held,
    Lasting,
    Looks,
    Steady,
    lasting_parts,
)
from planner.model.routine import WhenExit
from planner.reach.bound import at_most
from planner.reach.glances import Glance, Key, Told, needs_before, time_for
from planner.reach.one_pass import agreed, views_of
from planner.reach.pace import Pace
from planner.reach.passes import Span, passes_between
from planner.reach.position import CUT_OFF, MATCH, Leaving, Position
from planner.reach.saying import TRUE, Value
from planner.reach.search import Reset, Run, meeting
from planner.reach.sensors import Said, Sensors
from planner.reach.staying import Going, Stretch
from planner.reach.timed_plan import Here, TimedPlan
from planner.reach.zone import Constraint, Zone


@dataclass(frozen=True, slots=True)
class PickedPass:
    """One pass of a run."""

    at_us: int
    said: Said
    shown: Said
    """The same as the plan sees it, where it looks."""


@dataclass(frozen=True, slots=True)
class _Visit:
    """What is between two passes in which something is entered: the time, and how it ends."""

    position: Position
    begin: int
    end: int
    clocks: tuple[int, ...]
    """What the clocks say when it begins."""
    leaving: Leaving
    going: dict[str, tuple[Going, Glance | None]]
    """By step that is left, the way and what the last pass finds."""


@dataclass(frozen=True, slots=True)
class _Want:
    """Something on several passes that is to be true, from one tick up to but not at another."""

    told: Told
    begin: int
    end: int


LATENESS = (4, 3, 2, 1, 0)
"""In quarters, how late in the time that the run leaves for it each step is left."""


def picked(
    timed: TimedPlan, run: Run[Position], early: bool = False
) -> Iterator[tuple[PickedPass, ...]]:
    """Passes in which a run goes that way, the latest first, or the `early` ones; a cut-off comes
    as soon as it can."""
    for quarters in reversed(LATENESS) if early else LATENESS:
        passes = _passes(timed, run, quarters)
        if passes is not None:
            yield passes


def _passes(timed: TimedPlan, run: Run[Position], quarters: int) -> tuple[PickedPass, ...] | None:
    visits = list(_visits(timed, run, quarters))
    ticks = [_ticks(timed, visit) for visit in visits]
    sensors = Sensors(timed.plan)
    passes = [PickedPass(0, sensors.said(()), {})]
    sensors.entered(run.locations[0].steps, ())
    wants = list(_wants(timed, visits, [tick for some in ticks if some for tick in some]))
    for visit, some in zip(visits, ticks, strict=True):
        if some is None:
            return None
        here = timed.here(visit.position)
        for tick in (*some, visit.end):
            said = sensors.said(_glances(visit, here, tick, wants))
            passes.append(PickedPass(timed.pace.time_us(tick), said, dict(sensors.shown)))
        exits = tuple(taken.exit for taken in visit.leaving.taken if taken.exit)
        sensors.entered(visit.leaving.entered, exits)
    return tuple(passes)


def _visits(timed: TimedPlan, run: Run[Position], quarters: int) -> Iterator[_Visit]:
    """The stays of a run, with times that fit together."""
    pace, zone = timed.pace, run.zones[-1]
    is_cut = run.locations[-1].step == CUT_OFF
    ticks = [zone.least(MATCH) if is_cut else _chosen(zone, quarters, pace)]
    for move, earlier in zip(reversed(run.moves), reversed(run.zones[:-1]), strict=True):
        zone = meeting(move.before(zone.meet(_exactly(ticks[-1]))), earlier)
        ticks.append(_chosen(zone, quarters, pace))
    ticks.reverse()
    clocks = [0] * zone.size
    for number, move in enumerate(run.moves):
        begin, end, leaving = ticks[number], ticks[number + 1], move.label
        assert isinstance(leaving, Leaving)
        going = _found_together(timed, run.locations[number], leaving)
        yield _Visit(run.locations[number], begin, end, tuple(clocks), leaving, going)
        clocks = [0, *(clock + end - begin for clock in clocks[1:])]
        for change in move.changes:
            if isinstance(change, Reset):
                clocks[change.clock] = change.number


def _chosen(zone: Zone, quarters: int, pace: Pace) -> int:
    least, most = zone.least(MATCH), zone.most(MATCH)
    tick = least + (most - least) * quarters // 4
    # A time in whole milliseconds is easier to read.
    return max(least, tick - tick % max(1, pace.ticks(1_000)))


def _exactly(tick: int) -> tuple[Constraint, Constraint]:
    return Constraint(MATCH, 0, at_most(tick)), Constraint(0, MATCH, at_most(-tick))


def _found_together(
    timed: TimedPlan, position: Position, leaving: Leaving
) -> dict[str, tuple[Going, Glance | None]]:
    """By step that is left, the way and what the last pass finds: of all that can be found in one
    pass, what needs the least before it."""

    def effort(going: Going, glance: Glance) -> tuple[int, int, int]:
        takes = (time_for(node, glance, timed.pace) for _, node in _needs(going, glance))
        return max(takes, default=0), len(glance.remembered), len(glance.now)

    taken = {one.step: one.going for one in leaving.taken}
    chosen = [sorted(going.glances, key=partial(effort, going)) for going in taken.values()]
    here = timed.here(position)
    others = [
        _at(part.stretches, leaving.low).staying
        for step, part in zip(position.steps, here.parts, strict=True)
        if step not in taken
    ]
    glances = agreed([*chosen, *others])
    return {
        step: (going, glance)
        for (step, going), glance in zip(taken.items(), glances[: len(taken)], strict=True)
    }


def _needs(going: Going, glance: Glance | None) -> Iterator[tuple[Told, Lasting]]:
    """What of an exit's condition must have been so in earlier passes."""
    if glance is None or going.way is None or not isinstance(going.way.written, WhenExit):
        return
    for node in lasting_parts(going.way.written.condition):
        told = (id(node), TRUE)
        if told in glance.remembered and needs_before(node, told, glance):
            yield told, node


def _wants(timed: TimedPlan, visits: list[_Visit], ticks: list[int]) -> Iterator[_Want]:
    """What is to be true in which passes, so that all exits on several passes come true."""
    for visit in visits:
        before = [tick for tick in ticks if tick < visit.end]
        for going, glance in visit.going.values():
            for told, node in _needs(going, glance):
                if isinstance(node, Held | Steady):
                    since = visit.end - timed.pace.ticks(node.duration_us)
                    # True from the last pass that is long enough ago.
                    begin = max((tick for tick in before if tick <= since), default=since)
                else:
                    now = glance is not None and told in glance.now
                    number = node.least - now if isinstance(node, Looks) else 1
                    begin = before[-number] if len(before) >= number else 0
                yield _Want(told, begin, visit.end)


def _glances(
    visit: _Visit, here: Here, tick: int, wants: list[_Want]
) -> Iterator[Mapping[Key, Value]]:
    """What the readings say in a pass, by the active steps that look at them."""
    wanted = {want.told for want in wants if want.begin <= tick < want.end}
    choices: list[list[Glance]] = []
    for step, part in zip(visit.position.steps, here.parts, strict=True):
        if tick == visit.end and step in visit.going:
            glance = visit.going[step][1]
            choices.append([glance] if glance else [])
        elif tick < visit.end or step not in visit.going:
            choices.append(_idle(_at(part.stretches, tick), wanted))
    yield from views_of(agreed(choices))


def _at(stretches: tuple[Stretch, ...], tick: int) -> Stretch:
    return next(stretch for stretch in stretches if stretch.high is None or tick < stretch.high)


def _idle(stretch: Stretch, wanted: set[Told]) -> list[Glance]:
    """What a pass can find that stays: with all that is wanted, and as little else as can be,
    first."""

    def unlike(glance: Glance) -> tuple[int, int, int]:
        return len(wanted - glance.now), len(glance.now - wanted), len(glance.remembered)

    # Of much that is wanted only a part is asked for here; the rest is another step's.
    return sorted(stretch.staying, key=unlike)


def _ticks(timed: TimedPlan, visit: _Visit) -> list[int] | None:
    """When the controller looks between the entry and the leaving pass; None where no passes
    fit."""
    pace, needs = (
        timed.pace,
        [n for g, glance in visit.going.values() for _, n in _needs(g, glance)],
    )
    if not needs and pace.shortest <= visit.end - visit.begin <= pace.longest:
        return []
    allowed = list(_may_stay(timed.here(visit.position), visit))
    held = [n.duration_us for n in needs if isinstance(n, Held | Steady)]
    since = visit.end - pace.ticks(max(held, default=0))
    begins = since if held and since > visit.begin else None
    looks = max((n.least for n in needs if isinstance(n, Looks)), default=1)
    for least in dict.fromkeys((looks, 1)):
        if begins is not None and any(low <= begins <= high for low, high in allowed):
            # A pass just when it has to begin is plain; else an earlier one will do.
            front = passes_between(visit.begin, begins, pace, allowed)
            rest = passes_between(begins, visit.end, pace, allowed, least - 1)
            if front is not None and rest is not None:
                return [*front, begins, *rest]
        found = passes_between(visit.begin, visit.end, pace, allowed, least, begins)
        if found is not None:
            return found
    return None


def _may_stay(here: Here, visit: _Visit) -> Iterator[Span]:
    """The ticks at which a pass can leave everything as it is: no limit is over then."""
    over = [visit.begin + last - visit.clocks[clock] for clock, last in here.limits]
    for stay in here.stays:
        yield stay.low, min([stay.high, *over]) - 1
