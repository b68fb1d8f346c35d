"""What a routine is: steps, what each does and where its exits lead."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from planner.model.choices import AnyChoice
from planner.model.condition import Condition
from planner.model.memory import Counting, Memory, Number, Remember, Stand, Table
from planner.model.requirement import Requirement
from planner.model.robot import Command, Mechanism, Robot
from planner.model.scenario import Scenario
from planner.model.units import Amount, Shares
from planner.text import Place


@dataclass(frozen=True, slots=True)
class Given:
    """A command given on entry to a step (M7)."""

    mechanism: Mechanism
    command: Command
    arguments: tuple[Number, ...]
    keep: bool
    place: Place = field(compare=False)
    number: int = field(default=0, compare=False)
    """Tells it apart from others of the routine that say the same; see `numbering`."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A side rule: the command is given whenever the condition becomes true (M12)."""

    condition: Condition
    given: Given
    place: Place = field(compare=False)
    number: int = field(default=0, compare=False)


@dataclass(frozen=True, slots=True)
class Count:
    """At most `most` times the exit's target, then `then` (M9).

    Exits that name the same `counter` share their count, which belongs to the group `owner` or,
    under no name, to the routine. Others have a count of their own, and `owner` is None.
    """

    most: int
    then: str
    counter: str = ""
    owner: str | None = None
    then_restarts: str = ""
    """As an exit's `restarts`, for the way to `then`."""


@dataclass(frozen=True, slots=True)
class Expect:
    """What a healthy robot does: an exit's condition comes true between `low_us` and `high_us`
    after the step was entered, in `hits` of `runs` runs. Nothing but timing and odds goes by it.
    """

    low_us: int
    high_us: int
    hits: int
    runs: int
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class WhenExit:
    """Left when a condition is true."""

    condition: Condition
    target: str
    count: Count | None
    place: Place = field(compare=False)
    restarts: str = ""
    """The group that the exit leaves even if it leads back into it: a task that has ended, or the
    round of it that has."""
    ended: Place | None = field(default=None, compare=False)
    """The `when task ends` line that says where the exit leads, where it ends a task."""
    expect: Expect | None = None
    number: int = field(default=0, compare=False)


@dataclass(frozen=True, slots=True)
class AfterExit:
    """Left when the clock of the step or group is at or past `limit_us` (M2)."""

    limit_us: int
    target: str
    count: Count | None
    place: Place = field(compare=False)
    setting: str = ""
    restarts: str = ""
    ended: Place | None = field(default=None, compare=False)
    number: int = field(default=0, compare=False)
    chosen: Shares = field(default=(), compare=False)
    """How much of the limit goes by what is chosen, as for an `Amount`."""


StepExit: TypeAlias = WhenExit | AfterExit


@dataclass(frozen=True, slots=True)
class MatchExit:
    """Leads to `target` once the match clock is at or past `at_us`, from any other step (M4)."""

    at_us: int
    target: str
    place: Place = field(compare=False)
    setting: str = ""
    group: str = ""
    """The group whose exit it is; empty for the routine's."""
    restarts: str = ""
    """As for other exits: an `at` in a task may lead to one of its outcomes."""
    number: int = field(default=0, compare=False)
    chosen: Shares = field(default=(), compare=False)
    """As for `AfterExit`."""


def path_of(name: str) -> tuple[str, ...]:
    """A whole name as the names it is made of: ``First.Raise`` is `Raise` in what `First` does."""
    return tuple(name.split("."))


@dataclass(frozen=True, slots=True)
class Step:
    """A step or a finish. Targets are names of steps of the same routine, or the exit is left out.

    `incomplete` is true where a line of the step could not be made sense of, so that nothing may
    be concluded from what the step lacks. `perhaps` are the steps such lines name, and those of
    exits that had to be left out.
    """

    name: str
    title: str
    is_finish: bool
    commands: tuple[Given, ...]
    whens: tuple[WhenExit, ...]
    afters: tuple[AfterExit, ...]
    place: Place = field(compare=False)
    incomplete: bool = False
    perhaps: frozenset[str] = frozenset()
    group: str = ""
    """The innermost group it stands in; empty where there is none."""
    rules: tuple[Rule, ...] = ()
    is_block: bool = False
    """Whether it stands for a block of lanes: it has the block's name and commands, stands in the
    group of that name and is active as long as the block is (M8)."""
    ends_lane: bool = False
    """Whether it is the end of a lane, where the lane waits: it has no lines of its own."""
    counts: tuple[Counting, ...] = ()
    """What it counts on entry (M14)."""
    remembers: tuple[Remember, ...] = ()
    """What it remembers in the pass that leaves it (M13)."""

    @property
    def path(self) -> tuple[str, ...]:
        """The steps whose tasks it stands in, outermost first, and its own name last."""
        return path_of(self.name)

    @property
    def exits(self) -> tuple[StepExit, ...]:
        """The step's own exits in the order they are asked (M4)."""
        return (*self.whens, *sorted(self.afters, key=lambda after: after.limit_us))

    @property
    def label(self) -> str:
        """The title, or the name where there is none."""
        return self.title or self.name


