"""What several active steps find together in one pass that is picked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from planner.reach.agreeing import ANYTHING, Sayings, agreeing
from planner.reach.glances import Glance, Key
from planner.reach.saying import Value


def agreed(choices: Sequence[Sequence[Glance]]) -> list[Glance | None]:
    """One of each that can be found in one pass, the first ones if they can; None where there are
    none, since there was too much to go through."""

    def found(number: int, said: Sayings) -> list[Glance | None] | None:
        if number == len(choices):
            return []
        options: Sequence[Glance | None] = choices[number] or [None]
        for glance in options:
            together = agreeing(said, glance.sayings) if glance else said
            rest = found(number + 1, together) if together else None
            if rest is not None:
                return [glance, *rest]
        return None

    return found(0, ANYTHING) or [next(iter(some), None) for some in choices]


def views_of(found: Iterable[Glance | None]) -> Iterator[Mapping[Key, Value]]:
    """Readings for each, in which those that they share say the same."""
    glances = [glance for glance in found if glance]
    sayings = ANYTHING
    for glance in glances:
        sayings = agreeing(sayings, glance.sayings)
    said = dict(min(sayings, key=repr, default=()))
    for glance in glances:
        fitting = (v for own, v in glance.views.items() if dict(own).items() <= said.items())
        yield next(fitting, next(iter(glance.views.values())))
