"""Exports as a user makes them, and what they were said to do."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from command import Ran, planner

PACKAGE = "club.moth.auto"
MINE = "    // Mine: it must never be lost.\n"


def exported(
    package: str = PACKAGE,
    into: str = "java src",
    *options: str,
    routines: tuple[str, ...] = ("first_lamp.routine",),
) -> Ran:
    """Runs the export of routines that lie where the test stands."""
    return planner("export", *routines, "--into", into, "--package", package, *options)


def tree(folder: Path) -> dict[str, bytes]:
    """Every file under a folder, by its path below it."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def fates_of(ran: Ran) -> Iterator[tuple[str, str]]:
    """What was said to become of each file, by the file's own name."""
    for row in ran.out.partition("\n\n")[0].splitlines():
        fate, _, path = row.partition(" ")
        yield Path(path.strip()).name, fate


def change(path: Path, *changes: tuple[str, str]) -> None:
    """Replaces words in a file; each must stand in it."""
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8", newline="\n")


def edit_claw(folder: Path) -> Path:
    """A person's change in a mechanism; gives its file."""
    claw = folder / "mechanisms" / "Claw.java"
    change(claw, ("    public void open() {\n", f"    public void open() {{\n    {MINE}"))
    return claw
