"""One run of everything that was compiled, and what came of it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from java.fixed import GONE, pairs
from java.java_tools import HERE, Compiled, Scenario, chunks, run_java
from java.random_traces import Trace
from java.turned import CHOICES, TURNED, Turned

# Red, green and blue shares, and the colour they are. Corners and half-way hues of the HSV circle;
# where one colour ends and the next begins is common practice, no source.
COLOURS = (
    ("0.5 0.05 0.05", "red"),
    ("0.5 0.05 0.1", "red"),
    ("0.5 0.5 0.05", "yellow"),
    ("0.05 0.5 0.05", "green"),
    ("0.05 0.05 0.5", "blue"),
    ("0.3 0.3 0.3", "white"),
    ("0.3 0.27 0.25", "white"),
    ("0.01 0.01 0.005", "black"),
    ("0 0 0", "black"),
    ("0.05 0.05 0.05", "unsure"),
    ("0.5 0.05 0.5", "unsure"),
    ("0.05 0.5 0.5", "unsure"),
    ("0.5 0.28 0.05", "unsure"),
    ("NaN 0.5 0.5", "unsure"),
)

_CALLS = ("init", "init_loop", "start", "loop", "stop")


@dataclass(frozen=True)
class Bench:
    """What came of it: the compiler's verdict, and what every script had to say."""

    compiled: Compiled
    scenarios: dict[str, list[str]]
    traces: dict[str, list[str]]
    hardware: dict[str, list[str]]
    hostile: list[str]
    colours: list[str]
    """Two lines of preparation, then one for each of `COLOURS`."""
    table_top: list[str]
    turned: dict[str, list[tuple[list[str], list[str]]]]
    """By what is turned round: what should have been said, and what was."""
    unit_tests: list[str]
    fixed: dict[str, tuple[list[str], list[str]]]
    """By the op mode for one combination: what it said, and the one on which a gamepad chose."""
    gone: list[str]
    """What an op mode said whose combination its plan does not have."""
    lanes_top: list[str]


def played(
    compiled: Compiled, scripted: list[Scenario], traces: list[Trace], script: Path
) -> Bench:
    """Plays every script on one Java machine."""
    hardware = hardware_scripts()
    pieces = [
        *(scenario.script("played") for scenario in scripted),
        *(trace.script for trace in traces),
        *([line for line, _ in lines] for lines in hardware.values()),
        *(script for pair in pairs() for script in (pair.fixed, pair.by_gamepad)),
        [f"op mode variants.opmodes.{GONE}", *(f"call {name}" for name in _CALLS)],
        ["op mode hostile.opmodes.RoutineAuto", "call init", "call loop"],
        ["op mode wired.opmodes.SensorCheck", "call init", *map(_colour_line, COLOURS)],
    ]
    against = [list(_against(turned, scripted, traces)) for turned in TURNED]
    for number, runs in enumerate(against):
        package = f"turned{number}.plans."
        pieces += [[re.sub(r"\b\w+\.plans\.", package, ln) for ln in run] for run, _ in runs]
    lines = [line for piece in pieces for line in piece]
    script.write_text("\n".join(lines) + "\n", encoding="utf-8")
    said = run_java(compiled.classes, "bench.Bench", str(script))
    answers = iter(chunks(said, [len(piece) for piece in pieces]))
    # In the order of the pieces.
    by_scenario = {scenario.name: next(answers) for scenario in scripted}
    by_trace = {trace.name: next(answers) for trace in traces}
    on_hardware = {name: next(answers) for name in hardware}
    fixed = {pair.name: (_timeless(next(answers)), _timeless(next(answers))) for pair in pairs()}
    gone, hostile, colours = next(answers), next(answers), next(answers)
    return Bench(
        compiled,
        by_scenario,
        by_trace,
        on_hardware,
        hostile,
        colours,
        run_java(compiled.classes, "bench.TableTop"),
        {
            turned.rule: [(expected, next(answers)) for _, expected in runs]
            for turned, runs in zip(TURNED, against, strict=True)
        },
        run_java(compiled.classes, "bench.UnitTests", *test_classes(compiled.classes)),
        fixed,
        gone,
        run_java(compiled.classes, "bench.LanesTop"),
    )


def _timeless(said: list[str]) -> list[str]:
    return [re.sub(r"\[(time in step|match time): [^\]]*\]", r"[\1]", line) for line in said]


def test_classes(classes: Path) -> list[str]:
    """The test classes among compiled ones."""
    paths = sorted(classes.glob("*/plans/*PlanTest.class"))
    return [".".join(path.relative_to(classes).with_suffix("").parts) for path in paths]


def _against(
    turned: Turned, scripted: list[Scenario], traces: list[Trace]
) -> Iterator[tuple[list[str], list[str]]]:
    """The runs that must notice what is turned round: what is to be played, and expected."""
    if turned.plan == CHOICES:
        of_choices = [trace for trace in traces if trace.name.startswith("variants.")]
        yield from ((run.script, run.comparable(run.expected)) for run in of_choices[::5])
    else:
        one = next(scenario for scenario in scripted if scenario.name == turned.plan)
        yield one.script("played"), ["ok", *(expected for _, expected in one.lines)]


def hardware_scripts() -> dict[str, list[tuple[str, str]]]:
    """Scripts for op modes: a line that the bench plays, and under it, indented, the answer."""
    scripts = {}
    for path in sorted((HERE / "hardware").glob("*.txt")):
        blocks: list[tuple[str, list[str]]] = []
        for line in path.read_text(encoding="utf-8").splitlines():
            if line.startswith("  "):
                blocks[-1][1].append(line.strip())
            elif line and not line.startswith("#"):
                blocks.append((line, []))
        scripts[path.stem] = [(line, " | ".join(answer)) for line, answer in blocks]
    return scripts


def _colour_line(colour: tuple[str, str]) -> str:
    names = ("red", "green", "blue")
    shares = [f"sorter.{n}={v}" for n, v in zip(names, colour[0].split(), strict=True)]
    return " ".join(["call loop", *shares])
