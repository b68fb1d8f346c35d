"""How groups and lanes are left: those around a step are in one another, so leaving the outermost
will do."""

from __future__ import annotations

from collections.abc import Iterator

from planner.graph import Exit, ExitKind, Plan
from planner.graph.owners import groups_left
from planner.java.lanes_code import Lanes
from planner.java.plan_names import PlanNames
from planner.java.plan_parts import asking


class Leaving:
    """Writes the statements that leave groups, and remembers which methods that takes."""

    def __init__(self, plan: Plan, own: PlanNames, lanes: Lanes) -> None:
        self.plan = plan
        self.routine = plan.routine
        self.own = own
        self.lanes = lanes
        self.by_method: dict[str, None] = {}
        """The groups that some exit leaves by their method, and those within them."""
        self.for_targets: dict[str, tuple[str, ...]] = {}
        """The statements that leave several groups at once, by method."""
        self._children: dict[str, list[str]] = {name: [] for name in ("", *self.routine.groups)}
        # A group without steps is never active.
        for owner in asking(self.routine):
            if owner.is_group:
                self._children[self.routine.groups[owner.name].inside].append(owner.name)
        self._plan()

    def within(self, group: str) -> tuple[str, ...]:
        """The statements that leave the groups and lanes within a group."""
        return tuple(self._within(group))

    def _within(self, group: str) -> Iterator[str]:
        for inner in self._children[group]:
            if inner in self.lanes.groups:
                yield f"{self.own.lane(inner)}.step = null;"
                yield from self._within(inner)
            else:
                yield self._leave_group(inner)

    def _plan(self) -> None:
        """Finds out which groups are left by a method of their own."""
        for exit_ in self.plan.all_exits():
            if exit_.group or exit_.kind is not ExitKind.MATCH:
                self.leave(exit_)
        for match_exit in self.routine.match_exits:
            self.leave_for(match_exit.target)

    def leave(self, exit_: Exit) -> tuple[str, ...]:
        """Leaves what an exit of a step or group leaves."""
        left = groups_left(self.plan, exit_)
        return (self._leave_group(left[0]),) if left else ()

    def _leave_group(self, group: str) -> str:
        if not self._children[group]:
            return f"{self.own.active(group)} = false;"
        if group not in self.by_method:
            self.by_method[group] = None
            # Those within it are left by it.
            self.within(group)
        return f"{self.own.leave(group)}();"

    def leave_for(self, target: str) -> tuple[str, ...]:
        """Leaves whatever groups are active and not around a step, from wherever it is entered."""
        stays = [group.name for group in self.routine.groups_around(target)]
        # A block that is entered has no lanes yet that could be left.
        outer = [name for name in ("", *stays) if name not in self.plan.begins]
        children = [inner for name in outer for inner in self._children[name]]
        leave = tuple(self._leave_group(group) for group in children if group not in stays)
        if len(leave) < 2:
            return leave
        method = self.own.leave_for(target)
        self.for_targets[method] = leave
        return (f"{method}();",)
