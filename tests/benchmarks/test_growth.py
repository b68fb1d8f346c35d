"""How a check and its search of all runs grow with a plan, and where they end; run on demand."""

from __future__ import annotations

import resource
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TypeVar

import pytest
from demo import ROUTINES, moth_robot
from grown import lanes, skipping
from turns import IMPORTS, PLANNER, least, process, seconds

from planner.checks.timing import MOST_STATES, bounds_for
from planner.graph import Plan
from planner.pipeline import check_routine
from planner.reach.search import Holds
from planner.reach.verdict import verdict
from planner.text import Source

ONE_SECOND = 7
"""In times of importing the libraries, which took 0.14 s on two plain cores."""
TEN_SECONDS = 10 * ONE_SECOND
LONG_S = 0.3
MOST_KILOBYTES = 1_000_000
Answer = TypeVar("Answer")


def planned(text: str) -> Plan:
    """The plan of a text."""
    return check_routine(Source("x.routine", text), lambda _name: moth_robot()).plan


def timed(work: Callable[[], Answer]) -> tuple[float, Answer]:
    """The least time of a turn, of one only where that is long, and what it answers."""
    answers: list[Answer] = []
    times = [seconds(lambda: answers.append(work()))]
    while len(times) < 3 and times[0] < LONG_S:
        times.append(seconds(work))
    return min(times), answers[0]


def imported() -> float:
    """How long a process takes that imports the libraries, and no more."""
    (imports_s,) = least([process("-c", IMPORTS)], 5)
    return imports_s


def written(folder: Path, text: str) -> str:
    """A routine with that text, in a folder with its robot file."""
    (folder / "moth.bot").write_bytes((ROUTINES / "moth.bot").read_bytes())
    routine = folder / "lanes.routine"
    routine.write_text(text, encoding="utf-8")
    return str(routine)


def searched(name: str, texts: dict[int, str]) -> dict[int, int]:
    """The states for each size, from a search of each plan, whose times are printed beside the
    first one's."""
    print(f"\n{name:>8} {'states':>7} {'':>6} {'search':>9} {'':>6} {'whole check':>12} {'':>6}")
    rows: dict[int, tuple[int, float, float]] = {}
    for size, text in texts.items():
        check_s, drawn = timed(partial(planned, text))
        search_s, found = timed(partial(verdict, drawn, bounds_for(drawn)))
        assert isinstance(found.in_time, Holds), size
        rows[size] = (found.states, search_s, check_s)
        first = next(iter(rows.values()))
        states, search, check = (now / then for now, then in zip(rows[size], first, strict=True))
        print(f"{size:8} {found.states:7} {states:5.1f}x {search_s * 1000:6.0f} ms", end="")
        print(f" {search:5.1f}x {check_s * 1000:9.0f} ms {check:5.1f}x")
    return {size: row[0] for size, row in rows.items()}


def test_growth_by_steps() -> None:
    """States grow as steps do in a chain whose limits skip a step."""
    states = searched("steps", {steps: skipping(steps) for steps in (10, 20, 40, 80)})
    assert [2 * n + 1 for n in (20, 40, 80)] == [states[n] for n in (20, 40, 80)]


def test_growth_by_counted_exits() -> None:
    """Each counted exit that is once passed, once not, at most doubles the states, and a little."""
    states = searched("counted", {counts: skipping(20, counts) for counts in (0, 2, 4, 6, 8)})
    assert states[8] < 2**8 * states[0]


def test_growth_by_lanes() -> None:
    """Three lanes of three steps stay far from where a check stops its search."""
    states = searched("lanes", {number: lanes(number, 3) for number in (1, 2, 3)})
    assert states[3] < MOST_STATES / 10


def test_growth_by_choices() -> None:
    """A choice that changes no way and no time adds no state to the search of a variant."""
    texts = {2**choices: skipping(20, choices=choices) for choices in (0, 2, 4)}
    states = searched("variants", texts)
    assert {states[1]} == set(states.values())


@pytest.mark.parametrize(("number", "steps"), [(2, 30), (3, 6), (3, 10)])
def test_giving_up(tmp_path: Path, number: int, steps: int) -> None:
    """A check that comes to no answer says so in 70 times what importing its libraries takes."""
    check = process(*PLANNER, "check", written(tmp_path, lanes(number, steps)), status=3)
    imports_s, check_s = imported(), seconds(check)
    print(f"\n{number} lanes of {steps}, no answer: {check_s:.2f} s", end="")
    print(f" {check_s / imports_s:.1f}x imports")
    assert check_s <= TEN_SECONDS * imports_s


def test_two_lanes_with_counters(tmp_path: Path) -> None:
    """A check of two lanes of twelve steps with counters ends with an answer, in 70 times what
    importing its libraries takes and less than 1 GB."""
    # It ends with status 0 only where its search has come to an answer.
    check = process(*PLANNER, "check", written(tmp_path, lanes(2, 12, counters=True)))
    imports_s, check_s = imported(), seconds(check)
    # The most that any process has held which this one has waited for.
    kilobytes = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss
    print(f"\ntwo lanes of 12 with counters: {check_s:.2f} s", end="")
    print(f" {check_s / imports_s:.1f}x imports, at most {kilobytes / 1000:.0f} MB")
    assert check_s <= TEN_SECONDS * imports_s
    assert kilobytes < MOST_KILOBYTES


def test_gallery_with_everything_on() -> None:
    """`planner check --faults` of each demo routine takes at most 7 times what importing its
    libraries does."""
    imports_s = imported()
    seconds(process(*PLANNER, "check", "--faults", str(ROUTINES / "first_lamp.routine")))
    print(f"\n{IMPORTS}: {imports_s:.2f} s{'check':>20} {'':>6} --faults")
    for path in [*ROUTINES.glob("*.routine"), *sorted(ROUTINES.glob("gallery/*.routine"))]:
        plain = process(*PLANNER, "check", str(path))
        whole = process(*PLANNER, "check", "--faults", str(path))
        plain_s, whole_s = least([plain, whole], 2)
        print(f"{path.name:28} {plain_s:.2f} s {plain_s / imports_s:5.1f}x", end="")
        print(f" {whole_s:.2f} s {whole_s / imports_s:5.1f}x")
        if whole_s > ONE_SECOND * imports_s:
            # A turn that something else has slowed down is not the last word.
            whole_s = min(whole_s, seconds(whole))
        assert whole_s <= ONE_SECOND * imports_s, path.name
