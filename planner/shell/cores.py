"""Checks the variants of a routine on several cores, where that pays.

Workers are processes of their own, started anew as on Windows, so that it is the same everywhere.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from multiprocessing import get_context, resource_tracker
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from time import perf_counter

from planner.checks import VariantCase
from planner.findings import Finding

STARTING_S = 1.0
"""How long a worker takes to start and load the checks on a slow computer."""
MOST_WORKERS = 8
"""Each holds a search of its own, which can take some hundred megabytes."""
_POLL_S = 0.1
"""On Windows Ctrl-C is not noticed while waiting, but between two waits."""
_Findings = tuple[Finding, ...]


def spread(cases: Sequence[VariantCase]) -> Iterator[_Findings]:
    """The findings of each variant, in their order; on several cores as soon as that pays.

    Ctrl-C ends the workers as well.
    """
    begun = perf_counter()
    for done, case in enumerate(cases):
        if done:
            each_s = (perf_counter() - begun) / done
            workers = workers_for(len(cases) - done, each_s, usable_cores())
            if workers:
                yield from on_workers(cases[done:], workers)
                return
        yield case.findings()


def workers_for(left: int, each_s: float, cores: int) -> int:
    """How many workers to start for the variants that are left; 0 where it would not pay.

    It pays where the time that is saved is clearly longer than starting them takes.
    """
    workers = min(left, cores, MOST_WORKERS)
    rounds = -(-left // workers)
    return workers if (left - rounds) * each_s > 2 * STARTING_S else 0


def on_workers(cases: Sequence[VariantCase], workers: int) -> Iterator[_Findings]:
    """The findings of each variant, in their order, from so many workers.

    Where workers cannot be started, or one of them ends early, the rest is checked here.
    """
    done = 0
    with suppress(OSError, EOFError, ImportError), _started(workers) as crew:
        for findings in _from_crew(cases, crew):
            done += 1
            yield findings
    yield from (case.findings() for case in cases[done:])


@dataclass(eq=False)
class _Worker:
    process: BaseProcess
    line: Connection
    """Numbers of variants go out, their findings come in."""
    busy_with: int = -1

    def take(self, number: int) -> None:
        """Gives it a variant to check."""
        self.busy_with = number
        self.line.send(number)


def _from_crew(cases: Sequence[VariantCase], crew: list[_Worker]) -> Iterator[_Findings]:
    """The findings of each variant. Raises `EOFError` or `OSError` where a worker has ended."""
    for worker in crew:
        worker.line.send(tuple(cases))
    waiting = iter(range(len(cases)))
    idle, busy = list(crew), dict[Connection, _Worker]()
    found: dict[int, _Findings] = {}
    for number in range(len(cases)):
        while number not in found:
            for worker, further in zip(idle, waiting, strict=False):
                worker.take(further)
                busy[worker.line] = worker
            idle.clear()
            for line in wait(list(busy), _POLL_S):
                assert isinstance(line, Connection)
                idle.append(busy.pop(line))
                found[idle[-1].busy_with] = line.recv()
        yield found.pop(number)


@contextmanager
def _started(workers: int) -> Iterator[list[_Worker]]:
    """So many workers, which have ended when this has."""
    crew: list[_Worker] = []
    try:
        with _ctrl_c_held_back():
            for _ in range(workers):
                crew.append(_start())
        yield crew
    finally:
        for worker in crew:
            worker.line.close()
            worker.process.terminate()
        for worker in crew:
            worker.process.join()


def _start() -> _Worker:
    context = get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_serve, args=(theirs,), daemon=True)
    process.start()
    # Only the worker holds its end now, so that the line breaks when it ends.
    theirs.close()
    return _Worker(process, ours)


@contextmanager
def _ctrl_c_held_back() -> Iterator[None]:
    """Ctrl-C comes after this; and a process that is started meanwhile never sees it at all, where
    the system knows of that: it is for this one to end it."""
    came: list[int] = []
    # A thread that draws takes the signal, too, so that blocking it here is not enough.
    before = signal.signal(signal.SIGINT, lambda number, _: came.append(number))
    try:
        with _ctrl_c_blocked():
            yield
    finally:
        signal.signal(signal.SIGINT, before)
    if came and callable(before):
        before(signal.SIGINT, None)


@contextmanager
def _ctrl_c_blocked() -> Iterator[None]:
    if sys.platform == "win32":
        yield
        return
    # Python starts this one with the first process, and lets Ctrl-C through again after it.
    resource_tracker.ensure_running()
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _serve(line: Connection) -> None:
    """What a worker does: it gets the variants, and then the number of one after the other."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # As in the program itself.
    gc.disable()
    # Whatever goes wrong is met again, and told of, where the rest is checked without workers.
    with suppress(Exception):
        cases: tuple[VariantCase, ...] = line.recv()
        while True:
            line.send(cases[line.recv()].findings())


def usable_cores() -> int:
    """How many cores this program may use."""
    if sys.platform == "linux":
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1
