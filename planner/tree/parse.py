"""From text to tree, line by line, so that one slip never hides the rest.

Indentation says what stands under what; each line is then read by the grammar's start rule for
that place. A line that cannot be read becomes a slip; what its first words announce is kept, so
that the lines under it and the names it defines still count.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from itertools import takewhile

from lark import UnexpectedInput, UnexpectedToken

from planner.findings import Slip, nearest
from planner.text import Place, Source
from planner.tree import nodes as n
from planner.tree.announced import CommentedHead, commented_head, names_led_to
from planner.tree.build import LineBuilder
from planner.tree.language import ROBOT, ROUTINE, Language
from planner.tree.rows import Row, indent_of, rows
from planner.tree.salvage import salvaged
from planner.tree.shapes import HEAD_OF, RULE_UNDER, STRAYS

LONGEST_LINE = 1000
DEEPEST_NESTING = 20


@dataclass(frozen=True, slots=True)
class Parsed:
    """A file's tree and the slips met on the way; the tree is there whatever the text."""

    file: n.File
    slips: tuple[Slip, ...]


def parse_robot(source: Source) -> Parsed:
    """The tree of a robot file. Never raises on wrong text."""
    return _Parser(ROBOT, source).parse()


def parse_routine(source: Source) -> Parsed:
    """The tree of a routine. Never raises on wrong text."""
    return _Parser(ROUTINE, source).parse()


@dataclass(slots=True)
class _Open:
    """A line that later lines may still be put under."""

    indent: int
    rule: str
    """The start rule for lines under it; empty where nothing may stand there."""
    line: n.Line | None
    under: list[_Open] = field(default_factory=list)

    @property
    def broken(self) -> bool:
        """Whether nothing is known of the line but its words."""
        return self.line is not None and isinstance(self.line.statement, n.Broken)

    @property
    def words(self) -> str:
        """The line as written; empty for the file itself."""
        return self.line.place.words if self.line else ""

    def closed(self) -> n.Line:
        assert self.line is not None, "only the file itself has no line"
        return replace(self.line, under=tuple(part.closed() for part in self.under))


