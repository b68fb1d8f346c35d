"""Graphs whose answers others have published, walked as plans of our own.

The edge lists of the dominator examples are those of the test data of a well-known graph library
(J. S. Park, 2005), each labelled there with the book or paper it is taken from; those of Cooper,
Harvey and Kennedy are in the test data of networkx. They were recomputed with networkx.
"""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from plans import SECOND_US, after, arrows, plan, when

from planner.graph.longest import longest_way
from planner.graph.loops import endless_loops
from planner.graph.walks import Ways, played, reached, traps, ways
from planner.reach.pace import Pace
from planner.reach.verdict import verdict

Edges = Mapping[int, tuple[int, ...]]
Idoms = Mapping[int, int]

# T. Lengauer, R. Tarjan, "A fast algorithm for finding dominators in a flowgraph", 1979, fig. 1.
LENGAUER_TARJAN: tuple[Edges, Idoms] = (
    {
        0: (1, 2, 3),
        1: (4,),
        2: (1, 4, 5),
        3: (6, 7),
        4: (12,),
        5: (8,),
        6: (9,),
        7: (9, 10),
        8: (5, 11),
        9: (11,),
        10: (9,),
        11: (0, 9),
        12: (8,),
    },
    dict(enumerate((0, 0, 0, 0, 0, 3, 3, 0, 0, 7, 0, 4), 1)),
)
# A. Appel, "Modern Compiler Implementation", fig. 19.4 and 19.8.
APPEL_4: tuple[Edges, Idoms] = (
    {0: (1,), 1: (2, 3), 2: (4, 5), 4: (6,), 5: (6,), 6: (1,)},
    dict(enumerate((0, 1, 1, 2, 2, 2), 1)),
)
APPEL_8: tuple[Edges, Idoms] = (
    {
        0: (1, 2),
        1: (3, 6),
        2: (4, 7),
        3: (5, 6),
        4: (7, 2),
        5: (8, 10),
        6: (9,),
        7: (12,),
        8: (11,),
        9: (8,),
        10: (11,),
        11: (1, 12),
    },
    dict(enumerate((0, 0, 1, 2, 3, 1, 2, 1, 6, 5, 1, 0), 1)),
)
# S. Muchnick, "Advanced Compiler Design and Implementation", fig. 8.21.
MUCHNICK_21: tuple[Edges, Idoms] = (
    {0: (1,), 1: (2,), 2: (3, 4), 3: (2,), 4: (5, 6), 5: (7,), 6: (7,)},
    dict(enumerate((0, 1, 2, 2, 4, 4, 4), 1)),
)
# R. Cytron et al., "Efficiently computing static single assignment form", 1991, fig. 9.
CYTRON: tuple[Edges, Idoms] = (
    {
        0: (1, 13),
        1: (2,),
        2: (3, 7),
        3: (4, 5),
        4: (6,),
        5: (6,),
        6: (8,),
        7: (8,),
        8: (9,),
        9: (10, 11),
        10: (11,),
        11: (9, 12),
        12: (2, 13),
    },
    dict(enumerate((0, 1, 2, 3, 3, 3, 2, 2, 8, 9, 9, 11, 0), 1)),
)
# K. Cooper, T. Harvey, K. Kennedy, "A Simple, Fast Dominance Algorithm", fig. 2 and 4.
COOPER_2: tuple[Edges, Idoms] = ({5: (3, 4), 1: (2,), 2: (1,), 3: (2,), 4: (1,)}, {})
COOPER_4: tuple[Edges, Idoms] = (
    {6: (4, 5), 1: (2,), 2: (1, 3), 3: (2,), 4: (2, 3), 5: (1,)},
    {},
)


def idom_of(edges: Edges, idoms: Idoms, node: int) -> int:
    """The published immediate dominator; in the last two examples that of all nodes is the root."""
    return idoms.get(node, next(iter(edges)))


