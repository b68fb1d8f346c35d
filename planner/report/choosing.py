"""The screen before a run by hand: what can be chosen, and what is."""

from __future__ import annotations

from collections.abc import Iterator

from planner.graph import Plan
from planner.model.choices import Choice
from planner.model.units import seconds_text
from planner.rehearsal.choosing import Choosing, Offer
from planner.report.columns import Cell, Column, in_columns
from planner.report.prose import sentence, wrapped
from planner.report.screen import Role, Screen

_WELCOME = "Choose by a key, a word, or a name and its value. Enter starts the run."


class ChoosingTable:
    """A conversation in which a student chooses; over once they start the run or leave.

    Nothing here reads or prints, as in the run itself.
    """

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.choosing = Choosing(plan.routine.choices)
        self.started = False
        self.left = False
        self._said = _WELCOME

    def screen(self, screen: Screen) -> str:
        """The whole screen, but for the line to type on."""
        routine = self.plan.routine
        name = f'{routine.name} "{routine.title}"' if routine.title else routine.name
        time = f"before the start, {seconds_text(routine.limit_us)} to go"
        head = in_columns(
            (Column(), Column(len(time), right=True)),
            [((Role.FILE, sentence(name, "utf-8")), time)],
            screen,
        )
        names = min(20, max(len(offer.name) for offer in self.choosing.offers))
        values = min(20, max(len(value) for value in map(str, self.choosing.chosen.values())))
        columns = (Column(8), Column(1), Column(names), Column(max(8, values)), Column())
        table = in_columns(columns, self._rows(), screen)
        said = wrapped(sentence(self._said, screen.encoding), screen.width)
        rows = [screen.style(Role.NOTE, row) for row in said]
        return f"{head}\n{table}" + "".join(f"{row}\n" for row in ("", *rows))

    def do(self, text: str) -> None:
        """Carries out a line; an empty one starts the run."""
        self._said = _WELCOME
        words = text.split()
        if not words:
            self.started = True
        elif words == ["quit"]:
            self.left = True
        elif words != ["help"]:
            unclear = self.choosing.choose(text)
            if unclear:
                end = "" if unclear[-1] in ".?" else "."
                self._said = f"{unclear[0].upper()}{unclear[1:]}{end}"

    def _rows(self) -> Iterator[tuple[Cell, ...]]:
        for number, offer in enumerate(self.choosing.offers):
            label = (Role.LABEL, "" if number else "Choose")
            chosen = str(self.choosing.chosen[offer.name])
            yield label, offer.key, offer.name, chosen, f"out of {_reach(offer)}"


def _reach(offer: Offer) -> str:
    if not isinstance(offer.choice, Choice):
        return offer.reach
    turning = offer.choice.mirroring
    return ", ".join(
        f"{word} (mirrors)" if word in turning else word for word in offer.choice.values
    )
