"""Lanes that run side by side, as Java (M8).

A lane is an object that holds its step; the block's step asks its lanes one after the other. What
mechanisms are told is collected in a pass and sent at its end, since lanes can tell one the same.
"""

from __future__ import annotations

from planner.graph import Plan
from planner.graph.owners import Owner, asked_around
from planner.java.naming import constant_name, distinct, member_name
from planner.java.plan_names import PlanNames
from planner.java.plan_parts import Key, Parts, asking, conditions, since_keys
from planner.java.printed_exit import MatchCode
from planner.java.printed_lanes import BlockCode, LaneCode, ToldCode
from planner.java.wording import comment
from planner.java.wording import name as java_name
from planner.model.condition import LaneIn, LanesDone, leaves
from planner.model.routine import Group, MatchExit, Routine

NO_ORDER = "NOTHING"


class Lanes:
    """The lanes of a plan, by the names of their groups."""

    def __init__(self, plan: Plan, own: PlanNames, constants: dict[str, str]) -> None:
        self.plan = plan
        self.routine = plan.routine
        self.own = own
        self.constants = constants
        self.groups = {name: group for name, group in plan.routine.groups.items() if group.lane}
        self.steps: dict[str, list[str]] = {name: [] for name in self.groups}
        """The steps of each, its end among them, in the order of the plan."""
        for step in plan.outer:
            lane = plan.routine.lane_around(step)
            assert lane is not None, "only what stands in a lane has something around it"
            self.steps[lane.name].append(step)
        self._numbers = {name: number for number, name in enumerate(self.groups)}

    @property
    def tells(self) -> str:
        """What commands are given to: the robot's parts at once, or for the end of the pass."""
        return "told" if self.groups else "parts"

    def around(self, owner: Owner) -> Group | None:
        """The lane that a step or group stands in; None for one outside of lanes."""
        return lane_around(self.routine, owner)

    def order(self, owner: Owner) -> int:
        """What is asked first in a pass: all that stands outside of lanes, then lane by lane."""
        lane = self.around(owner)
        return -1 if lane is None else self._numbers[lane.name]

    def of(self, step: str) -> str:
        """The field of the lane that a step stands in; empty for other steps."""
        lane = self.routine.lane_around(step)
        return self.own.lane(lane.name) if lane else ""

    def inside(self, block: str) -> list[str]:
        """The steps of all lanes of a block; none for the step of another name."""
        lanes = self.routine.groups[block].lanes if block in self.plan.begins else ()
        return [step for lane in lanes for step in self.steps[lane]]

    def is_in(self, step: str) -> str:
        """The test that a step is active."""
        lane = self.of(step)
        return f"{lane}.step == Step.{self.constants[step]}" if lane else self._is_step(step)

    def _is_step(self, step: str) -> str:
        return f"step == Step.{self.constants[step]}"

    def is_dead(self, owner: Owner, exit_: MatchExit) -> bool:
        """Whether a match-clock exit in a block leads to the block, where the plan is already."""
        lane = self.around(owner)
        return (lane.inside if lane else owner.name) == exit_.target

    # What conditions ask.

    def asks(self, condition: LanesDone | LaneIn, wanted: bool) -> str:
        """The test of what a condition asks about lanes, as things stood when the pass began."""
        if isinstance(condition, LanesDone):
            ends = [(lane, self.groups[lane].done) for lane in condition.lanes]
            every = condition.every is wanted
        else:
            inside = filter(condition.is_true_in, self.steps[condition.lane])
            ends = [(condition.lane, step) for step in inside]
            every = not wanted
        sign = "==" if wanted else "!="
        tests = [
            f"{self.own.lane(lane)}.before {sign} Step.{self.constants[step]}"
            for lane, step in ends
        ]
        return (" && " if every else " || ").join(tests)

    def _asked_about(self) -> set[str]:
        """The lanes that some condition asks about."""
        found: set[str] = set()
        for owner in asking(self.routine):
            for condition in conditions(owner):
                for leaf in leaves(condition):
                    if isinstance(leaf, LanesDone):
                        found.update(leaf.lanes)
                    elif isinstance(leaf, LaneIn):
                        found.add(leaf.lane)
        return found

    # What is printed.

    def blocks(self, matches: dict[str, tuple[MatchCode, ...]]) -> dict[str, BlockCode]:
        """The blocks by name; `matches` has the match-clock exits of groups, by lane."""
        asked = self._asked_about()
        return {
            name: BlockCode(
                self.own.lanes(name),
                tuple(self._lane(lane, matches, asked) for lane in self.routine.groups[name].lanes),
                tuple(self.own.enter(first) for first in self.plan.begins[name]),
                java_name(f"{name} began"),
            )
            for name in self.plan.begins
        }

    def _lane(
        self, name: str, matches: dict[str, tuple[MatchCode, ...]], asked: set[str]
    ) -> LaneCode:
        lane = self.groups[name]
        return LaneCode(
            comment(f"lane {lane.lane} of {lane.inside}"),
            self.own.lane(name),
            java_name(lane.lane),
            self.own.ask_lane(name),
            tuple(
                (self.constants[step], self.own.ask(step))
                for step in self.steps[name]
                if step != lane.done
            ),
            matches.get(name, ()),
            name in asked,
        )


def lane_around(routine: Routine, owner: Owner) -> Group | None:
    """The lane that a step or group stands in; None for one outside of lanes."""
    return next((group for group in asked_around(routine, owner) if group.lane), None)


def first_to_ask(routine: Routine) -> dict[tuple[str, Key], Group]:
    """By block and reading from the step's start, the first of its lanes that asks for it."""
    found: dict[tuple[str, Key], Group] = {}
    for owner in asking(routine):
        lane = lane_around(routine, owner)
        if lane:
            for key in sorted(since_keys(owner)):
                found.setdefault((lane.inside, key), lane)
    return found


def told_codes(parts: Parts) -> tuple[ToldCode, ...]:
    """What a plan with lanes can tell mechanisms, by mechanism in the order of the robot file."""
    sent = []
    for mechanism, stop in parts.stops.items():
        commands = [told for told in parts.told.values() if told.key[1] == mechanism]
        sent += [(mechanism, f"{mechanism}_{told.key[2]}", told) for told in commands]
        sent.append((mechanism, f"{mechanism}_stop", stop))
    wanted = {told.key: words for _, words, told in sent}
    constants = distinct(wanted, constant_name, "AGAIN", (NO_ORDER,))
    fields: dict[Key, str] = {("order", mechanism): mechanism for mechanism in parts.stops}
    for _, _, told in sent:
        fields |= {(*told.key, name): f"{told.method}_{name}" for name in told.names}
    # A field must not go by the name of a parameter.
    parameters = {name for _, _, told in sent for name in told.names}
    names = distinct(fields, member_name, "order", {"parts", *parameters})
    return tuple(
        ToldCode(
            told.method,
            told.parameters,
            names["order", mechanism],
            constants[told.key],
            tuple((names[(*told.key, name)], name) for name in told.names),
        )
        for mechanism, _, told in sent
    )
