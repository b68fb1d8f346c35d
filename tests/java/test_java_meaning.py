"""The exported plan means what the plan means: M1 to M14, by hand and against the reference."""

from __future__ import annotations

import re

import pytest
from java.java_tools import scenarios
from java.playing import Bench
from java.random_traces import Trace, in_order
from java.turned import TURNED

SCENARIOS = {scenario.name: scenario for scenario in scenarios()}


@pytest.mark.parametrize("name", SCENARIOS)
def test_scenario(name: str, bench: Bench) -> None:
    """Pass by pass the exported plan enters, tells and ends what the scenario's rule says."""
    expected = ["ok", *(expected for _, expected in SCENARIOS[name].lines)]

    assert expected == bench.scenarios[name]


def test_every_rule_has_a_scenario() -> None:
    """Every rule of the meaning that the language has so far is played by a scenario of its own."""
    rules = {int(n) for s in SCENARIOS.values() for n in re.findall(r"\bM(\d+)\b", s.rule)}

    assert set(range(1, 15)) == rules


def test_same_as_the_reference(bench: Bench, traces: list[Trace]) -> None:
    """On random sensors the exported plans do exactly what the reference machine does."""
    expected = {trace.name: trace.comparable(trace.expected) for trace in traces}

    assert expected == {trace.name: trace.comparable(bench.traces[trace.name]) for trace in traces}


@pytest.mark.parametrize("rule", [turned.rule for turned in TURNED])
def test_what_is_turned_round_is_noticed(rule: str, bench: Bench) -> None:
    """A plan whose Java turns one rule round does not get past the runs that hold the rule."""
    assert [] != [
        expected
        for expected, said in bench.turned[rule]
        if expected != said and expected != [in_order(line) for line in said]
    ]


def test_random_runs_go_somewhere(traces: list[Trace]) -> None:
    """The random runs are worth running: between them they take every way a run can end."""
    lines = [line for trace in traces for line in trace.expected]

    assert {"finished", "cut off", "off"} == {
        end for end in ("finished", "cut off", "off") if any(line.endswith(end) for line in lines)
    }
    assert sum(line != "-" for line in lines) > 1000


def test_a_plan_runs_on_a_table_top(bench: Bench) -> None:
    """A main method drives a plan to its finish with pretend sensors and no robot near."""
    told, why, state, *_ = bench.table_top

    assert told == (
        "claw:close belt:take drive:forward:40.0 drive:forward:-30.0 claw:close belt:take "
        "drive:forward:40.0 drive:stop lift:to:1200.0 signal:light belt:stop"
    )
    assert why == "Done: the lamp is lit because lift done and mark sees left"
    assert state == "true false 0.08"


def test_a_pass_takes_no_memory(bench: Bench) -> None:
    """Thousands of passes with moves in them allocate nothing, so no collector ever interrupts."""
    assert ["0 bytes"] * 2 == [bench.table_top[3], bench.lanes_top[0]]