@pytest.mark.parametrize(
    ("edges", "idoms"),
    [LENGAUER_TARJAN, APPEL_4, APPEL_8, MUCHNICK_21, CYTRON, COOPER_2, COOPER_4],
    ids=["lengauer_tarjan", "appel_4", "appel_8", "muchnick_21", "cytron", "cooper_2", "cooper_4"],
)
def test_what_every_run_to_a_step_passes(edges: Edges, idoms: Idoms) -> None:
    """Every run to a step passes its published dominators, and can go round every other step."""
    root = next(iter(edges))
    drawn = arrows(((a, b) for a, targets in edges.items() for b in targets), root)
    graph = ways(drawn)
    nodes = {root, *(b for targets in edges.values() for b in targets)}
    for node in nodes - {root}:
        dominators = {node}
        while root not in dominators:
            dominators |= {idom_of(edges, idoms, n) for n in dominators}
        expected = dominators - {root}
        assert expected == {n for n in nodes - {root} if str(node) not in around(graph, root, n)}


def around(graph: Ways, root: int, without: int) -> set[str]:
    """What the root reaches when a step is taken out."""
    rest = graph.copy()
    rest.remove_node(str(without))
    return reached(rest, [str(root)])


def test_muchnick_8_18_has_a_step_that_nothing_leads_to() -> None:
    """In Muchnick's fig. 8.18 step 5 is never reached, and only that one."""
    edges = {0: (1, 2), 1: (6,), 2: (3, 4), 3: (7,), 5: (7,), 6: (7,)}
    drawn = arrows(((a, b) for a, targets in edges.items() for b in targets), 0)
    graph = ways(drawn)
    assert {"5"} == set(graph) - played(drawn, graph)


# Edges, the components that have a cycle, and the one of them that leads to no other component.
COMPONENTS = {
    # R. Tarjan, "Depth-first search and linear graph algorithms", 1972. Node 6 has no edges.
    "tarjan": ("12 23 28 34 37 45 53 56 74 76 81 87", ["128", "3457"], []),
    # H. Gabow, "Path-based depth-first search for strong and biconnected components", 2000.
    # Node 3 has no edges.
    "gabow": ("12 13 23 24 43 45 52 56 63 64", ["2456"], []),
    # T. Cormen et al., "Introduction to Algorithms", fig. 22.9, from memory.
    "cormen": ("ab be bc bf cd cg dc dh ea ef fg gf gh hh", ["abe", "cd", "fg", "h"], ["h"]),
}


@pytest.mark.parametrize("name", COMPONENTS)
def test_strongly_connected_components(name: str) -> None:
    """The endless loops of a plan are the published components, its trap the last of them."""
    pairs, components, last = COMPONENTS[name]
    drawn = arrows([(source, target) for source, target in pairs.split()], pairs[0])
    # The only idle exit, from a step to itself, is no endless loop but a trap.
    idle = [only for only in last if len(only) == 1]
    expected = sorted(set(components) - set(idle))
    assert expected == sorted("".join(sorted(loop.steps)) for loop in endless_loops(drawn))
    assert last == ["".join(sorted(trap.steps)) for trap in traps(drawn)]


def test_tarjans_last_component_is_the_only_way_out() -> None:
    """Tarjan's node 6 is where all ends: without the edges to it, the component before it traps."""
    pairs = [(a, b) for a, b in COMPONENTS["tarjan"][0].split()]
    assert [] == list(traps(arrows(pairs, "1", finishes=["6"])))
    cut = [(a, b) for a, b in pairs if b != "6"]
    assert [(("3", "4", "5", "7"), {"1", "2", "8"})] == [
        (tuple(sorted(trap.steps)), set(trap.doomed)) for trap in traps(arrows(cut, "1", ["6"]))
    ]