@dataclass(frozen=True, slots=True)
class Group:
    """Steps with common exits, asked before the steps' own (M4), and a common clock (M2).

    A step that does a task is such a group too: the task's steps stand in it under names of their
    own, and `task` says what is done. Each start of a task sets the counts inside to 0 (M9).

    A block of lanes is a group around the step that stands for it, which has the same name, and
    around its lanes. Each lane is a group around its steps and its end, without exits of its own.
    Only one block is active at a time: a block does not stand in a lane (M8).
    """

    name: str
    title: str
    inside: str
    """The group it stands in; empty where there is none."""
    match_exits: tuple[MatchExit, ...]
    whens: tuple[WhenExit, ...]
    afters: tuple[AfterExit, ...]
    rules: tuple[Rule, ...]
    place: Place = field(compare=False)
    task: str = ""
    """What it does, as the plan says it: ``place 1200 ticks``; empty for a plain group."""
    ends: tuple[str, ...] = ()
    """The outcomes of its task."""
    task_file: str = ""
    """The file that the task stands in, where what is around it stands in another."""
    incomplete: bool = False
    perhaps: frozenset[str] = frozenset()
    lanes: tuple[str, ...] = ()
    """Of a block the groups that are its lanes, in the order written."""
    is_block: bool = False
    lane: str = ""
    """Of a lane its own name, as conditions say it; `name` has the block's in front."""
    first: str = ""
    """Of a lane the step that is entered with the block; empty where it has none."""
    counts: tuple[Counting, ...] = ()
    """What a step that does a task counts on entry; a plain group counts nothing."""
    remembers: tuple[Remember, ...] = ()
    """What a step that does a task remembers when it is left; a plain group remembers nothing."""

    @property
    def label(self) -> str:
        """The title, or the name where there is none."""
        return self.title or self.name

    @property
    def done(self) -> str:
        """Of a lane the step that is its end."""
        return end_of_lane(self.name)


def end_of_lane(lane: str) -> str:
    """The name of the step that is the end of a lane; no name of a plan has a blank in it."""
    return f"{lane} done"


def step_in_words(name: str) -> str:
    """The name of a step as a person reads it: the end of a lane is ``lane wheels done``."""
    *_, lane, last = ("", "", *name.split(" "))
    return f"lane {lane} done" if lane else last


@dataclass(frozen=True, slots=True)
class SettingValue:
    """A named number of the routine."""

    name: str
    amount: Amount
    """Of one whose value goes by a choice: what holds for what was chosen."""
    place: Place = field(compare=False)
    used: bool = True
    choice: str = ""
    """The choice that its value goes by; empty where it has one value."""
    rows: Mapping[str, Amount] = field(default_factory=dict)
    """Its values, by the choice's."""


Named: TypeAlias = SettingValue | Stand | Memory | Table
"""What a name that stands where a number can stand may be."""


@dataclass(frozen=True, slots=True)
class Routine:
    """A whole routine with its names resolved."""

    name: str
    title: str
    robot: Robot
    limit_us: int
    settings: Mapping[str, SettingValue]
    match_exits: tuple[MatchExit, ...]
    """Earliest first."""
    start: str
    """The name of a step; empty where the text names none that exists."""
    steps: Mapping[str, Step]
    """Steps and finishes by name, as written."""
    place: Place = field(compare=False)
    incomplete: bool = False
    """True where a line outside of the steps could not be made sense of."""
    perhaps: frozenset[str] = frozenset()
    """The steps that such lines name, which something may lead to all the same; all steps where
    an exit that could not be read names none."""
    scenarios: tuple[Scenario, ...] = ()
    groups: Mapping[str, Group] = field(default_factory=dict)
    """Outer ones before those in them."""
    rules: tuple[Rule, ...] = ()
    """The side rules of the whole routine."""
    choices: Mapping[str, AnyChoice] = field(default_factory=dict)
    """What can be chosen before the start, by name."""
    requirements: tuple[Requirement, ...] = ()
    """What every run must keep to (M15), as written."""
    memories: Mapping[str, Memory] = field(default_factory=dict)
    """What it remembers and counts while it runs, by name."""
    tables: Mapping[str, Table] = field(default_factory=dict)
    """The settings that go by a memory."""

    def groups_around(self, step: str) -> tuple[Group, ...]:
        """The groups a step stands in, outermost first."""
        found: list[Group] = []
        name = self.steps[step].group
        while name:
            found.insert(0, self.groups[name])
            name = found[0].inside
        return tuple(found)

    def lane_around(self, step: str) -> Group | None:
        """The lane a step stands in; None for a step outside of lanes, a block's own included."""
        return next((group for group in self.groups_around(step) if group.lane), None)

    @property
    def finishes(self) -> tuple[Step, ...]:
        """The steps that end the routine."""
        return tuple(step for step in self.steps.values() if step.is_finish)
