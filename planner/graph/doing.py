"""What a mechanism may be doing in each step, by whatever way a run has come there.

A forward data flow over steps and exits, in layers: what comes to a step by fewer exits comes
first, so that the way told for it is a shortest one (F. Nielson, H. Nielson and C. Hankin,
"Principles of Program Analysis", 1999, section 2.1, the may-analyses; from memory).
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum

from planner.graph.lasting import asks_done, last_given
from planner.graph.owners import given_in, groups_left, is_incomplete, owners_around
from planner.graph.unfold import Exit, Plan
from planner.graph.walks import open_exits, played, ways
from planner.model.condition import All, Any, Condition, Held, LanesDone, Looks, Once
from planner.model.routine import Given, Rule, WhenExit
from planner.model.spoken import spoken_command

MOST_STATES = 50_000
"""Of a mechanism with more to tell nothing is told: each step with each of its commands counts."""


class Stance(Enum):
    """How a mechanism stands in a step."""

    NEVER_TOLD = "never told"
    TOLD = "told"
    """A command to it is in force."""
    SWITCHED_OFF = "switched off"
    """The step or group that ran it was left (M7)."""
    UNKNOWN = "unknown"
    """A line that could not be read may have told it something."""


@dataclass(frozen=True, slots=True)
class Doing:
    """What a mechanism may be doing."""

    stance: Stance
    given: Given | None = field(default=None, compare=False)
    """The command in force, or the last one that was."""
    ends_with: str = ""
    """The step or group whose end switches it off; empty where none does."""
    asked_done: bool = False
    """Whether an exit that asked if it was done was taken before it was switched off."""
    said: tuple[object, ...] = ()
    """Tells commands apart: where it stands and how it reads."""

    @classmethod
    def told(cls, given: Given, ends_with: str) -> Doing:
        """A command in force."""
        ends = ends_with if given.command.runs else ""
        said = (given.place.order, spoken_command(given))
        return cls(Stance.TOLD, given, ends, said=said)

    @property
    def may_be_done(self) -> bool:
        """Whether `done` may be true of it, now or later."""
        if self.stance is Stance.UNKNOWN:
            return True
        reports = self.given is not None and self.given.command.reports_done
        return reports and (self.stance is Stance.TOLD or self.asked_done)


@dataclass(frozen=True, slots=True)
class Doings:
    """All that one mechanism may be doing, by step."""

    during: Mapping[str, tuple[Doing, ...]]
    """Once a step has been entered and its commands are given. Steps that no run reaches have
    none; a finish has what it comes with or gives, before everything that runs is switched off."""
    _before: Mapping[tuple[str, Doing], tuple[str, Doing] | None]
    _beside: Mapping[str, tuple[str, ...]]
    """By step of a block that says nothing of it, the steps that do, as written."""
    _open: frozenset[tuple[str, Doing]] = frozenset()
    """What another lane waits beside, where the lane that speaks leads on to what may be done."""

    def lost(self, step: str) -> tuple[Doing, ...]:
        """What it may be doing there for good, of which it is never done: to wait is in vain.

        A lane that waits for another to give the command, and comes first, waits for that.
        """
        return tuple(
            doing
            for doing in self.during.get(step, ())
            if not doing.may_be_done and self._where(step, doing)
        )

    def _where(self, step: str, doing: Doing) -> list[str]:
        """The steps that say so while the run is in a step, as far as they lead on to no better."""
        if step not in self._beside:
            return [step]
        beside = [name for name in self._beside[step] if (name, doing) in self._before]
        return [name for name in beside if (name, doing) not in self._open]

    def way(self, step: str, doing: Doing) -> tuple[str, ...]:
        """A shortest way from the start to a step on which it comes to be doing that."""
        steps: list[str] = []
        here: tuple[str, Doing] | None = (step, doing)
        if here not in self._before:
            # A step that runs beside the lane in which it comes to be doing that.
            steps.append(step)
            known = [name for name in self._beside[step] if (name, doing) in self._before]
            here = (next(iter(self._where(step, doing)), known[0]), doing)
        while here is not None:
            steps.append(here[0])
            here = self._before[here]
        return tuple(reversed(steps))


def doings(
    plan: Plan, mechanism: str, exits: Mapping[str, tuple[Exit, ...]] | None = None
) -> Doings | None:
    """What a mechanism may be doing in each step; None where that cannot be known.

    With `exits`, by step, no others are taken.
    """
    routine = plan.routine
    if not routine.start or routine.incomplete or routine.robot.missing:
        return None
    flow = _Flow(plan, mechanism, open_exits(plan) if exits is None else exits)
    return flow.run()


def after(plan: Plan, exit_: Exit, doing: Doing, mechanism: str) -> Doing:
    """What is left of it once the exit's step, and the groups it leaves, are left (M7)."""
    if doing.stance is not Stance.TOLD or not doing.ends_with:
        return doing
    if doing.ends_with not in _left(plan, exit_):
        return doing
    asked = asks_done(exit_, mechanism)
    return Doing(Stance.SWITCHED_OFF, doing.given, "", asked, doing.said)


