"""The graph of a routine: steps as nodes, exits as edges, in the order they are asked."""

from __future__ import annotations

from pathlib import Path

import pytest
from demo import ROUTINES, resolved

from planner.graph import ExitKind, unfold

PLAN = """\
start A
at 26 s of match, go to B
at 20 s of match, go to Lit
step A
  after 2 s, go to B
  when bumper pressed, go to A, at most 2 times, then Lit
step B
  after 1 s, go to Lit
  after 0.5 s, go to Lit
finish Lit
"""


def test_edges() -> None:
    """M4: match-clock exits first, earliest first, then the step's own; a counted exit is two."""
    plan = unfold(resolved(PLAN)[0])
    asked = [(e.source, e.kind, e.target, e.most, e.overflow) for e in plan.all_exits()]
    at, when, after = ExitKind.MATCH, ExitKind.WHEN, ExitKind.AFTER
    assert [
        ("A", at, "Lit", None, False),
        ("A", at, "B", None, False),
        ("A", when, "A", 2, False),
        ("A", when, "Lit", None, True),
        ("A", after, "B", None, False),
        ("B", at, "Lit", None, False),
        ("B", after, "Lit", None, False),
        ("B", after, "Lit", None, False),
    ] == asked
    assert ["0.5 s", "1 s"] == [e.place.words.split()[1] + " s" for e in plan.exits["B"][1:]]


@pytest.mark.parametrize("path", sorted(ROUTINES.glob("*.routine")), ids=lambda path: path.stem)
def test_demo_graphs(path: Path) -> None:
    """The nodes are the steps as written, and each edge carries its exit, exactly once."""
    routine, _ = resolved(path.read_text(encoding="utf-8"))
    plan = unfold(routine)
    assert list(routine.steps) == list(plan.steps.nodes)
    for name, exits in plan.exits.items():
        edges = [data["exit"] for _, _, data in plan.steps.out_edges(name, data=True)]
        assert list(exits) == sorted(edges, key=lambda exit_: exit_.number)
        assert sorted((e.source, e.target) for e in exits) == sorted(plan.steps.out_edges(name))
    assert {step.name for step in routine.finishes} == {
        name for name in plan.steps if plan.steps.out_degree(name) == 0
    }
    assert all(plan.step(name).name == name for name in plan.steps)
