"""The loop of a run by hand: prints the screen, reads a line, until the student has enough."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterable
from pathlib import Path

import click

from planner.model.choices import Variant
from planner.pipeline import Checked, plan_errors, plan_for
from planner.rehearsal.orders import phrases
from planner.report import as_text
from planner.report.choosing import ChoosingTable
from planner.report.table_top import TableTop
from planner.shell.by_hand_saving import save
from planner.shell.terminal import say, screen
from planner.shell.trouble import Trouble

_PROMPT = "> "


def play_by_hand(path: Path, checked: Checked) -> int:
    """Runs a routine until the student quits or the input ends; the exit status."""
    errors = plan_errors(checked)
    if errors:
        say(as_text(errors, screen()))
        say("\nNot played: a plan with errors has no meaning to rehearse.\n")
        return 1
    try:
        choices = _choose(checked)
        if choices is not None:
            _play(path, checked, TableTop(plan_for(checked, choices), choices))
    except EOFError:
        pass
    return 0


def _choose(checked: Checked) -> Variant | None:
    """What the student chooses before the start; None where they leave instead."""
    if not checked.plan.routine.choices:
        return {}
    table = ChoosingTable(checked.plan)
    ask = _asking(table.choosing.phrases())
    while not (table.started or table.left):
        _show(table.screen(screen()))
        table.do(ask())
    return None if table.left else table.choosing.chosen


def _play(path: Path, checked: Checked, table: TableTop) -> None:
    ask = _asking(phrases(table.handles))
    while not table.left:
        _show(table.screen(screen()))
        name = table.do(ask())
        if name:
            try:
                table.say(save(path, checked, table.session, name))
            except Trouble as error:
                table.say(error.message)


def _on_terminal() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty() and os.environ.get("TERM") != "dumb"


def _show(text: str) -> None:
    if _on_terminal():
        click.clear()
    say(text)


def _asking(words: Iterable[str]) -> Callable[[], str]:
    return _ask_on_terminal(words) if _on_terminal() else _ask_in_pipe


def _ask_in_pipe() -> str:
    """A line of standard input, shown as if it had been typed."""
    say(_PROMPT)
    line = sys.stdin.readline()
    if not line:
        say("\n")
        raise EOFError
    # A plain terminal has shown it already.
    say("\n" if sys.stdin.isatty() else f"{line.rstrip()}\n\n")
    return line


def _ask_on_terminal(words: Iterable[str]) -> Callable[[], str]:
    """Asks with a line editor that remembers what was typed and completes these with Tab."""
    from prompt_toolkit import PromptSession
    from prompt_toolkit.completion import WordCompleter

    editor: PromptSession[str] = PromptSession(
        completer=WordCompleter(list(words), sentence=True),
        complete_while_typing=False,
        # The screen above is worth more than room for a list that is seldom asked for.
        reserve_space_for_menu=0,
    )
    return lambda: editor.prompt(_PROMPT)
