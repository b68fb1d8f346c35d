"""The analysis of failures as it is printed."""

from __future__ import annotations

import csv
import io
import json
import re
from collections.abc import Callable

from demo import ROOT, check
from gallery.examples import checked

from planner.pipeline import Checked, failures
from planner.reach.effects import worst_first, worst_unbroken
from planner.report import Screen
from planner.report.fault_record import as_fault_csv, as_fault_json
from planner.report.faults import Analysis, as_fault_text

KEPT = """\
start A
step A
  keep roller take
  when tin_gate broken, go to Lit
  after 4 s, go to Lit
finish Lit
"""

RULED = """\
start A
step A
  arm lower 30 %
  whenever arm_floor pressed, arm stop
  after 4 s, go to B
step B
  drive forward 30 %
  when bumper pressed, go to Still
  after 4 s, go to Still
finish Still
"""

NOTHING_ASKED = """\
start A
step A
  drive forward 30 %
  after 1 s, go to Lit
finish Lit
"""


def analysis(name: str) -> Analysis:
    """Every failure of a routine of the demo."""
    return analysed(f"{name}.routine", checked(name))


def analysed(name: str, plan: Checked) -> Analysis:
    """Every failure of a plan."""
    every = failures(plan)
    return Analysis(name, worst_first(one.effect() for one in every), worst_unbroken(every))


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
    """A line a failure after one with nothing broken, in the same order, with the same words."""
    one = analysis("first_lamp")
    first, *rows = csv.DictReader(io.StringIO(as_fault_csv([one])))
    (routine,) = json.loads(as_fault_json([one]))["routines"]
    expected = [
        (failure["items"][0], failure["failure_modes"][0], failure["finish_in_time"])
        for failure in routine["failures"]
    ]
    assert expected == [(r["item"], r["failure mode"], r["finish in time"]) for r in rows]
    assert ("", "nothing broken") == (first["item"], first["failure mode"])
    names = "; ".join(finish["step"] for finish in routine["nothing_broken"]["finishes"])
    assert names == first["finishes"]


def test_nothing_broken_comes_first_in_the_table() -> None:
    """The first row says what becomes of runs with nothing broken, which nothing detects."""
    text = as_fault_text(analysis("first_lamp"), Screen())
    expected = "nothing broken        Lit or GiveUp, by 22.5 s at the latest"
    assert expected == text.splitlines()[4]


def test_times_are_the_same_everywhere() -> None:
    """The latest finish in a spreadsheet is the one of the table, up to a tenth of a second."""
    one = analysis("first_lamp")
    rows = list(csv.DictReader(io.StringIO(as_fault_csv([one]))))
    told = re.findall(r"by ([0-9.]+) s at the", as_fault_text(one, Screen()))
    assert told == [row["latest finish s"] for row in rows]


def test_what_still_runs_is_in_every_layout() -> None:
    """The table, the spreadsheet and the record all say what still runs at which finish."""
    one = analysed("kept.routine", check(KEPT))
    assert "roller still runs when Lit is reached" in as_fault_text(one, Screen())
    first = next(csv.DictReader(io.StringIO(as_fault_csv([one]))))
    assert "roller still runs when Lit is reached" == first["still running"]
    (routine,) = json.loads(as_fault_json([one]))["routines"]
    (finish,) = routine["nothing_broken"]["finishes"]
    assert (["roller"], []) == (finish["still_running"], finish["perhaps_running"])


def test_the_rows_of_the_readme() -> None:
    """The row that the README shows is printed for such a plan."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    (row,) = re.findall(r"^```\n(arm_floor stuck at .*?)^```$", readme, re.DOTALL | re.MULTILINE)
    assert row in as_fault_text(analysed("ruled.routine", check(RULED)), Screen())


def test_nothing_that_can_break() -> None:
    """A plan that asks nothing says so, and its record has nothing to compare."""
    one = analysed("clock.routine", check(NOTHING_ASKED))
    assert "The plan asks nothing that can break." == as_fault_text(one, Screen()).splitlines()[-1]
    (routine,) = json.loads(as_fault_json([one]))["routines"]
    assert (None, []) == (routine["nothing_broken"], routine["failures"])
