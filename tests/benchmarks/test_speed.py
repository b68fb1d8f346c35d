"""How long things take, against something else in the same run; run on demand.

`python -m pytest tests/benchmarks -s` prints the ratios. A machine is never quiet, so each number
is the least of several turns, and what is compared takes turns.
"""

from __future__ import annotations

import ast
import json
import math
from collections.abc import Callable

import pytest
from demo import HEADER, moth_robot, resolved
from pytest_benchmark.fixture import BenchmarkFixture
from turns import IMPORTS, PLANNER, least, process

from planner.pipeline import check_routine
from planner.rehearsal import Machine
from planner.text import Source

# It is 2.5: of 0.34 s in all, 0.14 s are the libraries, 0.13 s the modules of our own, nearly all
# of that for making their 300 frozen classes, and 0.07 s is the check. A fifth more is for noise.
MOST_OF_IMPORTS = 3.0
# What n log n grows by from 1,000 to 10,000 steps is 13.3; half as much again is for noise,
# for memory that no longer fits the processor's cache, and for Python's garbage collector.
SLACK = 1.5
MOST_OF_PYTHONS_READING = 40
MOST_OF_JSON = 4


def chain(steps: int) -> str:
    """A routine of so many steps, each with a way on, a way back that is counted, and a limit."""
    lines = ["start S0"]
    for number in range(steps):
        after, back = f"S{number + 1}", f"S{max(0, number - 1)}"
        lines += [
            f"step S{number}",
            "  drive forward 40 %",
            f"  when bumper pressed, go to {after if number + 1 < steps else 'Lit'}",
            f"  when range_front < 8 cm for 0.1 s, go to {back}, at most 2 times, then GiveUp",
            "  after 2.5 s, go to GiveUp",
        ]
    return HEADER + "\n".join([*lines, "finish Lit", "finish GiveUp\n"])


def test_check_against_imports(benchmark: BenchmarkFixture) -> None:
    """`planner check` of 20 steps takes at most 3 times what importing its libraries does."""
    check = process(*PLANNER, "check", "whole_street.routine")
    imports = process("-c", IMPORTS)
    check_s, imports_s = least([check, imports], 15)
    benchmark.pedantic(check, rounds=3)
    ratio = check_s / imports_s
    print(f"\nplanner check / {IMPORTS}: {check_s:.3f} s / {imports_s:.3f} s = {ratio:.2f}")
    assert ratio <= MOST_OF_IMPORTS


def test_growth(benchmark: BenchmarkFixture) -> None:
    """Checking 10,000 steps costs no more than n log n over 1,000 allows."""

    def check(steps: int) -> Callable[[], object]:
        source = Source("x.routine", chain(steps))
        return lambda: check_routine(source, lambda _name: moth_robot())

    (small_s,) = least([check(1_000)], 5)
    (large_s,) = least([check(10_000)], 2)
    benchmark.pedantic(check(1_000), rounds=1)
    growth, allowed = large_s / small_s, 10 * math.log(10_000) / math.log(1_000) * SLACK
    print(f"\n10,000 / 1,000 steps: {large_s:.2f} s / {small_s:.2f} s = {growth:.1f}", end="")
    print(f" (allowed: {allowed:.1f})")
    assert growth <= allowed


@pytest.mark.parametrize("steps", [1_000])
def test_reading_against_python(benchmark: BenchmarkFixture, steps: int) -> None:
    """Reading and resolving a routine is measured against Python reading as many lines of its own.

    Python's own reader is compiled, hence the factor.
    """
    text = chain(steps)
    lines = text.count("\n")
    python = "".join(f"if left[{n}] < 8.5: forward(0.1, right={n})\n" for n in range(lines))
    read_s, python_s = least([lambda: resolved(text), lambda: ast.parse(python)], 5)
    benchmark.pedantic(lambda: resolved(text), rounds=1)
    print(f"\n{lines} lines: {read_s:.2f} s / ast.parse {python_s:.3f} s = {read_s / python_s:.1f}")
    assert () == resolved(text)[1]
    assert read_s / python_s <= MOST_OF_PYTHONS_READING


def test_passes_of_the_machine(benchmark: BenchmarkFixture) -> None:
    """A pass of a 12-step plan costs at most what writing its readings as JSON 4 times does.

    That is about 100,000 passes a second where JSON takes 2.5 us.
    """
    plan = check_routine(Source("x.routine", chain(12)), lambda _name: moth_robot()).plan
    quiet = {"bumper": "released", "range_front": 50}
    moves = {"bumper": "pressed", "range_front": 50}
    passes = [(20_000 * n, moves if n % 100 == 99 else quiet) for n in range(1_200)]

    def run() -> None:
        machine = Machine(plan)
        for now_us, readings in passes:
            machine.pass_(now_us, readings)

    def write() -> None:
        for _now_us, readings in passes:
            json.dumps(readings)

    run_s, write_s = least([run, write], 15)
    benchmark.pedantic(run, rounds=1)
    a_second, ratio = len(passes) / run_s, run_s / write_s
    print(f"\n{a_second:,.0f} passes a second, {ratio:.1f} times JSON of the same readings")
    assert ratio <= MOST_OF_JSON
