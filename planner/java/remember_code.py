"""What steps and groups remember when they are left, inner ones first (M13)."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from planner.graph import Exit, ExitKind, Plan
from planner.graph.owners import Owner, asked_around, groups_left, owners
from planner.java.lanes_code import Lanes
from planner.java.memory_code import Look, MemoryWriter
from planner.java.plan_names import PlanNames
from planner.java.printed_plan import RememberCode


class Remembering:
    """Writes what is remembered, and lets each exit see to it that it is."""

    def __init__(
        self,
        plan: Plan,
        own: PlanNames,
        memories: MemoryWriter,
        lanes: Lanes,
        look: Callable[[Owner], Look],
    ) -> None:
        self.lanes = lanes
        self.plan = plan
        self.routine = plan.routine
        self.own = own
        self.memories = memories
        self.look = look
        self.owners = {(o.is_group, o.name): o for o in owners(plan.routine) if o.remembers}
        self.every = {o.name: o for o in owners(plan.routine) if o.is_group}
        self.by_step = False
        """Whether some exit leaves one of several steps that remember something."""

    def method(self, owner: Owner) -> RememberCode | None:
        """The method that remembers what a step or group has to; None where that is nothing."""
        if not owner.remembers:
            return None
        guard = self.own.active(owner.name) if self._is_guarded(owner) else ""
        lines = tuple(self.memories.remembers(owner.remembers, self.look(owner)))
        return RememberCode(self.own.remember(owner), guard, lines)

    def statements(self, owner: Owner, exit_: Exit) -> Iterator[str]:
        """The statements with which an owner's exit lets all that it leaves remember."""
        if not self.owners:
            return
        target = exit_.target if exit_.kind is ExitKind.MATCH else ""
        sources = [step for step in owner.steps if step != target]
        lane = self.lanes.around(owner)
        if lane and exit_.target in self.lanes.steps[lane.name]:
            yield from self._of_lane(owner, sources)
        else:
            # An exit that leads out of a lane leaves all that stands in its block (M8).
            sources = [lane.inside, *self.lanes.inside(lane.inside)] if lane else sources
            yield from self._of_steps(sources)
        left = {
            name for step in sources for name in groups_left(self.plan, replace(exit_, source=step))
        }
        for name in self._inner_first():
            if name in left and (True, name) in self.owners:
                yield f"{self.own.remember(self.owners[True, name])}();"

    def _of_steps(self, sources: list[str]) -> Iterator[str]:
        steps = [o for step in sources if (o := self.owners.get((False, step)))]
        if steps and len(sources) > 1:
            self.by_step = True
            yield "rememberStep();"
        elif steps:
            yield f"{self.own.remember(steps[0])}();"

    def _of_lane(self, owner: Owner, sources: list[str]) -> Iterator[str]:
        """Of an exit that stays in its lane, be it one of a group in it."""
        for step in sources:
            if (False, step) in self.owners:
                call = f"{self.own.remember(self.owners[False, step])}();"
                yield f"if ({self.lanes.is_in(step)}) {{ {call} }}" if owner.is_group else call

    def _inner_first(self) -> list[str]:
        """The groups, those within others before these; in several lanes as they are written."""
        groups = list(self.routine.groups)
        if not self.lanes.groups:
            # Those that are left at once stand in one another.
            return groups[::-1]
        return sorted(groups, key=lambda name: -self._depth(name))

    def _depth(self, group: str) -> int:
        return len(asked_around(self.routine, self.every[group]))

    def _is_guarded(self, owner: Owner) -> bool:
        """Whether it is a group that an exit around it may find inactive."""
        if not owner.is_group:
            return False
        around = asked_around(self.routine, owner)
        if any(group.lane for group in around):
            # Other lanes can lead out of the block while it is not active.
            return True
        asked = any(group.match_exits or group.whens or group.afters for group in around)
        return asked or bool(self.routine.match_exits)
