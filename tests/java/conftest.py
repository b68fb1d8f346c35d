"""Everything that is exported for the tests is compiled once and run once."""

from __future__ import annotations

from functools import lru_cache

import pytest
from gallery.examples import NAMES, checked
from java.fixed import COMBINATIONS, gone
from java.hostile import (
    HOSTILE_LANES,
    HOSTILE_ROBOT,
    HOSTILE_ROUTINE,
    TOLD_ROBOT,
    TOLD_ROUTINE,
    crowded_routine,
    five_lanes_routine,
    long_routine,
    wide_routine,
)
from java.java_tools import (
    HERE,
    checked_of,
    choices_routine,
    compile_java,
    exported,
    lanes_played,
    plan_of,
    scenarios,
    write_java,
)
from java.playing import Bench, played
from java.random_traces import Trace, random_traces
from java.turned import CHOICES, RED, TURNED, Turned
from java.watched import PACKAGE, watched_plans

from planner.graph import Plan
from planner.java import export, export_tests
from planner.pipeline import Checked, read_robot
from planner.text import Source


@pytest.fixture(scope="session")
def demo() -> dict[str, Checked]:
    """Every demo routine and every one of the gallery, by package and file name."""
    return {
        f"{checked(name).plan.routine.robot.name}.{name}.routine": checked(name) for name in NAMES
    }


@pytest.fixture(scope="session")
def demo_plans(demo: dict[str, Checked]) -> dict[str, Plan]:
    """The plan of every routine of the first robot, by file name."""
    return {
        name.removeprefix("moth."): checked.plan
        for name, checked in demo.items()
        if name.startswith("moth.")
    }


@pytest.fixture(scope="session")
def traces(demo: dict[str, Checked]) -> list[Trace]:
    """Random runs of every demo routine and every scenario's routine."""
    routines = {**demo, "variants.choices": choices_routine()}
    routines |= {f"played.{scenario.name}": checked_of(scenario.text) for scenario in scenarios()}
    return [trace for name, one in routines.items() for trace in random_traces(name, one)]


@pytest.fixture(scope="session")
def bench(
    tmp_path_factory: pytest.TempPathFactory, demo: dict[str, Checked], traces: list[Trace]
) -> Bench:
    """All exports compiled by one compiler and played by one Java machine."""
    folder = tmp_path_factory.mktemp("java")
    for name, one in demo.items():
        package, scenarios_of_it = name.partition(".")[0], one.plan.routine.scenarios
        write_java(folder / "src", export(one.plan, package))
        write_java(folder / "src", export_tests(one.plan, scenarios_of_it, package))
    variants = export(choices_routine().plan, "variants", COMBINATIONS)
    write_java(folder / "src", variants)
    write_java(folder / "src", gone(variants))
    lanes = lanes_played()
    write_java(folder / "src", export(lanes, "lanes"))
    write_java(folder / "src", export_tests(lanes, lanes.routine.scenarios, "lanes"))
    for plan in watched_plans():
        files = {p: text for p, text in export(plan, PACKAGE).items() if "/plans/" in p}
        write_java(folder / "src", files | export_tests(plan, plan.routine.scenarios, PACKAGE))
    for scenario in scenarios():
        write_java(folder / "src", exported(scenario.text, "played"))
    for stem, package in (("table_top", "table"), ("lanes_top", "table"), ("hardware", "wired")):
        text = (HERE / f"{stem}.routine").read_text(encoding="utf-8")
        write_java(folder / "src", exported(text, package))
    hostile = read_robot(Source("hostile.bot", HOSTILE_ROBOT))
    write_java(folder / "src", exported(HOSTILE_ROUTINE, "hostile", hostile))
    write_java(folder / "src", exported(HOSTILE_LANES, "hostile", hostile))
    told = read_robot(Source("told.bot", TOLD_ROBOT))
    write_java(folder / "src", exported(TOLD_ROUTINE, "told", told))
    for large in (long_routine(), wide_routine(), five_lanes_routine()):
        write_java(folder / "src", exported(large, "large"))
    write_java(folder / "src", exported(crowded_routine(), "large"))
    sources = [HERE / "stubs", HERE / "bench", folder / "src"]
    for number, turned in enumerate(TURNED):
        write_java(folder / "src" / "turned", _turned(number, turned))
    for number, turned in enumerate(RED):
        write_java(folder / "src" / "turned", _red(number, turned, demo))
    # What is turned round may well leave something unused.
    compiled = compile_java(sources, folder / "classes", [folder / "src" / "turned"])
    if compiled.status != 0:
        return Bench(compiled, {}, {}, {}, [], [], [], {}, [], {}, [], [])
    return played(compiled, scenarios(), traces, folder / "script.txt")


def _turned(number: int, turned: Turned) -> dict[str, str]:
    """The files of a plan that is turned round, in a package of its own."""
    files = {
        path.replace("turned", f"turned{number}"): text.replace("turned.", f"turned{number}.")
        for path, text in _to_turn(turned.plan).items()
    }
    return {p: turned.of(t) if p.endswith("Plan.java") else t for p, t in files.items()}


def _red(number: int, turned: Turned, demo: dict[str, Checked]) -> dict[str, str]:
    """A plan of the gallery that is turned round, and its tests."""
    package, plan = f"red{number}", demo[turned.plan].plan
    files = {p: t for p, t in export(plan, package).items() if "/plans/" in p}
    files = {p: turned.of(t) if p.endswith("Plan.java") else t for p, t in files.items()}
    return files | export_tests(plan, plan.routine.scenarios, package)


@lru_cache
def _to_turn(name: str) -> dict[str, str]:
    """The files of a plan and of what it stands on."""
    texts = {scenario.name: scenario.text for scenario in scenarios()}
    plan = choices_routine().plan if name == CHOICES else plan_of(texts[name])
    return {path: text for path, text in export(plan, "turned").items() if "/plans/" in path}
