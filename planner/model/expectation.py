"""What is expected of a healthy robot, as an exit says it."""

from __future__ import annotations

from planner.model.ledger import Ledger
from planner.model.routine import Expect
from planner.model.units import Dimension
from planner.model.values import bounds_of, time_us
from planner.tree import nodes as n

MOST_RUNS = 1000
"""The most runs that a plan can speak of."""


def expectation(ledger: Ledger, written: n.Expect) -> Expect | None:
    """The times and runs of an `expect`; None and slips where they make no sense."""
    span = bounds_of(ledger, written.span, Dimension.TIME, "an expected time")
    low_us = time_us(ledger, span.low, written.span.low.place) if span else None
    high_us = time_us(ledger, span.high, written.span.high.place) if span else None
    place = written.span.low.place.through(written.span.high.place)
    runs = (1, 1)
    if written.hits and written.runs:
        place = place.through(written.runs.place)
        runs = _runs(written.hits.text, written.runs.text)
        if not 1 <= runs[0] <= runs[1] <= MOST_RUNS:
            wrong = written.hits.place.through(written.runs.place)
            ledger.add("wrong-runs", wrong, wrong.words)
            return None
    if low_us is None or high_us is None:
        return None
    return Expect(low_us, high_us, *runs, place)


def _runs(hits: str, runs: str) -> tuple[int, int]:
    """The two numbers; 0 where one of them is no whole number."""
    return (int(hits) if hits.isdigit() else 0, int(runs) if runs.isdigit() else 0)
