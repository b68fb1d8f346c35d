"""Everything that is exported for the tests is compiled once and run once."""

from __future__ import annotations

import pytest
from java.hostile import HOSTILE_ROBOT, HOSTILE_ROUTINE, crowded_routine, long_routine
from java.java_tools import (
    HERE,
    ROUTINES,
    compile_java,
    exported,
    plan_of,
    scenarios,
    write_java,
)
from java.playing import Bench, played
from java.random_traces import Trace, random_traces

from planner.graph import Plan
from planner.java import export
from planner.pipeline import read_robot
from planner.text import Source


@pytest.fixture(scope="session")
def demo_plans() -> dict[str, Plan]:
    """The plan of every demo routine, by file name."""
    robot = read_robot(Source("moth.bot", (ROUTINES / "moth.bot").read_text(encoding="utf-8")))
    paths = sorted(ROUTINES.glob("*.routine"))
    return {
        path.name: plan_of(path.read_text(encoding="utf-8"), robot, path.name) for path in paths
    }


@pytest.fixture(scope="session")
def traces(demo_plans: dict[str, Plan]) -> list[Trace]:
    """Random runs of every demo routine and every scenario's routine."""
    plans = {f"team.{name}": plan for name, plan in demo_plans.items()}
    plans |= {f"played.{scenario.name}": plan_of(scenario.text) for scenario in scenarios()}
    return [trace for name, plan in plans.items() for trace in random_traces(name, plan)]


@pytest.fixture(scope="session")
def bench(
    tmp_path_factory: pytest.TempPathFactory, demo_plans: dict[str, Plan], traces: list[Trace]
) -> Bench:
    """All exports compiled by one compiler and played by one Java machine."""
    folder = tmp_path_factory.mktemp("java")
    for plan in demo_plans.values():
        write_java(folder / "src", export(plan, "team"))
    for scenario in scenarios():
        write_java(folder / "src", exported(scenario.text, "played"))
    for stem, package in (("table_top", "table"), ("hardware", "wired")):
        text = (HERE / f"{stem}.routine").read_text(encoding="utf-8")
        write_java(folder / "src", exported(text, package))
    hostile = read_robot(Source("hostile.bot", HOSTILE_ROBOT))
    write_java(folder / "src", exported(HOSTILE_ROUTINE, "hostile", hostile))
    write_java(folder / "src", exported(long_routine(), "large"))
    write_java(folder / "src", exported(crowded_routine(), "large"))
    sources = [HERE / "stubs", HERE / "bench", folder / "src"]
    compiled = compile_java(sources, folder / "classes")
    if compiled.status != 0:
        return Bench(compiled, {}, {}, {}, [], [], [])
    return played(compiled, scenarios(), traces, folder / "script.txt")
