"""Where the order of two exits decides where a run goes, as text and as records."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Any

from planner.graph import Plan
from planner.model.routine import WhenExit, end_of_lane, step_in_words
from planner.model.units import seconds_text
from planner.rehearsal.conditions import Readings
from planner.rehearsal.conflicts import Conflict
from planner.rehearsal.facts import fact
from planner.report.columns import Cell, Column, in_columns
from planner.report.screen import Role, Screen

_COLUMNS = (Column(9, right=True), Column())
_NOWHERE = (
    "nowhere: two exits that wait for something and lead to different places are never true in one "
    "pass"
)


def as_order_text(plan: Plan, conflicts: Sequence[Conflict], screen: Screen) -> str:
    """Each pair of exits: the one that is taken, the other, and readings that make both true."""
    head = f"{screen.style(Role.LABEL, 'Where the order decides')}\n"
    rows = _rows(plan, conflicts) if conflicts else [("", _NOWHERE)]
    return f"{head}{in_columns(_COLUMNS, rows, screen)}"


def _rows(plan: Plan, conflicts: Sequence[Conflict]) -> Iterator[tuple[Cell, Cell]]:
    before = ""
    for one in conflicts:
        if one.owner != before:
            yield "in", (Role.FILE, one.owner)
            before = one.owner
        group = f" (of {one.around})" if one.around else ""
        yield (Role.LABEL, "takes"), line_of(one.first) + group
        yield (Role.LABEL, "over"), line_of(one.then)
        yield (Role.LABEL, "if"), "\n".join(readings_told(plan, one))


def line_of(when: WhenExit) -> str:
    """An exit as it is written."""
    return " ".join(when.place.words.split())


def readings_told(plan: Plan, conflict: Conflict) -> tuple[str, ...]:
    """What must be said for both to be true, one stretch of time after the other."""
    shown = conflict.shown
    if shown is None:
        return ("not settled: no readings were found that make both true, nor that none do",)
    sensed = {name: value for name, value in shown.said.items() if name != "match"}
    said = ", ".join(_facts(plan, conflict.owner, sensed))
    if shown.lasts_us and said:
        said = f"{said} for {seconds_text(shown.lasts_us)}"
    clock = shown.said.get("match")
    at = [f"match at {seconds_text(int(clock))}"] if isinstance(clock, Fraction) else []
    last = ", ".join([*([said] if said else []), *at])
    if not shown.waited_us:
        return (last,)
    before = ", ".join(_facts(plan, conflict.owner, shown.before))
    return (f"{before or 'nothing yet'} for {seconds_text(shown.waited_us)}, then", last)


def order_records(plan: Plan, conflicts: Sequence[Conflict]) -> list[dict[str, Any]]:
    """The same for other programs."""
    return [
        {
            "in": one.owner,
            "taken": _exit_record(one.first),
            "left_aside": _exit_record(one.then),
            "readings": list(readings_told(plan, one)) if one.shown else None,
        }
        for one in conflicts
    ]


def _exit_record(when: WhenExit) -> dict[str, Any]:
    return {"line": when.place.line, "exit": line_of(when), "to": step_in_words(when.target)}


def _facts(plan: Plan, owner: str, said: Readings) -> Iterator[str]:
    for name, value in said.items():
        kind, _, of = name.partition(" ")
        if kind == "lane":
            # Where the step itself stands need not be said.
            if value and value != owner:
                yield _lane(plan, of, str(value))
        elif kind in ("memory", "counter"):
            yield f"{name} is {value}"
        elif not isinstance(value, str) or value:
            yield fact(plan, name, value)


def _lane(plan: Plan, lane: str, step: str) -> str:
    name = plan.routine.groups[lane].lane
    return f"lane {name} done" if step == end_of_lane(lane) else f"lane {name} in {step}"
