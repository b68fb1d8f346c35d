"""`planner explain`: the manual pages of the checks."""

from __future__ import annotations

import click

from planner.checks.table import CHECKS, check_named
from planner.findings import nearest
from planner.report import list_of_checks, manual_page
from planner.shell.terminal import say, screen
from planner.shell.trouble import Trouble
from planner.tree.language import grammar_folder


@click.command()
@click.argument("name", required=False)
def explain(name: str | None) -> None:
    """Explain the check NAME, or list all checks.

    A page says what the check finds, why that matters on the field, shows a plan it finds fault
    with, and the same plan put right. The name `language` shows the reference of the language.

    \b
    Examples:
      planner explain
      planner explain wait-without-limit
      planner explain language
    """
    if name is None:
        say(list_of_checks(CHECKS, screen()))
        return
    if name.lower() == "language":
        say((grammar_folder() / "README.md").read_text(encoding="utf-8"))
        return
    # Underscores and capitals are no reason to turn anybody away.
    check = check_named(name.lower().replace("_", "-"))
    if check is None:
        raise Trouble(f"there is no check `{name[:60]}`.{_near(name)}")
    say(manual_page(check, screen()))


def _near(name: str) -> str:
    near = nearest(name[:60], [check.name for check in CHECKS], most=1)
    if near:
        return f" Did you mean `{near[0]}`?"
    return " To list them all: planner explain"
