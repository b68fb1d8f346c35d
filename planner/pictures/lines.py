"""Which exits get a line, so that every line that is drawn can be traced with a finger."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from enum import IntEnum
from typing import TypeAlias

from planner.graph import Exit, Plan
from planner.pictures.sequence import own_exits


class Route(IntEnum):
    """Where a line runs, in the order in which lines get their room."""

    DOWN = 0
    """To a card below, on the right of the column."""
    UP = 1
    """To a card above, on the left of the column."""
    ACROSS = 2
    """To the head of the next column, through the middle of the gap."""


@dataclass(frozen=True, slots=True)
class Line:
    """An exit that is drawn as a line; `row` is that of the exit on its card, from 0."""

    way: Exit
    row: int
    route: Route
    cards_on: int
    """How many cards further down or up it ends."""


_Spot: TypeAlias = tuple[int, int]
"""A height beside a column: the card's place in the column, and 0 at its head or 1 + the row."""
_FOOT: _Spot = (1_000_000, 0)


@dataclass(slots=True)
class _Beside:
    """The heights at which lines already run on one side of a column."""

    taken: list[tuple[_Spot, _Spot]] = field(default_factory=list)

    def is_free(self, top: _Spot, bottom: _Spot) -> bool:
        """Whether no line runs at any height between two."""
        return all(bottom < other[0] or other[1] < top for other in self.taken)


def ranks_between(lines: Iterable[Line], columns: Sequence[Sequence[str]]) -> tuple[int, ...]:
    """How many ranks each column stands from the one before: two for lines beside it, one for a
    line across, and two more where lines run on the left of the next one."""
    on_the_left = {line.way.target for line in lines if line.route is Route.UP}
    return tuple(5 if on_the_left.intersection(names) else 3 for names in columns[1:])


def lines_of(plan: Plan, columns: Sequence[Sequence[str]]) -> tuple[Line, ...]:
    """The lines of a picture whose cards stand in these columns, in the order of the text.

    A row names the card it leads to, so that no line is needed to read the picture, and one that
    runs beside or across another only hides both. A card is joined with the next one, the one
    before, and the head of the next column, or at most one card is left out; each pair of cards
    gets one line, and at no height do two lines run on one side of a column.
    """
    place = {
        name: (at, card) for at, names in enumerate(columns) for card, name in enumerate(names)
    }
    rights = [_Beside() for _ in columns]
    lefts = [_Beside() for _ in columns]
    drawn: list[Line] = []
    for line in sorted(_worth_drawing(plan, place), key=_rank):
        column, card = place[line.way.source]
        target = place[line.way.target][1]
        leaves = (card, 1 + line.row)
        if line.route is Route.DOWN:
            needs = [(rights[column], leaves, (target, 0))]
        elif line.route is Route.UP:
            needs = [(lefts[column], (target, 0), leaves)]
        else:
            needs = [(rights[column], leaves, leaves), (lefts[column + 1], (0, 0), _FOOT)]
        if all(side.is_free(top, bottom) for side, top, bottom in needs):
            for side, top, bottom in needs:
                side.taken.append((top, bottom))
            drawn.append(line)
    order = {name: at for at, name in enumerate(place)}
    return tuple(sorted(drawn, key=lambda line: (order[line.way.source], line.row)))


def _rank(line: Line) -> tuple[int, Route]:
    return line.cards_on, line.route


def _worth_drawing(plan: Plan, place: dict[str, tuple[int, int]]) -> Iterator[Line]:
    """The first exit of each card to each card near it."""
    for source, (column, card) in place.items():
        met = set()
        for row, way in enumerate(own_exits(plan, source)):
            if way.target not in place:
                continue
            to_column, to_card = place[way.target]
            on = abs(to_card - card)
            if way.target in met:
                continue
            met.add(way.target)
            if to_column == column and 1 <= on <= 2:
                yield Line(way, row, Route.DOWN if to_card > card else Route.UP, on)
            elif (to_column, to_card) == (column + 1, 0):
                yield Line(way, row, Route.ACROSS, 1)