# Activities: optimistic, likely and pessimistic time, and the activities that come before. The
# expected time is (o + 4 m + p) / 6; it is counted in sixths here, which are whole.
Activities = Mapping[str, tuple[int, int, int, str]]
PROJECTS: Mapping[str, tuple[Activities, str, int]] = {
    # A teaching deck, "PRIME CPM UNIT 4".
    "teaching_deck": (
        {
            "A": (5, 6, 7, ""),
            "B": (1, 3, 5, ""),
            "C": (1, 4, 7, ""),
            "D": (1, 2, 3, "A"),
            "E": (1, 2, 9, "B"),
            "F": (1, 5, 9, "C"),
            "G": (2, 2, 8, "C"),
            "H": (4, 4, 10, "EF"),
            "I": (2, 5, 8, "D"),
            "J": (2, 2, 8, "GH"),
        },
        "CFHJ",
        17 * 6,
    ),
    # PM Knowledge Center, article on PERT, table 1. C is given there as .25, .5 and 3.75, which is
    # the expected time of 1 that stands here in whole numbers.
    "knowledge_center": (
        {
            "A": (2, 5, 8, ""),
            "B": (1, 2, 9, "A"),
            "C": (1, 1, 1, "A"),
            "D": (1, 1, 7, "B"),
            "E": (1, 2, 9, "BC"),
            "F": (1, 3, 11, "DE"),
        },
        "ABEF",
        15 * 6,
    ),
    # The encyclopedia article on PERT, from memory. Rounded times would add up to 19.51.
    "encyclopedia": (
        {
            "a": (2, 4, 6, ""),
            "b": (3, 5, 9, ""),
            "c": (4, 5, 7, "a"),
            "d": (4, 6, 10, "a"),
            "e": (4, 5, 7, "bc"),
            "f": (3, 4, 8, "d"),
            "g": (3, 5, 8, "e"),
        },
        "aceg",
        117,
    ),
    # "General Foundry", a textbook example of B. Render and R. Stair, from memory.
    "foundry": (
        {
            "A": (1, 2, 3, ""),
            "B": (2, 3, 4, ""),
            "C": (1, 2, 3, "A"),
            "D": (2, 4, 6, "B"),
            "E": (1, 4, 7, "C"),
            "F": (1, 2, 9, "C"),
            "G": (3, 4, 11, "DE"),
            "H": (1, 2, 3, "FG"),
        },
        "ACEGH",
        15 * 6,
    ),
}


@pytest.mark.parametrize("name", PROJECTS)
def test_critical_path(name: str) -> None:
    """The longest way through a plan is the published critical path, with its length."""
    activities, critical, sixths = PROJECTS[name]
    first = [activity for activity, (*_, before) in activities.items() if not before]
    exits = {"Begin": [after(0, activity) for activity in first]}
    for activity, (optimistic, likely, pessimistic, _) in activities.items():
        lasts = optimistic + 4 * likely + pessimistic
        following = [other for other, (*_, before) in activities.items() if activity in before]
        exits[activity] = [after(lasts, target) for target in (*following, "End")]
    found = longest_way(plan(exits, ["End"]))
    assert critical == "".join(step.name for step in found.steps if step.lasts_us)
    assert sixths * SECOND_US == found.limits_us


@pytest.mark.parametrize("name", PROJECTS)
def test_the_last_run_is_the_critical_path(name: str) -> None:
    """The latest that a plan can end, and the steps of the run that ends then, are those of the
    published critical path, where each step is left by a sensor at any time up to its limit."""
    activities, critical, sixths = PROJECTS[name]
    first = [activity for activity, (*_, before) in activities.items() if not before]
    exits = {"Begin": [*(when(activity) for activity in first), after(1, first[0])]}
    for activity, (optimistic, likely, pessimistic, _) in activities.items():
        lasts = optimistic + 4 * likely + pessimistic
        following = [other for other, (*_, before) in activities.items() if activity in before]
        goals = following or ["End"]
        exits[activity] = [*(when(goal) for goal in goals), after(lasts, goals[0])]
    found = verdict(plan(exits, ["End"], limit_s=1000), pace=Pace(1, 1, SECOND_US))
    last = found.latest_finish()
    assert last is not None
    assert critical == "".join(at.step for at in last.locations[1:-1])
    # One more second for the first step, which is no activity.
    assert (sixths + 1) * SECOND_US == found.finishes["End"].latest_us
