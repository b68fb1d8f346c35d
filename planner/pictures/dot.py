"""A plan as a DOT text: cards in columns, and lines between cards that are near each other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise

import graphviz

from planner.findings import Finding
from planner.graph import Exit, Plan
from planner.pictures import markup
from planner.pictures.card_markup import HEAD, card_markup
from planner.pictures.cards import Card, card_of
from planner.pictures.description import description
from planner.pictures.folding import (
    BEND,
    CARD_GAP,
    COLUMN_EASE,
    LOOPS,
    RANK_GAP,
    Fold,
    best_fold,
    chunks,
)
from planner.pictures.groups import TAB_PORT, frames_of, sides_of
from planner.pictures.heading import heading_of
from planner.pictures.lettering import FAMILY, SIZE, clean
from planner.pictures.lines import Line, Route, lines_of, ranks_between
from planner.pictures.marks import Marks, marks_of
from planner.pictures.palette import CARD_EDGE, INK, PAPER, look_of
from planner.pictures.rows import port_of
from planner.pictures.sequence import arrivals, ordered, own_exits

_DISC = 14
_RING = _DISC + 8
"""How wide the start's disc and the finish's ring are; the layout program sets a ring 4 points
outside of its disc."""
_PAD = 4
_AROUND_HEADING = _PAD + 8
"""The layout program leaves 8 points free beside a graph's label."""
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
    columns = chunks(names, fold.columns)
    lines = lines_of(plan, columns)
    whole = _all_joined(plan, lines)
    above = heading_of(plan, numbers, marks.elsewhere, whole, fold.width - 2 * _AROUND_HEADING)
    graph = _sheet(plan, description(plan, numbers, marks))
    graph.attr(label=f"<{above.markup}>", labelloc="t", labeljust="l")
    cards = chunks(_cards(plan, columns, marks, lines, fold.card_width), fold.columns)
    _add_columns(graph, cards, ranks_between(lines, columns), plan.routine.start)
    _join_frames(graph, cards)
    _add_signs(graph, plan)
    for line in lines:
        _add_line(graph, line)
    return str(graph.source)


def folded(plan: Plan, numbers: Mapping[str, int], marks: Marks) -> Fold:
    """How the plan's cards are folded; `numbers` are those of the cards, in their order."""
    # Which lines there are is known only when the columns are; in one column there are the most.
    column = [list(numbers)]
    lines = lines_of(plan, column)
    whole = _all_joined(plan, lines)

    def heights(card_width: int) -> list[int]:
        cards = _cards(plan, column, marks, lines, card_width)
        return [card.height + _station(card.step.name, plan) for card in cards]

    def above(width: float) -> float:
        room = width - 2 * _AROUND_HEADING
        return heading_of(plan, numbers, marks.elsewhere, whole, room).height + 2 * _PAD

    def beside(columns: Sequence[range]) -> float:
        named = chunks(list(numbers), columns)
        ranks = ranks_between(lines_of(plan, named), named)
        return 2 * _PAD + LOOPS + sum(BEND + RANK_GAP * count for count in ranks)

    return best_fold(len(numbers), heights, above, beside, _lane_heads(plan, numbers))


def _lane_heads(plan: Plan, numbers: Mapping[str, int]) -> frozenset[int]:
    """The places in the chain where a lane begins that has another beside it."""
    names = list(numbers)
    return frozenset(names.index(name) for first in plan.begins.values() for name in first[1:])


def _all_joined(plan: Plan, lines: Sequence[Line]) -> bool:
    """Whether every exit that has a row on a card is a line as well."""
    ways = (way for name in plan.routine.steps for way in own_exits(plan, name))
    return len(lines) == sum(not plan.step(way.target).ends_lane for way in ways)


def _station(name: str, plan: Plan) -> int:
    """How much higher a card gets by the disc or ring that stands with it."""
    start = (_DISC + 2 * CARD_GAP) * (name == plan.routine.start)
    return start + (_RING + CARD_GAP) * plan.step(name).is_finish


