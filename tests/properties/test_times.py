"""The times that are told of small plans, against all of their runs, played one by one."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest
from brute_force import all_runs
from hypothesis import settings
from random_plans import SAID, TENTH_US, random_block, random_plan

from planner.checks.timetable import timetable
from planner.graph import Plan, unfold
from planner.model.routine import step_in_words
from planner.report.times import Times, as_times_json

LONG = settings.default is not None and settings.default.max_examples > 1000
SEEDS = 3_000 if LONG else 120


def at_pace(plan: Plan, tenths: int) -> Plan:
    """The plan for a robot whose passes are all of one length."""
    robot = replace(plan.routine.robot, pass_us=(tenths * TENTH_US, tenths * TENTH_US))
    return unfold(replace(plan.routine, robot=robot))


def told(plan: Plan) -> tuple[dict[str, tuple[int, int]], str]:
    """The times of the steps that are entered, and whether every run finishes, as told."""
    text = as_times_json([Times("x.routine", (timetable(plan, {}),))])
    (table,) = json.loads(text)["routines"][0]["tables"]
    return {
        step["step"]: (step["earliest_us"], step["latest_us"])
        for step in table["steps"]
        if step["earliest_us"] is not None
    }, table["finish_in_time"]


@pytest.mark.parametrize("tenths", [1, 2, 3])
def test_times_are_those_of_all_runs(tenths: int) -> None:
    """Each step is told to be entered as early and as late as some run does, and no other step is;
    a plan is told to be late just if some run is. The judge is the reference machine."""
    for seed in range(tenths, SEEDS, 3):
        plan = at_pace(random_plan(seed, most_steps=3 + seed % 6, limit=12, usual=True), tenths)
        judge = all_runs(plan, (tenths * TENTH_US,), SAID)
        expected = "not every run" if judge.cut_off else "every run"
        assert (judge.entries, expected) == told(plan), seed


@pytest.mark.parametrize("tenths", [1, 2, 3])
def test_times_in_lanes(tenths: int) -> None:
    """So it is in lanes, whose ends are told by the lane's name."""
    for seed in range(tenths, SEEDS // 4, 3):
        plan = at_pace(random_block(seed), tenths)
        judge = all_runs(
            plan, (tenths * TENTH_US,), {**SAID, "arm_floor": ("released", "pressed", None)}
        )
        entries = {step_in_words(name): times for name, times in judge.entries.items()}
        assert entries == told(plan)[0], seed
