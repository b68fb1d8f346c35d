"""Where runs can get to, judged by networkx and by walking every state."""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx
import pytest
from plans import after, arrows, plan, random_plan, when

from planner.graph import ExitKind, Plan
from planner.graph.walks import entries, layers, open_exits, own_exits, played, reached, traps, ways

SEEDS = range(150)
State = tuple[str, int]


def moves(drawn: Plan, state: State) -> Iterator[State]:
    """Every next state of a step and the number of match-clock exits that are over."""
    name, over = state
    if drawn.step(name).is_finish:
        return
    for exit_ in drawn.exits[name]:
        if exit_.kind is not ExitKind.MATCH:
            yield exit_.target, over
    if over < len(drawn.routine.match_exits):
        # From its own target the exit leads nowhere: it is spent there.
        yield drawn.routine.match_exits[over].target, over + 1


def states(drawn: Plan) -> nx.DiGraph[State]:
    """All states that a run can be in, as the obvious code finds them."""
    graph: nx.DiGraph[State] = nx.DiGraph()
    start = (drawn.routine.start, 0)
    graph.add_node(start)
    waiting = [start]
    while waiting:
        state = waiting.pop()
        for following in moves(drawn, state):
            if following not in graph:
                waiting.append(following)
            graph.add_edge(state, following)
    return graph


@pytest.mark.parametrize("seed", SEEDS)
def test_layers_are_the_states(seed: int) -> None:
    """A run is in a step between two match-clock exits exactly where some run of states says so."""
    drawn = random_plan(seed)
    expected = [
        {name for name, over in states(drawn) if over == number}
        for number in range(len(drawn.routine.match_exits) + 1)
    ]
    assert expected == layers(drawn)


@pytest.mark.parametrize("seed", SEEDS)
def test_played_steps_are_the_states(seed: int) -> None:
    """The steps that are played are those of the states, match-clock exits counted in."""
    drawn = random_plan(seed)
    assert {name for name, _ in states(drawn)} == played(drawn, ways(drawn))


@pytest.mark.parametrize("seed", SEEDS)
def test_open_exits_are_the_moves(seed: int) -> None:
    """A match-clock exit is open in a step exactly where a state of the step comes before it."""
    drawn = random_plan(seed)
    reachable = set(states(drawn))
    for name, exits in open_exits(drawn).items():
        expected = {
            number
            for number, exit_ in enumerate(drawn.routine.match_exits)
            if (name, number) in reachable
            and exit_.target != name
            and not drawn.step(name).is_finish
        }
        opened = {id(e.written) for e in exits if e.kind is ExitKind.MATCH}
        all_exits = drawn.routine.match_exits
        actual = {number for number, exit_ in enumerate(all_exits) if id(exit_) in opened}
        assert expected == actual


@pytest.mark.parametrize("seed", SEEDS)
def test_reached_is_what_networkx_reaches(seed: int) -> None:
    """A walk from several roots finds what networkx finds from each of them."""
    graph = ways(random_plan(seed))
    roots = list(graph)[::3]
    expected = set(roots).union(*(nx.descendants(graph, root) for root in roots))
    assert expected == reached(graph, roots)


@pytest.mark.parametrize("seed", SEEDS)
def test_traps_hold_their_steps(seed: int) -> None:
    """A step is in a trap or leads only to traps and dead ends exactly where it has no finish."""
    drawn = random_plan(seed)
    graph = ways(drawn)
    finishes = [step.name for step in drawn.routine.finishes]
    lost = {
        name
        for name in played(drawn, graph)
        if not any(nx.has_path(graph, name, finish) for finish in finishes)
    }
    trapped: set[str] = set()
    for trap in traps(drawn):
        first = trap.steps[0]
        # Each of its steps leads to each other and to nothing else.
        assert set(trap.steps) == nx.descendants(graph, first) | {first}
        assert all(nx.has_path(graph, name, first) for name in (*trap.steps, *trap.doomed))
        trapped |= {*trap.steps, *trap.doomed}
    dead_ends = {name for name in lost if not graph[name]}
    to_dead_ends = {n for n in lost if nx.descendants(graph, n) & dead_ends} | dead_ends
    assert lost == trapped | to_dead_ends


@pytest.mark.parametrize("seed", SEEDS)
def test_entries_lead_to_all(seed: int) -> None:
    """From the entries of a graph all of it is reached, and from fewer of them not."""
    drawn = random_plan(seed)
    graph = ways(drawn)
    first = entries(drawn, graph)
    assert set(graph) == reached(graph, first)
    for name in first:
        assert set(graph) != reached(graph, set(first) - {name})


def test_an_exit_after_every_run_has_finished_leads_nowhere() -> None:
    """A match-clock exit into a finish ends every run, so that a later one is never taken."""
    drawn = plan(
        {"A": [when("A"), after(2, "A")], "B": [after(1, "F")]}, ["F"], [(20, "F"), (25, "B")]
    )
    assert {"A", "F"} == played(drawn, ways(drawn))


def test_a_trap_names_what_leads_only_into_it() -> None:
    """A trap is told once, with the steps from which every way ends in it."""
    found = list(traps(arrows({"A": "B", "B": "C", "C": "D", "D": "C"}, "A", ["F"])))
    assert [(("C", "D"), ("A", "B"))] == [(trap.steps, trap.doomed) for trap in found]


def test_ten_thousand_steps_in_a_row_are_walked() -> None:
    """No walk recurses: a row of 10,000 steps is no deeper than one of three."""
    row = [(number, number + 1) for number in range(10_000)]
    drawn = arrows(row, 0, [10_000])
    assert 10_001 == len(played(drawn, ways(drawn)))
    assert [] == list(traps(drawn))
    assert 10_000 == sum(1 for _ in own_exits(drawn))
