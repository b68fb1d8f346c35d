"""`planner times`: what it says, and how it ends."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from command import moth_folder, planner
from demo import ROUTINES

from planner import pipeline
from planner.checks import timetable
from planner.checks.timetable import Timetable
from planner.pipeline import Checked, times
from planner.reach.search import Bounds

LATE = """routine street
robot moth
limit 30 s
start Approach
step Approach
  drive forward 40 %
  when bumper pressed, go to Lit
  after 40 s, go to Lit
finish Lit
"""
README = ROUTINES.parent / "README.md"


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot and two routines, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans", "first_lamp", "two_lamps"))
    return tmp_path / "my plans"


def test_all_is_well(here: Path) -> None:
    """Where every run finishes in time the status is 0, and a line says between when."""
    assert here.is_dir()
    ran = planner("times", "first_lamp.routine")
    assert (0, "") == (ran.status, ran.err)
    assert "Every run finishes between 0.63 s and 22.46 s of 30 s." in ran.out.splitlines()


def test_the_readme_shows_it(monkeypatch: pytest.MonkeyPatch) -> None:
    """The README shows what the command says of a routine of the gallery."""
    monkeypatch.chdir(README.parent)
    out = planner("times", Path("routines", "gallery", "first_tin.routine")).out
    shown = out.replace("\\", "/")
    assert f"\n```\n{shown}```\n" in README.read_text(encoding="utf-8")


def test_narrow(here: Path) -> None:
    """Not on a terminal no line is wider than 80 columns, whatever the plan of the demo."""
    assert here.is_dir()
    for path in [*ROUTINES.glob("*.routine"), *ROUTINES.glob("gallery/*.routine")]:
        out = planner("times", path).out.splitlines()
        assert [] == [line for line in out[1:] if len(line) > 80]


def test_some_run_is_late(here: Path) -> None:
    """Where some run is late the status is 1, and the last line sends to what shows it."""
    (here / "street.routine").write_text(LATE, encoding="utf-8")
    ran = planner("times", "street.routine")
    assert (1, "") == (ran.status, ran.err)
    assert "Some run is in no finish when the limit of 30 s comes; `planner check`" in ran.out


def test_a_limit_that_never_fires(here: Path) -> None:
    """A line that no run takes is told, with its number; one that some run takes is not."""
    plan = """routine street
robot moth
limit 30 s
start A
group G
  after 10 s, go to Home
  step A
    drive forward 30 %
    when bumper pressed, go to B
    after 3 s, go to B
  step B
    arm to 1200 ticks
    when arm done, go to Lit
    after 2 s, go to Home
finish Lit
finish Home
"""
    (here / "street.routine").write_text(plan, encoding="utf-8")
    lines = planner("times", "street.routine").out.splitlines()
    at = lines.index("Taken by no run: something else always comes first")
    assert ["   line 6  after 10 s, go to Home", ""] == lines[at + 1 : at + 3]
    told = json.loads(planner("times", "street.routine", "--format", "json").out)
    (table,) = told["routines"][0]["tables"]
    assert [(6, "after 10 s, go to Home")] == [
        (one["line"], one["words"]) for one in table["never_taken"]
    ]
    # With a shorter limit some run takes it.
    (here / "street.routine").write_text(plan.replace("10 s", "4 s"), encoding="utf-8")
    assert "Taken by no run" not in planner("times", "street.routine").out


def test_a_search_that_is_given_up(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the search was given up the status is 3, the bound is named, and no step is `never`
    entered."""
    assert here.is_dir()
    monkeypatch.setattr(timetable, "bounds_for", lambda _plan: Bounds(4))
    ran = planner("times", "two_lamps.routine")
    assert (3, "") == (ran.status, ran.err)
    assert "4 states" in " ".join(ran.out.split())
    assert ("not yet" in ran.out, "never" in ran.out) == (True, False)


def test_ctrl_c(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C ends with the tables there are, the status is 3, and a line says what is missing."""
    assert here.is_dir()
    either_end = ROUTINES / "gallery" / "either_end.routine"

    def interrupted(checked: Checked) -> Iterator[Timetable]:
        yield next(times(checked))
        raise KeyboardInterrupt

    monkeypatch.setattr(pipeline, "times", interrupted)
    ran = planner("times", either_end, "first_lamp.routine", "--format", "json")
    assert (3, f"planner: stopped after 1 of 16 combinations of {either_end}\n") == (
        ran.status,
        ran.err,
    )
    assert [1] == [len(one["tables"]) for one in json.loads(ran.out)["routines"]]


def test_a_plan_with_errors(here: Path) -> None:
    """A plan with errors has no times; its errors are shown, the status is 1, and of the other
    routine all is told. For other programs the errors go elsewhere."""
    (here / "street.routine").write_text(LATE.replace("Lit\n", "Lot\n", 1), encoding="utf-8")
    ran = planner("times", "street.routine", "first_lamp.routine")
    assert (1, True) == (ran.status, "`Lot`" in ran.out)
    assert "No times of street.routine: it has errors." in ran.out
    assert "Every run finishes" in ran.out
    ran = planner("times", "street.routine", "first_lamp.routine", "--format", "json")
    assert (1, True) == (ran.status, "`Lot`" in ran.err)
    assert ["first_lamp.routine"] == [one["path"] for one in json.loads(ran.out)["routines"]]


def test_csv_of_several(here: Path) -> None:
    """The CSV has a line for each step of each routine, in the order named."""
    assert here.is_dir()
    ran = planner("times", "two_lamps.routine", "first_lamp.routine", "--format", "csv")
    rows = list(csv.DictReader(io.StringIO(ran.out)))
    assert (0, "") == (ran.status, ran.err)
    assert ["two_lamps.routine", "first_lamp.routine"] == list(
        dict.fromkeys(row["routine"] for row in rows)
    )


def test_no_such_file(here: Path) -> None:
    """A file that is not there is one line and status 2, and nothing is told of the others."""
    assert here.is_dir()
    ran = planner("times", "first_lamp.routine", "nowhere.routine")
    assert (2, "", 1) == (ran.status, ran.out, len(ran.err.splitlines()))
