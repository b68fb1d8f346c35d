"""A step as a card: its name and title, what it does, and one row for each way out."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.findings import Severity
from planner.graph import Exit
from planner.model.routine import Step
from planner.model.spoken import spoken_command
from planner.pictures.groups import INSET, Frame
from planner.pictures.lettering import LINE, SIZE, mixed_height, tied, width, wrapped
from planner.pictures.marks import MARKS_HEIGHT
from planner.pictures.rows import PAD, Rows, rows_of
from planner.pictures.wording import noted, spoken_rule

_THICKEST_EDGE = 3
_UNREAD = "(some lines here could not be read)"


@dataclass(frozen=True, slots=True)
class Card:
    """A step broken into lines for a card of a given width, in points."""

    number: int
    step: Step
    width: int
    name: tuple[str, ...]
    title: tuple[str, ...]
    does: tuple[str, ...]
    rows: Rows
    arrivals: tuple[str, ...]
    findings: Counter[Severity]
    frames: tuple[Frame, ...]
    """Of the groups it stands in, outermost first."""

    @property
    def height(self) -> int:
        """About how high the layout program will draw it, in points."""
        head = mixed_height(len(self.name) + len(self.title)) + 2 * PAD
        marks = MARKS_HEIGHT * bool(self.findings)
        texts = sum(LINE * len(text) + 2 * PAD for text in (self.does, self.arrivals) if text)
        frames = sum(frame.height for frame in self.frames)
        return head + marks + texts + self.rows.height + 2 * self.edge + frames

    @property
    def edge(self) -> int:
        """How thick its outline is."""
        return _THICKEST_EDGE if self.step.is_finish else 1


def card_of(
    step: Step,
    exits: tuple[Exit, ...],
    numbers: Mapping[str, int],
    arrivals: str,
    begins: tuple[int, ...],
    findings: Counter[Severity],
    frames: tuple[Frame, ...],
    room: int,
) -> Card:
    """The card of a step and its own exits, `room` points wide with the frames around it.

    `numbers` are those of all cards; with a block, the cards of that number are entered too.
    """
    number = numbers[step.name]
    wide = room - 2 * INSET * sum(not frame.is_lane for frame in frames)
    inner = wide - 2 * PAD - 2 * _THICKEST_EDGE
    return Card(
        number,
        step,
        wide,
        wrapped(step.name, inner - badge_width(number), 3, bold=True),
        # The title of a block stands on its frame.
        () if step.is_block else wrapped(step.title, inner - badge_width(number), 3),
        tuple(_does(step, begins, inner)),
        rows_of(exits, numbers, wide),
        wrapped(arrivals, inner, 3),
        findings,
        frames,
    )


def _does(step: Step, begins: tuple[int, ...], room: float) -> Iterator[str]:
    for given in step.commands:
        yield from wrapped(tied(spoken_command(given)), room, 3)
    if begins:
        *first, last = map(str, begins)
        listed = f"{', '.join(first)} and {last}" if first else last
        yield from wrapped(f"begins {listed} at once", room, 3)
    for rule in step.rules:
        yield from wrapped(tied(spoken_rule(rule)), room, 4)
    for line in noted(step):
        yield from wrapped(tied(line), room, 3)
    if step.incomplete:
        yield from wrapped(_UNREAD, room)


def badge_width(number: int) -> int:
    """How wide the badge with a card's number is, with the space around it, in points."""
    return math.ceil(width(str(number), bold=True, size=SIZE)) + 2 * (PAD + 3)
