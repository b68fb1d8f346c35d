"""What steps and groups remember when they are left, inner ones first (M13)."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from planner.graph import Exit, ExitKind, Plan
from planner.graph.owners import Owner, asked_around, groups_left, owners
from planner.java.memory_code import Look, MemoryWriter
from planner.java.plan_names import PlanNames
from planner.java.printed_plan import RememberCode


class Remembering:
    """Writes what is remembered, and lets each exit see to it that it is."""

    def __init__(
        self, plan: Plan, own: PlanNames, memories: MemoryWriter, look: Callable[[Owner], Look]
    ) -> None:
        self.plan = plan
        self.routine = plan.routine
        self.own = own
        self.memories = memories
        self.look = look
        self.owners = {(o.is_group, o.name): o for o in owners(plan.routine) if o.remembers}
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
        steps = [o for step in sources if (o := self.owners.get((False, step)))]
        if steps and len(sources) > 1:
            self.by_step = True
            yield "rememberStep();"
        elif steps:
            yield f"{self.own.remember(steps[0])}();"
        left = [set(groups_left(self.plan, replace(exit_, source=step))) for step in sources]
        # Groups stand in the order of the text, outer ones before those in them.
        for name in reversed(list(self.routine.groups)):
            group = self.owners.get((True, name))
            leaving = [name in one for one in left]
            if group and any(leaving):
                yield f"{self.own.remember(group)}();"

    def _is_guarded(self, owner: Owner) -> bool:
        """Whether it is a group that an exit around it may find inactive."""
        if not owner.is_group:
            return False
        around = asked_around(self.routine, owner)
        asked = any(group.match_exits or group.whens or group.afters for group in around)
        return asked or bool(self.routine.match_exits)
