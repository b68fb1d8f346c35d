"""The two grammars, loaded once a process from the `.lark` files."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from pathlib import Path

from lark import Lark, Tree
from lark.lark import PostLex
from lark.lexer import PatternStr, Token

from planner.tree.shapes import ROBOT_SHAPES, ROUTINE_SHAPES, Shape

# What the terminals that are no fixed word are called in front of a user.
_SPOKEN = {
    "NAME": "a name",
    "NUMBER": "a number",
    "UNIT": "a unit",
    "TITLE": 'a title in "quotes"',
    "COMPARISON": "`<`, `<=`, `>` or `>=`",
    "ALL_LANES": "`all lanes done`",
    "ANY_LANE": "`any lane done`",
    "ADDRESS": "an address such as `0x29`",
    "$END": "the end of the line",
    "<END-OF-FILE>": "the end of the line",
}


@dataclass(frozen=True)
class Language:
    """One of the two languages: its grammar and the shapes of its lines by start rule."""

    grammar: str
    shapes: Mapping[str, Mapping[str, Shape]]

    @cached_property
    def lark(self) -> Lark:
        """The LALR parser; every start rule reads one line."""
        return self._built(None)

    def keep_tables(self, folder: Path) -> None:
        """Reads the parser's tables from `folder`, or makes them and leaves them there.

        Making them takes longer than reading a whole season's plans. Lark checks that the tables
        fit the grammar and its own version, and makes them anew where they do not.
        """
        if "lark" not in self.__dict__:
            self.__dict__["lark"] = self._built(folder / f"{self.grammar}.tables")

    def _built(self, tables: Path | None) -> Lark:
        path = grammar_folder() / f"{self.grammar}.lark"
        return Lark.open(
            str(path),
            parser="lalr",
            start=list(self.shapes),
            maybe_placeholders=True,
            postlex=_WholeWords(),
            cache=str(tables) if tables else False,
        )

    def read(self, line: str, start: str) -> Tree[Token]:
        """The Lark tree of one line; raises lark's `UnexpectedInput`."""
        return self.lark.parse(line, start=start)

    def spoken(self, terminal: str) -> str:
        """What a terminal is called in front of a user."""
        if terminal in _SPOKEN:
            return _SPOKEN[terminal]
        pattern = self.lark.get_terminal(terminal).pattern
        return f"`{pattern.value}`" if isinstance(pattern, PatternStr) else terminal.lower()

    def belongs(self, word: str) -> str:
        """The start rule whose lines begin with `word`; empty where none does."""
        return next((start for start, shapes in self.shapes.items() if word and word in shapes), "")


class _WholeWords(PostLex):
    """Lets a fixed word match only where it is the whole word of the text.

    Where no name may stand, Lark would read `finished` as `finish ed`, and `goto` as `go to`.
    Names are looked for everywhere, so there `goto` is a name that does not fit. That Lark asks
    `always_accept` is all that this class is for; the tokens pass through it unchanged.
    """

    always_accept = ("NAME",)

    def process(self, stream: Iterator[Token]) -> Iterator[Token]:
        """The tokens as they come."""
        return stream


@lru_cache
def grammar_folder() -> Path:
    """Where the `.lark` files are: inside the package when installed, beside it in a checkout."""
    packaged = Path(__file__).parents[1] / "grammar"
    return packaged if packaged.is_dir() else Path(__file__).parents[2] / "grammar"


ROBOT = Language("robot", ROBOT_SHAPES)
ROUTINE = Language("routine", ROUTINE_SHAPES)
