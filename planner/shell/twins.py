"""Routines that one package of Java could not tell apart."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from planner.model.routine import Routine
from planner.shell.trouble import Trouble


def stop_at_twins(routines: Mapping[Path, Routine]) -> None:
    """Raises `Trouble` where two files or two routines of an export have one name.

    In Java a routine goes by its own name, and its files say by which file they were made.
    """
    files: dict[str, Path] = {}
    names: dict[str, Path] = {}
    for path, routine in routines.items():
        first = files.setdefault(path.name.casefold(), path)
        if first != path:
            _stop(first, path, f"are two files named {path.name}")
        first = names.setdefault(routine.name.replace("_", "").casefold(), path)
        if first != path:
            _stop(first, path, f"both hold a routine `{routine.name}`")


def _stop(first: Path, second: Path, why: str) -> None:
    raise Trouble(
        f"{first} and {second} {why}, and one package of Java has room for one of them. Give one "
        "another name, or export them one after the other, each into a --package of its own. "
        "Nothing was written."
    )
