"""Endless loops, judged by networkx' simple cycles."""

from __future__ import annotations

import networkx as nx
import pytest
from plans import after, plan, random_plan, when

from planner.graph import Plan
from planner.graph.loops import endless_loops, is_idle
from planner.graph.walks import layers, own_exits

SEEDS = range(150)


def simple_cycles(drawn: Plan) -> list[list[str]]:
    """All cycles of exits that may be taken any number of times, where runs can be to the end."""
    graph: nx.DiGraph[str] = nx.DiGraph()
    graph.add_edges_from(
        (exit_.source, exit_.target)
        for exit_ in own_exits(drawn)
        if exit_.most is None and not is_idle(drawn, exit_)
    )
    to_the_end = layers(drawn)[-1]
    return [cycle for cycle in nx.simple_cycles(graph) if to_the_end.issuperset(cycle)]


@pytest.mark.parametrize("seed", SEEDS)
def test_steps_in_endless_loops_are_those_on_simple_cycles(seed: int) -> None:
    """A step is in an endless loop exactly where a cycle of free exits goes through it."""
    drawn = random_plan(seed)
    expected = {name for cycle in simple_cycles(drawn) for name in cycle}
    assert expected == {name for loop in endless_loops(drawn) for name in loop.steps}


@pytest.mark.parametrize("seed", SEEDS)
def test_the_way_round_is_a_shortest_cycle(seed: int) -> None:
    """The way shown is a cycle through the loop's first step, and none through it is shorter."""
    drawn = random_plan(seed)
    for loop in endless_loops(drawn):
        first = loop.steps[0]
        names = [exit_.source for exit_ in loop.way]
        assert first == names[0]
        assert [*names[1:], first] == [exit_.target for exit_ in loop.way]
        assert min(len(c) for c in simple_cycles(drawn) if first in c) == len(names)


def test_a_count_ends_a_loop() -> None:
    """A loop with a counted exit in it ends when the count is used up."""
    drawn = plan({"A": [when("B")], "B": [when("A", 2, "F"), after(1, "F")]}, ["F"])
    assert [] == list(endless_loops(drawn))


def test_a_count_that_leads_back_ends_nothing() -> None:
    """A count whose `then` stays in the loop leaves it as endless as before."""
    drawn = plan({"A": [when("B")], "B": [when("A", 2, "A"), after(1, "F")]}, ["F"])
    assert [("A", "B")] == [loop.steps for loop in endless_loops(drawn)]


def test_the_match_clock_ends_a_loop() -> None:
    """A loop ends at a match-clock exit that does not lead back into it."""
    drawn = plan(
        {"A": [when("B")], "B": [when("A")], "Dock": [after(2, "F")]}, ["F"], [(24, "Dock")]
    )
    assert [] == list(endless_loops(drawn))


def test_the_match_clock_does_not_end_a_loop_it_leads_into() -> None:
    """A loop that can be entered after the last match-clock exit is endless all the same."""
    drawn = plan(
        {"A": [when("B")], "B": [when("A")], "Dock": [after(2, "F"), when("A")]},
        ["F"],
        [(24, "Dock")],
    )
    assert [("A", "B")] == [loop.steps for loop in endless_loops(drawn)]


def test_only_the_last_match_clock_exit_counts() -> None:
    """A loop that an earlier exit leaves and a later one enters is endless."""
    exits = {
        "A": [when("B")],
        "B": [when("A")],
        "Dock": [after(9, "F")],
    }
    assert [("A", "B")] == [
        loop.steps for loop in endless_loops(plan(exits, ["F"], [(20, "Dock"), (24, "A")]))
    ]
    assert [] == list(endless_loops(plan(exits, ["F"], [(20, "A"), (24, "Dock")])))


def test_a_loop_of_ten_thousand_steps() -> None:
    """A loop is found whatever its length, without recursion."""
    exits = {str(n): [when(str((n + 1) % 10_000))] for n in range(10_000)}
    loops = list(endless_loops(plan(exits)))
    assert [10_000] == [len(loop.way) for loop in loops]