class _Flow:
    """The flow of one mechanism. In a block of lanes it follows the one lane that tells the
    mechanism anything, and what is true in that lane is true for the block and all its lanes."""

    def __init__(self, plan: Plan, mechanism: str, exits: Mapping[str, tuple[Exit, ...]]) -> None:
        self.plan = plan
        self.mechanism = mechanism
        self.exits = exits
        self.blocks = {block: _Block(plan, block, mechanism) for block in plan.begins}
        self.before: dict[tuple[str, Doing], tuple[str, Doing] | None] = {}
        self.waiting: deque[tuple[str, Doing]] = deque()
        self.within: dict[tuple[str, Doing], list[tuple[str, Doing]]] = {}
        """In a lane that speaks, by what it comes to, what it came from."""

    def run(self) -> Doings | None:
        self._arrive(self.plan.routine.start, Doing(Stance.NEVER_TOLD), None)
        while self.waiting:
            step, doing = self.waiting.popleft()
            if len(self.before) > MOST_STATES:
                return None
            block = self.blocks.get(self.plan.block_of(step) or step)
            for exit_ in block.exits_with(step, self.exits) if block else self.exits[step]:
                left = after(self.plan, exit_, doing, self.mechanism)
                self._arrive(exit_.target, left, (step, doing))
            if block and step == block.name:
                for first in block.begins:
                    self._arrive(first, doing, (step, doing))
            for target in self._perhaps(step):
                self._arrive(target, Doing(Stance.UNKNOWN), (step, doing))
        beside = {step: one.followed for one in self.blocks.values() for step in one.mirrored}
        return Doings(self._during(), self.before, beside, self._open())

    def _open(self) -> frozenset[tuple[str, Doing]]:
        """From where a lane leads on to what may be done."""
        waiting = deque(pair for pair in self.within if pair[1].may_be_done)
        found: set[tuple[str, Doing]] = set(waiting)
        while waiting:
            for pair in self.within.get(waiting.popleft(), ()):
                if pair not in found:
                    found.add(pair)
                    waiting.append(pair)
        return frozenset(found)

    def _during(self) -> dict[str, tuple[Doing, ...]]:
        during: dict[str, list[Doing]] = {}
        for step, doing in self.before:
            during.setdefault(step, []).append(doing)
        reachable = played(self.plan, ways(self.plan))
        for block in self.blocks.values():
            told = [doing for step in block.followed for doing in during.get(step, ())]
            for step in filter(reachable.__contains__, block.mirrored):
                during[step] = list(dict.fromkeys(told))
        return {step: tuple(some) for step, some in during.items() if some}

    def _arrive(self, step: str, doing: Doing, before: tuple[str, Doing] | None) -> None:
        """Enters a step with what the mechanism was doing, and gives the step's command."""
        entered = self.plan.step(step)
        given = last_given(entered).get(self.mechanism)
        block = self.blocks.get(self.plan.block_of(step) or step)
        if is_incomplete(self.plan.routine, step) or (block and block.is_disputed):
            doing = Doing(Stance.UNKNOWN)
        elif given is not None:
            doing = Doing.told(given, "" if given.keep else step)
        self._add(step, doing, before)
        if not entered.is_finish:
            for rule, owner in self._rules(step):
                # It speaks once the step has been entered, in the same way.
                self._add(step, Doing.told(rule.given, owner), before)

    def _add(self, step: str, doing: Doing, before: tuple[str, Doing] | None) -> None:
        if before and self.plan.outer.get(step, "") == self.plan.outer.get(before[0]):
            self.within.setdefault((step, doing), []).append(before)
        if (step, doing) not in self.before:
            self.before[step, doing] = before
            self.waiting.append((step, doing))

    def _perhaps(self, step: str) -> Iterator[str]:
        for owner in owners_around(self.plan.routine, step):
            yield from owner.perhaps

    def _rules(self, step: str) -> Iterator[tuple[Rule, str]]:
        """The side rules that may tell the mechanism something in a step, with what ends them."""
        routine = self.plan.routine
        every = [(rule, "") for rule in routine.rules]
        for owner in owners_around(routine, step):
            every += [(rule, owner.name) for rule in owner.rules]
        yield from (pair for pair in every if pair[0].given.mechanism.name == self.mechanism)


