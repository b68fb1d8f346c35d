"""A card as a label of the layout program."""

from __future__ import annotations

from planner.pictures import markup
from planner.pictures.cards import FRAME_SPACE, PAD, Card, ExitRow, badge_width
from planner.pictures.frames import frame
from planner.pictures.marks import MARKS_HEIGHT, chips
from planner.pictures.palette import BADGE, BADGE_INK, CARD_EDGE, PAPER, QUIET_INK

HEAD = "head"
"""The port at a card's head, where lines arrive."""


def card_markup(card: Card) -> str:
    """The card as a label."""
    blocks = [_head(card)]
    if card.findings:
        marks = chips(card.findings, card.width - 2 * card.edge)
        blocks.append(markup.cell(marks, HEIGHT=MARKS_HEIGHT))
    if card.does:
        blocks.append(_text(card.does))
    blocks += [_exit_markup(card, row) for row in card.rows]
    if card.arrivals:
        blocks.append(_arrivals(card.arrivals))
    inner = "".join(markup.row(block) for block in blocks)
    return markup.table(
        inner, BORDER=card.edge, STYLE="ROUNDED", COLOR=CARD_EDGE, BGCOLOR=PAPER, WIDTH=card.width
    )


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


def _exit_markup(card: Card, row: ExitRow) -> str:
    first, *rest = (markup.escaped(line) for line in row.wait)
    word, _, others = first.partition(" ")
    wait = markup.lines([f"{markup.bold(word)} {others}".rstrip(), *rest])
    wait_width = card.width - 2 - card.frame_width - 2 * FRAME_SPACE
    inner = markup.row(
        markup.cell(wait, CELLPADDING=PAD, WIDTH=wait_width),
        markup.cell(frame(row.leads, row.look, card.frame_width), CELLPADDING=FRAME_SPACE),
    )
    return markup.cell(markup.table(inner), PORT=row.port)
