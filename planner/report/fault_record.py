"""What breaks and what becomes of a run then, for other programs: JSON and CSV.

Both say what the tables for reading say. The record's `version` is kept as that of findings
(`record.py`): a new field alone does not change it.
"""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable
from typing import Any

from planner.reach.effects import Effect
from planner.reach.search import Fails, Holds, Stopped
from planner.report.fault_words import NOTHING_BROKEN, local_effects, still_running, tenths
from planner.report.faults import Analysis
from planner.report.text_lines import Lines

VERSION = 1


def as_fault_json(analyses: Iterable[Analysis]) -> str:
    """All that is in the tables, as JSON text in ASCII; times are whole microseconds."""
    record = {
        "version": VERSION,
        "routines": [
            {
                "path": one.name,
                "nothing_broken": _record(one.unbroken) if one.unbroken else None,
                "failures": [_record(effect) for effect in one.effects],
            }
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
            {
                "step": name,
                "earliest_us": window.earliest_us,
                "latest_us": window.latest_us,
                "still_running": list(one.still_running[name].surely),
                "perhaps_running": list(one.still_running[name].perhaps),
            }
            for name, window in one.finishes.items()
        ],
        "local_effects": local_effects(one),
        "never_entered": list(one.skipped),
        "detected_by": [" ".join(exit_.place.words.split()) for exit_ in one.detected_by],
        "choices": {name: str(value) for name, value in one.chosen.items()},
    }


def _sure(one: Effect) -> str:
    words = {Holds: "every run", Fails: "not every run", Stopped: "not settled"}
    return words[type(one.in_time)]


_HEADER = (
    "routine", "item", "failure mode", "finish in time", "finishes", "latest finish s",
    "local effect", "still running", "never entered", "detected by", "choices",
)  # fmt: skip


def as_fault_csv(analyses: Iterable[Analysis]) -> str:
    """A line a failure after one with nothing broken, for a spreadsheet; what is several things is
    parted by semicolons. Times are those of the table for reading."""
    lines: list[str] = []
    writer = csv.writer(Lines(lines), lineterminator="\n")
    writer.writerow(_HEADER)
    for analysis in analyses:
        first = (analysis.unbroken,) if analysis.unbroken else ()
        for one in (*first, *analysis.effects):
            writer.writerow((analysis.name, *_cells(one)))
    return "".join(lines)


def _cells(one: Effect) -> tuple[str, ...]:
    record, latest = _record(one), one.latest_us
    cells: tuple[Iterable[str], ...] = (
        record["items"],
        record["failure_modes"] or [NOTHING_BROKEN],
        [record["finish_in_time"]],
        one.finishes,
        [] if latest is None else [tenths(latest)],
        record["local_effects"],
        still_running(one),
        record["never_entered"],
        record["detected_by"],
        [f"{name} {value}" for name, value in record["choices"].items()],
    )
    return tuple("; ".join(cell) for cell in cells)
