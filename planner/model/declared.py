"""Which steps, groups and blocks some lines declare, and what stands in what."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from planner.model.ledger import Ledger, declare, words_under
from planner.text import Place
from planner.tree import nodes as n

DEEPEST_GROUPS = 5
"""How deep groups may stand in groups, as for tasks."""


@dataclass(frozen=True, slots=True)
class Container:
    """A group, a block of lanes or a lane as written, and the container it stands in."""

    line: n.Line
    inside: str
    """Empty where there is none."""

    @property
    def is_lane(self) -> bool:
        """Whether it is a lane of a block."""
        return isinstance(self.line.statement, n.LaneHead)

    @property
    def is_block(self) -> bool:
        """Whether it is a block of lanes."""
        return isinstance(self.line.statement, n.TogetherHead)


@dataclass
class Declared:
    """The names that some lines declare: a routine's, or a task's.

    A lane goes by its block's name, a blank and its own, so that lanes of two blocks may have one
    name and no step can be called like a lane.
    """

    heads: dict[str, n.Line] = field(default_factory=dict)
    """What an exit can lead to by its own name: steps, finishes and blocks, in their order."""
    inside: dict[str, str] = field(default_factory=dict)
    """The container each of them stands in, if any; a block stands in the container it is."""
    containers: dict[str, Container] = field(default_factory=dict)
    """Groups, blocks and lanes by name, outer ones before those in them."""

    def lane_of(self, container: str) -> str:
        """The lane that a container is or stands in; empty where there is none."""
        while container and not self.containers[container].is_lane:
            container = self.containers[container].inside
        return container

    @cached_property
    def lanes(self) -> dict[str, dict[str, str]]:
        """By block, its lanes by their own names; asked when all is declared."""
        found: dict[str, dict[str, str]] = {}
        for name, container in self.containers.items():
            if container.is_block:
                found[name] = {}
            elif container.is_lane:
                found[container.inside][name.rpartition(" ")[2]] = name
        return found

    @cached_property
    def lane_steps(self) -> dict[str, list[str]]:
        """By lane, its steps, those of groups in it included; asked when all is declared."""
        found: dict[str, list[str]] = {
            name: [] for name, container in self.containers.items() if container.is_lane
        }
        for name, container_name in self.inside.items():
            lane = self.lane_of(container_name)
            if lane:
                found[lane].append(name)
        return found

    def at(self, name: str) -> str:
        """The container that a step, finish or block stands in; empty where there is none."""
        return self.inside.get(name, "")

    def block_around(self, container: str) -> str:
        """The block whose lanes can be asked about there; empty where there is none."""
        while container and not self.containers[container].is_block:
            container = self.containers[container].inside
        return container


def declared_in(ledger: Ledger, lines: tuple[n.Line, ...], taken: dict[str, Place]) -> Declared:
    """What some lines declare; names that are taken, and what stands where it cannot, are slips.

    `taken` are the names that steps may not have any more; those declared here are put in.
    """
    found = Declared()
    for line, container in _nested(ledger, found, lines):
        head = line.statement
        if isinstance(head, n.GroupHead) and declare(ledger, head.name, taken, "group"):
            found.containers[head.name.text] = Container(line, container)
            _tell_too_deep(ledger, found, head.name)
        elif isinstance(head, n.TogetherHead) and declare(ledger, head.name, taken, "block"):
            found.containers[head.name.text] = Container(line, container)
            found.heads[head.name.text] = line
            found.inside[head.name.text] = head.name.text
        elif isinstance(head, n.LaneHead) and container in found.containers:
            _add_lane(ledger, found, line, head, container)
            continue
        elif isinstance(head, n.StepHead | n.FinishHead) and declare(
            ledger, head.name, taken, "step"
        ):
            found.heads[head.name.text] = line
            if container in found.containers:
                found.inside[head.name.text] = container
        else:
            continue
        taken[head.name.text] = head.name.place
    _tell_lanes(ledger, found)
    return found


def _nested(
    ledger: Ledger, found: Declared, lines: tuple[n.Line, ...]
) -> Iterator[tuple[n.Line, str]]:
    """The lines that may be headings, in the order of the text, each with the container around.

    Each heading is declared by the time its inner lines come.
    """
    waiting = [(line, "") for line in reversed(lines)]
    while waiting:
        line, container = waiting.pop()
        head = line.statement
        if isinstance(head, n.TogetherHead) and found.lane_of(container):
            ledger.add("lanes-within-lanes", head.name.place, head.name.text)
            # What stands in it is not there, and is no further slip.
            ledger.broken_words |= words_under(line) | {head.name.text}
            continue
        yield line, container
        match head:
            case n.GroupHead(name) | n.TogetherHead(name):
                inner = name.text if name.text in found.containers else ""
            case n.LaneHead(name):
                again = f"{container} {name.text}#{line.place.line}"
                inner = again if again in found.containers else f"{container} {name.text}"
                inner = inner if inner in found.containers else container
            case _:
                continue
        waiting.extend((under, inner) for under in reversed(line.under))


def _add_lane(ledger: Ledger, found: Declared, line: n.Line, head: n.LaneHead, block: str) -> None:
    whole = f"{block} {head.name.text}"
    first = found.containers.get(whole)
    taken = {head.name.text: name_of(first.line).place} if first else {}
    if not declare(ledger, head.name, taken, "lane"):
        # It is there all the same, under a name that no line can mean.
        whole = f"{whole}#{line.place.line}"
    found.containers[whole] = Container(line, block)


def inner_lines(lines: tuple[n.Line, ...]) -> Iterator[n.Line]:
    """The lines that stand directly in groups, blocks and lanes, in the order of the text."""
    waiting = [(line, False) for line in reversed(lines)]
    while waiting:
        line, inner = waiting.pop()
        if inner:
            yield line
        if isinstance(line.statement, n.GroupHead | n.TogetherHead | n.LaneHead):
            waiting.extend((under, True) for under in reversed(line.under))


def name_of(line: n.Line) -> n.Name:
    """The name that a heading of a group, block or lane gives."""
    head = line.statement
    assert isinstance(head, n.GroupHead | n.TogetherHead | n.LaneHead)
    return head.name


def _tell_too_deep(ledger: Ledger, found: Declared, name: n.Name) -> None:
    """Writes down that there is no room for a group so deep in groups."""
    deep, around = 0, name.text
    containers: Mapping[str, Container] = found.containers
    while around:
        deep += isinstance(containers[around].line.statement, n.GroupHead)
        around = containers[around].inside
    if deep == DEEPEST_GROUPS + 1:
        because = f"groups stand in groups {DEEPEST_GROUPS} deep"
        ledger.add("too-many-steps", name.place, name.text, because=because, what="group")


def _tell_lanes(ledger: Ledger, found: Declared) -> None:
    """Writes down blocks with too few lanes, and lanes without steps."""
    for name, container in found.containers.items():
        head = name_of(container.line)
        broken = any(under.salvaged for under in (container.line, *container.line.under))
        if container.is_block and not broken:
            lanes = found.lanes[name]
            if len(lanes) < 2:
                ledger.add("too-few-lanes", head.place, head.text, lanes)
        if container.is_lane and not broken and not container.line.under:
            ledger.add("empty-lane", head.place, head.text)
