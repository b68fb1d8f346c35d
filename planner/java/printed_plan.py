"""What the template of a plan prints, all decided."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from planner.java.choices_code import ChoiceCode, ChosenField
from planner.java.condition_code import MemoryCode
from planner.java.memory_code import MemoryField, SeenCode, Statement, TableCode
from planner.java.plan_parts import Asked, Parts
from planner.java.printed_exit import ExitCode, MatchCode
from planner.java.printed_lanes import BlockCode, LaneCode, ToldCode
from planner.java.settings_code import Constant


@dataclass(frozen=True, slots=True)
class SinceCode:
    """What a reading has changed by since a step, a group or the plan began."""

    method: str
    at_entry: str
    """The field that holds what it was then."""
    began: str
    """What began, in words."""


@dataclass(frozen=True, slots=True)
class AskedField:
    """A reading, and the fields that hold what it was."""

    asked: Asked
    value: str
    asked_in: str
    sinces: tuple[SinceCode, ...]
    heading: str
    """Its name with its unit, a literal."""
    shown: str
    """The call that shows it."""


@dataclass(frozen=True, slots=True)
class Remembered:
    """A reading whose value is kept when a step or group is entered."""

    at_entry: str
    method: str


@dataclass(frozen=True, slots=True)
class SendCode:
    """A line of the plan that gives a command; `call` is empty where it is not sent (M7, M10)."""

    comment: str
    """The plan's line; empty where the call says all of it."""
    call: str
    not_sent: str = ""
    notes: tuple[str, ...] = ()
    """The statements that note what the mechanism now runs for."""


@dataclass(frozen=True, slots=True)
class RuleCode:
    """A side rule: what makes it true, and what it tells its mechanism (M12)."""

    comment: str
    test: str
    was_true: str
    due: str
    """The field that holds what the mechanism is told at the end of the pass."""
    order: str
    notes: tuple[str, ...]
    call: str
    """The statement that gives the command."""
    numbers: tuple[tuple[str, str], ...] = ()
    """The fields that keep its numbers until they are sent, and the numbers (M13)."""


@dataclass(frozen=True, slots=True)
class RulesCode:
    """The side rules of a step, a group or the routine."""

    doc: str
    method: str
    guard: str
    """The test that they are asked; empty for those of the routine."""
    memories: tuple[MemoryCode, ...]
    rules: tuple[RuleCode, ...]


@dataclass(frozen=True, slots=True)
class OrderCode:
    """A command that side rules give, and how it is sent."""

    constant: str
    due: str
    call: str
    numbers: tuple[str, ...] = ()
    """The fields that keep its numbers, where these are worked out."""


@dataclass(frozen=True, slots=True)
class EnteredCode:
    """What begins anew with each visit of a step or group (M5, M12)."""

    remembered: tuple[Remembered, ...]
    memories: tuple[MemoryCode, ...]
    rules: tuple[RuleCode, ...]


@dataclass(frozen=True, slots=True)
class RememberCode:
    """What a step or group remembers in the pass that leaves it (M13)."""

    method: str
    guard: str
    """The test that the group is left at all; empty where it always is."""
    lines: tuple[Statement, ...]


@dataclass(frozen=True, slots=True)
class GroupCode:
    """A group: what starting it does, what it asks and what leaving it does."""

    comment: str
    active: str
    started: str
    """The field of its clock; empty where nothing asks it."""
    start: str
    left: str
    """The method that asks its exits; empty where it has none."""
    leave: str
    """The method that leaves it and those within it; empty where no exit needs one."""
    leaves: tuple[str, ...]
    """The statements that leave the groups within it."""
    entered: EnteredCode
    counters: tuple[str, ...]
    """Those that start at 0 with it (M9)."""
    asked: tuple[MemoryCode, ...]
    """What its exits remember."""
    matches: tuple[MatchCode, ...]
    exits: tuple[ExitCode, ...]
    counts: tuple[Statement, ...] = ()
    """What starting it counts (M14)."""
    remember: RememberCode | None = None
    is_block: bool = False
    """Whether lanes run as long as it lasts."""


