"""Requirements against the published patterns, on every short run of two things.

Source, from memory: Dwyer, Avrunin and Corbett, "Patterns in property specifications for
finite-state verification", ICSE 1999, the LTL formulas of scope "globally":

    absence     always not (P and Q)             `never P while Q`
    precedence  not P weak-until S               `P only after S`
    response    always (P implies eventually S)  `P leads to S within T`
    existence   eventually P                     `finished by T`

The formulas are worked out here as they stand, by recursion over the places of a run; a run that
ends fulfils no `eventually` that is still open, as in Eisner and Fisman, "A Practical Introduction
to PSL", 2006 (strong operators on finite runs; from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import product
from typing import TypeAlias

import pytest
from played import machine

from planner.graph.monitor import judged
from planner.graph.run import Commanded, Entered, Event, Finished, SwitchedOff

Place: TypeAlias = tuple[str, str]
"""What the roller and the lamp on the mast are told in a pass; empty for nothing new."""
Formula: TypeAlias = Callable[[int], bool]

PLAN = """routine example
robot moth
limit 30 s
{line}
start A
step A
  claw close
  after 9 s, go to End
finish End
"""
PASS_US = 20_000
TOLD = ("", "take", "off")
LAMP = ("", "light", "dark")
RUNS = [tuple(zip(one, two, strict=True)) for one in product(TOLD, repeat=3)
        for two in product(LAMP, repeat=3)]  # fmt: skip


def events(run: Sequence[Place]) -> list[Event]:
    """A run in which the two are told so, pass by pass, as the machine would write it."""
    found: list[Event] = [Entered(0, "A")]
    for number, (roller, lamp) in enumerate(run):
        at_us = number * PASS_US
        if roller == "off":
            found.append(SwitchedOff(at_us, "roller"))
        elif roller:
            found.append(Commanded(at_us, "roller", roller))
        if lamp:
            found.append(Commanded(at_us, "signal", lamp))
    end_us = (len(run) - 1) * PASS_US
    return [*found, Entered(end_us, "End"), Finished(end_us, "End")]


def holding(line: str) -> set[tuple[Place, ...]]:
    """The runs that keep to the requirement of a line."""
    plan = machine(PLAN.format(line=line)).plan
    return {run for run in RUNS if () == judged(plan, events(run))}


def on(run: Sequence[Place], which: int, word: str) -> Formula:
    """Whether something is on at a place: told last, and not switched off since."""

    def at(place: int) -> bool:
        told = [part[which] for part in run[: place + 1] if part[which]]
        return told[-1:] == [word]

    return at


def begins(run: Sequence[Place], which: int, word: str) -> Formula:
    """Whether it is told at a place."""
    return lambda place: run[place][which] == word


def negated(formula: Formula) -> Formula:
    """Where the formula does not hold."""
    return lambda place: not formula(place)


def one_before(formula: Formula) -> Formula:
    """Where the formula held a place before."""
    return lambda place: place > 0 and formula(place - 1)


def eventually(run: Sequence[Place], formula: Formula, place: int, most: int) -> bool:
    """At this place or one at most so many further on."""
    return any(formula(later) for later in range(place, min(len(run), place + most + 1)))


def weak_until(run: Sequence[Place], left: Formula, right: Formula, place: int = 0) -> bool:
    """The left at every place before the first of the right, which need not come."""
    if place == len(run) or right(place):
        return True
    return left(place) and weak_until(run, left, right, place + 1)


def test_absence() -> None:
    """Same: `never P while Q` is absence of both at once."""
    kept = holding("require never roller take while signal light")
    for run in RUNS:
        roller, lamp = on(run, 0, "take"), on(run, 1, "light")
        never = not any(roller(place) and lamp(place) for place in range(len(run)))
        assert (run, never) == (run, run in kept)


@pytest.mark.parametrize("most", [0, 1, 2])
def test_response(most: int) -> None:
    """Same: `P leads to S within T` is response, with a bound that counts passes here."""
    kept = holding(f"require roller take leads to signal light within {most * 20} ms")
    for run in RUNS:
        cause, effect = begins(run, 0, "take"), on(run, 1, "light")
        causes = [place for place in range(len(run)) if cause(place)]
        answered = all(eventually(run, effect, place, most) for place in causes)
        assert (run, answered) == (run, run in kept)


def test_precedence() -> None:
    """Different by design (M15): `only after` is precedence, but the same pass will not do."""
    kept = holding("require roller take only after signal light")
    told_apart = 0
    for run in RUNS:
        later, earlier = begins(run, 0, "take"), on(run, 1, "light")
        published = weak_until(run, negated(later), earlier)
        strictly = weak_until(run, negated(later), one_before(earlier))
        assert (run, strictly) == (run, run in kept)
        told_apart += published and not strictly
    # Both first told in one pass: the first of three passes, the second or the last; the rest free.
    assert 81 + 2 * 2 * 9 + 2 * 2 * 2 * 2 == told_apart


def test_existence() -> None:
    """Same: `finished by T` is existence of a finish, with a bound; the last place is in time."""
    assert set(RUNS) == holding("require finished by 40 ms")
    assert set() == holding("require finished by 39 ms")
