"""The manual pages of the checks, as a person reads them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from planner.report.prose import wrapped
from planner.report.screen import Role, Screen

if TYPE_CHECKING:
    # The checks bring the graph library with them, which most uses of this room do not need.
    from planner.checks import Check


def manual_page(check: Check, screen: Screen) -> str:
    """One check's page under its name and weight."""
    word = check.severity.word
    head = f"{check.name} ({screen.style(Role(word), word)})"
    return f"{head}\n\n{check.page.strip()}\n"


def list_of_checks(checks: Iterable[Check], screen: Screen) -> str:
    """Every check's name and weight, and what it finds in one sentence, in the order given."""
    width = max(40, min(90, screen.width)) - 4
    cards = []
    for check in checks:
        word = check.severity.word
        rows = [f"{check.name} ({screen.style(Role(word), word)})"]
        rows += [f"    {row}" for row in wrapped(_first_sentence(check), width)]
        cards.append("\n".join(rows))
    return "\n".join(cards) + "\n"


def _first_sentence(check: Check) -> str:
    """The page begins with a heading; the sentence under it may run over lines."""
    _, _, under = check.page.strip().partition("\n")
    first, stop, _ = " ".join(under.partition("\n\n")[0].split()).partition(". ")
    return first + stop.strip()
