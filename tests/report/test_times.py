"""When steps are entered, as it is printed."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable, Mapping
from dataclasses import replace

import pytest
from gallery.examples import checked

from planner.checks.timetable import timetable
from planner.model.choices import Choice, RangeChoice, variants
from planner.model.units import UNITS, Amount
from planner.pipeline import times
from planner.reach.search import Bounds
from planner.reach.verdict import Window
from planner.report import Screen
from planner.report.times import (
    Times,
    as_times_csv,
    as_times_json,
    as_times_text,
    rounded_down,
    rounded_up,
)
from planner.report.which_choices import over_ranges, which_choices

PLACE = checked("first_lamp").plan.routine.place


def times_of(name: str) -> Times:
    """The times of a routine of the demo."""
    return Times(f"{name}.routine", tuple(times(checked(name))))


def test_text(golden: Callable[[str, str], None]) -> None:
    """The tables for reading: plans that can be chosen about, with lanes, with a task, with exits
    that a group's come before, that last, that go by remembered numbers; and one whose search was
    given up."""
    names = ("first_lamp", "either_end", "side_by_side", "two_posts", "until_the_clock")
    for name in (*names, "feel_the_way", "rest_of_the_way", "watchful"):
        golden(f"report/times_{name}.txt", as_times_text(times_of(name), Screen()))
    given_up = timetable(checked("two_lamps").plan, {}, Bounds(4))
    text = as_times_text(Times("two_lamps.routine", (given_up,)), Screen())
    golden("report/times_given_up.txt", text)


def test_json(golden: Callable[[str, str], None]) -> None:
    """The same for other programs."""
    text = as_times_json([times_of("watchful")])
    golden("report/times_watchful.json", text)
    assert 1 == json.loads(text)["version"]


def test_csv_says_what_json_says() -> None:
    """A line a step and combination, in the same order, to the microsecond."""
    one = times_of("either_end")
    rows = list(csv.DictReader(io.StringIO(as_times_csv([one]))))
    (routine,) = json.loads(as_times_json([one]))["routines"]
    expected = [
        (
            "; ".join(f"{name} {value}" for name, value in table["choices"].items()),
            step["step"],
            step["latest_us"],
            table["finish_in_time"],
        )
        for table in routine["tables"]
        for step in table["steps"]
    ]
    assert expected == [
        (
            row["choices"],
            row["step"],
            round(float(row["latest s"]) * 1_000_000) if row["latest s"] else None,
            row["finish in time"],
        )
        for row in rows
    ]


@pytest.mark.parametrize(
    ("time_us", "down", "up"),
    [
        (0, "0.00 s", "0.00 s"),
        (1, "0.00 s", "0.01 s"),
        (9_999, "0.00 s", "0.01 s"),
        (10_000, "0.01 s", "0.01 s"),
        (15_999_999, "15.99 s", "16.00 s"),
    ],
)
def test_rounding(time_us: int, down: str, up: str) -> None:
    """The earliest is never told later than it is, nor the latest earlier."""
    assert (down, up) == (rounded_down(time_us), rounded_up(time_us))


def test_equal_tables_are_told_once() -> None:
    """Combinations share a table just if every time in it is the same."""
    (table,) = times_of("first_lamp").tables
    other = replace(table, entries={**table.entries, "Lit": Window(1, 2)})
    assert [(table, table), (other,)] == list(Times("x", (table, other, table)).alike())


SIDE = Choice("side", ("red", "blue"), frozenset(), PLACE)
PARK = Choice("park", ("quay", "stay", "post"), frozenset(), PLACE)
DELAY = RangeChoice("delay", *(Amount(number, UNITS["s"]) for number in (0, 5, 0)), place=PLACE)  # type: ignore[arg-type, misc]
CHOICES = {"side": SIDE, "park": PARK, "delay": DELAY}


def wanted(**values: str) -> list[Mapping[str, str | Amount]]:
    """The variants with certain words."""
    return [
        one
        for one in variants(CHOICES)
        if all(str(one[name]) in words.split(",") for name, words in values.items())
    ]


@pytest.mark.parametrize(
    ("these", "told"),
    [
        (wanted(park="quay"), "park is quay"),
        (wanted(park="quay,stay", side="blue"), "side is blue and park is quay or stay"),
        (
            [*wanted(park="quay", side="red"), *wanted(park="post", side="blue")],
            "side is red and park is quay, or side is blue and park is post",
        ),
    ],
)
def test_which_choices(these: list[Mapping[str, str | Amount]], told: str) -> None:
    """What makes no difference is left out; what has no simple name is told one by one."""
    assert told == which_choices(these, CHOICES)


def test_over_ranges() -> None:
    """That an answer is for a whole range is said, and where it is for one end of it, for which."""
    assert "for any delay from 0 s to 5 s" == over_ranges(wanted(park="quay"), CHOICES)
    assert "for delay 5 s" == over_ranges(wanted(delay="5 s"), CHOICES)
    assert "" == over_ranges([{}], {"side": SIDE})
