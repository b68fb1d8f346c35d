"""The latest finish of plans that go round no loop, against linear programming.

The judge is SciPy's `linprog` with HiGHS: a longest way is a flow of one unit from the start to the
finish at the highest price (T. Cormen et al., "Introduction to Algorithms", chapter 29, from
memory).
"""

from __future__ import annotations

import random

import numpy as np
from plans import SECOND_US, after, plan, when
from scipy.optimize import linprog

from planner.model.routine import AfterExit, WhenExit
from planner.reach.pace import Pace
from planner.reach.search import Holds
from planner.reach.verdict import verdict


def test_latest_finish() -> None:
    """Every step of a plan without loops, the finish among them, is entered at the latest when the
    linear program says."""
    for seed in range(60):
        draw = random.Random(seed)
        names = [f"S{number}" for number in range(draw.randint(2, 14))] + ["End"]
        exits: dict[str, list[WhenExit | AfterExit]] = {}
        prices: dict[tuple[str, str], int] = {}
        for number, name in enumerate(names[:-1]):
            later = names[number + 1 :]
            goals = draw.sample(later, min(len(later), draw.randint(1, 3)))
            limit = draw.randint(1, 9)
            exits[name] = [*(when(goal) for goal in goals), after(limit, draw.choice(later))]
            prices |= {(name, exit_.target): limit for exit_ in exits[name]}
        found = verdict(plan(exits, ["End"], limit_s=1000), pace=Pace(1, 1, SECOND_US))
        assert isinstance(found.in_time, Holds)
        assert longest(names, prices) == found.finishes["End"].latest_us // SECOND_US, seed


def longest(names: list[str], prices: dict[tuple[str, str], int]) -> int:
    """The price of the dearest way from the first name to the last."""
    balance = np.zeros((len(names), len(prices)))
    for column, (source, target) in enumerate(prices):
        balance[names.index(source), column] += 1
        balance[names.index(target), column] -= 1
    flow = np.zeros(len(names))
    flow[0], flow[-1] = 1, -1
    solved = linprog([-price for price in prices.values()], A_eq=balance, b_eq=flow)
    return round(-solved.fun)
