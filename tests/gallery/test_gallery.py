"""The demo routines and the gallery are what a team would want to copy, and stay so."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from command import planner
from demo import ROUTINES
from gallery.examples import (
    GALLERY,
    NAMES,
    PATHS,
    ROBOT_PATHS,
    TASK_PATHS,
    checked,
    find_robot,
    played,
    robots,
    scenarios,
    source,
    text,
)
from gallery.shows import NEEDS, Need
from gallery.turned import turned_round

from planner.graph.run import Entered
from planner.model.scenario import Demand, MustFinish, MustVisit, Scenario
from planner.pipeline import check_robot, format_robot, format_routine, format_tasks

EVERY = [pytest.param(*pair, id=f"{pair[0]}-{pair[1].name}") for pair in scenarios()]
DEMANDS = [
    pytest.param(name, one, demand, id=f"{name}-{one.name}-{number}")
    for name, one in scenarios()
    for number, demand in enumerate(one.demands, 1)
]


@pytest.mark.parametrize("name", NAMES)
def test_clean(name: str) -> None:
    """Nothing is found in a routine that is shown as an example, not even a note."""
    assert () == checked(name).findings


@pytest.mark.parametrize("path", ROBOT_PATHS, ids=lambda path: path.stem)
def test_robot_clean(path: Path) -> None:
    """Nothing is found in the robot files either, and their routines use all that is in them."""
    routines = tuple(checked(name).plan.routine for name in NAMES)
    assert () == check_robot(robots()[path.stem], routines)


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_laid_out(path: Path) -> None:
    """A routine is laid out as `planner format` would."""
    formatted = format_routine(source(path), find_robot)
    assert (source(path).text, True) == (formatted.text, formatted.unchanged)


@pytest.mark.parametrize("path", ROBOT_PATHS, ids=lambda path: path.stem)
def test_robot_laid_out(path: Path) -> None:
    """So is a robot file."""
    formatted = format_robot(source(path))
    assert (source(path).text, True) == (formatted.text, formatted.unchanged)


@pytest.mark.parametrize("path", TASK_PATHS, ids=lambda path: path.stem)
def test_tasks_laid_out(path: Path) -> None:
    """So is a file of tasks."""
    formatted = format_tasks(source(path), find_robot)
    assert (source(path).text, True) == (formatted.text, formatted.unchanged)


def test_tasks_are_shared() -> None:
    """A file of tasks is there because two routines share it, and does not stand alone."""
    for path in TASK_PATHS:
        users = [name for name in NAMES if f"\ntasks from {path.stem}\n" in text(name)]
        assert len(users) >= 2


@pytest.mark.parametrize(("name", "scenario"), EVERY)
def test_passes(name: str, scenario: Scenario) -> None:
    """Every run meets what its scenario demands."""
    assert () == played(name, scenario).differences


def test_command_line() -> None:
    """`planner check` and `planner rehearse` say of the whole folder what these tests say."""
    summary = f"Rehearsed {len(EVERY)} scenarios of {len(NAMES)} routines: {len(EVERY)} passed."
    ran = planner("rehearse", ROUTINES)
    assert (0, summary) == (ran.status, ran.out.splitlines()[-1])
    files = f"{len(TASK_PATHS)} file of tasks and {len(ROBOT_PATHS)} robot files"
    summary = f"Checked {len(NAMES)} routines, {files}: clean."
    ran = planner("check", ROUTINES)
    assert (0, summary) == (ran.status, ran.out.splitlines()[-1])


@pytest.mark.parametrize("name", NAMES)
def test_three_scenarios(name: str) -> None:
    """A routine has a good run and at least two others, each with a title and a last step."""
    found = checked(name).plan.routine.scenarios
    assert len(found) >= 3
    for scenario in found:
        assert scenario.title
        assert any(isinstance(demand, MustVisit | MustFinish) for demand in scenario.demands)


@pytest.mark.parametrize("name", NAMES)
def test_every_step(name: str) -> None:
    """The scenarios of a routine together enter each of its steps."""
    entered = {
        event.step
        for scenario in checked(name).plan.routine.scenarios
        for event in played(name, scenario).events
        if isinstance(event, Entered)
    }
    assert set(checked(name).plan.routine.steps) == entered


@pytest.mark.parametrize("name", NAMES)
def test_good_run_needs_its_sensors(name: str) -> None:
    """The first scenario is the good run: where the sensors say nothing, it fails."""
    good = checked(name).plan.routine.scenarios[0]
    silent = replace(good, cues=(), ramps=())
    assert not played(name, silent).passed


@pytest.mark.parametrize(("name", "scenario", "demand"), DEMANDS)
def test_demand_can_fail(name: str, scenario: Scenario, demand: Demand) -> None:
    """A demand turned round is not met by the same run."""
    events = played(name, scenario).events
    turned = list(turned_round(demand, checked(name).plan.routine, events))
    run = played(name, replace(scenario, demands=tuple(turned)))
    assert turned == [difference.demand for difference in run.differences]
    assert turned


@pytest.mark.parametrize("name", [path.stem for path in PATHS if path.parent == GALLERY])
def test_comment(name: str) -> None:
    """A routine of the gallery begins with what it shows, what to read aloud, and its invention."""
    lines = text(name).split("routine ")[0]
    comment = " ".join(line.removeprefix("# ") for line in lines.splitlines())
    assert comment.startswith("Shows ")
    assert "Read aloud: " in comment
    assert "Club, game and robot are invented." in comment


@pytest.mark.parametrize("need", NEEDS, ids=lambda need: need.name)
def test_shown(need: Need) -> None:
    """What the table promises of a routine stands in the routine."""
    assert need.routines
    silent = [n for n in need.routines if not re.search(need.words, text(n), re.MULTILINE)]
    assert [] == silent


def test_all_show_something() -> None:
    """Every routine of the gallery is in the table."""
    shown = {name for need in NEEDS for name in need.routines}
    assert set() == {path.stem for path in PATHS if path.parent == GALLERY} - shown
