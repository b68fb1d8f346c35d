"""Random plans as Java against the reference machine: compiled in one go, played by one JVM."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path

from hypothesis import settings
from java.java_tools import HERE, chunks, compile_java, run_java, write_java
from java.random_traces import Trace, traces_of
from random_doings import with_doings
from random_plans import random_block, random_plan

from planner.graph import Plan
from planner.java import export

LONG = settings.default is not None and settings.default.max_examples > 1000
PLANS = 2000 if LONG else 300
"""`--hypothesis-profile=long` plays more of them."""
RUNS_OF_EACH = 4
BATCH = 300
"""How many one compiler takes."""
PACKAGE = "drawn"


def plans(seeds: range) -> Iterator[Plan]:
    """Random plans, of all kinds in turn."""
    kinds: tuple[Callable[[int], Plan], ...] = (
        random_plan,
        random_block,
        partial(random_plan, usual=True),
        partial(random_block, usual=False),
    )
    for seed in seeds:
        yield with_doings(kinds[seed % len(kinds)](seed), seed)


def played(drawn: list[Plan], folder: Path) -> list[tuple[Trace, list[str]]]:
    """Runs of plans on random sensors, and what the Java said in each."""
    for plan in drawn:
        files = export(plan, PACKAGE)
        write_java(folder / "src", {path: t for path, t in files.items() if "/plans/" in path})
    bench = [HERE / "bench" / f"{name}.java" for name in BENCH]
    sources = [folder / "src", HERE / "stubs", *bench]
    # A step that nothing leads to is never entered, which the compiler would remark.
    compiled = compile_java(sources, folder / "classes", [folder / "src"])
    assert (0, "") == (compiled.status, compiled.messages)
    traces = [trace for plan in drawn for trace in traces_of(PACKAGE, plan, RUNS_OF_EACH)]
    script = folder / "script.txt"
    lines = [line for trace in traces for line in trace.script]
    script.write_text("\n".join(lines) + "\n", encoding="utf-8")
    said = run_java(compiled.classes, "bench.Bench", str(script))
    # Between mechanisms the order of one pass is free (M7).
    traces = [replace(trace, is_free=True) for trace in traces]
    return list(zip(traces, chunks(said, [len(trace.script) for trace in traces]), strict=True))


BENCH = ("Bench", "PretendHardware", "PretendParts", "Values", "Words")


def test_random_plans_play_alike(tmp_path: Path) -> None:
    """On random sensors every random plan does in Java what the reference machine does, event for
    event; and the runs are worth it: they move, tell, remember and end in every way."""
    seen: Counter[str] = Counter()
    for first in range(0, PLANS, BATCH):
        drawn = list(plans(range(first, min(first + BATCH, PLANS))))
        for trace, said in played(drawn, tmp_path / str(first)):
            assert trace.comparable(trace.expected) == trace.comparable(said), trace.name
            seen.update(word for line in trace.expected for word in kinds_in(line))
    assert [] == [kind for kind in KINDS if seen[kind] < PLANS // 2]
    assert set() == set(seen) - {*KINDS}


KINDS = ("move", "finished", "off", "remember", "count", "tell", "stop")


def kinds_in(line: str) -> Iterator[str]:
    """What a line of the bench says, by kind."""
    for word in line.split():
        if "=" in word:
            yield "count" if word.startswith("shots=") else "remember"
        elif "(" in word:
            yield "stop" if "Stop(" in word else "tell"
        elif word not in ("cut", "-"):
            yield word if word in KINDS else "move"