def _cards(
    plan: Plan,
    columns: Sequence[Sequence[str]],
    marks: Marks,
    lines: Sequence[Line],
    width: int,
) -> list[Card]:
    """The cards in their order, in columns so wide."""
    names = [name for column in columns for name in column]
    numbers = {name: at for at, name in enumerate(names, start=1)}
    words = arrivals(plan, numbers, {(line.way.source, line.way.target) for line in lines})
    frames = frames_of(plan, columns, numbers, width)
    return [
        card_of(
            plan.step(name),
            own_exits(plan, name),
            numbers,
            words.get(name, ""),
            tuple(numbers[first] for first in plan.begins.get(name, ())),
            marks.of(name),
            frames[name],
            width,
        )
        for name in names
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
        ranksep=_inches(RANK_GAP),
        pad=_inches(_PAD),
    )
    graph.attr("node", shape="plain", fontname=FAMILY, fontsize=str(SIZE))
    graph.attr("edge", arrowsize="0.6", penwidth="1.3")
    return graph


def _add_columns(
    graph: graphviz.Digraph, columns: Sequence[Sequence[Card]], apart: Sequence[int], start: str
) -> None:
    """The cards column by column, so many ranks apart, with their tops at one height."""
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
        port = TAB_PORT if column[0].frames else HEAD
        tops.append(stations[0] if stations[0] == _START else f"{stations[0]}:{port}")
    for (left, right), ranks in zip(pairwise(tops), apart, strict=True):
        # With sides given, these unseen lines need no room above the cards.
        graph.edge(f"{left}:e", f"{right}:w", style="invis", weight="100", minlen=str(ranks))


def _join_frames(graph: graphviz.Digraph, columns: Sequence[Sequence[Card]]) -> None:
    """The sides of frames between one card and the next."""
    for column in columns:
        for upper, lower in pairwise(column):
            sided = [frame for frame in upper.frames if not frame.is_lane]
            for depth, frame in enumerate(sided):
                for side in sides_of(depth) if not frame.closes else ():
                    tail, head = f"{upper.step.name}:{side}:s", f"{lower.step.name}:{side}:n"
                    graph.edge(tail, head, color=CARD_EDGE, arrowhead="none", weight="0")


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


def _add_signs(graph: graphviz.Digraph, plan: Plan) -> None:
    """The lines between cards and the start's disc or the finish's ring."""
    if plan.routine.start:
        graph.edge(f"{_START}:s", f"{_SPACER}:n", color=INK, arrowhead="none", weight="0")
        graph.edge(f"{_SPACER}:s", f"{plan.routine.start}:n", color=INK, weight="0")
    for finish in plan.routine.finishes:
        graph.edge(f"{finish.name}:s", _end(finish.name), color=INK, arrowhead="none", weight="0")


def _add_line(graph: graphviz.Digraph, line: Line) -> None:
    way, stroke = line.way, _stroke(line.way)
    side = "w" if line.route is Route.UP else "e"
    tail, head = f"{way.source}:{port_of(line.row)}", f"{way.target}:{HEAD}"
    if line.route is not Route.ACROSS:
        graph.edge(f"{tail}:{side}", f"{head}:{side}", constraint="false", weight="0", **stroke)
        return
    # Straight out of the column, past the lines beside it, and only then up.
    bend = f"beside {way.source}"
    graph.node(bend, f"<{_bend(look_of(way).colour)}>")
    out = {**stroke, "dir": "none", "headclip": "false"}
    graph.edge(f"{tail}:{side}", bend, weight="10", minlen="2", **out)
    graph.edge(bend, f"{head}:w", weight="0", tailclip="false", **stroke)


def _bend(colour: str) -> str:
    """A square in which two parts of a line meet; each ends 1 point short of its middle."""
    joint = markup.cell("", WIDTH=BEND, HEIGHT=BEND, FIXEDSIZE="TRUE", BGCOLOR=colour)
    return markup.table(markup.row(joint))


def _stroke(way: Exit) -> dict[str, str]:
    """The attributes of an exit's line."""
    look = look_of(way)
    return {"color": look.colour, "arrowhead": look.arrow, "style": look.style.value}


def _inches(points: float) -> str:
    return f"{points / _POINTS_PER_INCH:.3f}"
