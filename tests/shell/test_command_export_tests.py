"""`planner export --tests`: the scenarios of routines in the folder of the project's tests."""

from __future__ import annotations

from pathlib import Path

import pytest
from command import Ran, moth_folder
from exporting import PACKAGE, exported, fates_of, tree

FOLDER = "club/moth/auto"
MINE = """routine first_lamp
scenario of_mine
  in Approach, after 1 s, bumper pressed
  must visit Approach, Raise
"""


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot and its smallest routine, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans", "first_lamp"))
    return tmp_path / "my plans"


def _exported(*options: str) -> Ran:
    return exported(PACKAGE, "main", "--tests", "test", *options)


def test_every_scenario_is_a_test(here: Path) -> None:
    """The tests land in the package below their own folder, with a manifest of their own."""
    ran = _exported()
    assert (0, "") == (ran.status, ran.err)
    names = ["planner.json", "plans/FirstLampPlanTest.java", "plans/PlayedPass.java"]
    names += ["plans/Rehearsal.java", "plans/Requirement.java"]
    assert [f"{FOLDER}/{name}" for name in names] == sorted(tree(here / "test"))
    text = (here / "test" / FOLDER / "plans" / "FirstLampPlanTest.java").read_text(encoding="utf-8")
    routine = (here / "first_lamp.routine").read_text(encoding="utf-8")
    assert routine.count("\nscenario ") == text.count("    @Test\n")


def test_without_the_option_there_are_none(here: Path) -> None:
    """Nobody gets tests that were not asked for: JUnit may not be in the project."""
    exported(PACKAGE, "main")
    assert [] == [name for name in tree(here / "main") if "Test" in name or "Rehearsal" in name]


def test_nothing_changes_the_second_time(here: Path) -> None:
    """The same scenarios give the same tests."""
    _exported()
    before = tree(here)
    assert {"unchanged"} == {fate for _, fate in fates_of(_exported())}
    assert before == tree(here)
    assert 0 == _exported("--check").status


def test_a_changed_scenario_is_a_difference(here: Path) -> None:
    """With --check a test that is behind its scenario ends with status 1 and is named."""
    _exported()
    routine = here / "first_lamp.routine"
    text = routine.read_text(encoding="utf-8").replace("after 1.2 s, bumper", "after 1.3 s, bumper")
    routine.write_text(text, encoding="utf-8")
    ran = _exported("--check")
    assert (1, True) == (ran.status, "FirstLampPlanTest.java" in ran.out)


def test_a_file_of_scenarios_beside_the_routine(here: Path) -> None:
    """The scenarios of a file of their own are tests with the routine's."""
    (here / "first_lamp.scenario").write_text(MINE, encoding="utf-8")
    _exported()
    text = (here / "test" / FOLDER / "plans" / "FirstLampPlanTest.java").read_text(encoding="utf-8")
    assert "public void ofMine()" in text
    assert "public void goodRun()" in text


def test_wrong_scenarios_stop_the_export(here: Path) -> None:
    """What makes no sense in a file of scenarios is told, and nothing is written."""
    text = MINE.replace("Approach, Raise", "Approach, Rise")
    (here / "first_lamp.scenario").write_text(text, encoding="utf-8")
    ran = _exported()
    assert (1, True) == (ran.status, "`Rise`" in ran.out)
    assert not (here / "main").exists()
    assert not (here / "test").exists()


def test_plans_and_tests_do_not_share_a_folder(here: Path) -> None:
    """Tests in the folder of the plans would not compile there; it is refused before any write."""
    ran = exported(PACKAGE, "main", "--tests", "main")
    assert (2, True) == (ran.status, "a folder of their own" in ran.err)
    assert not (here / "main").exists()
