"""`planner faults`: what it says, and how it ends."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from command import moth_folder, planner

MISSES = """routine street
robot moth
limit 30 s
start Approach
step Approach
  drive forward 40 %
  when bumper pressed, go to Lit
  after 40 s, go to Lit
finish Lit
"""


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot and a routine, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans", "first_lamp"))
    return tmp_path / "my plans"


def test_all_is_well(here: Path) -> None:
    """Where a finish is sure with every failure the status is 0, and the last line says so."""
    assert here.is_dir()
    ran = planner("faults", "first_lamp.routine")
    assert (0, "") == (ran.status, ran.err)
    assert "each of them every run still reaches a finish in time." in ran.out.splitlines()[-1]


def test_some_run_misses(here: Path) -> None:
    """Where some run misses every finish the status is 1, and that failure comes first."""
    (here / "street.routine").write_text(MISSES, encoding="utf-8")
    ran = planner("faults", "street.routine", "--format", "json")
    failures = json.loads(ran.out)["routines"][0]["failures"]
    assert (1, "not every run") == (ran.status, failures[0]["finish_in_time"])


def test_a_plan_with_errors(here: Path) -> None:
    """A plan with errors is not broken further; its errors are shown, and the status is 1."""
    (here / "street.routine").write_text(MISSES.replace("Lit\n", "Lot\n", 1), encoding="utf-8")
    ran = planner("faults", "street.routine")
    assert (1, True) == (ran.status, "`Lot`" in ran.out)
    assert "Nothing was broken: street.routine has errors." in ran.out


def test_no_such_file(here: Path) -> None:
    """A file that is not there is one line and status 2."""
    assert here.is_dir()
    ran = planner("faults", "nowhere.routine")
    assert (2, "", 1) == (ran.status, ran.out, len(ran.err.splitlines()))
