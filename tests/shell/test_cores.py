"""Variants on several cores: the same findings, and no worker that outlives its work."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator, Sequence
from functools import partial
from multiprocessing import active_children

import pytest
from demo import HEADER, ROUTINES, moth_robot
from grown import skipping

from planner.checks import VariantCase
from planner.findings import Finding
from planner.pipeline import check_routine
from planner.shell import cores
from planner.shell.cores import on_workers, workers_for
from planner.text import Source

EITHER_END = ROUTINES / "gallery" / "either_end.routine"
FAULTY = HEADER + "\n".join(
    [
        *(f"choose way{n}: red, blue" for n in range(4)),
        *(f"setting far{n} by way{n}\n  red 40 cm\n  blue 90 cm" for n in range(4)),
        "start Go",
        "step Go",
        "  drive forward 40 %",
        "  when drive travelled > far0, go to Back",
        "  when range_front < far3, go to Slow",
        "  after 20 s, go to Lit",
        "step Back",
        "  drive forward -40 %",
        "  when range_front > far1, go to Lit",
        "step Slow",
        "  drive forward 10 %",
        "  when bumper pressed, go to Lit",
        "  after 20 s, go to Lit",
        "finish Lit\n",
    ]
)


def cases_of(text: str) -> list[VariantCase]:
    """The variants that a check of the text goes through."""
    met: list[VariantCase] = []

    def remember(cases: Sequence[VariantCase]) -> Iterator[tuple[Finding, ...]]:
        met.extend(cases)
        return (case.findings() for case in cases)

    check_routine(Source("x.routine", text), lambda _name: moth_robot(), find_each=remember)
    return met


def test_the_same_findings() -> None:
    """Workers find the same in each variant, in the same order, as one core does: in the gallery's
    routine with choices, a plan of 16 variants, and one of 16 with faults."""
    texts = (EITHER_END.read_text(encoding="utf-8"), skipping(4, choices=4), FAULTY)
    cases = [case for text in texts for case in cases_of(text)]
    alone = [case.findings() for case in cases]
    assert len(cases) > 32
    assert any(alone)
    assert alone == list(on_workers(cases, 2))
    assert [] == active_children()


def test_the_same_list() -> None:
    """What is told of a routine in the end is the same as well."""
    check = partial(check_routine, Source("x.routine", FAULTY), lambda _name: moth_robot())
    alone = check().findings
    assert alone
    assert alone == check(find_each=partial(on_workers, workers=2)).findings


def test_a_worker_that_dies(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a worker ends early, what is left is checked without it, and nothing is missing."""
    cases = cases_of(FAULTY)
    found = []
    start = cores._start
    started = []
    monkeypatch.setattr(cores, "_start", lambda: started.append(start()) or started[-1])
    for findings in on_workers(cases, 2):
        if not found:
            for worker in started:
                assert worker.process.pid is not None
                os.kill(worker.process.pid, signal.SIGTERM)
        found.append(findings)
    assert [case.findings() for case in cases] == found
    assert [] == active_children()


def test_no_worker_can_be_started(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the computer lets no worker start, all is checked without."""

    def refuse() -> None:
        raise PermissionError("no processes here")

    monkeypatch.setattr(cores, "_start", refuse)
    cases = cases_of(EITHER_END.read_text(encoding="utf-8"))
    assert [case.findings() for case in cases] == list(on_workers(cases, 2))


def test_given_up_half_way() -> None:
    """Who wants no more findings ends the workers."""
    found = on_workers(cases_of(FAULTY), 2)
    next(found)
    assert 2 == len(active_children())
    found.close()
    assert [] == active_children()


@pytest.mark.parametrize(
    ("left", "each_s", "number", "workers"),
    [
        (15, 0.01, 8, 0),
        (15, 0.2, 2, 0),
        (15, 1.0, 2, 2),
        (15, 1.0, 1, 0),
        (1, 60.0, 8, 0),
        (2, 10.0, 8, 2),
        (63, 1.0, 64, cores.MOST_WORKERS),
    ],
)
def test_when_it_pays(left: int, each_s: float, number: int, workers: int) -> None:
    """Workers are started where they save clearly more than their start costs, never for one."""
    assert workers == workers_for(left, each_s, number)


def test_it_is_used_when_it_pays(monkeypatch: pytest.MonkeyPatch) -> None:
    """The first variant is timed, and the workers get the rest."""
    taken: list[int] = []

    def work(cases: Sequence[VariantCase], workers: int) -> Iterator[tuple[Finding, ...]]:
        taken.extend([len(cases), workers])
        return (case.findings() for case in cases)

    monkeypatch.setattr(cores, "workers_for", lambda _left, _each_s, _cores: 2)
    monkeypatch.setattr(cores, "on_workers", work)
    cases = cases_of(EITHER_END.read_text(encoding="utf-8"))
    assert [case.findings() for case in cases] == list(cores.spread(cases))
    assert [len(cases) - 1, 2] == taken
