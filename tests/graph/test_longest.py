"""The longest way, judged by networkx and by adding up every path."""

from __future__ import annotations

from functools import cache
from itertools import pairwise, product

import networkx as nx
import pytest
from plans import SECOND_US, after, plan, random_plan, random_retries, when

from planner.graph import Plan
from planner.graph.longest import longest_way
from planner.graph.owners import groups_left
from planner.graph.timed_way import Lasting, forward_ways
from planner.graph.walks import own_exits, own_ways

SEEDS = range(150)


def lasts_us(drawn: Plan, name: str) -> int:
    step = drawn.step(name)
    limits = [exit_.limit_us for exit_ in step.afters]
    return min(limits) if limits and not step.is_finish else 0


def longest_path_us(drawn: Plan, start: str) -> int:
    """The longest of all paths from a step, each added up; for plans without loops."""
    graph = own_ways(drawn)
    paths = [
        path
        for target in graph
        for path in ([[start]] if target == start else nx.all_simple_paths(graph, start, target))
    ]
    return max(sum(lasts_us(drawn, name) for name in path) for path in paths)


@pytest.mark.parametrize("seed", SEEDS)
def test_forward_ways_are_acyclic_and_reach_as_much(seed: int) -> None:
    """Without the edges that lead back nothing goes round, and nothing is lost."""
    drawn = random_plan(seed)
    graph = own_ways(drawn)
    forward = forward_ways(graph, [drawn.routine.start])
    assert nx.is_directed_acyclic_graph(forward)
    assert set(forward) == nx.descendants(graph, drawn.routine.start) | {drawn.routine.start}
    back = [e for e in graph.edges if e[0] in forward and not forward.has_edge(*e)]
    for source, target in back:
        assert nx.has_path(forward, target, source)


@pytest.mark.parametrize("seed", SEEDS)
def test_longest_way_is_the_longest_path_of_an_acyclic_plan(seed: int) -> None:
    """In a plan without loops and match clock, no path adds up to more, and one to as much."""
    drawn = random_plan(seed)
    if drawn.routine.match_exits or not nx.is_directed_acyclic_graph(own_ways(drawn)):
        forward = forward_ways(own_ways(drawn), [drawn.routine.start])
        kept = {
            name: [after(lasts_us(drawn, name) / SECOND_US, target) for target in forward[name]]
            for name in forward
            if not drawn.step(name).is_finish
        }
        drawn = plan(kept, [n for n in forward if drawn.step(n).is_finish])
    found = longest_way(drawn)
    assert longest_path_us(drawn, drawn.routine.start) == found.limits_us


@pytest.mark.parametrize("seed", SEEDS)
def test_longest_way_adds_up(seed: int) -> None:
    """The way shown is made of exits of the plan, and its limits give its total."""
    drawn = random_plan(seed)
    found = longest_way(drawn)
    pairs = {(exit_.source, exit_.target) for exit_ in own_exits(drawn)}
    names = [step.name for step in found.steps]
    assert all(pair in pairs for pair in pairwise(names))
    assert found.limits_us == found.from_us + sum(step.lasts_us for step in found.steps)
    assert [lasts_us(drawn, name) for name in names] == [step.lasts_us for step in found.steps]


Counts = frozenset[tuple[str, int]]


def longest_run_us(drawn: Plan) -> int:
    """The longest of all runs in which each step lasts as long as limits let it, or no time.

    What it remembers is the step, how often each count was used, and how long each group lasts.
    In a step that is entered when the time of a group is over, only exits of groups are left.
    """
    routine = drawn.routine
    most = {e.counter: e.most for e in drawn.all_exits() if e.most is not None}

    @cache
    def left(name: str, counted: Counts, lasting: Counts) -> int:
        step_, counts, elapsed = drawn.step(name), dict(counted), dict(lasting)
        if step_.is_finish:
            return 0
        own = [after_.limit_us for after_ in step_.afters]
        room = [
            after_.limit_us - elapsed[group_.name]
            for group_ in routine.groups_around(name)
            for after_ in group_.afters
        ]
        lasts = longest = min([*room, *own], default=0)
        over = min(room, default=1) <= 0
        for exit_, stays in product(drawn.exits[name], {lasts, 0}):
            used = counts.get(exit_.counter, 0)
            counted_out = exit_.most is not None and used == exit_.most
            too_early = exit_.overflow and used < most[exit_.counter]
            if counted_out or too_early or (over and not exit_.group):
                continue
            more = {**counts, exit_.counter: used + 1} if exit_.most is not None else counts
            gone = groups_left(drawn, exit_)
            kept = {name: at + stays for name, at in elapsed.items() if name not in gone}
            inside = {g.name: kept.get(g.name, 0) for g in routine.groups_around(exit_.target)}
            onward = left(exit_.target, frozenset(more.items()), frozenset(inside.items()))
            longest = max(longest, stays + onward)
        return longest

    start = frozenset((group_.name, 0) for group_ in routine.groups_around(routine.start))
    return left(routine.start, frozenset(), start)


