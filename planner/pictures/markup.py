"""The layout program's HTML-like labels, built so that no text can break out of them."""

from __future__ import annotations

import html
import re
from collections.abc import Iterable

from planner.pictures.lettering import FAMILY, clean

# A backslash and one of these letters would be replaced by the name of the node or graph, however
# they are written, unless they stand in two pieces of text.
_REPLACED = re.compile(r"\\([NGETHL])")


def escaped(text: str) -> str:
    """`text` as it may stand in a label: markup characters escaped, undrawable ones dropped."""
    safe = html.escape(clean(text), quote=True)
    return _REPLACED.sub(rf'\\<FONT FACE="{FAMILY}">\1</FONT>', safe)


def lines(parts: Iterable[str]) -> str:
    """Already escaped lines under each other, all flush left."""
    return "".join(f'{part}<BR ALIGN="LEFT"/>' for part in parts)


def bold(inner: str) -> str:
    """Already escaped text in bold; empty stays empty, for an empty element is an error."""
    return f"<B>{inner}</B>" if inner else ""


def font(inner: str, colour: str | None = None, size: float | None = None) -> str:
    """Already escaped text in another colour or size."""
    attributes = _attributes({"COLOR": colour, "POINT-SIZE": size})
    return f"<FONT{attributes}>{inner}</FONT>" if inner else ""


def cell(inner: str, **attributes: str | float | None) -> str:
    """A cell of a table; text in it is flush left."""
    return f"<TD{_attributes({'ALIGN': 'LEFT', **attributes})}>{inner}</TD>"


def row(*cells: str) -> str:
    """A row of cells."""
    return f"<TR>{''.join(cells)}</TR>"


def table(*rows: str, **attributes: str | float | None) -> str:
    """A table without any lines or space of its own unless asked for."""
    plain = {"BORDER": 0, "CELLBORDER": 0, "CELLSPACING": 0, "CELLPADDING": 0}
    return f"<TABLE{_attributes({**plain, **attributes})}>{''.join(rows)}</TABLE>"


def _attributes(given: dict[str, str | float | None]) -> str:
    return "".join(f' {name}="{value}"' for name, value in given.items() if value is not None)
