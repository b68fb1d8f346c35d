"""What stands above the cards: title, limit, legend, match clock and the findings of no step."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner.findings import Finding
from planner.graph import Plan
from planner.model.routine import MatchExit, Routine
from planner.model.units import seconds_text
from planner.pictures import markup
from planner.pictures.frames import frame, frame_height
from planner.pictures.lettering import LINE, tied, width, wrapped
from planner.pictures.marks import MARK_HEIGHT, chip, chip_width
from planner.pictures.palette import AT, LOOKS, QUIET_INK, Look, look_of
from planner.pictures.wording import arrow_to, memory_words, settings_words, spoken_rule, time_words

_TITLE_SIZE = 16
_TITLE_LINE = 20
_MOST_FINDINGS = 6
_SPACE = 3
"""Points between the pieces of a line, and between lines."""
_GAP_WIDTH = 10
_GAP = markup.cell("", WIDTH=_GAP_WIDTH)
_MOST_LINES = 8
"""Of the settings; other texts take at most three."""
_HOW_TO_READ = "Where a way out has no line, follow the number."


@dataclass(frozen=True, slots=True)
class Piece:
    """A part of the heading as cells, with its size in points."""

    cells: tuple[str, ...]
    width: float
    height: int


@dataclass(frozen=True, slots=True)
class Heading:
    """Pieces set in lines, on a picture `room` points wide."""

    lines: tuple[tuple[Piece, ...], ...]
    room: float

    @property
    def height(self) -> int:
        """In points, with the space around it."""
        lines = (max(piece.height for piece in line) + 2 * _SPACE for line in self.lines)
        return sum(lines) + _SPACE

    @property
    def markup(self) -> str:
        """The heading as a label."""
        rows = []
        for line in self.lines:
            cells = [cell for piece in line for cell in (*piece.cells, _GAP)]
            # What is left of the line goes to a cell of its own, or the others would be stretched.
            spare = max(0, round(self.room - _taken(line)))
            cells.append(markup.cell("", WIDTH=spare))
            rows.append(markup.row(markup.cell(_side_by_side(cells))))
        return markup.table(*rows)


def heading_of(
    plan: Plan,
    numbers: Mapping[str, int],
    elsewhere: Sequence[Finding],
    all_have_lines: bool,
    room: float,
) -> Heading:
    """The heading of a picture `room` points wide.

    `elsewhere` are the findings of no step; `all_have_lines` says whether every way out on a card
    is drawn as a line.
    """
    lines: list[list[Piece]] = [[]]
    for piece in _pieces(plan, numbers, all_have_lines, room):
        if lines[-1] and _taken([*lines[-1], piece]) > room:
            lines.append([])
        lines[-1].append(piece)
    lines += [[piece] for piece in _notes(elsewhere, room)]
    return Heading(tuple(map(tuple, lines)), room)


def _taken(line: Sequence[Piece]) -> float:
    """The width of a line of pieces, in points."""
    return sum(piece.width + _GAP_WIDTH + _SPACE for piece in line)


def _side_by_side(cells: Sequence[str]) -> str:
    return markup.table(markup.row(*cells), CELLSPACING=_SPACE)


def _pieces(
    plan: Plan, numbers: Mapping[str, int], all_have_lines: bool, room: float
) -> Iterator[Piece]:
    """Title and legend, then the facts, in the order they are read."""
    yield _title(plan.routine, room)
    # A match-clock exit of the routine is told in words, below.
    seen = {look_of(way) for way in plan.all_exits() if way.group or look_of(way) is not AT}
    yield from (_explained(look) for look in LOOKS if look in seen)
    if not all_have_lines:
        yield _text(_HOW_TO_READ, room, QUIET_INK)
    yield _text(" · ".join(_facts(plan.routine)), room)
    if plan.routine.settings or plan.routine.tables:
        yield _text(tied(settings_words(plan.routine)), room, most=_MOST_LINES)
    if plan.routine.memories:
        yield _text(tied(memory_words(plan.routine)), room, most=_MOST_LINES)
    for rule in plan.routine.rules:
        yield _text(tied(spoken_rule(rule)), room)
    for at, way in enumerate(plan.routine.match_exits):
        yield _match_exit(way, numbers, first=at == 0)


def _title(routine: Routine, room: float) -> Piece:
    title = routine.title or routine.name
    lines = wrapped(title, room - 4 * _SPACE, 2, bold=True, size=_TITLE_SIZE)
    text = markup.lines(markup.bold(markup.escaped(line)) for line in lines)
    widest = max((width(line, bold=True, size=_TITLE_SIZE) for line in lines), default=0)
    cell = markup.cell(markup.font(text, size=_TITLE_SIZE))
    return Piece((cell,), widest + 3 * _SPACE, len(lines) * _TITLE_LINE)


def _facts(routine: Routine) -> Iterator[str]:
    finishes = len(routine.finishes)
    plain = [s for s in routine.steps.values() if not (s.is_finish or s.is_block or s.ends_lane)]
    steps = len(plain)
    yield f"routine {routine.name}"
    yield f"robot {routine.robot.name}"
    yield f"limit {seconds_text(routine.limit_us)}"
    yield f"{steps} step{'' if steps == 1 else 's'}"
    yield f"{finishes} finish{'' if finishes == 1 else 'es'}"
    if not routine.start:
        yield "no start"
    if routine.incomplete:
        yield "some lines could not be read"


def _text(words: str, room: float, colour: str | None = None, most: int = 3) -> Piece:
    lines = wrapped(words, room - 4 * _SPACE, most)
    text = markup.lines(markup.font(markup.escaped(line), colour) for line in lines)
    return Piece((markup.cell(text),), max(map(width, lines)) + 3 * _SPACE, len(lines) * LINE)


def _explained(look: Look) -> Piece:
    """A line of the legend: the frame, its stroke in words and what it means."""
    meaning = f"{look.style.value}: {look.meaning}"
    cells = (markup.cell(frame((look.word,), look)), markup.cell(markup.escaped(meaning)))
    return Piece(cells, width(look.word + meaning) + 12 + 2 * _SPACE, frame_height(1, look))


def _match_exit(way: MatchExit, numbers: Mapping[str, int], first: bool) -> Piece:
    """A match-clock exit, once for all the steps it leads away from."""
    lead = "From any step" if first else "and"
    words = f"{lead} at {time_words(way.at_us, way.setting)} of match"
    leads = wrapped(arrow_to(way.target, numbers), 200, 2)
    cells = (markup.cell(markup.escaped(words)), markup.cell(frame(leads, AT)))
    wide = width(words) + max(map(width, leads)) + 12 + 3 * _SPACE
    return Piece(cells, wide, frame_height(len(leads), AT))


def _notes(elsewhere: Sequence[Finding], room: float) -> Iterator[Piece]:
    """The findings that belong to no step, worst first, in a corner of their own."""
    for finding in elsewhere[:_MOST_FINDINGS]:
        word = finding.severity.word
        mark = markup.table(markup.row(chip(finding.severity, word)))
        where = f"line {finding.place.line}: {finding.headline}"
        lines = wrapped(where, room - chip_width(finding.severity, word) - 4 * _SPACE, 2)
        text = markup.lines(markup.escaped(line) for line in lines)
        cells = (markup.cell(mark), markup.cell(text))
        wide = max(map(width, lines)) + chip_width(finding.severity, word) + 4 * _SPACE
        yield Piece(cells, wide, max(len(lines) * LINE, MARK_HEIGHT))
    if len(elsewhere) > _MOST_FINDINGS:
        more = len(elsewhere) - _MOST_FINDINGS
        yield _text(f"and {more} more in the list of findings", room)
