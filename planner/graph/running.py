"""What turns in each step and when a finish is reached, over all ways that lead there."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass
from typing import TypeAlias

from planner.graph.doing import Doing, Stance, doings
from planner.graph.owners import given_in, owners
from planner.graph.unfold import Exit, Plan

Open: TypeAlias = Mapping[str, tuple[Exit, ...]]


@dataclass(frozen=True, slots=True)
class Turning:
    """The mechanisms that a `runs` command drives, as the plan first names them."""

    surely: tuple[str, ...] = ()
    """By every way."""
    perhaps: tuple[str, ...] = ()
    """By some way only, or until a side rule speaks."""

    def only(self, mechanism: str) -> Turning:
        """What is known of one of them."""
        return Turning(
            tuple(name for name in self.surely if name == mechanism),
            tuple(name for name in self.perhaps if name == mechanism),
        )


@dataclass(frozen=True, slots=True)
class Running:
    """By mechanism and step, whether a `runs` command drives it there: in all that it may be doing,
    in some of it, or in none."""

    _found: Mapping[str, Mapping[str, frozenset[bool]]]

    def during(self, steps: Iterable[str]) -> Turning:
        """What turns throughout some steps, and what turns in a part of them."""
        some = tuple(steps)
        surely: list[str] = []
        perhaps: list[str] = []
        for mechanism, by_step in self._found.items():
            turns = frozenset[bool]().union(*(by_step.get(step, ()) for step in some))
            if turns == {True}:
                surely.append(mechanism)
            elif True in turns:
                perhaps.append(mechanism)
        return Turning(tuple(surely), tuple(perhaps))


def running(plan: Plan, taken: Container[tuple[str, int]] | None = None) -> Running:
    """What turns where, as far as it can be known; with `taken` runs take no other exits than
    those, each named by its step and its number.

    In a finish it is what still turned when it was reached, so none of its own commands.
    """
    exits: Open | None = None
    if taken is not None:
        exits = {
            step: tuple(exit_ for exit_ in every if (step, exit_.number) in taken)
            for step, every in plan.exits.items()
        }
    driven = {g.mechanism.name: None for g, _ in given_in(plan.routine) if g.command.runs}
    found: dict[str, dict[str, frozenset[bool]]] = {}
    for mechanism in driven:
        flow = doings(plan, mechanism, exits)
        if flow is not None:
            found[mechanism] = {
                step: frozenset[bool]().union(
                    *(_turns(plan, step, doing, mechanism) for doing in some)
                )
                for step, some in flow.during.items()
            }
    return Running(found)


def _turns(plan: Plan, step: str, doing: Doing, mechanism: str) -> frozenset[bool]:
    given = doing.given
    if doing.stance is Stance.UNKNOWN:
        in_block = step in plan.begins or bool(plan.block_of(step))
        may = in_block or _outlasts(plan, mechanism)
        return frozenset((False, True) if may else (False,))
    if doing.stance is not Stance.TOLD or given is None or not given.command.runs:
        return frozenset((False,))
    entered = plan.step(step)
    own = {one.place for one in entered.commands}
    return frozenset((not (entered.is_finish and given.place in own),))


def _outlasts(plan: Plan, mechanism: str) -> bool:
    """Whether anything sets a mechanism running that may go on when the step is left (M7, M12)."""
    ruled = {rule.given.number for owner in owners(plan.routine) for rule in owner.rules}
    return any(
        given.command.runs and (given.keep or given.number in ruled)
        for given, _ in given_in(plan.routine)
        if given.mechanism.name == mechanism
    )
