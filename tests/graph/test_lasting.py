"""What commands still hold later on, judged by walking every path."""

from __future__ import annotations

import random

import networkx as nx
import pytest
from demo import check

from planner.graph import Plan
from planner.graph.lasting import MOST_SHOWN, last_given, left_on, never_told
from planner.graph.walks import ways

SEEDS = range(120)
COMMANDS = (
    "keep roller take",
    "keep roller drop",
    "roller take",
    "roller stop",
    "keep drive turn 90 deg",
    "arm to 1200 ticks",
    "arm lower 20 %",
    "claw open",
)


def random_text(seed: int) -> str:
    """A plan with commands in its steps; the same for the same seed on every machine."""
    draw = random.Random(seed)
    names = [f"S{number}" for number in range(draw.randint(2, 7))]
    lines = ["start S0"]
    for name in names:
        lines.append(f"step {name}")
        lines += [f"  {draw.choice(COMMANDS)}" for _ in range(draw.choice((0, 0, 1, 2)))]
        for exit_ in draw.sample(("when bumper pressed", "when arm done", "after 2 s"), 2):
            lines.append(f"  {exit_}, go to {draw.choice([*names, 'F'])}")
    lines += ["finish F", *draw.choice(([], [], ["  roller stop"]))]
    return "\n".join(lines) + "\n"


def silent_paths(plan: Plan, source: str, target: str, mechanism: str) -> list[list[str]]:
    """The paths on which no step after the first says anything to the mechanism."""
    paths = nx.all_simple_paths(ways(plan), source, target)
    return [p for p in paths if not any(mechanism in last_given(plan.step(n)) for n in p[1:])]


@pytest.mark.parametrize("seed", SEEDS)
def test_left_on_is_what_some_path_carries_into_a_finish(seed: int) -> None:
    """A kept command is reported exactly where a silent path leads to a finish, a shortest one."""
    plan = check(random_text(seed)).plan
    expected = {}
    for step in plan.routine.steps.values():
        for name, given in last_given(step).items():
            if given.keep and given.command.runs:
                paths = silent_paths(plan, step.name, "F", name)
                if paths:
                    expected[step.name, name] = min(map(len, paths))
    found = {(left.step, left.given.mechanism.name): left for left in left_on(plan)}
    assert expected == {key: len(left.way) + left.left_out for key, left in found.items()}
    for (step_name, mechanism), left in found.items():
        assert list(left.way) in silent_paths(plan, step_name, "F", mechanism)


@pytest.mark.parametrize("seed", SEEDS)
def test_never_told_is_what_no_path_brings_to_a_step(seed: int) -> None:
    """A mechanism cannot be done in a step exactly where no path brings it such a command."""
    plan = check(random_text(seed)).plan
    for mechanism in ("arm", "drive"):
        expected = set()
        for name, step in plan.routine.steps.items():
            own = last_given(step).get(mechanism)
            told = own is not None and own.command.reports_done
            for other_name, other in plan.routine.steps.items():
                given = last_given(other).get(mechanism)
                if own is None and given and given.command.reports_done:
                    told = told or bool(silent_paths(plan, other_name, name, mechanism))
            if not told:
                expected.add(name)
        assert expected == never_told(plan, mechanism)


def test_a_long_way_has_its_middle_left_out() -> None:
    """Of a way of many steps the first are spelt out, and the last is the finish."""
    row = "".join(f"step S{n}\n  after 1 s, go to S{n + 1}\n" for n in range(1, 40))
    text = f"start S0\nstep S0\n  keep roller take\n  after 1 s, go to S1\n{row}finish S40\n"
    (left,) = left_on(check(text).plan)
    assert (*(f"S{n}" for n in range(MOST_SHOWN)), "S40") == left.way
    assert 41 - len(left.way) == left.left_out


def test_a_command_to_the_mechanism_in_the_finish_is_heard() -> None:
    """A finish that stops the mechanism has thought of it."""
    text = "start A\nstep A\n  keep roller take\n  after 1 s, go to F\nfinish F\n  roller stop\n"
    assert [] == list(left_on(check(text).plan))


def test_a_step_with_an_unreadable_line_may_have_told_the_mechanism() -> None:
    """Nothing is concluded from a step that could not be read whole."""
    text = (
        "start A\nstep A\n  keep roller take\n  after 1 s, go to B\n"
        "step B\n  roller stopp it\n  after 1 s, go to F\nfinish F\n"
    )
    assert [] == list(left_on(check(text).plan))