class _Block:
    """A block of lanes (M8), for one mechanism."""

    def __init__(self, plan: Plan, block: str, mechanism: str) -> None:
        self.plan = plan
        self.name = block
        # As written, so that one way of several that are as short is the same in every process.
        inside = [name for name in plan.outer if plan.block_of(name) == block]
        speaking = {
            lane.name
            for given, steps in given_in(plan.routine)
            if given.mechanism.name == mechanism and steps and set(inside).issuperset(steps)
            for name in steps
            if (lane := plan.routine.lane_around(name))
        }
        self.is_disputed = len(speaking) > 1
        """Whether several lanes speak to it, so that nothing is told of what it does."""
        self.lane = next(iter(speaking)) if len(speaking) == 1 else ""
        of_lane = [
            name
            for name in inside
            if self.lane and (lane := plan.routine.lane_around(name)) and lane.name == self.lane
        ]
        self.followed = tuple(of_lane or [block])
        """The steps that say what the mechanism does: of the lane, or the block's own step."""
        self.mirrored = tuple(name for name in (block, *inside) if name not in self.followed)
        self.begins = tuple(name for name in plan.begins[block] if name in self.followed)

    def exits_with(self, step: str, exits: Mapping[str, tuple[Exit, ...]]) -> Iterator[Exit]:
        """The exits that may be taken while a followed step is what it is: its own, those of the
        block, and those by which other lanes leave the block."""
        if step not in self.followed:
            return
        if step != self.name:
            yield from filter(self.plan.of_lane, exits[step])
        lane = self.plan.routine.groups[self.lane] if self.lane else None
        for exit_ in exits[self.name]:
            needs = lane is not None and _needs_done(exit_, lane.name)
            if not needs or (lane is not None and step == lane.done):
                yield exit_
        yield from (
            exit_
            for other in self.mirrored
            if other != self.name
            for exit_ in exits[other]
            if self.plan.of_lane(exit_) and self.plan.leaves_lane(exit_)
        )


def _needs_done(exit_: Exit, lane: str) -> bool:
    return isinstance(exit_.written, WhenExit) and _is_for_done(exit_.written.condition, lane)


def _is_for_done(condition: Condition, lane: str) -> bool:
    """Whether a condition is not true before a lane has come to its end."""
    match condition:
        case LanesDone(lanes, every):
            return lane in lanes and (every or len(lanes) == 1)
        case All(inner):
            return any(_is_for_done(part, lane) for part in inner)
        case Any(inner):
            return all(_is_for_done(part, lane) for part in inner)
        case Held(part) | Once(part) | Looks(part):
            return _is_for_done(part, lane)
        case _:
            return False


def _left(plan: Plan, exit_: Exit) -> set[str]:
    """The steps and groups that an exit leaves, with their lanes."""
    left = {exit_.source, *groups_left(plan, exit_)}
    block = plan.block_of(exit_.source) or exit_.source
    if block not in plan.begins or (exit_.source in plan.outer and not plan.leaves_lane(exit_)):
        return left
    left.add(block)
    for name in plan.outer:
        if plan.block_of(name) == block:
            around = [group.name for group in plan.routine.groups_around(name)]
            left |= {name, *around[around.index(block) + 1 :]}
    return left
