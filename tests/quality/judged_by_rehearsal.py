"""What a slip does to a plan, judged by playing runs on the reference machine, not by any check.

A run is what the sensors say in each visit of a step: nothing, a frozen picture, anything, or after
a while what makes one of the step's exits true, found by trying. Some runs dawdle: they wait out
nearly all of each limit first; some always take the same exit; half of them first go straight to
the step with the slip. The plan and the plan with the slip
are played with the same sensors, aimed at the exits of the one and of the other.
"""

from __future__ import annotations

import random
from collections import defaultdict, deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import count

from planner.graph import Plan
from planner.graph.cells import Asked, asks, values_of
from planner.graph.lasting import turned_by
from planner.graph.owners import owners
from planner.graph.run import Commanded, Entered, Event, Finished, Left, LimitReached, SwitchedOff
from planner.graph.unfold import Exit
from planner.model.condition import Condition, Done, Held, MatchClock, Steady, Unreadable, parts
from planner.model.routine import Given, MatchExit, WhenExit
from planner.model.units import Amount
from planner.rehearsal import Machine
from planner.rehearsal.conditions import Look, Question, question
from planner.rehearsal.facts import readings_of
from planner.rehearsal.world import Value, World

PASS_US = 40_000
TRIES = 30
"""How many pictures are tried for one that makes an exit true."""

MANNERS = ("silent", "frozen", "prompt", "dawdling", "stubborn", "any")
Said = Fraction | str | bool | None
Picture = Mapping[str, Said]
"""What sensors say, by name: a number in the first unit of its dimension, a word, a flag."""


@dataclass(frozen=True, slots=True)
class Run:
    """What a plan did."""

    story: tuple[object, ...]
    """What can be seen of it from outside: steps and commands with their times."""
    cut_off: bool
    left_on: frozenset[str]
    """The mechanisms with a motor that ran into the finish, or after it."""


