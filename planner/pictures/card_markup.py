"""A card as a label of the layout program."""

from __future__ import annotations

from planner.pictures import markup
from planner.pictures.cards import Card, badge_width
from planner.pictures.groups import framed
from planner.pictures.marks import MARKS_HEIGHT, chips
from planner.pictures.palette import BADGE, BADGE_INK, CARD_EDGE, PAPER, QUIET_INK
from planner.pictures.rows import PAD, rows_markup

HEAD = "head"
"""The port at a card's head, where lines arrive."""


def card_markup(card: Card) -> str:
    """The card in its frames as a label."""
    blocks = [_head(card)]
    if card.findings:
        marks = chips(card.findings, card.width - 2 * card.edge)
        blocks.append(markup.cell(marks, HEIGHT=MARKS_HEIGHT))
    if card.does:
        blocks.append(_text(card.does))
    blocks += rows_markup(card.rows, ports=True)
    if card.arrivals:
        blocks.append(_arrivals(card.arrivals))
    inner = "".join(markup.row(block) for block in blocks)
    alone = markup.table(
        inner, BORDER=card.edge, STYLE="ROUNDED", COLOR=CARD_EDGE, BGCOLOR=PAPER, WIDTH=card.width
    )
    return framed(alone, card.frames)


def _head(card: Card) -> str:
    number = markup.font(markup.bold(str(card.number)), BADGE_INK)
    pill = markup.table(
        markup.row(markup.cell(number, ALIGN="CENTER")),
        STYLE="ROUNDED",
        BGCOLOR=BADGE,
        COLOR=BADGE,
        BORDER=1,
        CELLPADDING=2,
    )
    narrow = badge_width(card.number)
    badge = markup.cell(pill, CELLPADDING=PAD, WIDTH=narrow)
    names = [markup.bold(markup.escaped(line)) for line in card.name]
    titles = [markup.escaped(line) for line in card.title]
    text = markup.lines([*names, *titles])
    words = markup.cell(text, CELLPADDING=PAD, WIDTH=card.width - 2 * card.edge - narrow)
    return markup.cell(markup.table(markup.row(badge, words)), PORT=HEAD)


def _text(lines: tuple[str, ...]) -> str:
    return markup.cell(markup.lines(map(markup.escaped, lines)), CELLPADDING=PAD)


def _arrivals(lines: tuple[str, ...]) -> str:
    # In the middle, where the round corners leave room.
    text = markup.font("<BR/>".join(map(markup.escaped, lines)), QUIET_INK)
    return markup.cell(text, CELLPADDING=PAD, ALIGN="CENTER")
