"""Where two conditions ask one sensor for ranges that overlap, and neither is the wider one."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from planner.graph.atoms import SOURCE, Asking, Assumed, Atoms, Cell, Key
from planner.graph.cells import edges_of
from planner.graph.possible import Outcome, together
from planner.model.condition import All, Any, Condition, Held, Looks, Not, Once, Steady, Unreadable


def crossing(
    first: Asking, then: Asking, around: Sequence[str], assumed: Assumed
) -> Outcome | None:
    """Readings that make both true, where on some sensor each can be true without the other.

    None where they look at different sensors, where one is the wider, where they touch in a single
    number only, and where it is not decided. What several passes must agree on is taken as it is
    once the readings stay as they are.
    """
    one, other = (Asking(steadily(asking.condition), asking.owner) for asking in (first, then))
    atoms = Atoms([one, other], assumed)
    for key in sorted(_sources(one, assumed) & _sources(other, assumed), key=str):
        domain = atoms.domains[key]
        edges = edges_of(atoms.leaves[key]) if key in atoms.leaves else frozenset()
        fulfilled = [_fulfilled(asking, key, domain, around, assumed) for asking in (one, other)]
        if fulfilled[0] <= fulfilled[1] or fulfilled[1] <= fulfilled[0]:
            continue
        for value in domain:
            if value in edges or value not in fulfilled[0] & fulfilled[1]:
                continue
            outcome = together([one, other], (), around, _with(assumed, key, value))
            if outcome.possible:
                return replace(outcome, says={str(key[1]): value, **outcome.says})
    return None


def steadily(condition: Condition) -> Condition:
    """What a condition comes down to while the readings stay as they are."""
    match condition:
        case Not(part):
            return Not(steadily(part))
        case All(inner) | Any(inner):
            return replace(condition, parts=tuple(steadily(part) for part in inner))
        case Held(part) | Once(part) | Looks(part):
            return steadily(part)
        case Steady(source, _, _, place):
            return Not(Unreadable(source, place))
        case _:
            return condition


def _sources(asking: Asking, assumed: Assumed) -> set[Key]:
    return {key for key in Atoms([asking], assumed).domains if key[0] == SOURCE}


def _fulfilled(
    asking: Asking, key: Key, domain: Sequence[Cell], around: Sequence[str], assumed: Assumed
) -> set[Cell]:
    """The values of a source with which a condition can be true, those left out that are none."""
    return {
        value
        for value in domain
        if value is not None and together([asking], (), around, _with(assumed, key, value)).possible
    }


def _with(assumed: Assumed, key: Key, value: Cell) -> Assumed:
    given: Mapping[Key, Cell] = {**assumed.given, key: value}
    return replace(assumed, given=given)
