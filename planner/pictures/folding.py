"""How a long chain of cards is folded into columns, so that the page is used and text stays large.

Columns rather than rows: cards differ in height, and in a row each wastes what it is lower than the
highest; stacked in a column none does.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar

_T = TypeVar("_T")

MARGIN_MM = 10
"""Left free on every side of a sheet; common practice for school printers, no source."""

POINTS_PER_MM = 72 / 25.4
PAGE_WIDTH = (297 - 2 * MARGIN_MM) * POINTS_PER_MM
PAGE_HEIGHT = (210 - 2 * MARGIN_MM) * POINTS_PER_MM
"""An A4 sheet on its side (ISO 216: 297 mm by 210 mm) without its margins, in points."""

RANK_GAP = 13
"""Columns stand several ranks of the layout program apart; this is from one rank to the next."""
LOOPS = 2 * RANK_GAP
"""Beside a column, for lines from one of its cards to another."""
BEND = 2
"""How wide a bend of a line is."""
COLUMN_EASE = 2
"""How much wider than its cards a column is, at each side."""
CARD_GAP = 8
CARD_WIDTHS = range(130, 215, 5)
"""What is tried, in points."""
LEAST_WIDTH = 420
"""Of the whole, in points, so that the heading of a short plan is not broken into many lines."""
MANY_CARDS = 100
"""So many fit no single page whatever their width, so that one width will do."""
MIDDLE_WIDTH = 170
_NEARLY = 0.99
_WORTH_IT = 0.85
"""How much smaller text may get so that lanes stand side by side."""
_LARGE = 0.9
"""Where text is this large, or hardly smaller than it could be, what counts is that cards break few
lines and that the whole has about the shape of the page."""


@dataclass(frozen=True, slots=True, order=True)
class Fold:
    """The cards of each column by their place in the chain, and the size of the whole in points."""

    columns: tuple[range, ...]
    card_width: int
    width: float
    height: float

    @property
    def scale(self) -> float:
        """How large the picture gets when it fills an A4 page on its side; 1 is as drawn."""
        return page_scale(self.width, self.height)

    @property
    def misfit(self) -> float:
        """How far its shape is from the page's; 0 is the same, and as high as wide is 0.4."""
        return abs(math.log(self.width / self.height / (PAGE_WIDTH / PAGE_HEIGHT)))


def page_scale(width: float, height: float) -> float:
    """The factor that makes a picture of that size, in points, fill an A4 page on its side."""
    return min(PAGE_WIDTH / width, PAGE_HEIGHT / height)


def best_fold(
    cards: int,
    heights: Callable[[int], Sequence[int]],
    heading: Callable[[float], float],
    beside: Callable[[Sequence[range]], float],
    heads: frozenset[int] = frozenset(),
) -> Fold:
    """The fold of so many `cards` that suits the page best.

    `heights` gives the heights of the cards, in order, for a width of the cards; `heading` the
    height of what stands above them for the width of the whole; `beside` the width of all that
    stands beside columns and between them. All in points.

    `heads` are the places in the chain where a lane begins that runs beside the one before. Such
    lanes stand in columns of their own, side by side, unless that makes all text a good deal
    smaller.
    """
    folds = _folds(cards, heights, heading, beside, frozenset())
    enough = min(max(fold.scale for _, fold in folds), _LARGE) * _NEARLY
    if heads:
        apart = _folds(cards, heights, heading, beside, heads)
        folds = [found for found in apart if found[1].scale >= enough * _WORTH_IT] or folds
        enough = min(enough, max(fold.scale for _, fold in folds) * _NEARLY)
    return min(ranked for ranked in folds if ranked[1].scale >= enough)[1]


def _folds(
    cards: int,
    heights: Callable[[int], Sequence[int]],
    heading: Callable[[float], float],
    beside: Callable[[Sequence[range]], float],
    heads: frozenset[int],
) -> list[tuple[float, Fold]]:
    """What is tried, each with how bad it is where text is large enough."""
    folds = []
    for card_width in CARD_WIDTHS if cards <= MANY_CARDS else (MIDDLE_WIDTH,):
        of_width = heights(card_width)
        for count in _counts_worth_trying(len(of_width)):
            columns = columns_of(of_width, count, heads)
            across = beside(columns) + len(columns) * (card_width + 2 * COLUMN_EASE)
            width = max(across, LEAST_WIDTH)
            tallest = max((_stacked(of_width[c.start : c.stop]) for c in columns), default=0)
            fold = Fold(columns, card_width, width, heading(width) + tallest)
            folds.append((sum(of_width) * (1 + fold.misfit / 4), fold))
    return folds


def chunks(chain: Sequence[_T], columns: Sequence[range]) -> list[Sequence[_T]]:
    """The pieces of a chain that stand in each column."""
    return [chain[column.start : column.stop] for column in columns]


def columns_of(
    heights: Sequence[int], count: int, heads: frozenset[int] = frozenset()
) -> tuple[range, ...]:
    """The chain cut into at most `count` columns of which the tallest is as low as can be.

    Filling columns up to a bound and halving the interval that the bound lies in is the usual way
    to cut a sequence evenly (S. Skiena, The Algorithm Design Manual, 2nd edition, section 8.5, has
    the problem; from memory). At each of `heads` a column begins.
    """
    low, high = max(heights, default=0), _stacked(heights)
    while low < high:
        middle = (low + high) // 2
        if len(_filled(heights, middle, heads)) <= max(count, len(heads) + 1):
            high = middle
        else:
            low = middle + 1
    return _filled(heights, low, heads)


def _filled(heights: Sequence[int], most: int, heads: frozenset[int]) -> tuple[range, ...]:
    """Columns filled one after the other, none taller than `most` unless by a single card."""
    columns = []
    first = filled = 0
    for at, height in enumerate(heights):
        filled += height
        if at in heads or (at > first and filled + CARD_GAP * (at - first) > most):
            columns.append(range(first, at))
            first, filled = at, height
    if heights:
        columns.append(range(first, len(heights)))
    return tuple(columns)


def _stacked(heights: Sequence[int]) -> int:
    return sum(heights) + CARD_GAP * max(0, len(heights) - 1)


def _counts_worth_trying(cards: int) -> range:
    """A card is neither far wider than it is high nor the other way round, so few folds compete."""
    near = math.sqrt(max(cards, 1))
    least, most = max(1, int(near / 3)), min(max(cards, 1), int(near * 2) + 2)
    return range(least, most + 1, 1 + (most - least) // 20)