@pytest.mark.parametrize("seed", SEEDS)
def test_counted_loops_last_as_long_as_the_longest_run(seed: int) -> None:
    """Without groups, the longest way is what walking every run finds."""
    drawn = random_retries(seed, 0)
    assert longest_run_us(drawn) == longest_way(drawn).limits_us


@pytest.mark.parametrize("seed", SEEDS)
def test_no_run_of_a_grouped_plan_lasts_longer(seed: int) -> None:
    """What is found for a plan with groups is what walking every run finds, unless it says that it
    is not exact."""
    drawn = random_retries(seed)
    found = longest_way(drawn)
    assert not found.exact or longest_run_us(drawn) == found.limits_us


def seconds(drawn: Plan) -> float:
    return longest_way(drawn).limits_us / SECOND_US


ROW = {"A": [after(10, "B"), when("B")], "B": [after(10, "C"), when("C")]}


def test_a_retry_is_counted_as_often_as_it_may_be() -> None:
    """A counted exit is taken as often as its count allows: 4, 1.5, 4, 1.5, 4 and 3 seconds."""
    drawn = plan(
        {"A": [when("C"), after(4, "B")], "B": [when("A", 2, "F"), after(1.5, "F")],
         "C": [when("F"), after(3, "F")]}, ["F"]
    )  # fmt: skip
    assert 18 == seconds(drawn)


def test_the_match_clock_cuts_the_way_short() -> None:
    """A way longer than a match-clock exit's time ends with it and what comes after it."""
    exits = {**ROW, "C": [after(20, "F"), when("F")], "Dock": [after(3, "F"), when("F")]}
    assert 40 == seconds(plan(exits, ["F"]))
    assert 28 == seconds(plan(exits, ["F"], [(25, "Dock")]))
    assert (
        Lasting("Dock", 3 * SECOND_US) == longest_way(plan(exits, ["F"], [(25, "Dock")])).steps[0]
    )


def test_the_match_clock_adds_nothing_to_what_is_over_before() -> None:
    """An exit that comes after the longest way has ended is never taken."""
    exits = {**ROW, "C": [after(2, "F"), when("F")], "Dock": [after(9, "F"), when("F")]}
    assert 22 == seconds(plan(exits, ["F"], [(25, "Dock")]))


def test_an_exit_at_the_limit_is_never_taken() -> None:
    """At the limit everything is switched off, so an exit there starts no way."""
    exits = {**ROW, "C": [after(20, "F"), when("F")], "Dock": [after(9, "F"), when("F")]}
    assert 40 == seconds(plan(exits, ["F"], [(30, "Dock")]))


def test_an_endless_loop_lasts_until_the_match_clock() -> None:
    """Where a loop may last, the match-clock exit that ends it starts the longest way."""
    exits = {"A": [after(2, "B")], "B": [after(2, "A")], "Dock": [after(9, "F"), when("F")]}
    assert 34 == seconds(plan(exits, ["F"], [(25, "Dock")]))


def test_a_wait_without_limit_lasts_until_the_match_clock() -> None:
    """Where a step has no limit, the match clock may well find a run in it."""
    exits = {"A": [when("F")], "Dock": [after(9, "F"), when("F")]}
    assert 34 == seconds(plan(exits, ["F"], [(25, "Dock")]))


def test_an_exit_into_a_finish_ends_the_way() -> None:
    """Of two match-clock exits the second is not reached when the first ends the routine."""
    exits = {"A": [when("F")], "B": [after(9, "F")]}
    assert 20 == seconds(plan(exits, ["F"], [(20, "F"), (25, "B")]))


def test_ten_thousand_steps_add_up() -> None:
    """The longest way through a row of 10,000 steps is found without recursion."""
    row = {str(n): [after(1, str(n + 1)), when(str(n + 1))] for n in range(10_000)}
    assert 10_000 == seconds(plan(row, ["10000"]))