class _Parser:
    def __init__(self, language: Language, source: Source) -> None:
        self.language = language
        self.source = source
        self.builder = LineBuilder(source)
        self.slips: list[Slip] = []
        self.open = [_Open(-1, "file_line", None)]
        self.led_to = names_led_to(source)
        self.below: Row | None = None
        """The first row that is indented under the row in hand; None where none is."""

    def parse(self) -> Parsed:
        read, tail = rows(self.source)
        for row, below in zip(read, [*read[1:], None], strict=False):
            self.below = below if below is not None and below.indent > row.indent else None
            head = commented_head(row) if row.lead else None
            self._take(head.under if head and self._opened(head) else row)
        lines = tuple(part.closed() for part in self.open[0].under)
        return Parsed(n.File(self.source, lines, tail), tuple(self.slips))

    def _opened(self, head: CommentedHead) -> bool:
        """Opens a heading behind `#`, if it fits what stands under it.

        Otherwise its lines would be read as part of what stands above.
        """
        row = head.row
        around = [part for part in self.open if part.indent < row.indent]
        rule = around[-1].rule
        shape = self.language.shapes.get(rule, {}).get(row.words[0])
        if not shape or not self._takes(shape.under, head.under) or not self._reads(row, rule):
            return False
        tree = self.language.read(row.code, rule)
        statement = self.builder.build(tree, row.number, row.place.end_column)
        self.slips.append(Slip("heading-in-comment", head.place, row.code.strip()))
        line = n.Line(statement, head.place, (), True, row.lead)
        around[-1].under.append(_Open(row.indent, shape.under, line))
        self.open = [*around, around[-1].under[-1]]
        return True

    def _take(self, row: Row) -> None:
        while self.open[-1].indent >= row.indent:
            self.open.pop()
        chain = self._chain_for(row)
        rule = STRAYS.get((chain[-1].rule, row.words[0]), chain[-1].rule)
        statement, whole = self._statement(row, rule)
        line = n.Line(statement, row.place, (), not whole, row.lead, row.comment)
        opened = _Open(row.indent, RULE_UNDER.get(type(statement), ""), line)
        around = self.open[len(chain) : len(chain) + 1]
        if opened.rule or chain is self.open:
            self.open = [*chain, opened]
        elif around and (around[0].rule or around[0].broken):
            # A misplaced line that nothing stands under does not close the lines around it. It
            # goes in front of them, so that they stay the last, as the eye finds them.
            chain[-1].under.insert(-1, opened)
            return
        chain[-1].under.append(opened)

    def _chain_for(self, row: Row) -> list[_Open]:
        """The lines a row stands under; a row at the wrong depth is a slip, read where it fits."""
        here = self.open[-1]
        word = row.words[0]
        if _strays(here, row):
            return self.open
        if self._takes(here.rule, row) or nearest(word, self.language.shapes.get(here.rule, ())):
            return self.open
        if self._fits_under_broken(row) or self._is_heading(row, here.rule):
            return self.open
        chain = self._last_lines()
        while chain:
            if self._takes(chain[-1].rule, row) and self._reads(row, chain[-1].rule):
                # Under a line that could not be read, that line's slip says enough.
                if not here.broken:
                    self._misplaced(row, chain[-1], here)
                return chain
            chain.pop()
        while not self.open[-1].rule:
            self.open.pop()
        return self.open

    def _is_heading(self, row: Row, rule: str) -> bool:
        """Whether a line where headings stand is one in other words, such as ``state Grip``."""
        shapes = self.language.shapes.get(rule, {})
        heads = any(shape.under for shape in shapes.values())
        if not heads or len(row.words) < 2 or self.language.belongs(row.words[0]):
            return False
        name = row.words[1]
        return name in self.led_to or (self.below is not None and name[:1].isupper())

    def _misplaced(self, row: Row, fits: _Open, here: _Open) -> None:
        names = {"under_line": fits.words, "was_under_line": here.words}
        heads = {"under": HEAD_OF.get(fits.rule, ""), "was_under": HEAD_OF.get(here.rule, "")}
        facts = {**heads, **names}
        self.slips.append(Slip("misplaced-line", row.place, row.words[0], facts=facts))

    def _fits_under_broken(self, row: Row) -> bool:
        """Whether the open line is one that could not be read, and a head of lines like this one.

        Then the lines under it are read all the same: ``state Grip`` still has its exits.
        """
        here = self.open[-1]
        # Once the first line under it has decided, the others are measured by that.
        if not here.broken or here.rule or len(self.open) < 2:
            return False
        beside = self.language.shapes.get(self.open[-2].rule, {})
        # The heading it nearly is comes first; a scenario last, for its lines look like others.
        near = nearest(here.words.split(None, 1)[0], beside, most=1)
        near = ("together",) if self._has_lanes(here) else near
        order = sorted(HEAD_OF, key=lambda rule: (HEAD_OF[rule] not in near, "scenario" in rule))
        for rule in order:
            if HEAD_OF[rule] in beside and self._takes(rule, row):
                here.rule = rule
                return True
        return False

    def _has_lanes(self, here: _Open) -> bool:
        """Whether lanes stand under an open line: what else its lines are, others have too."""
        below = self.source.lines[here.line.place.line :] if here.line else ()
        under = takewhile(lambda line: not line.strip() or indent_of(line) > here.indent, below)
        return any(line.split()[:1] == ["lane"] for line in under)

    def _takes(self, rule: str, row: Row) -> bool:
        """Whether lines that begin with the row's first word stand under `rule`."""
        shapes = self.language.shapes.get(rule, {})
        word = row.words[0]
        return word in shapes or ("" in shapes and not self.language.belongs(word))

    def _last_lines(self) -> list[_Open]:
        """The file and the last line at each depth, as the eye finds them above a row."""
        chain = [self.open[0]]
        while chain[-1].under:
            chain.append(chain[-1].under[-1])
        return chain

    def _reads(self, row: Row, rule: str) -> bool:
        try:
            self.language.read(row.code, rule)
        except UnexpectedInput:
            return False
        return True

    def _statement(self, row: Row, rule: str) -> tuple[n.Statement, bool]:
        """The statement of a row, and whether it was read whole."""
        end = row.place.end_column
        because = _too_much(row.code)
        if because:
            self.slips.append(Slip("unreadable-line", row.place, "", facts={"because": because}))
            return n.Broken(row.code.strip()), False
        if self._is_head_misspelt(row, rule):
            word = replace(row.place, end_column=row.place.column + len(row.words[0]))
            self.slips.append(self._slip_at(word, "", row, rule, heading=True))
            return salvaged(row, rule, self.language, self.led_to), False
        try:
            return self.builder.build(self.language.read(row.code, rule), row.number, end), True
        except UnexpectedInput as error:
            statement = salvaged(row, rule, self.language, self.led_to)
            heading = isinstance(statement, n.Broken) and self._was_heading(row, rule)
            self.slips.append(self._slip(error, row, rule, heading))
            return statement, False

    def _is_head_misspelt(self, row: Row, rule: str) -> bool:
        """Whether a line with lines under it reads as a command, where headings stand beside these:
        ``lnae wheels``, and ``thread wheels`` with a step under it."""
        shapes, word = self.language.shapes[rule], row.words[0]
        heads = {head: shape.under for head, shape in shapes.items() if shape.under}
        if self.below is None or "" not in shapes or word in shapes or len(row.words) < 2:
            return False
        fits = any(self._takes(under, self.below) for under in heads.values())
        return fits or bool(nearest(word, list(heads)))

    def _was_heading(self, row: Row, rule: str) -> bool:
        """Whether a line of which no name is left was a heading: by its word, or by what follows"""
        heads = [word for word, shape in self.language.shapes[rule].items() if shape.under]
        return bool(heads) and (self.below is not None or bool(nearest(row.words[0], heads)))

    def _slip(self, error: UnexpectedInput, row: Row, rule: str, heading: bool) -> Slip:
        """An unreadable line, pointing at the first word that does not fit."""
        column = row.place.end_column
        width = 1
        if isinstance(error, UnexpectedToken) and error.token.type != "$END":
            column, width = error.column, len(error.token)
        elif not isinstance(error, UnexpectedToken):
            column = error.column
        place = replace(row.place, column=column, end_column=column + width)
        return self._slip_at(place, self._expected(error), row, rule, heading)

    def _slip_at(self, place: Place, expected: str, row: Row, rule: str, heading: bool) -> Slip:
        shapes = self.language.shapes[rule]
        near = nearest(row.words[0], [word for word in shapes if word])
        shape = shapes.get(row.words[0]) or (shapes[near[0]] if near else shapes.get(""))
        facts = {
            "expected": expected,
            "example": shape.example if shape else "",
            "first_word": row.words[0],
            "at_start": "yes" if place.column == row.place.column else "",
            "file": self.language.grammar,
            "rule": rule,
            "heading": "yes" if heading else "",
        }
        known = tuple(word for word in shapes if word)
        return Slip("unreadable-line", place, place.words, known=known, facts=facts)

    def _expected(self, error: UnexpectedInput) -> str:
        terminals = getattr(error, "accepts", None) or getattr(error, "expected", None)
        terminals = terminals or getattr(error, "allowed", None) or ()
        return "\n".join(sorted({self.language.spoken(name) for name in terminals}))


def _strays(here: _Open, row: Row) -> bool:
    return (here.rule, row.words[0]) in STRAYS


def _too_much(code: str) -> str:
    """Why a line is not even tried; empty where it is."""
    if len(code) > LONGEST_LINE:
        return f"it is {len(code)} characters long; a line may have {LONGEST_LINE}"
    depth = deepest = 0
    for character in code:
        depth += (character == "(") - (character == ")")
        deepest = max(deepest, depth)
    if deepest > DEEPEST_NESTING:
        return f"its parentheses are {deepest} deep; a line may have {DEEPEST_NESTING}"
    return ""
