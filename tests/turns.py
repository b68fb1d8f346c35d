"""How long things take: the least of several turns, what is compared taking turns."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from tempfile import TemporaryDirectory

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


IMPORTS = "import click, lark, networkx"
"""What a process has done before it comes to anything of ours."""


def process(*arguments: str, status: int = 0) -> Callable[[], object]:
    """A Python process of its own, which has to end with that status.

    As where the program is installed, compiled modules and the grammar's tables are kept from one
    turn to the next: in a folder of these benchmarks, where no other version of it looks.
    """
    kept = _KEPT.name
    around = {key: said for key, said in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    around |= {"PYTHONPYCACHEPREFIX": kept, "XDG_CONFIG_HOME": kept}

    def turn() -> None:
        ended = subprocess.run(
            [sys.executable, *arguments], cwd=ROUTINES, capture_output=True, check=False, env=around
        )
        assert status == ended.returncode, ended.stderr

    return turn


_KEPT = TemporaryDirectory(prefix="planner-benchmarks-")
