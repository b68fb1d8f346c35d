"""The analysis of failures as it is printed."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Callable

from gallery.examples import checked

from planner.pipeline import failures
from planner.reach.effects import worst_first
from planner.report import Screen
from planner.report.faults import Analysis, as_fault_csv, as_fault_json, as_fault_text


def analysis(name: str) -> Analysis:
    """Every failure of a routine of the demo."""
    return Analysis(f"{name}.routine", worst_first(f.effect() for f in failures(checked(name))))


def test_text(golden: Callable[[str, str], None]) -> None:
    """The table for reading, one routine that can be chosen about among them."""
    for name in ("first_lamp", "either_end"):
        golden(f"report/faults_{name}.txt", as_fault_text(analysis(name), Screen()))


def test_json(golden: Callable[[str, str], None]) -> None:
    """The same for other programs."""
    text = as_fault_json([analysis("first_lamp")])
    golden("report/faults_first_lamp.json", text)
    assert 1 == json.loads(text)["version"]


def test_csv_says_what_json_says() -> None:
    """A line a failure, in the same order, with the same words."""
    one = analysis("first_lamp")
    rows = list(csv.DictReader(io.StringIO(as_fault_csv([one]))))
    (routine,) = json.loads(as_fault_json([one]))["routines"]
    expected = [
        (failure["items"][0], failure["failure_modes"][0], failure["finish_in_time"])
        for failure in routine["failures"]
    ]
    assert expected == [(r["item"], r["failure mode"], r["finish in time"]) for r in rows]
