"""The grammar's tables, kept between runs in the user's own folder for this program."""

from __future__ import annotations

from pathlib import Path

import click

from planner.tree.language import ROBOT, ROUTINE


def keep_tables() -> None:
    """Uses the tables of an earlier run, or leaves some for the next; a fifth of a run is saved.

    Where the folder cannot be made or written, every run makes its own.
    """
    folder = Path(click.get_app_dir("planner"))
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return
    for language in (ROBOT, ROUTINE):
        language.keep_tables(folder)
