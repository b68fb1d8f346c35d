"""A routine's scenarios as unit tests of its plan: what a team runs in its own project."""

from __future__ import annotations

from typing import get_args

import pytest
from java.java_tools import lanes_played
from java.playing import Bench
from java.turned import RED
from java.watched import PACKAGE, watched_plans

from planner.java import export_tests
from planner.java.plan_names import plan_type
from planner.model.requirement import Requirement
from planner.pipeline import Checked
from planner.rehearsal.scenarios import play


def _of(bench: Bench, package: str) -> list[str]:
    return [line for line in bench.unit_tests if line.startswith(f"{package}.")]


def test_every_scenario_passes(bench: Bench, demo: dict[str, Checked]) -> None:
    """Every scenario of the demo routines and the gallery is a test, and passes on the plan."""
    count = sum(len(checked.plan.routine.scenarios) for checked in demo.values())
    went = [line for package in ("moth", "beetle") for line in _of(bench, package)]

    assert count > 30
    assert count == len(went)
    assert [] == [line for line in went if not line.endswith(" passed")]


def test_scenarios_of_lanes_go_as_they_are_rehearsed(bench: Bench) -> None:
    """What the scenarios say of the steps of lanes, and what readings count from, is the same in
    the rehearsal and in the unit tests, to the pass: each says when it is over at the latest."""
    plan = lanes_played()
    rehearsed = {scenario.name: play(plan, scenario) for scenario in plan.routine.scenarios}
    went = _of(bench, "lanes")

    assert [] == [name for name, played in rehearsed.items() if played.differences]
    assert len(rehearsed) == len(went) == 6
    assert [] == [line for line in went if not line.endswith(" passed")]


@pytest.mark.parametrize("number", range(len(RED)), ids=lambda number: RED[number].rule)
def test_a_changed_plan_fails(number: int, bench: Bench) -> None:
    """The tests of a plan that no longer does what it says turn red, and say what was seen."""
    went = _of(bench, f"red{number}")
    failed = [line for line in went if " failed: " in line]

    assert [] != failed
    assert [] == [line for line in failed if line.endswith("null")]


def test_requirements_are_judged_as_they_are_rehearsed(bench: Bench) -> None:
    """In random scenarios a test finds a requirement broken exactly where the rehearsal does, and
    each kind of requirement is kept now and broken then."""
    rehearsed = {}
    for plan in watched_plans():
        kind = type(plan.routine.requirements[0])
        for scenario in plan.routine.scenarios:
            key = f"{PACKAGE}.plans.{plan_type(plan.routine)}Test {scenario.name}"
            rehearsed[key] = (kind, play(plan, scenario).passed)
    went = [line.split(" ", 3) for line in _of(bench, PACKAGE)]

    assert {key: passed for key, (_, passed) in rehearsed.items()} == {
        f"{name} {scenario}": said == "passed" for name, scenario, said, *_ in went
    }
    assert {(kind, passed) for kind in get_args(Requirement) for passed in (True, False)} == set(
        rehearsed.values()
    )


def test_without_scenarios_there_is_no_test(demo: dict[str, Checked]) -> None:
    """A routine without scenarios gives no test class that could not fail."""
    assert {} == export_tests(demo["moth.first_lamp.routine"].plan, (), "team")
