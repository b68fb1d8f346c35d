"""What breaks and what becomes of a run then, as text, JSON and CSV.

The words are those of failure mode and effect analysis: a failure mode has a local effect on the
step that asks, an end effect on the run, and is detected by something or by nothing.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from planner.model.spoken import spoken_condition
from planner.model.units import decimal_text, seconds_text
from planner.reach.effects import Effect, Lost
from planner.reach.search import Fails, Holds, Stopped
from planner.report.columns import Cell, Column, in_columns
from planner.report.glyphs import harmless
from planner.report.screen import Role, Screen
from planner.report.summary import counted
from planner.report.text_lines import Lines

VERSION = 1
MOST_NAMED = 4
"""How many steps are named before the rest is counted."""


@dataclass(frozen=True, slots=True)
class Analysis:
    """The effects of every failure on one routine, the worst first."""

    name: str
    """The path of its file."""
    effects: tuple[Effect, ...]

    @property
    def unsure(self) -> int:
        """With how many failures some run reaches no finish in time."""
        return sum(isinstance(one.in_time, Fails) for one in self.effects)

    @property
    def stopped(self) -> int:
        """Of how many failures that was not settled."""
        return sum(isinstance(one.in_time, Stopped) for one in self.effects)


def as_fault_text(analysis: Analysis, screen: Screen) -> str:
    """A table, the worst first, and a line that counts."""
    head = screen.style(Role.FILE, harmless(analysis.name, screen.encoding))
    table = in_columns(_COLUMNS, _rows(analysis.effects), screen)
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


def _rows(effects: Iterable[Effect]) -> Iterator[tuple[Cell, Cell, Cell]]:
    yield (
        (Role.LABEL, "Failure mode"),
        (Role.LABEL, "End effect, local effect"),
        (Role.LABEL, "Detected by"),
    )
    for one in effects:
        yield "", "", ""
        mode = " and ".join(str(fault) for fault in one.faults)
        told = (*_locally(one), *_skipped(one), *_chosen(one))
        role, verdict = _verdict(one)
        effect = "\n".join((verdict, *told))
        yield (role, mode) if role else mode, effect, _detected(one) or "nothing"


def _verdict(one: Effect) -> tuple[Role | None, str]:
    """The end effect: where every run ends, and when at the latest; and how bad that is."""
    if isinstance(one.in_time, Stopped):
        return Role.WARNING, f"not settled: the search ended at {one.in_time.bound}"
    if isinstance(one.in_time, Fails):
        where = _joined((one.finishes), "or") if one.finishes else "any finish"
        return Role.FAILED, f"some run does not reach {where} in time"
    assert one.latest_us is not None
    latest = _tenths(one.latest_us)
    return None, f"{_joined((one.finishes), 'or')}, by {latest} at the latest"


def _locally(one: Effect) -> Iterator[str]:
    return (_local(one, lost) for lost in one.settled)


def _local(one: Effect, lost: Lost) -> str:
    asked = f"{lost.step}: when {spoken_condition(lost.exit.condition)}"
    if lost.always:
        return f"{asked} comes at once"
    given = one.plan.step(lost.step).commands
    running = dict.fromkeys(g.mechanism.name for g in given if g.command.runs)
    goes = "goes on" if len(running) == 1 else "go on"
    return f"{asked} never comes" + (f", {_joined(running, 'and')} {goes}" if running else "")


def _skipped(one: Effect) -> Iterator[str]:
    steps = [name for name in one.skipped if name not in one.lost]
    if one.lost:
        yield f"out of reach: {_joined((one.lost), 'and')}"
    if steps:
        more = len(steps) - MOST_NAMED
        named = [*steps[:MOST_NAMED], f"{more} more"] if more > 1 else steps
        yield f"never entered: {_joined(named, 'and')}"


def _chosen(one: Effect) -> Iterator[str]:
    if one.chosen:
        told = [f"{name} is {value}" for name, value in one.chosen.items()]
        yield f"for instance if {_joined(told, 'and')}"


def _detected(one: Effect) -> str:
    times = dict.fromkeys(seconds_text(after.limit_us) for after in one.detected_by)
    return f"the limit of {_joined((times), 'or')}" if times else ""


def _joined(words: Iterable[str], last: str) -> str:
    *others, end = words
    return f"{', '.join(others)} {last} {end}" if others else end


def _tenths(time_us: int) -> str:
    """A time for reading, rounded up to a tenth of a second, so that no run is later."""
    return f"{decimal_text(Fraction(-(-time_us // 100_000), 10))} s"


# For other programs.


def as_fault_json(analyses: Iterable[Analysis]) -> str:
    """All that is in the tables, as JSON text in ASCII; times are whole microseconds."""
    record = {
        "version": VERSION,
        "routines": [
            {"path": one.name, "failures": [_record(effect) for effect in one.effects]}
            for one in analyses
        ],
    }
    return json.dumps(record, indent=2) + "\n"


def _record(one: Effect) -> dict[str, Any]:
    return {
        "items": [fault.item for fault in one.faults],
        "failure_modes": [fault.mode for fault in one.faults],
        "finish_in_time": _sure(one),
        "finishes": [
            {"step": name, "earliest_us": window.earliest_us, "latest_us": window.latest_us}
            for name, window in one.finishes.items()
        ],
        "local_effects": list(_locally(one)),
        "never_entered": list(one.skipped),
        "detected_by": [" ".join(after.place.words.split()) for after in one.detected_by],
        "choices": {name: str(value) for name, value in one.chosen.items()},
    }


def _sure(one: Effect) -> str:
    words = {Holds: "every run", Fails: "not every run", Stopped: "not settled"}
    return words[type(one.in_time)]


_HEADER = (
    "routine", "item", "failure mode", "finish in time", "finishes", "latest finish s",
    "local effect", "never entered", "detected by", "choices",
)  # fmt: skip


def as_fault_csv(analyses: Iterable[Analysis]) -> str:
    """A line a failure, for a spreadsheet; what is several things is parted by semicolons."""
    lines: list[str] = []
    writer = csv.writer(Lines(lines), lineterminator="\n")
    writer.writerow(_HEADER)
    for analysis in analyses:
        for one in analysis.effects:
            record = _record(one)
            latest = one.latest_us
            writer.writerow(
                (
                    analysis.name,
                    "; ".join(record["items"]),
                    "; ".join(record["failure_modes"]),
                    record["finish_in_time"],
                    "; ".join(one.finishes),
                    "" if latest is None else decimal_text(Fraction(latest, 1_000_000)),
                    "; ".join(record["local_effects"]),
                    "; ".join(record["never_entered"]),
                    "; ".join(record["detected_by"]),
                    "; ".join(f"{name} {value}" for name, value in record["choices"].items()),
                )
            )
    return "".join(lines)
