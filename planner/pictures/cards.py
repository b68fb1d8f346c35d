"""A step as a card: its name and title, what it does, and one row for each way out."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.findings import Severity
from planner.graph import Exit
from planner.model.routine import Step
from planner.model.spoken import spoken_command
from planner.pictures.frames import FRAME_PAD, frame_height
from planner.pictures.lettering import LINE, SIZE, mixed_height, tied, width, wrapped
from planner.pictures.marks import MARKS_HEIGHT
from planner.pictures.palette import Look, look_of
from planner.pictures.wording import arrow_to, waits_for

PAD = 2
"""Points between a cell's edge and its text."""
FRAME_SPACE = 1
"""Points around the frame that names where an exit leads."""
_THICKEST_EDGE = 3
_FRAME_SHARE = 0.49
"""The most of a row that may name where the exit leads; the rest is for what it waits for."""
_BOLD_SURPLUS = 2
"""How much wider the bold first word of a row is than if it were plain."""
_UNREAD = "(some lines here could not be read)"


@dataclass(frozen=True, slots=True)
class ExitRow:
    """A way out in lines that fit its card."""

    port: str
    look: Look
    wait: tuple[str, ...]
    leads: tuple[str, ...]

    @property
    def height(self) -> int:
        """In points."""
        framed = frame_height(len(self.leads), self.look) + 2 * FRAME_SPACE
        return max(mixed_height(len(self.wait)) + 2 * PAD, framed)


@dataclass(frozen=True, slots=True)
class Card:
    """A step broken into lines for a card of a given width, in points."""

    number: int
    step: Step
    width: int
    name: tuple[str, ...]
    title: tuple[str, ...]
    does: tuple[str, ...]
    rows: tuple[ExitRow, ...]
    frame_width: int
    """Of the frames that name where the exits lead."""
    arrivals: tuple[str, ...]
    findings: Counter[Severity]

    @property
    def height(self) -> int:
        """About how high the layout program will draw it, in points."""
        head = mixed_height(len(self.name) + len(self.title)) + 2 * PAD
        marks = MARKS_HEIGHT * bool(self.findings)
        texts = sum(LINE * len(text) + 2 * PAD for text in (self.does, self.arrivals) if text)
        return head + marks + texts + sum(row.height for row in self.rows) + 2 * self.edge

    @property
    def edge(self) -> int:
        """How thick its outline is."""
        return _THICKEST_EDGE if self.step.is_finish else 1


def card_of(
    step: Step,
    exits: tuple[Exit, ...],
    numbers: Mapping[str, int],
    arrivals: str,
    findings: Counter[Severity],
    room: int,
) -> Card:
    """The card of a step and its own exits, `room` points wide; `numbers` are of all cards."""
    number = numbers[step.name]
    inner = room - 2 * PAD - 2 * _THICKEST_EDGE
    frame_width = _frame_width([arrow_to(way.target, numbers) for way in exits], room)
    return Card(
        number,
        step,
        room,
        wrapped(step.name, inner - badge_width(number), 3, bold=True),
        wrapped(step.title, inner - badge_width(number), 3),
        tuple(_does(step, inner)),
        tuple(_exit_row(at, way, numbers, room, frame_width) for at, way in enumerate(exits)),
        frame_width,
        wrapped(arrivals, inner, 3),
        findings,
    )


def port_of(at: int) -> str:
    """The port of a card's row, counted from 0."""
    return f"way{at}"


def _does(step: Step, room: float) -> Iterator[str]:
    for given in step.commands:
        yield from wrapped(tied(spoken_command(given)), room, 3)
    if step.incomplete:
        yield from wrapped(_UNREAD, room)


def _exit_row(
    at: int, way: Exit, numbers: Mapping[str, int], room: int, frame_width: int
) -> ExitRow:
    wait_room = room - 2 - frame_width - 2 * FRAME_SPACE - 2 * PAD - _BOLD_SURPLUS
    frame_room = frame_width - 2 * (FRAME_PAD + 1)
    leads = wrapped(arrow_to(way.target, numbers), frame_room, 3)
    wait = wrapped(tied(waits_for(way)), wait_room, 8)
    return ExitRow(port_of(at), look_of(way), wait, leads)


def _frame_width(leads: Sequence[str], room: int) -> int:
    """Wide enough for the longest where there is room for it."""
    widest = max((math.ceil(width(text)) for text in leads), default=0)
    return min(widest + 2 * (FRAME_PAD + 1) + 2, round(room * _FRAME_SHARE))


def badge_width(number: int) -> int:
    """How wide the badge with a card's number is, with the space around it, in points."""
    return math.ceil(width(str(number), bold=True, size=SIZE)) + 2 * (PAD + 3)
