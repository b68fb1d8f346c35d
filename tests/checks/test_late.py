"""Five plans whose faults only the clock shows: each way through them, taken once, is short enough.

`late/` has the plans. What each does in time is worked out by hand from its limits.
"""

from __future__ import annotations

import re

import networkx as nx
import pytest
from checks.late_plans import LATE, PLANS, Plan, text
from demo import check, check_text, names_of

from planner.findings import Finding

LIMIT_US = 30_000_000
PASS_US = 40_000
"""The Moth's longest pass."""
LONGER_LANE_US = 15_000_000
"""The limits of `Near` and `Nudge`, where nobody waits."""


each = pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.name)


def finding(plan: Plan) -> Finding:
    """The one thing that is found in it."""
    (found,) = check_text(text(plan))
    return found


def test_no_plan_is_left_out() -> None:
    """Every plan of the folder is told of here."""
    assert {path.stem for path in LATE.iterdir()} == {plan.name for plan in PLANS}


@each
def test_what_is_late_is_all_that_is_found(plan: Plan) -> None:
    """A plan that only the clock shows to be broken earns that finding and no other."""
    first = text(plan).splitlines()[0]
    assert ("# earns: late-finish", "late-finish") == (first, finding(plan).check)


@each
def test_the_run_can_be_followed(plan: Plan) -> None:
    """The run goes step by step up to the limit, each step ending no sooner than the one before."""
    shown = finding(plan).run
    assert shown
    run = shown.moments
    assert plan.steps == tuple(moment.step for moment in run)
    last = run[-1]
    assert (LIMIT_US, "cut off by the limit of 30 s") == (last.earliest_us, last.why)
    assert LIMIT_US <= last.latest_us < LIMIT_US + PASS_US
    for ends in ([m.earliest_us for m in run], [m.latest_us for m in run]):
        assert sorted(ends) == ends


@each
def test_one_change_mends_it(plan: Plan) -> None:
    """With one line written otherwise nothing is found, not even a note."""
    assert text(plan).count(plan.broken) == 1
    assert () == check_text(text(plan).replace(plan.broken, plan.mended))


@each
def test_each_way_alone_is_short(plan: Plan) -> None:
    """No way through the plan that enters each step once adds up to the limit, nor does the longer
    of two lanes with what follows it; so no sum of limits shows the fault."""
    unfolded = check(text(plan)).plan
    lasts_us = {
        name: min((after.limit_us for after in step.afters), default=0)
        for name, step in unfolded.routine.steps.items()
    }
    lasts_us |= {"Carry": LONGER_LANE_US} if unfolded.begins else {}
    ways = nx.all_simple_paths(unfolded.steps, unfolded.routine.start, "Parked")
    assert max(sum(lasts_us[step] for step in way) for way in ways) < LIMIT_US


@each
def test_a_lower_count_is_enough(plan: Plan) -> None:
    """Where fewer rounds are said to be enough, they are."""
    for count, number in re.findall(r"`(at most \d+ times?)` in line (\d+)", finding(plan).way_out):
        lines = text(plan).splitlines()
        lines[int(number) - 1] = re.sub(r"at most \d+ times?", count, lines[int(number) - 1])
        assert "late-finish" not in names_of(check("\n".join(lines) + "\n").findings)


@each
def test_the_way_out_is_one(plan: Plan) -> None:
    """The line to paste brings every run home, put where the finding says."""
    lines, found = text(plan).splitlines(), finding(plan)
    instead = [at for at, line in enumerate(lines) if f"line {at + 1}," in found.way_out]
    at, end = (instead[0], instead[0] + 1) if instead else (5, 5)
    pasted = [*lines[:at], *found.paste, *lines[end:]]
    assert "late-finish" not in names_of(check("\n".join(pasted) + "\n").findings)


@each
def test_what_it_says_of_its_own(plan: Plan) -> None:
    """Beside the run stands what takes the time: a step, a clock that starts anew, a count."""
    found = finding(plan)
    assert any(plan.says in said for said in (found.way_out, *(r.label for r in found.related)))
