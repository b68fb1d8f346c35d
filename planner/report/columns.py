"""Texts in columns, wrapped where they are too long for theirs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

from rich.console import Console
from rich.style import Style
from rich.table import Table
from rich.text import Text

from planner.report.glyphs import harmless
from planner.report.screen import Role, Screen

WIDEST = 100
NARROWEST = 40


@dataclass(frozen=True, slots=True)
class Column:
    """How wide a column is; without a width it takes the room that the others leave."""

    width: int | None = None
    right: bool = False
    """Whether its texts end at its right edge."""


Cell: TypeAlias = str | tuple[Role, str]


def in_columns(columns: Sequence[Column], rows: Iterable[Sequence[Cell]], screen: Screen) -> str:
    """Whole lines with two blanks between the columns and none at the end of a line."""
    width = max(NARROWEST, min(WIDEST, screen.width))
    # Whatever the environment says, so that the same rows look the same everywhere.
    console = Console(width=width, color_system=None, legacy_windows=False, _environ={})
    table = Table.grid(padding=(0, 2, 0, 0))
    for column in columns:
        ratio = None if column.width else 1
        table.add_column(
            width=column.width,
            ratio=ratio,
            justify="right" if column.right else "left",
            overflow="fold",
        )
    table.expand = any(column.width is None for column in columns)
    for row in rows:
        table.add_row(*(_text(cell, screen) for cell in row))
    options = console.options.update(width=width)
    lines = []
    for segments in console.render_lines(table, options, pad=False):
        # Blanks at the end go before colour is added, which would hide them.
        parts = [(segment.text, _role(segment.style)) for segment in segments]
        while parts and not parts[-1][0].strip():
            parts.pop()
        if parts:
            parts[-1] = (parts[-1][0].rstrip(), parts[-1][1])
        lines.append("".join(screen.style(role, text) if role else text for text, role in parts))
    return "".join(f"{line}\n" for line in lines)


def _text(cell: Cell, screen: Screen) -> Text:
    role, text = (None, cell) if isinstance(cell, str) else cell
    style = Style(meta={"role": role.value}) if role else Style.null()
    lines = (harmless(line, screen.encoding) for line in text.split("\n"))
    return Text("\n".join(lines), style=style)


def _role(style: Style | None) -> Role | None:
    name = style.meta.get("role") if style else None
    return Role(name) if name else None
