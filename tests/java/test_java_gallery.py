"""The gallery as one project of a team, which is exported again and again."""

from __future__ import annotations

import shutil
from collections import defaultdict
from pathlib import Path

import pytest
from command import planner
from exporting import MINE, change, edit_claw, tree
from java.java_tools import HERE, ROUTINES, compile_java

from planner.shell.robots import one_routine


@pytest.fixture
def plans(tmp_path: Path) -> Path:
    """A copy of all routines that are clean, to be changed."""
    ignored = shutil.ignore_patterns("broken")
    return Path(shutil.copytree(ROUTINES, tmp_path / "plans", ignore=ignored))


def _by_robot(plans: Path) -> dict[str, list[Path]]:
    """The routines by their robot: each robot has a package of its own."""
    found = defaultdict(list)
    for path in sorted(plans.rglob("*.routine")):
        found[one_routine(path).plan.routine.robot.name].append(path)
    return dict(found)


def _export(by_robot: dict[str, list[Path]], into: Path, *options: str) -> str:
    said = ""
    for robot, paths in by_robot.items():
        words = ("--into", into, "--package", f"club.{robot}", *options)
        ran = planner("export", *paths, *words)
        assert (0, "") == (ran.status, ran.err)
        said += ran.out
    return said


def test_the_gallery_as_a_project(plans: Path, tmp_path: Path) -> None:
    """All routines in one project: exported twice nothing changes; a mechanism that a person has
    edited keeps the edit when the plan changes; and what is then there compiles."""
    by_robot = _by_robot(plans)
    assert {"moth", "beetle"} == set(by_robot)
    assert len(by_robot["moth"]) > 8
    into = tmp_path / "project"
    _export(by_robot, into)
    before = tree(into)
    again = _export(by_robot, into)
    assert (before, 0, 0) == (tree(into), again.count("updated "), again.count("new "))
    # One by one and in another order they are the same project.
    for robot, paths in by_robot.items():
        for path in reversed(paths):
            _export({robot: [path]}, tmp_path / "one by one")
    assert before == tree(tmp_path / "one by one")

    mine = edit_claw(into / "club" / "moth")
    edited = mine.read_bytes()
    change(plans / "first_lamp.routine", ("after 4 s", "after 4.5 s"))
    change(plans / "moth.bot", ("signal_lamp", "mast_lamp"))
    _export(by_robot, into)
    assert (edited, True) == (mine.read_bytes(), MINE in mine.read_text(encoding="utf-8"))
    plan = (into / "club" / "moth" / "plans" / "FirstLampPlan.java").read_text(encoding="utf-8")
    assert "after 4.5 s" in plan
    _export(by_robot, into, "--check")
    compiled = compile_java([HERE / "stubs", into], tmp_path / "classes")
    assert (0, "") == (compiled.status, compiled.messages)
