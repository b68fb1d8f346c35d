"""A plan as a DOT text: cards in columns, and lines between cards that are near each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

import graphviz

from planner.findings import Finding
from planner.graph import Exit, Plan
from planner.pictures import markup
from planner.pictures.card_markup import HEAD, card_markup
from planner.pictures.cards import Card, card_of, port_of
from planner.pictures.description import description
from planner.pictures.folding import CARD_GAP, COLUMN_EASE, COLUMN_GAP, Fold, best_fold
from planner.pictures.heading import heading_of
from planner.pictures.lettering import FAMILY, SIZE, clean
from planner.pictures.marks import Marks, marks_of
from planner.pictures.palette import INK, PAPER, Style, look_of
from planner.pictures.sequence import arrivals, has_line, ordered, own_exits

_DISC = 14
_RING = _DISC + 8
"""How wide the start's disc and the finish's ring are; the layout program sets a ring 4 points
outside of its disc."""
_PAD = 4
_LOOPS = 14
"""What lines take beside the outer columns, over the gap that every column is given."""
# Step names hold no spaces, so that these can never be names of one.
_START = "the start"
_SPACER = "below the start"
"""Stands between the disc and its card, where the arrow would be too short to be one."""
_POINTS_PER_INCH = 72


def picture(plan: Plan, findings: Iterable[Finding] = ()) -> str:
    """The plan as DOT text. `findings` are marked on their steps; the rest stand in the heading.

    The comment lines at the top are the title and then, in words, what the picture shows. The
    same plan and findings always give the same text, whatever order the findings come in.
    """
    names = ordered(plan)
    numbers = {name: at for at, name in enumerate(names, start=1)}
    marks = marks_of(findings, numbers)
    fold = folded(plan, numbers, marks)
    graph = _sheet(plan, description(plan, numbers, marks))
    above = heading_of(plan, numbers, marks.elsewhere, fold.width - 2 * _PAD)
    graph.attr(label=f"<{above.markup}>", labelloc="t", labeljust="l")
    cards = _cards(plan, numbers, marks, fold.card_width)
    columns = [[cards[at] for at in column] for column in fold.columns]
    _add_columns(graph, columns, plan.routine.start)
    _add_lines(graph, plan, numbers, columns)
    return str(graph.source)


def folded(plan: Plan, numbers: Mapping[str, int], marks: Marks) -> Fold:
    """How the plan's cards are folded; `numbers` are those of the cards, in their order."""

    def heights(card_width: int) -> list[int]:
        cards = _cards(plan, numbers, marks, card_width)
        return [card.height + _station(card.step.name, plan) for card in cards]

    def above(width: float) -> float:
        return heading_of(plan, numbers, marks.elsewhere, width - 2 * _PAD).height + 2 * _PAD

    return best_fold(len(numbers), heights, above, 2 * _PAD + _LOOPS)


def _station(name: str, plan: Plan) -> int:
    """How much higher a card gets by the disc or ring that stands with it."""
    start = (_DISC + 2 * CARD_GAP) * (name == plan.routine.start)
    return start + (_RING + CARD_GAP) * plan.step(name).is_finish


def _cards(plan: Plan, numbers: Mapping[str, int], marks: Marks, width: int) -> list[Card]:
    words = arrivals(plan, numbers)
    return [
        card_of(
            plan.step(name),
            own_exits(plan, name),
            numbers,
            words.get(name, ""),
            marks.of(name),
            width,
        )
        for name in numbers
    ]


def _sheet(plan: Plan, sentences: Sequence[str]) -> graphviz.Digraph:
    """An empty graph with the settings that hold for all of it.

    Names of graph and nodes are names of the language, never a user's free text: a quoted string
    cannot end in a backslash and stay what it is.
    """
    title = clean(plan.routine.title) or plan.routine.name
    graph = graphviz.Digraph(plan.routine.name, comment="\n// ".join((title, *sentences)))
    graph.attr(
        bgcolor=PAPER,
        fontname=FAMILY,
        fontsize=str(SIZE),
        rankdir="LR",
        nodesep=_inches(CARD_GAP),
        ranksep=_inches(COLUMN_GAP),
        pad=_inches(_PAD),
    )
    graph.attr("node", shape="plain", fontname=FAMILY, fontsize=str(SIZE))
    graph.attr("edge", arrowsize="0.6", penwidth="1.3")
    return graph


