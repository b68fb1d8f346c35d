"""Which names of a plan are new names for old things, as far as its text can tell.

What has gone is held against what has come, of one sort and owner. They may be one thing where
more than half of what the text says of them is the same, or where both stand alone between the
same neighbours and something is. The likest pair is taken first.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import TypeAlias

from planner.java.named import FINISH, MECHANISM, STEP, Named

_HALF = Fraction(1, 2)


@dataclass(frozen=True, slots=True)
class Rename:
    """Something that goes by another name now."""

    before: Named
    after: Named


_Sort: TypeAlias = "tuple[str, str]"


def renames(before: Sequence[Named], after: Sequence[Named]) -> tuple[Rename, ...]:
    """What was given another name between two states of a plan, in the order of the new one."""
    neutral = _Neutral(before, after)
    mechanisms = _paired(before, after, neutral, lambda one: one.what == MECHANISM)
    moved = {rename.before.name: rename.after.name for rename in mechanisms}
    # What belongs to a mechanism with a new name is looked for under that.
    old = [replace(one, owner=moved.get(one.owner, one.owner)) for one in before]
    others = _paired(old, after, neutral, lambda one: one.what != MECHANISM)
    back = {new: name for name, new in moved.items()}
    told = [
        Rename(replace(rename.before, owner=back.get(rename.before.owner, rename.before.owner)), a)
        for rename in others
        for a in [rename.after]
    ]
    places = {_key(one): place for place, one in enumerate(after)}
    return tuple(sorted([*mechanisms, *told], key=lambda rename: places[_key(rename.after)]))


def _paired(
    before: Sequence[Named],
    after: Sequence[Named],
    neutral: _Neutral,
    wanted: Callable[[Named], bool],
) -> list[Rename]:
    old = [one for one in before if wanted(one)]
    new = [one for one in after if wanted(one)]
    found = []
    for sort in dict.fromkeys(map(_sort, new)):
        found += _of_sort(_only(old, sort), _only(new, sort), neutral)
    return found


def _of_sort(old: list[Named], new: list[Named], neutral: _Neutral) -> list[Rename]:
    kept = {one.name for one in old} & {one.name for one in new}
    gone, come = _gaps(old, kept), _gaps(new, kept)
    likeness = {
        (a, b): share
        for a in range(len(gone))
        for b in range(len(come))
        if (share := neutral.share(gone[a][0], come[b][0])) > _HALF
        or (share > 0 and _alone(gone, a) and _alone(come, b) and gone[a][1] == come[b][1])
    }
    taken: list[tuple[int, int]] = []
    for a, b in sorted(likeness, key=lambda pair: (-likeness[pair], abs(pair[0] - pair[1]), pair)):
        if all(a != other[0] and b != other[1] for other in taken):
            taken.append((a, b))
    return [Rename(gone[a][0], come[b][0]) for a, b in sorted(taken)]


def _gaps(named: list[Named], kept: set[str]) -> list[tuple[Named, tuple[str, str]]]:
    """What is not in `kept`, and the names around it that are; empty at the ends."""
    found = []
    for place, one in enumerate(named):
        if one.name not in kept:
            above = next((n.name for n in reversed(named[:place]) if n.name in kept), "")
            below = next((n.name for n in named[place:] if n.name in kept), "")
            found.append((one, (above, below)))
    return found


def _alone(gaps: list[tuple[Named, tuple[str, str]]], at: int) -> bool:
    return sum(gap == gaps[at][1] for _, gap in gaps) == 1


class _Neutral:
    """Compares what is said of two things with all names left out that have gone or come."""

    def __init__(self, before: Iterable[Named], after: Iterable[Named]) -> None:
        old, new = {one.name for one in before}, {one.name for one in after}
        self.gone, self.come = _words(old - new), _words(new - old)

    def share(self, before: Named, after: Named) -> Fraction:
        """From 0 to 1: twice what both have by what they have together (Dice's coefficient).

        Source: L. R. Dice, "Measures of the amount of ecologic association between species",
        Ecology 26 (1945); from memory.
        """
        one = Counter(self.gone.sub("?", line) for line in before.like)
        other = Counter(self.come.sub("?", line) for line in after.like)
        whole = one.total() + other.total()
        return Fraction(2 * (one & other).total(), whole) if whole else Fraction(0)


def _words(names: set[str]) -> re.Pattern[str]:
    listed = "|".join(map(re.escape, sorted(names)))
    return re.compile(rf"\b(?:{listed})\b" if names else r"(?!)")


def _sort(named: Named) -> _Sort:
    return (STEP if named.what == FINISH else named.what, named.owner)


def _key(named: Named) -> tuple[str, str, str]:
    return (*_sort(named), named.name)


def _only(named: list[Named], sort: _Sort) -> list[Named]:
    return [one for one in named if _sort(one) == sort]
