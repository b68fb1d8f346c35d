"""How far a long piece of work has come, for a person who waits at a terminal."""

from __future__ import annotations

import shutil
import sys
from threading import Event, Thread
from time import monotonic
from types import TracebackType
from typing import TYPE_CHECKING

import click

from planner.report.glyphs import harmless

if TYPE_CHECKING:
    from click._termui_impl import ProgressBar

_PATIENCE_S = 1.0
"""What is done by then needs no bar."""
_REDRAWN_S = 0.2
_PARTS = 1000
"""In so many parts a piece of the work can be done."""
_WIDTH = 24
_LEFT_OF_NAME = 38 + _WIDTH
"""How wide the line is with its label, its numbers and the seconds so far."""


class Progress:
    """A bar on standard error while `with` lasts: on a terminal only, and after a second only.

    It is drawn by a thread of its own, so that a long search is seen to go on.
    """

    def __init__(self, label: str, pieces: int) -> None:
        self.done = 0.0
        """How many pieces are done, and what part of the next one."""
        self.about = ""
        """What is being done, such as a file's name."""
        self._label, self._pieces = label, pieces
        self._over = Event()
        self._drawing: Thread | None = None

    def __enter__(self) -> Progress:
        if sys.stderr.isatty() and self._pieces:
            self._drawing = Thread(target=self._draw, daemon=True)
            self._drawing.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._over.set()
        if self._drawing:
            self._drawing.join()

    def _draw(self) -> None:
        begun = monotonic()
        encoding = getattr(sys.stderr, "encoding", None) or "utf-8"

        def words(_: object) -> str:
            room = max(0, shutil.get_terminal_size().columns - _LEFT_OF_NAME)
            about = harmless(self.about, encoding)
            # A line that is wider than the window could not be drawn over.
            about = about if len(about) <= room else f"{about[: max(0, room - 3)]}..."[:room]
            return f"{monotonic() - begun:.0f} s  {about}"

        bar: ProgressBar[object] = click.progressbar(
            length=self._pieces * _PARTS,
            label=self._label,
            file=sys.stderr,
            item_show_func=words,
            width=_WIDTH,
        )
        if self._over.wait(_PATIENCE_S):
            return
        with bar:
            while not self._over.wait(_REDRAWN_S):
                self._show(bar)
            self._show(bar)

    def _show(self, bar: ProgressBar[object]) -> None:
        bar.update(int(self.done * _PARTS) - bar.pos)
        # The seconds change also where nothing is done.
        bar.render_progress()