def _add_columns(graph: graphviz.Digraph, columns: Sequence[Sequence[Card]], start: str) -> None:
    """The cards column by column, with the tops of the columns at one height."""
    tops = []
    for column in columns:
        stations = [name for card in column for name in _stations(card, start)]
        with graph.subgraph() as rank:
            rank.attr(rank="same")
            for card in column:
                label = card_markup(card)
                if card is column[0]:
                    label = _widened(label)
                rank.node(card.step.name, f"<{label}>")
                _add_discs(rank, card.step.name, card.step.is_finish, start)
            for upper, lower in pairwise(stations):
                rank.edge(upper, lower, style="invis")
        tops.append(stations[0] if stations[0] == _START else f"{stations[0]}:{HEAD}")
    for left, right in pairwise(tops):
        # With sides given, these unseen lines need no room above the cards.
        graph.edge(f"{left}:e", f"{right}:w", style="invis", weight="100")


def _widened(label: str) -> str:
    """A label with a little room on both sides.

    The layout program draws a line from the side of one card to the same side of the next but one
    straight along the card between them, unless the column is wider than its cards.
    """
    side = markup.cell("", WIDTH=COLUMN_EASE)
    return markup.table(markup.row(side, markup.cell(label), side))


def _stations(card: Card, start: str) -> Iterator[str]:
    """What stands in a column for a card: the start's disc above it, the finish's ring below."""
    name = card.step.name
    if name == start:
        yield from (_START, _SPACER)
    yield name
    if card.step.is_finish:
        yield _end(name)


def _end(finish: str) -> str:
    return f"the end {finish}"


def _add_discs(rank: graphviz.Digraph, name: str, is_finish: bool, start: str) -> None:
    """UML's signs: a filled disc for the start, one in a ring for a finish."""
    disc = {"label": "", "style": "filled", "fillcolor": INK, "fixedsize": "true"}
    if name == start:
        rank.node(_START, shape="circle", width=_inches(_DISC), **disc)
        rank.node(_SPACER, "", style="invis", fixedsize="true", width="0", height="0")
    if is_finish:
        rank.node(_end(name), shape="doublecircle", width=_inches(_DISC), **disc)


def _add_lines(
    graph: graphviz.Digraph,
    plan: Plan,
    numbers: Mapping[str, int],
    columns: Sequence[Sequence[Card]],
) -> None:
    column_of = {card.step.name: at for at, cards in enumerate(columns) for card in cards}
    if plan.routine.start:
        graph.edge(f"{_START}:s", f"{_SPACER}:n", color=INK, arrowhead="none", weight="0")
        graph.edge(f"{_SPACER}:s", f"{plan.routine.start}:n", color=INK, weight="0")
    for name in numbers:
        for at, way in enumerate(own_exits(plan, name)):
            if has_line(way, numbers):
                across = column_of[way.target] - column_of[name]
                leaves, arrives = _sides(across, numbers[way.target] - numbers[name])
                tail, head = f"{name}:{port_of(at)}:{leaves}", f"{way.target}:{HEAD}:{arrives}"
                graph.edge(tail, head, constraint="false", weight="0", **_stroke(way))
    for finish in plan.routine.finishes:
        graph.edge(f"{finish.name}:s", _end(finish.name), color=INK, arrowhead="none", weight="0")


def _sides(across: int, along: int) -> tuple[str, str]:
    """The sides of two cards that a line leaves from and arrives at; back up is on the left."""
    if across == 0:
        return ("e", "e") if along >= 0 else ("w", "w")
    return ("e", "w") if across > 0 else ("w", "e")


def _stroke(way: Exit) -> dict[str, str]:
    """The attributes of an exit's line; one that is counted has a ring where it leaves."""
    look = look_of(way)
    colour = f"{look.colour}:invis:{look.colour}" if look.style is Style.DOUBLE else look.colour
    stroke = {"color": colour, "arrowhead": look.arrow}
    if look.style is not Style.DOUBLE:
        stroke["style"] = look.style.value
    if way.most is not None:
        stroke |= {"dir": "both", "arrowtail": "odot"}
    return stroke


def _inches(points: float) -> str:
    return f"{points / _POINTS_PER_INCH:.3f}"
