"""How much sooner the variants of a routine are checked on workers; run on demand."""

from __future__ import annotations

import gc
from collections.abc import Iterator, Sequence

from demo import moth_robot
from grown import skipping
from turns import least

from planner.checks import VariantCase
from planner.findings import Finding
from planner.pipeline import check_routine
from planner.shell.cores import on_workers, usable_cores
from planner.text import Source


def heavy_variants() -> list[VariantCase]:
    """Sixteen variants whose searches go through some thousand states each."""
    met: list[VariantCase] = []

    def remember(cases: Sequence[VariantCase]) -> Iterator[tuple[Finding, ...]]:
        met.extend(cases)
        return iter(())

    text = skipping(20, counts=9, choices=4)
    check_routine(Source("x.routine", text), lambda _name: moth_robot(), find_each=remember)
    return met


def test_sixteen_variants() -> None:
    """Sixteen heavy variants are checked sooner on all cores than on one, their start included."""
    cases = heavy_variants()
    assert 16 == len(cases)
    workers = min(usable_cores(), 16)
    # As in the program itself, and in its workers.
    gc.disable()
    try:
        alone_s, spread_s = least(
            [
                lambda: [case.findings() for case in cases],
                lambda: list(on_workers(cases, workers)),
            ],
            2,
        )
    finally:
        gc.enable()
    print(f"\n16 variants: {alone_s:.1f} s on one core, {spread_s:.1f} s on {workers} workers,")
    print(f"{alone_s / spread_s:.2f}x")
    # On a single core there is nothing to gain.
    assert workers == 1 or spread_s < alone_s
