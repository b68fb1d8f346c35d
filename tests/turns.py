"""How long things take: the least of several turns, what is compared taking turns."""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable, Sequence

from demo import ROUTINES

PLANNER = ("-c", "from planner.shell.main import run; run()")
"""The arguments with which Python is the command line."""


def seconds(work: Callable[[], object]) -> float:
    """How long one turn takes."""
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def least(works: Sequence[Callable[[], object]], turns: int) -> list[float]:
    """The least time of each, all of them taking turns."""
    times = [[seconds(work) for work in works] for _ in range(turns)]
    return [min(of_one) for of_one in zip(*times, strict=True)]


def process(*arguments: str) -> Callable[[], object]:
    """A Python process of its own, which has to end with status 0."""
    return lambda: subprocess.run(
        [sys.executable, *arguments], cwd=ROUTINES, capture_output=True, check=True
    )
