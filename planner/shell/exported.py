"""What is told after an export: what became of each file, and what is left for the team."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import Enum
from pathlib import Path

from planner.java import Lacking, Unwritten
from planner.report import counted


class Fate(Enum):
    """What becomes of a file."""

    NEW = "new"
    UPDATED = "updated"
    UNCHANGED = "unchanged"
    LEFT = "left"


@dataclass(frozen=True, slots=True)
class Outcome:
    """What becomes of one file, and what the team has to do in it."""

    fate: Fate
    unwritten: tuple[Unwritten, ...]
    lacking: tuple[Lacking, ...]


def told(outcomes: Mapping[Path, Outcome]) -> str:
    """All of it as text, files in the order of their paths."""
    return "\n".join("".join(f"{line}\n" for line in part) for part in _parts(outcomes) if part)


def _parts(outcomes: Mapping[Path, Outcome]) -> Iterator[list[str]]:
    files = sorted(outcomes.items())
    yield [f"{outcome.fate.value:<9}  {path}" for path, outcome in files]
    if any(outcome.fate is Fate.LEFT for _, outcome in files):
        yield [
            "What was left holds changes that a person made. To get it written anew, rename or "
            "delete",
            "the file, export again, and copy over the changes you still want.",
        ]
    for path, outcome in files:
        if outcome.lacking:
            yield list(_lacking(path, outcome.lacking))
    yield _unwritten(files, True, "yours to write before this plan can work:")
    yield _unwritten(files, False, "yours to write too, though this plan does not use {it}:")


def _lacking(path: Path, lacking: tuple[Lacking, ...]) -> Iterator[str]:
    yield f"{path} lacks code that other files call, as far as its text can tell."
    yield "The project will not compile until it is there:"
    for part in lacking:
        yield f"  to paste into {part.owner}:"
        yield ""
        yield from part.code.splitlines()


def _unwritten(files: list[tuple[Path, Outcome]], wanted: bool, words: str) -> list[str]:
    rows = []
    count = 0
    for path, outcome in files:
        places = [place for place in outcome.unwritten if place.wanted is wanted]
        count += len(places)
        if places:
            listed = ", ".join(f":{place.line} {place.name}" for place in places)
            rows.append(f"  {path}{listed}")
    if not rows:
        return []
    verb, it = ("is", "it") if count == 1 else ("are", "them")
    return [f"{counted(count, 'place')} {verb} {words.format(it=it)}", *rows]
