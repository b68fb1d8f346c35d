"""Data goes one way: which room may import from which."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest
from house import ROOT, nothing_in, parsed, python_files, shown

# Each room imports only from rooms on lines above its own; rooms on one line never do.
ORDER: tuple[tuple[str, ...], ...] = (
    ("text",),
    ("findings",),
    ("tree",),
    ("model",),
    ("graph",),
    ("rehearsal", "reach", "odds", "pictures", "java"),
    ("checks",),
    ("report",),
    ("pipeline",),
    ("shell",),
    # `python -m planner` opens the door and is no room.
    ("__main__",),
)
RANK = {room: rank for rank, rooms in enumerate(ORDER) for room in rooms}


def imported(tree: ast.Module) -> Iterator[tuple[int, str]]:
    """Line and dotted name of every import, those inside functions too."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((node.lineno, alias.name) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            front = "." * node.level + (node.module or "")
            if front == "planner":
                yield from ((node.lineno, f"planner.{alias.name}") for alias in node.names)
            else:
                yield node.lineno, front


def wrong_imports(path: str, tree: ast.Module) -> Iterator[str]:
    """Complaints about the imports of the file at `path`, which is in `planner/`."""
    own = path.split("/")[1].removesuffix(".py")
    for line, name in imported(tree):
        if name.startswith("."):
            yield f"{path}:{line}: write the whole name, from `planner` on"
        if not name.startswith("planner."):
            continue
        other = name.split(".")[1]
        if other in ("__version__", own):
            continue
        if other not in RANK:
            yield f"{path}:{line}: there is no room `{other}`"
        elif RANK[other] >= RANK.get(own, -1):
            yield f"{path}:{line}: `{own}` may not import from `{other}`"


def test_rooms_import_one_way() -> None:
    """A room imports only from the rooms before it, and never from a sibling."""
    nothing_in(
        complaint
        for path in python_files()
        for complaint in wrong_imports(shown(path), parsed(path))
    )


def test_every_room_has_a_place() -> None:
    """Every folder and file in `planner` is a room of the order."""
    found = {path.relative_to(ROOT / "planner").parts[0] for path in python_files()}
    assert set() == {name.removesuffix(".py") for name in found} - set(RANK) - {"__init__"}


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("planner/tree/x.py", "from planner.model import Robot"),
        ("planner/tree/x.py", "def f():\n    import planner.shell.main"),
        ("planner/java/x.py", "from planner.pictures import dot"),
        ("planner/java/x.py", "from planner import pictures"),
        ("planner/pipeline.py", "from planner import shell"),
        ("planner/checks/x.py", "from . import case"),
        ("planner/checks/x.py", "from planner.nowhere import case"),
        ("planner/__init__.py", "from planner.text import Source"),
    ],
)
def test_a_wrong_import_is_seen(path: str, text: str) -> None:
    """The judge of imports sees one that goes the wrong way."""
    assert 1 == len(list(wrong_imports(path, ast.parse(text))))


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("planner/tree/x.py", "from planner.tree import nodes as n"),
        ("planner/tree/x.py", "import planner.text\nimport planners.model"),
        ("planner/shell/x.py", "from planner import __version__, pipeline"),
        ("planner/checks/x.py", "from planner.reach import explore"),
    ],
)
def test_a_right_import_passes(path: str, text: str) -> None:
    """The judge of imports lets one pass that goes the right way."""
    assert [] == list(wrong_imports(path, ast.parse(text)))
