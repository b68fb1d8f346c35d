"""The files of the tree, for tests that hold house rules."""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from fnmatch import fnmatch
from functools import lru_cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@lru_cache
def files() -> tuple[Path, ...]:
    """Every file of the tree that is kept, below `ROOT`, sorted."""
    return tuple(sorted(_kept(ROOT)))


def python_files(room: str = "planner") -> tuple[Path, ...]:
    """The Python files under a folder of the tree."""
    return tuple(f for f in files() if f.suffix == ".py" and f.is_relative_to(ROOT / room))


def shown(path: Path) -> str:
    """A path as complaints show it: from the top of the tree, with slashes."""
    return path.relative_to(ROOT).as_posix()


@lru_cache
def parsed(path: Path) -> ast.Module:
    """A Python file's syntax tree."""
    return ast.parse(path.read_text(encoding="utf-8"), str(path))


def nothing_in(complaints: Iterable[str]) -> None:
    """Fails with one line a complaint, each beginning with the place: `planner/x.py:12:`."""
    lines = list(complaints)
    if lines:
        pytest.fail("\n" + "\n".join(lines), pytrace=False)


@lru_cache
def _ignored() -> tuple[str, ...]:
    lines = (ROOT / ".gitignore").read_text(encoding="utf-8").split()
    return (".git", *(line.strip("/") for line in lines))


def _kept(folder: Path) -> Iterator[Path]:
    for path in folder.iterdir():
        if any(fnmatch(path.name, pattern) for pattern in _ignored()):
            continue
        if path.is_dir():
            yield from _kept(path)
        else:
            yield path
