"""When each step can be entered and each finish reached, as text, JSON and CSV."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from planner.checks.timetable import Timetable
from planner.model.routine import Step, step_in_words
from planner.model.units import decimal_text, seconds_text
from planner.reach.verdict import spanning
from planner.report.columns import Cell, Column, in_columns
from planner.report.glyphs import harmless
from planner.report.order import as_order_text, order_records
from planner.report.prose import sentence, wrapped
from planner.report.record import place_record
from planner.report.screen import Role, Screen
from planner.report.text_lines import Lines
from planner.report.which_choices import over_ranges, which_choices

VERSION = 1
HUNDREDTH_US = 10_000


@dataclass(frozen=True, slots=True)
class Times:
    """The timetables of a routine, one for each combination of what can be chosen."""

    name: str
    """The path of its file."""
    tables: tuple[Timetable, ...]

    @property
    def late(self) -> bool:
        """Whether with some combination a run finishes too late."""
        return any(table.late for table in self.tables)

    @property
    def stopped(self) -> bool:
        """Whether with some combination not all is known."""
        return any(table.stopped or not table.whole for table in self.tables)

    def alike(self) -> Iterator[tuple[Timetable, ...]]:
        """The tables, those that say the same together, in the order of the first of them."""
        groups: dict[tuple[object, ...], list[Timetable]] = {}
        for table in self.tables:
            order = str(order_records(table.plan, table.conflicts))
            never = [exit_.place for exit_ in table.never]
            told = (*table.entries.items(), table.whole, table.late, table.stopped, order, *never)
            groups.setdefault(told, []).append(table)
        return (tuple(group) for group in groups.values())


def as_times_text(times: Times, screen: Screen) -> str:
    """A table for each group of combinations, and a line below each that says how runs end."""
    parts = [screen.style(Role.FILE, harmless(times.name, screen.encoding)) + "\n"]
    for group in times.alike():
        head = which_choices([table.chosen for table in group], group[0].plan.routine.choices)
        if len(group) < len(times.tables):
            parts.append(_prose(f"If {head}:", screen, Role.LABEL))
        parts.append(in_columns(_COLUMNS, _rows(group[0]), screen))
        parts.append("".join(_prose(line, screen) for line in endings(group)))
        if group[0].never:
            head = screen.style(Role.LABEL, "Taken by no run: something else always comes first")
            parts.append(f"{head}\n{in_columns(_LINES, _never_rows(group[0]), screen)}")
        parts.append(as_order_text(group[0].plan, group[0].conflicts, screen))
    return "\n".join(parts)


def endings(group: Sequence[Timetable]) -> Iterator[str]:
    """How the runs of some combinations end, in a sentence, and what the times are about."""
    table = group[0]
    yield _ending(table)
    if not table.whole:
        yield (
            "The search was given up, so the times are only those found by then: a run may enter "
            "a step earlier or later, and other steps as well."
        )
    if told := over_ranges([one.chosen for one in group], table.plan.routine.choices):
        yield f"The times hold {told}."


def _ending(table: Timetable) -> str:
    limit = seconds_text(table.plan.routine.limit_us)
    if table.late:
        return (
            f"Some run is in no finish when the limit of {limit} comes; "
            "`planner check` shows how that happens."
        )
    if table.stopped:
        return (
            "Whether every run finishes in time is not settled: the search of all runs "
            f"{table.stopped}."
        )
    all_runs = spanning(table.finishes.values())
    assert all_runs, "where every run finishes there is a finish"
    low, high = rounded_down(all_runs.earliest_us), rounded_up(all_runs.latest_us)
    return f"Every run finishes between {low} and {high} of {limit}."


_COLUMNS = (Column(9, right=True), Column(9, right=True), Column())


def _rows(table: Timetable) -> Iterator[tuple[Cell, Cell, Cell]]:
    yield (Role.LABEL, "Earliest"), (Role.LABEL, "Latest"), (Role.LABEL, "Step is entered")
    for step in table.plan.routine.steps.values():
        window = table.entries.get(step.name)
        if window:
            low, high = rounded_down(window.earliest_us), rounded_up(window.latest_us)
            yield low, high, _named(step)
        else:
            yield "", "never" if table.whole else "not yet", _named(step)


_LINES = (Column(9, right=True), Column())


def _never_rows(table: Timetable) -> Iterator[tuple[Cell, Cell]]:
    """The lines that no run takes, of whatever file."""
    for exit_ in table.never:
        own = table.plan.routine.place.source.name == exit_.place.source.name
        file = "" if own else f" of {exit_.place.source.name}"
        words = " ".join(exit_.place.words.split())
        yield f"line {exit_.place.line}", sentence(f"{words}{file}", "utf-8")


def _named(step: Step) -> str:
    shown = step_in_words(step.name)
    shown = f'{shown} "{step.title}"' if step.title else shown
    return sentence(f"finish {shown}" if step.is_finish else shown, "utf-8")


def rounded_down(time_us: int) -> str:
    """A time to hundredths of a second; no run is earlier."""
    return _hundredths(time_us // HUNDREDTH_US)


def rounded_up(time_us: int) -> str:
    """A time to hundredths of a second; no run is later."""
    return _hundredths(-(-time_us // HUNDREDTH_US))


def _hundredths(number: int) -> str:
    return f"{number // 100}.{number % 100:02} s"


def _prose(text: str, screen: Screen, role: Role | None = None) -> str:
    lines = wrapped(sentence(text, screen.encoding), min(screen.width, 80))
    return "".join(f"{screen.style(role, line) if role else line}\n" for line in lines)


# For other programs.


def as_times_json(routines: Iterable[Times]) -> str:
    """All that is in the tables, one for each combination, in ASCII; times are microseconds."""
    record = {
        "version": VERSION,
        "routines": [
            {"path": one.name, "tables": [_record(table) for table in one.tables]}
            for one in routines
        ],
    }
    return json.dumps(record, indent=2) + "\n"


def _record(table: Timetable) -> dict[str, Any]:
    return {
        "choices": {name: str(value) for name, value in table.chosen.items()},
        "finish_in_time": _sure(table),
        "why_not_settled": table.stopped,
        "all_runs_searched": table.whole,
        "steps": [_step_record(table, step) for step in table.plan.routine.steps.values()],
        "never_taken": [
            {**place_record(exit_.place), "words": " ".join(exit_.place.words.split())}
            for exit_ in table.never
        ],
        "order_decides": order_records(table.plan, table.conflicts),
    }


def _step_record(table: Timetable, step: Step) -> dict[str, Any]:
    window = table.entries.get(step.name)
    return {
        "step": step_in_words(step.name),
        "title": step.title,
        "finish": step.is_finish,
        "earliest_us": window.earliest_us if window else None,
        "latest_us": window.latest_us if window else None,
    }


def _sure(table: Timetable) -> str:
    if table.late:
        return "not every run"
    return "not settled" if table.stopped else "every run"


_HEADER = ("routine", "choices", "step", "finish", "earliest s", "latest s", "finish in time")


def as_times_csv(routines: Iterable[Times]) -> str:
    """A line a step and combination; where no run enters the step, its times are empty."""
    lines: list[str] = []
    writer = csv.writer(Lines(lines), lineterminator="\n")
    writer.writerow(_HEADER)
    for name, table in ((one.name, table) for one in routines for table in one.tables):
        chosen = "; ".join(f"{choice} {value}" for choice, value in table.chosen.items())
        for step in _record(table)["steps"]:
            seconds = (_exactly(step["earliest_us"]), _exactly(step["latest_us"]))
            finish = "yes" if step["finish"] else "no"
            writer.writerow((name, chosen, step["step"], finish, *seconds, _sure(table)))
    return "".join(lines)


def _exactly(time_us: int | None) -> str:
    return "" if time_us is None else decimal_text(Fraction(time_us, 1_000_000))
