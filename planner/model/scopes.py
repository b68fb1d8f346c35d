"""The names that the lines of a routine or of a task can lead to, and what stands under a line."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from planner.model.declared import Declared
from planner.model.ledger import Ledger
from planner.model.memory import Computed, Counting, Number, Remember, Stand
from planner.model.numbers import Time
from planner.model.resolve_lanes import Lanes
from planner.model.robot import Parameter
from planner.model.routine import (
    AfterExit,
    Count,
    Given,
    MatchExit,
    Named,
    Rule,
    SettingValue,
    WhenExit,
)
from planner.model.tasks import Task
from planner.text import Place
from planner.tree import nodes as n
from planner.tree.format import format_statement

MOST_TIMES = 1000
"""How high a count may be; no match has room for more."""
_WORD = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")


@dataclass(frozen=True, slots=True)
class Lead:
    """Where an exit leads: a step by its whole name, and how that is counted."""

    step: str = ""
    count: Count | None = None
    restarts: str = ""
    ended: Place | None = None
    """The `when task ends` line it goes through; of several the outermost."""


@dataclass(frozen=True, slots=True)
class Scope:
    """The names that some steps can lead to: the routine's, or those of one call of a task."""

    declared: Declared
    names: Mapping[str, Named]
    """What stands for a number there, and what is remembered."""
    prefix: str = ""
    group: str = ""
    """The group around all of it."""
    outcomes: Mapping[str, Lead] = field(default_factory=dict)
    calls: tuple[Task, ...] = ()
    """The tasks that are being done around it, outermost first."""
    in_lane: bool = False
    """Whether a step of a lane does the task around it."""
    container: str = ""
    """The container whose lines, or whose steps' lines, look names up; see `within`."""

    @property
    def heads(self) -> Mapping[str, n.Line]:
        """What can be led to, by its own name."""
        return self.declared.heads

    @property
    def lane(self) -> str:
        """The lane from which names are looked up; empty outside of lanes."""
        return self.declared.lane_of(self.container)

    def within(self, container: str) -> Scope:
        """The scope as the lines in a container see it: in a lane they can lead to `done`."""
        return replace(self, container=container) if container != self.container else self

    def whole(self, name: str) -> str:
        """The whole name of a step, group, block or lane declared here."""
        return f"{self.prefix}{name}"

    def group_of(self, name: str) -> str:
        """The whole name of the innermost group around a step or block declared here."""
        return self.inside(self.declared.at(name))

    def inside(self, container: str) -> str:
        """The whole name of a container; of the group around everything where there is none."""
        return self.whole(container) if container else self.group

    def lanes(self) -> Lanes | None:
        """The lanes that lines there can ask about; None where they stand outside of a block."""
        block = self.declared.block_around(self.container)
        if not block:
            return None
        lanes, steps = self.declared.lanes[block], self.declared.lane_steps
        return Lanes(
            {own: self.whole(name) for own, name in lanes.items()},
            {own: tuple(steps[name]) for own, name in lanes.items()},
            self.prefix,
        )


@dataclass(slots=True)
class Parts:
    """What stands under a step or group, resolved."""

    commands: list[Given] = field(default_factory=list)
    whens: list[WhenExit] = field(default_factory=list)
    afters: list[AfterExit] = field(default_factory=list)
    match_exits: list[MatchExit] = field(default_factory=list)
    rules: list[Rule] = field(default_factory=list)
    counts: list[Counting] = field(default_factory=list)
    remembers: list[Remember] = field(default_factory=list)


def words_of(lines: Iterable[n.Line]) -> set[str]:
    """The words of some lines, and of those under lines that were not read at all."""
    words: set[str] = set()
    waiting = list(lines)
    while waiting:
        line = waiting.pop()
        words.update(_WORD.findall(line.place.words))
        if isinstance(line.statement, n.Broken):
            waiting.extend(line.under)
    return words


def words_in(lines: Iterable[n.Line]) -> set[str]:
    """The words of some lines and of all that stands under them."""
    words: set[str] = set()
    waiting = list(lines)
    while waiting:
        line = waiting.pop()
        words.update(_WORD.findall(line.place.words))
        waiting.extend(line.under)
    return words


def call_of(line: n.Line) -> n.Call | None:
    """The task that a step does; None where it does none."""
    return next((u.statement for u in line.under if isinstance(u.statement, n.Call)), None)


def spoken_call(call: n.Call) -> str:
    """What a step does, as the plan says it."""
    return format_statement(call).removeprefix("do ")


def settings_of(
    parameters: tuple[Parameter, ...], numbers: tuple[Number, ...], place: Place
) -> dict[str, Named]:
    """A task's numbers as settings of its steps.

    One that is worked out is worked out anew wherever the task uses it (M13).
    """
    found: dict[str, Named] = {}
    for parameter, number in zip(parameters, numbers, strict=False):
        name = parameter.name
        if isinstance(number, Computed):
            found[name] = Stand(name, number, place)
        else:
            found[name] = SettingValue(name, number, place)
    return found


def owned(lead: Lead, counter: str, owner: str, ended: Place, caller: str) -> Lead:
    """A caller's exit for an outcome: it leaves the step `caller` that does the task, and its
    count is shared by all exits with that outcome."""
    lead = replace(lead, ended=lead.ended or ended, restarts=lead.restarts or caller)
    if lead.count is None or lead.count.counter:
        return lead
    then_restarts = lead.count.then_restarts or caller
    count = Count(lead.count.most, lead.count.then, counter, owner, then_restarts)
    return replace(lead, count=count)


def after_exit(time: Time, lead: Lead, place: Place) -> AfterExit:
    """A time limit as a line gives it."""
    return AfterExit(
        time.us,
        lead.step,
        lead.count,
        place,
        time.setting,
        lead.restarts,
        lead.ended,
        chosen=time.chosen,
    )


def match_exit(time: Time, lead: Lead, place: Place, group: str) -> MatchExit:
    """The match-clock exit of a group as a line gives it."""
    chosen = time.chosen
    return MatchExit(time.us, lead.step, place, time.setting, group, lead.restarts, chosen=chosen)


def times_of(ledger: Ledger, written: n.Name) -> int | None:
    """How many times a count says; None and a slip where it is no number of times."""
    if written.text.isdigit() and 0 < int(written.text) <= MOST_TIMES:
        return int(written.text)
    ledger.add("wrong-count", written.place, written.text)
    return None
