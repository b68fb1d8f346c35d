"""The loop of a run by hand: prints the screen, reads a line, until the student has enough."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path

import click

from planner.pipeline import Checked, plan_errors
from planner.rehearsal.orders import phrases
from planner.report import as_text
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
    table = TableTop(checked.plan)
    on_terminal = sys.stdin.isatty() and sys.stdout.isatty() and os.environ.get("TERM") != "dumb"
    ask = _ask_on_terminal(table) if on_terminal else _ask_in_pipe
    while not table.left:
        if on_terminal:
            click.clear()
        say(table.screen(screen()))
        try:
            name = table.do(ask())
        except EOFError:
            return 0
        if name:
            try:
                table.say(save(path, checked, table.session, name))
            except Trouble as error:
                table.say(error.message)
    return 0


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


def _ask_on_terminal(table: TableTop) -> Callable[[], str]:
    """Asks with a line editor that remembers what was typed and completes it with Tab."""
    from prompt_toolkit import PromptSession
    from prompt_toolkit.completion import WordCompleter

    editor: PromptSession[str] = PromptSession(
        completer=WordCompleter(list(phrases(table.handles)), sentence=True),
        complete_while_typing=False,
        # The screen above is worth more than room for a list that is seldom asked for.
        reserve_space_for_menu=0,
    )
    return lambda: editor.prompt(_PROMPT)
