"""The latest finish of a plan, against z3 asked the same question; run on demand."""

from __future__ import annotations

from functools import partial

import z3
from plans import SECOND_US, after, plan, when
from turns import least

from planner.graph import Plan
from planner.model.routine import AfterExit, WhenExit
from planner.reach.pace import Pace
from planner.reach.search import Holds
from planner.reach.verdict import verdict

LEAST_OF_Z3 = 10
Z3_STOPS_S = 0.2
"""Once z3 takes longer than this for a size, the sizes after it are not asked."""


def limit_s(step: int) -> int:
    """The limit of a step of `skipping_plan`."""
    return 1 + step * 7 % 9


def targets(steps: int, step: int) -> tuple[str, str]:
    """Where a step leads, by its sensor and by its limit, which skips a step."""
    onward, skipped = (f"S{step + n}" if step + n < steps else "End" for n in (1, 2))
    return onward, skipped


def skipping_plan(steps: int) -> Plan:
    """A plan without loops; each step has a sensor exit, and a limit that skips a step."""
    exits: dict[str, list[WhenExit | AfterExit]] = {}
    for step in range(steps):
        onward, skipped = targets(steps, step)
        exits[f"S{step}"] = [when(onward), after(limit_s(step), skipped)]
    return plan(exits, ["End"], limit_s=1000)


def ours(drawn: Plan) -> int:
    """The latest finish in seconds, by the search."""
    found = verdict(drawn, pace=Pace(1, 1, SECOND_US))
    assert isinstance(found.in_time, Holds)
    return found.finishes["End"].latest_us // SECOND_US


def by_z3(steps: int) -> int:
    """The latest finish in seconds, by z3: a step that is passed is left by one of its exits, at
    any time up to its limit by the sensor and at the limit by the limit."""
    asked = z3.Optimize()
    names = [*(f"S{step}" for step in range(steps)), "End"]
    at = {name: z3.Real(f"at_{name}") for name in names}
    passed = {name: z3.Bool(f"passed_{name}") for name in names}
    asked.add(passed["S0"], at["S0"] == 0)
    for step in range(steps):
        here, (onward, skipped) = f"S{step}", targets(steps, step)
        sensed, limit = z3.Bool(f"sensed_{here}"), limit_s(step)
        stays = z3.Real(f"stays_{here}")
        asked.add(stays >= 0, stays <= limit)
        asked.add(z3.Implies(passed[here], z3.Or(sensed, stays == limit)))
        for by, target in ((sensed, onward), (z3.Not(sensed), skipped)):
            leads = z3.And(passed[target], at[target] == at[here] + stays)
            asked.add(z3.Implies(z3.And(passed[here], by), leads))
    latest = asked.maximize(at["End"])
    assert z3.sat == asked.check()
    return int(str(asked.upper(latest)))


def test_latest_finish_against_z3() -> None:
    """The search finds the latest finish z3 finds, at 12 steps at least 10 times as fast."""
    print(f"\n{'steps':>5} {'planner':>10} {'z3':>10} {'ratio':>7}")
    ratios: dict[int, float] = {}
    z3_s = 0.0
    for steps in (2, 4, 8, 12, 16, 20, 30, 40, 50, 60):
        drawn = skipping_plan(steps)
        works = [partial(ours, drawn), partial(by_z3, steps)]
        if z3_s > Z3_STOPS_S:
            (ours_s,) = least(works[:1], 3)
            print(f"{steps:5} {ours_s * 1000:7.1f} ms {'not asked':>10}")
            continue
        assert by_z3(steps) == ours(drawn), steps
        ours_s, z3_s = least(works, 3)
        ratios[steps] = z3_s / ours_s
        print(f"{steps:5} {ours_s * 1000:7.1f} ms {z3_s * 1000:7.1f} ms {ratios[steps]:7.1f}")
    assert ratios[12] >= LEAST_OF_Z3
