"""What breaks and what becomes of a run then, as text.

The words are those of failure mode and effect analysis: a failure mode has a local effect on the
step that asks, an end effect on the run, and is detected by something or by nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.reach.effects import Effect
from planner.reach.search import Fails, Stopped
from planner.report.columns import Cell, Column, in_columns
from planner.report.fault_words import (
    chosen,
    detected_by,
    local_effects,
    mode,
    skipped,
    still_running,
    tenths,
)
from planner.report.glyphs import harmless
from planner.report.prose import joined
from planner.report.screen import Role, Screen
from planner.report.summary import counted


@dataclass(frozen=True, slots=True)
class Analysis:
    """The effects of every failure on one routine, the worst first."""

    name: str
    """The path of its file."""
    effects: tuple[Effect, ...]
    unbroken: Effect | None = None
    """What becomes of runs with nothing broken; None where nothing can break."""

    @property
    def unsure(self) -> int:
        """With how many failures some run reaches no finish in time."""
        return sum(isinstance(one.in_time, Fails) for one in self.effects)

    @property
    def stopped(self) -> int:
        """Of how many failures that was not settled."""
        return sum(isinstance(one.in_time, Stopped) for one in self.effects)


def as_fault_text(analysis: Analysis, screen: Screen) -> str:
    """A table, nothing broken and then the worst first, and a line that counts."""
    head = screen.style(Role.FILE, harmless(analysis.name, screen.encoding))
    table = in_columns(_COLUMNS, _rows(analysis), screen)
    return f"{head}\n\n{table}\n{fault_summary(analysis)}\n"


def fault_summary(analysis: Analysis) -> str:
    """One line that counts what may break and what comes of it."""
    total = counted(len(analysis.effects), "failure")
    if not analysis.effects:
        return "The plan asks nothing that can break."
    if not analysis.unsure and not analysis.stopped:
        return f"{total}, and with each of them every run still reaches a finish in time."
    parts = [f"with {analysis.unsure} some run misses every finish"] if analysis.unsure else []
    parts += [f"{analysis.stopped} were not settled"] if analysis.stopped else []
    return f"{total}: {', '.join(parts)}."


_COLUMNS = (Column(20), Column(), Column(17))


def _rows(analysis: Analysis) -> Iterator[tuple[Cell, Cell, Cell]]:
    yield (
        (Role.LABEL, "Failure mode"),
        (Role.LABEL, "End effect, local effect"),
        (Role.LABEL, "Detected by"),
    )
    for one in (*((analysis.unbroken,) if analysis.unbroken else ()), *analysis.effects):
        yield "", "", ""
        role, verdict = _verdict(one)
        told = (*local_effects(one), *still_running(one), *skipped(one), *chosen(one))
        effect = "\n".join((verdict, *told))
        # There is nothing to detect where nothing is broken.
        detected = detected_by(one) if one.faults else ""
        yield (role, mode(one)) if role else mode(one), effect, detected


def _verdict(one: Effect) -> tuple[Role | None, str]:
    """The end effect: where every run ends, and when at the latest; and how bad that is."""
    if isinstance(one.in_time, Stopped):
        return Role.WARNING, f"not settled: the search ended at {one.in_time.bound}"
    if isinstance(one.in_time, Fails):
        where = joined(one.finishes, "or") if one.finishes else "any finish"
        return Role.FAILED, f"some run does not reach {where} in time"
    assert one.latest_us is not None
    return None, f"{joined(one.finishes, 'or')}, by {tenths(one.latest_us)} s at the latest"
