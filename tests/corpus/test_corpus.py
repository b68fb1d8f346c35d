"""Texts and the trees they are read as.

Each `.txt` file beside this one holds entries: a line `=== title`, the text, a line `---`, and the
expected tree. A node is its kind and its fields; what is made of several nodes stands below,
indented; the slips stand last, after `!`. `python -m pytest --regenerate` writes the trees again.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from pathlib import Path
from typing import get_args

import pytest

from planner.findings import Slip
from planner.text import Source
from planner.tree import Parsed, format_value, parse_robot, parse_routine
from planner.tree import nodes as n

FOLDER = Path(__file__).parent
FILES = sorted(FOLDER.glob("*.txt"))


@dataclass(frozen=True)
class Entry:
    """One text of a corpus file, and the tree it should give."""

    file: Path
    title: str
    text: str
    tree: str


def entries(file: Path) -> Iterator[Entry]:
    """The entries of a corpus file, as written."""
    for part in file.read_text(encoding="utf-8").split("=== ")[1:]:
        title, _, rest = part.partition("\n")
        text, _, tree = rest.partition("---\n")
        yield Entry(file, title, text, tree.strip("\n"))


def read(entry: Entry) -> Parsed:
    """The tree of an entry; its file's name begins with the language."""
    parse = parse_robot if entry.file.stem.startswith("robot") else parse_routine
    return parse(Source(entry.title, entry.text))


def rendered(parsed: Parsed) -> str:
    """A tree and its slips in the layout of the corpus."""
    return "\n".join([*_lines(parsed.file.lines, 0), *map(_slip, parsed.slips)])


def _lines(lines: tuple[n.Line, ...], depth: int) -> Iterator[str]:
    for line in lines:
        first, *rest = _node(line.statement, depth)
        yield f"{first} (salvaged)" if line.salvaged else first
        yield from rest
        yield from _lines(line.under, depth + 1)


def _node(node: object, depth: int, front: str = "") -> Iterator[str]:
    assert is_dataclass(node)
    values = {field.name: getattr(node, field.name) for field in fields(node) if field.compare}
    short = {name: _short(value) for name, value in values.items()}
    words = [f"{name}={text}" for name, text in short.items() if text]
    yield " ".join([f"{'  ' * depth}{front}{type(node).__name__}", *words])
    for name, value in values.items():
        if short[name] is None:
            for part in value if isinstance(value, tuple) else (value,):
                yield from _node(part, depth + 1, f".{name} ")


def _short(value: object) -> str | None:
    """A field on its node's own line; empty where it says nothing, None where it is a node."""
    match value:
        case None | False | "" | ():
            return ""
        case True:
            return "yes"
        case str(text):
            return f'"{text}"'
        case n.Name(text):
            return text
        case n.Quantity(number, unit):
            return f"<{number} {unit or 'without a unit'}>"
        case n.NameValue(name, negated):
            return f"<{'-' if negated else ''}{name.text}>"
        case n.ReadingValue() | n.Sum():
            return f"<{format_value(value)}>"
        case n.Span(low, high):
            return f"{_short(low)}..{_short(high)}"
        case n.Subject(first, second):
            return f"({first.text} {second.text})" if second else f"({first.text})"
        case tuple(parts):
            texts = [_short(part) for part in parts]
            return None if None in texts else f"[{', '.join(map(str, texts))}]"
        case _:
            return None


def _slip(slip: Slip) -> str:
    place = slip.place
    return f"! {slip.check} {place.line}:{place.column}-{place.end_column} {slip.word!r}"


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_corpus(file: Path, request: pytest.FixtureRequest) -> None:
    """Each text of the corpus is read as the tree below it."""
    found = [(entry, rendered(read(entry))) for entry in entries(file)]
    if request.config.getoption("--regenerate"):
        blocks = [f"=== {entry.title}\n{entry.text}---\n{tree}\n" for entry, tree in found]
        file.write_text("\n".join(blocks), encoding="utf-8", newline="\n")
        return
    for entry, tree in found:
        assert f"{entry.title}\n{entry.tree}" == f"{entry.title}\n{tree}"


def test_corpus_holds_every_statement() -> None:
    """Every kind of statement and of condition stands in the corpus."""
    words = {word for file in FILES for entry in entries(file) for word in entry.tree.split()}
    kinds = {kind.__name__ for kind in (*get_args(n.Statement), *get_args(n.Condition))}
    assert set() == kinds - words
