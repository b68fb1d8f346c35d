"""Endless loops, judged by networkx' simple cycles."""

from __future__ import annotations

import networkx as nx
import pytest
from plans import after, plan, random_grouped_plan, random_plan, when

from planner.graph import Plan
from planner.graph.loops import endless_loops, is_idle
from planner.graph.owners import groups_left
from planner.graph.walks import layers, own_exits, own_ways, reached
from planner.model.routine import Group

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


State = tuple[str, tuple[tuple[str, int], ...]]


def counted_states(drawn: Plan) -> nx.MultiDiGraph[State]:
    """Every step with what is counted so far; a task that is entered counts its own anew (M9)."""
    routine = drawn.routine
    graph: nx.MultiDiGraph[State] = nx.MultiDiGraph()
    owners = {e.counter: e.counted_by for e in drawn.all_exits() if e.counted_by is not None}
    waiting: list[State] = [(name, ()) for name in routine.steps]
    graph.add_nodes_from(waiting)
    while waiting:
        state = waiting.pop()
        counts = dict(state[1])
        for exit_ in drawn.exits[state[0]]:
            if is_idle(drawn, exit_):
                continue
            used = dict(counts)
            if exit_.most is not None:
                if used.get(exit_.counter, 0) == exit_.most:
                    continue
                used[exit_.counter] = used.get(exit_.counter, 0) + 1
            around = [g.name for g in routine.groups_around(exit_.source)]
            kept = set(around) - set(groups_left(drawn, exit_))
            for entered in routine.groups_around(exit_.target):
                if entered.name not in kept and entered.task:
                    used = {c: n for c, n in used.items() if not within(drawn, owners[c], entered)}
            following = (exit_.target, tuple(sorted(used.items())))
            if following not in graph:
                waiting.append(following)
            graph.add_edge(state, following, stays=kept)
    return graph


def within(drawn: Plan, owner: str | None, group_: Group) -> bool:
    """Whether a step or group stands in a group, or is it."""
    name = drawn.step(owner).group if owner in drawn.routine.steps else owner or ""
    while name and name != group_.name:
        name = drawn.routine.groups[name].inside
    return name == group_.name


@pytest.mark.parametrize("seed", SEEDS)
def test_groups_end_loops_and_tasks_count_anew(seed: int) -> None:
    """A step is in an endless loop exactly where states with all counts go round in it, and no
    group with a time limit is never left on the way."""
    drawn = random_grouped_plan(seed)
    limited = {name for name, g in drawn.routine.groups.items() if g.afters}
    graph = counted_states(drawn)
    reachable = reached(own_ways(drawn), [drawn.routine.start])
    expected = set()
    for component in nx.strongly_connected_components(graph):
        inside = graph.subgraph(component)
        stays = [stays for _, _, stays in inside.edges(data="stays")]
        if stays and not limited.intersection(*stays):
            expected |= {name for name, _ in component} & reachable
    assert expected == {name for loop in endless_loops(drawn) for name in loop.steps}
    for loop in endless_loops(drawn):
        stays = [set(limited) - set(groups_left(drawn, e)) for e in loop.way]
        around = [{g.name for g in drawn.routine.groups_around(e.source)} for e in loop.way]
        assert not limited.intersection(*stays, *around)


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
