"""Watches the checks of routines: how far they have come, and whether Ctrl-C has ended them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.checks import VariantCase
from planner.findings import Finding
from planner.shell.cores import spread
from planner.shell.progress import Progress


class Watch:
    """Counts routines, and the variants of each, as they are checked."""

    def __init__(self, progress: Progress, stoppable: bool = False) -> None:
        """With `stoppable` Ctrl-C ends a routine after those of its variants that are done."""
        self._progress = progress
        self._stoppable = stoppable
        self._before = 0

    def begin(self, name: str) -> None:
        """A routine of that name comes next."""
        self._progress.about = name

    def end(self) -> None:
        """A routine is done."""
        self._before += 1
        self._progress.done = self._before

    def find_each(self, cases: Sequence[VariantCase]) -> Iterator[tuple[Finding, ...]]:
        """What is found in each variant, in their order."""
        try:
            for number, findings in enumerate(spread(cases), 1):
                yield findings
                self._progress.done = self._before + number / len(cases)
        except KeyboardInterrupt:
            if not self._stoppable:
                raise