@dataclass(frozen=True, slots=True)
class StepCode:
    """A step: what entering it does and what it asks."""

    comment: str
    constant: str
    name: str
    title: str
    is_finish: bool
    enter: str
    ask: str
    groups: tuple[GroupCode, ...]
    """Those around it, outermost first."""
    entered: EnteredCode
    ends: tuple[str, ...]
    """The methods that end what ran for the step or groups that were left (M7)."""
    sends: tuple[SendCode, ...]
    offs: tuple[str, ...]
    """The statements with which a finish switches off all that still runs (M10)."""
    asked: tuple[MemoryCode, ...]
    """What its exits remember."""
    exits: tuple[ExitCode, ...]
    waits_for: str
    """What its exits wait for, in the words of the plan, a literal."""
    counts: tuple[Statement, ...] = ()
    """What entering it counts (M14)."""
    remember: RememberCode | None = None
    lane: str = ""
    """The field of the lane that it stands in; empty for a step outside of lanes."""
    ends_lane: bool = False
    is_left_out: bool = False
    """Whether it has no Java: the end of a lane that never comes to its end."""
    block: BlockCode | None = None
    """What is done with its lanes, where it stands for a block."""
    runs_for: str = ""
    """What its `runs` commands run for, where several steps are active at once."""

    @property
    def lefts(self) -> tuple[str, ...]:
        """The methods that ask the exits of the groups around it."""
        return tuple(group.left for group in self.groups if group.left)


@dataclass(frozen=True, slots=True)
class RunsForCode:
    """Something that a mechanism can run for."""

    constant: str
    comment: str


@dataclass(frozen=True, slots=True)
class GroupEnd:
    """A group or lane whose end switches a mechanism off."""

    constant: str
    is_over: str
    """The test that it has been left."""


@dataclass(frozen=True, slots=True)
class RunCode:
    """What the plan remembers of a mechanism that runs, for steps and finishes to end it."""

    runs_for: str
    end: str
    """The method that ends what ran for what is left; empty where no step needs it."""
    off: str
    """The method that ends it in a finish, however it was started; empty where none needs it."""
    groups: tuple[GroupEnd, ...]
    stop: str
    due: str
    """What a side rule has told it; empty where none does."""


