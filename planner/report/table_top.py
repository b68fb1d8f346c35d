"""A run by hand as a conversation: a line goes in, a screen comes out.

Nothing here reads or prints, so that tests can hold the conversation too.
"""

from __future__ import annotations

from planner.graph import Plan
from planner.model.choices import Variant
from planner.rehearsal.handles import handles
from planner.rehearsal.orders import Save, Set, Unclear, Wait, Word, order
from planner.rehearsal.session import Session
from planner.report.by_hand import by_hand_screen, help_page
from planner.report.prose import sentence, wrapped
from planner.report.screen import Role, Screen

_WELCOME = "You are the sensors. Enter lets time pass; type help to see all that can be typed."
_OVER = "The run is over: type back, save NAME or quit."
_BEGINNING = "This is the beginning: there is nothing to go back to."


class TableTop:
    """A session, and what is to be said about the latest line.

    `left` is true once the student has enough.
    """

    def __init__(self, plan: Plan, choices: Variant | None = None) -> None:
        self.session = Session(plan, choices)
        self.handles = handles(plan)
        self.left = False
        self._said = _WELCOME
        self._help = False
        self._all_sensors = False

    def screen(self, screen: Screen) -> str:
        """The whole screen, but for the line to type on."""
        if self._help:
            page = help_page(self.handles, screen)
        else:
            page = by_hand_screen(self.session, self.handles, screen, self._all_sensors)
        remark = wrapped(sentence(self._said, screen.encoding), screen.width)
        rows = [screen.style(Role.NOTE, row) for row in remark]
        return page + "".join(f"{row}\n" for row in ("", *rows))

    def do(self, text: str) -> str:
        """Carries out a line; gives the name under which the run is to be saved, or nothing."""
        self._said, self._help = "", False
        wanted = order(text, self.handles, self.session.world.all_shown())
        match wanted:
            case Unclear(why):
                self.say(why)
            case Save(name):
                return name
            case Word(word):
                self._word(word)
            case _ if self.session.over:
                self._said = _OVER
            case Wait(duration_us):
                self.session.wait(duration_us)
            case Set(handle, value):
                self.session.set(handle.reading, value)
                self._said = handle.remark(value)
        return ""

    def say(self, sentence: str) -> None:
        """Has a sentence shown under the screen."""
        end = "" if sentence[-1] in ".?" else "."
        self._said = f"{sentence[0].upper()}{sentence[1:]}{end}"

    def _word(self, word: str) -> None:
        match word:
            case "quit":
                self.left = True
            case "help":
                self._help = True
            case "sensors":
                self._all_sensors = not self._all_sensors
            case "back":
                self._said = "" if self.session.back() else _BEGINNING
            case _ if self.session.over:
                self._said = _OVER
            case _:
                self.session.go_on()