class Sensors:
    """What sensors say from visit to visit; the same for the same seed, whichever plan is played.

    The pictures are drawn from all that `plans` ask, and aimed at the exits of the first of them.
    """

    def __init__(self, plans: Sequence[Plan], seed: str, towards: str = "") -> None:
        self.seed = seed
        self.guide = _guide(plans[0], towards) if towards else {}
        self.robot = plans[0].routine.robot
        self._resting = World(self.robot)
        # What a plan remembers or counts is asked as well, and no sensor says it.
        known = self._resting.all_shown()
        self.values: dict[str, list[Said]] = {}
        for name, value in (pair for plan in plans for pair in _values(plan)):
            if name in known and value not in self.values.setdefault(name, []):
                self.values[name].append(value)
        self.times_us = sorted({time for plan in plans for time in _times_us(plan)})
        self.aim = plans[0]
        draw = random.Random(seed)
        self.manner = draw.choice(MANNERS)
        self.stubborn = draw.randrange(4)
        self.frozen = self._picture(draw)

    def one_of(self, steps: tuple[str, ...], visit: int) -> str:
        """Of the active steps the one that they aim at: one on the way, where there is one."""
        guided = [step for step in steps if step in self.guide]
        return self._draw(visit, "one").choice(guided or list(steps))

    def first(self, step: str, visit: int) -> Picture:
        """What they say when a step begins; what is left out is resting."""
        if step in self.guide:
            return {}
        if self.manner == "frozen":
            return self.frozen
        return self._picture(self._draw(visit, "first")) if self.manner == "any" else {}

    def wait_us(self, step: str, visit: int) -> int | None:
        """After what time they say something else; None for never."""
        exit_ = self.guide.get(step)
        if exit_:
            return 0 if isinstance(exit_.written, WhenExit) else None
        if step not in self.aim.routine.steps:
            return None
        if self.manner in ("silent", "frozen"):
            return None
        afters = self.aim.step(step).afters
        limit_us = min((after.limit_us for after in afters), default=3_000_000)
        if self.manner == "dawdling":
            return max(0, limit_us - 3 * PASS_US)
        return self._draw(visit, "wait").choice((0, limit_us // 4, limit_us // 2))

    def later(self, step: str, visit: int) -> list[Picture]:
        """What they say then, one after the other: what makes an exit of the step true, where that
        is found."""
        draw = self._draw(visit, "later")
        guided = self.guide.get(step)
        if guided and isinstance(guided.written, WhenExit):
            return self._aimed(guided.written.condition, draw)
        exits = [
            exit_.written.condition
            for exit_ in self.aim.exits.get(step, ())
            if isinstance(exit_.written, WhenExit) and not exit_.overflow
        ]
        if exits:
            wanted = exits[self.stubborn % len(exits)]
            if self.manner != "stubborn":
                wanted = draw.choice(exits)
            return self._aimed(wanted, draw)
        return [self._picture(draw)]

    def _aimed(self, wanted: Condition, draw: random.Random) -> list[Picture]:
        """What makes a condition true and, if it can, nothing else."""
        ask = question(wanted, count())
        alone = {name for name in readings_of(wanted) if name in self.values}
        for tried in range(TRIES):
            picture = self._picture(draw)
            if tried < TRIES // 2:
                picture = {name: said for name, said in picture.items() if name in alone}
            if self._makes_true(ask, [picture]):
                return [picture]
            # Something that was seen once and is over.
            before = {name: draw.choice(self.values[name]) for name in sorted(alone)}
            if self._makes_true(ask, [before, picture]):
                return [before, picture]
        return [self._picture(draw)]

    def show(self, world: World, picture: Picture) -> None:
        """Lets the world say so."""
        for name in self.values:
            world.set(name, self._value(name, picture))

    def _value(self, name: str, picture: Picture) -> Value:
        if name not in picture:
            shown = self._resting.shown(name)
            unit = self._resting.unit(name)
            if unit is None or shown is None:
                return shown if isinstance(shown, str | bool) else None
            assert isinstance(shown, int | Fraction)
            return Amount(Fraction(shown), unit)
        said, unit = picture[name], self._resting.unit(name)
        if isinstance(said, Fraction):
            assert unit is not None
            return Amount(said / unit.size, unit)
        return said

    def _makes_true(self, ask: Question, pictures: list[Picture]) -> bool:
        """Whether a condition comes true with the last of some pictures."""
        world = World(self.robot)
        # What is remembered is not known here; it is taken to be 0.
        remembered: defaultdict[str, int] = defaultdict(int)
        look = Look(0, {}, world.readings(), 10_000_000, {}, remembered=remembered)
        true = False
        for picture in pictures:
            self.show(world, picture)
            look.readings = world.readings()
            for _ in range(6):
                true = ask(look) > 0
                look.now_us += 60_000_000
        return true

    def _picture(self, draw: random.Random) -> Picture:
        return {name: draw.choice(values) for name, values in self.values.items()}

    def _draw(self, visit: int, what: str) -> random.Random:
        return random.Random(f"{self.seed} {visit} {what}")


def played(plan: Plan, sensors: Sensors) -> Run:
    """A run of a plan until its finish or its limit."""
    machine, world = Machine(plan), World(plan.routine.robot)
    # What a camera is asked for before the start.
    sensors.show(world, sensors.frozen)
    story: list[object] = []
    left_on: set[str] = set()
    turning: dict[str, bool] = {}
    step = ""
    cut_off, visit, now_us, changed_us = False, 0, 0, 0
    due_us: int | None = None
    following: list[Picture] = []
    while not machine.state.over and not machine.finished:
        kept = {name for name, owner in machine.state.running.items() if not owner}
        events = machine.pass_(now_us, world.readings())
        world.take(events)
        finished = any(isinstance(event, Finished) for event in events)
        for event in events:
            cut_off |= isinstance(event, LimitReached) and event.cut_off
            if isinstance(event, Commanded):
                turning[event.mechanism] = _turns(plan, event)
            elif isinstance(event, SwitchedOff):
                turning[event.mechanism] = False
                left_on |= {event.mechanism} & kept if finished else set()
        story += [seen for event in events if (seen := _seen(event))]
        if any(isinstance(event, Entered) for event in events):
            visit, changed_us, following = visit + 1, now_us, []
            step = sensors.one_of((machine.state.step, *machine.state.lanes.values()), visit)
            sensors.show(world, sensors.first(step, visit))
            wait_us = sensors.wait_us(step, visit)
            due_us = None if wait_us is None else now_us + wait_us
        elif due_us is not None and due_us <= now_us:
            following = following or sensors.later(step, visit)
            sensors.show(world, following.pop(0))
            changed_us, due_us = now_us, now_us + 3 * PASS_US if following else None
        now_us = _next_us(sensors, machine, now_us, changed_us, due_us)
    left_on |= {name for name, on in turning.items() if on and not cut_off}
    return Run(tuple(story), cut_off, frozenset(left_on))


def _guide(plan: Plan, towards: str) -> dict[str, Exit]:
    """By step, the exit that begins a shortest way to a step, sensors before limits."""
    guide: dict[str, Exit] = {}
    waiting, seen = deque([towards]), {towards}
    while waiting:
        target = waiting.popleft()
        for step, exits in plan.exits.items():
            ways = [e for e in exits if e.target == target and not isinstance(e.written, MatchExit)]
            if step not in seen and ways:
                seen.add(step)
                waiting.append(step)
                guide[step] = min(ways, key=lambda e: not isinstance(e.written, WhenExit))
    return guide


def _next_us(
    sensors: Sensors, machine: Machine, now_us: int, changed_us: int, due_us: int | None
) -> int:
    """The next pass in which something can happen: until then all passes find the same."""
    if now_us - changed_us < 7 * PASS_US:
        return now_us + PASS_US
    begins = {visit.entered_us for visit in machine.state.visits.values()} | {0}
    # What has to be held begins with the pass after the change.
    begins |= {changed_us, changed_us + PASS_US}
    moments = [begin + time_us for begin in begins for time_us in sensors.times_us]
    later = [moment for moment in (*moments, *([due_us] if due_us else ())) if moment > now_us]
    limit_us = machine.plan.routine.limit_us
    passes = -(-(min(later, default=limit_us) - now_us) // PASS_US)
    return now_us + max(1, passes) * PASS_US


def _seen(event: Event) -> object:
    """An event as it can be seen from outside, where it can be."""
    if isinstance(event, Left):
        return None
    if isinstance(event, Commanded):
        arguments = tuple((amount.base, amount.unit.dimension) for amount in event.arguments)
        return (event.at_us, event.mechanism, event.command, arguments)
    return event


def _turns(plan: Plan, event: Commanded) -> bool:
    mechanism = plan.routine.robot.mechanisms[event.mechanism]
    command = mechanism.commands[event.command]
    given = Given(mechanism, command, event.arguments, False, plan.routine.place)
    return not command.runs and bool(turned_by(given))


def _conditions(plan: Plan) -> Iterator[Condition]:
    for owner in owners(plan.routine):
        for condition, _ in owner.conditions:
            yield from parts(condition)


def _values(plan: Plan) -> Iterator[tuple[str, Said]]:
    """By name, all that tells answers apart, and that nothing can be read."""
    asked: dict[str, list[Asked]] = {}
    for part in _conditions(plan):
        if isinstance(part, Steady):
            asked.setdefault(part.source.spoken, []).append(Unreadable(part.source, part.place))
        elif isinstance(part, Asked) and not isinstance(part, MatchClock):
            asked.setdefault(asks(part), []).append(part)
        elif isinstance(part, Done):
            yield from ((f"{part.mechanism.name} done", done) for done in (False, True))
    for memory in plan.routine.memories.values():
        sensor = getattr(memory, "seen_by", None)
        if sensor is not None:
            yield from ((sensor.name, word) for word in sensor.values)
    for name, leaves in asked.items():
        yield from ((name, value) for value in values_of(leaves))
        yield name, None


def _times_us(plan: Plan) -> Iterator[int]:
    """All times after which something may happen."""
    yield plan.routine.limit_us
    for owner in owners(plan.routine):
        yield from (after.limit_us for after in owner.afters)
        yield from (exit_.at_us for exit_ in owner.match_exits)
    for part in _conditions(plan):
        if isinstance(part, Held | Steady):
            yield part.duration_us
        elif isinstance(part, MatchClock):
            # `match > 20 s` comes true one microsecond later.
            yield from (part.at_us, part.at_us + 1)