@dataclass(frozen=True, slots=True)
class PlanCode:
    """All that the template prints of a plan."""

    type_name: str
    title: str
    limit: str
    limit_comment: str
    parts: Parts
    asked: tuple[AskedField, ...]
    constants: tuple[Constant, ...]
    steps: tuple[StepCode, ...]
    groups: tuple[GroupCode, ...]
    start: str
    remembered: tuple[Remembered, ...]
    """The readings whose value at the start is kept."""
    matches: tuple[MatchCode, ...]
    """The routine's own; those of groups stand with them."""
    leaves: tuple[tuple[str, tuple[str, ...]], ...]
    """The methods that leave several groups at once, and their statements."""
    rules: tuple[RulesCode, ...]
    orders: tuple[OrderCode, ...]
    runs_for: tuple[RunsForCode, ...]
    runs: tuple[RunCode, ...]
    stops: tuple[str, ...]
    choices: tuple[ChoiceCode, ...]
    chosen: tuple[ChosenField, ...]
    """What is set once, when the plan is made."""
    is_mirrored: bool
    """Whether anything changes its sign where the plan is turned round."""
    fields: tuple[MemoryField, ...] = ()
    """What the plan remembers and counts (M13, M14)."""
    tables: tuple[TableCode, ...] = ()
    answers: tuple[SeenCode, ...] = ()
    seen: tuple[Statement, ...] = ()
    """What is taken in from cameras until the start."""
    seen_fields: tuple[str, ...] = ()
    """The fields that it goes to."""
    remembers_by_step: bool = False
    """Whether some exit leaves one of several steps that remember something."""
    requirements: tuple[str, ...] = ()
    """What every run must keep to (M15), in the words of the plan."""

    @property
    def headings(self) -> tuple[str, ...]:
        """What is shown, each with its unit: the readings, then what is remembered."""
        return (*(one.heading for one in self.asked), *(one.heading for one in self.fields))

    @property
    def shown_fields(self) -> Iterator[str]:
        """The calls that show what is remembered."""
        for index, field in enumerate(self.fields, len(self.asked)):
            arguments = f"{index}, {field.label}, {field.name}{field.more}"
            yield f"screen.{field.method}({arguments});"

    @property
    def due_numbers(self) -> tuple[str, ...]:
        """The fields that keep the numbers of side rules until they are sent."""
        numbers = chain.from_iterable(order.numbers for order in self.orders)
        return tuple(dict.fromkeys(numbers))

    tells: str = "parts"
    """What commands are given to."""
    told: tuple[ToldCode, ...] = ()
    """What mechanisms are told at the end of a pass; empty where it is sent at once."""

    @property
    def blocks(self) -> tuple[BlockCode, ...]:
        """The blocks of lanes."""
        return tuple(step.block for step in self.steps if step.block)

    @property
    def told_by_mechanism(self) -> Iterator[tuple[str, tuple[ToldCode, ...]]]:
        """The same by the field that holds the last of it."""
        for order in dict.fromkeys(told.order for told in self.told):
            yield order, tuple(told for told in self.told if told.order == order)

    @property
    def lanes(self) -> tuple[LaneCode, ...]:
        """All lanes, in the order of the plan."""
        return tuple(lane for block in self.blocks for lane in block.lanes)

    @property
    def lane_matches(self) -> tuple[MatchCode, ...]:
        """The match-clock exits that stand in lanes and lead to steps of them."""
        return tuple(match for lane in self.lanes for match in lane.matches)

    @property
    def most_moves(self) -> int:
        """In a pass: all lanes but one move, the last starts its block again with all lanes."""
        return 2 * max((len(block.lanes) for block in self.blocks), default=0)

    @property
    def uses_parts(self) -> bool:
        """Whether the plan looks at anything or tells anything."""
        return bool(self.parts.asked or self.parts.stops)

    @property
    def memories(self) -> Iterator[MemoryCode]:
        """What all conditions on several passes remember."""
        of_exits = [group.asked for group in self.groups] + [step.asked for step in self.steps]
        return chain.from_iterable((*of_exits, *(rules.memories for rules in self.rules)))

    @property
    def made_by_choice(self) -> Iterator[str]:
        """The statements that make those that can only be made once it is known what was chosen."""
        for memory in self.memories:
            if memory.by_choice:
                arguments = memory.arguments
                for field in self.chosen:
                    if field.is_parameter:
                        # The parameter is what was chosen, the field what holds.
                        arguments = re.sub(rf"\b{field.name}\b", f"this.{field.name}", arguments)
                yield f"{memory.name} = new {memory.type_name}({arguments});"

    @property
    def parameters(self) -> str:
        """What the plan is made with."""
        chosen = "".join(f", {choice.java_type} {choice.parameter}" for choice in self.choices)
        return f"Parts parts{chosen}"

    @property
    def normal(self) -> str:
        """The same where nobody chooses."""
        return ", ".join(["parts", *(choice.normal for choice in self.choices)])

    @property
    def counters(self) -> tuple[str, ...]:
        """All counters of counted exits; several exits can share one."""
        of_groups = (exit_ for group in self.groups for exit_ in group.exits)
        exits = chain(of_groups, (exit_ for step in self.steps for exit_ in step.exits))
        return tuple(dict.fromkeys(exit_.counter for exit_ in exits if exit_.counter))

    @property
    def all_matches(self) -> tuple[MatchCode, ...]:
        """The match-clock exits of the routine and of its groups."""
        return (*self.matches, *(match for group in self.groups for match in group.matches))

    @property
    def dues(self) -> tuple[str, ...]:
        """The fields that hold what side rules told mechanisms in a pass."""
        return tuple(dict.fromkeys(order.due for order in self.orders))
