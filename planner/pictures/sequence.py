"""The order in which cards follow each other, and from where each is reached."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from planner.graph import Exit, ExitKind, Plan
from planner.pictures.lettering import TIE


def ordered(plan: Plan) -> list[str]:
    """Names of steps as pictures show them: the start, the steps as written, the finishes.

    The steps of a group stay together; the group that the start is in goes first.
    """
    routine = plan.routine
    paths = {
        name: (*(group.name for group in routine.groups_around(name)), f"{name} itself")
        for name in routine.steps
    }
    first: dict[tuple[str, ...], int] = {}
    for at, path in enumerate(paths.values()):
        for depth in range(1, len(path) + 1):
            first.setdefault(path[:depth], at)
    start = paths.get(routine.start, ())

    def place(name: str) -> list[tuple[int, int]]:
        path, is_finish = paths[name], plan.step(name).is_finish
        heads = [path[:depth] for depth in range(1, len(path) + 1)]
        return [
            (0 if head == start[: len(head)] else 2 if is_finish else 1, first[head])
            for head in heads
        ]

    # The end of a lane is no card: what leads there says so.
    return sorted((name for name in paths if not plan.step(name).ends_lane), key=place)


def own_exits(plan: Plan, name: str) -> tuple[Exit, ...]:
    """A step's exits without those of its groups and the routine, which are shown once for all."""
    return tuple(w for w in plan.exits[name] if w.kind is not ExitKind.MATCH and not w.group)


def arrivals(
    plan: Plan, numbers: Mapping[str, int], joined: Collection[tuple[str, str]]
) -> dict[str, str]:
    """For each step from where it is reached without a line, in words.

    `joined` are the pairs of cards that a line leads from and to.
    """
    sources: dict[str, dict[int, None]] = {}
    for name in numbers:
        for way in own_exits(plan, name):
            if (name, way.target) not in joined:
                sources.setdefault(way.target, {})[numbers[name]] = None
    for block, first in plan.begins.items():
        for name in first:
            sources.setdefault(name, {})[numbers[block]] = None
    common = _common(plan)
    places = {
        name: [*_runs(list(sources.get(name, ()))), *common.get(name, ())] for name in numbers
    }
    return {
        name: f"reached without a line from {', '.join(words)}"
        for name, words in places.items()
        if words
    }


def _common(plan: Plan) -> dict[str, dict[str, None]]:
    """For each step from which groups it is reached by a common exit, in words."""
    found: dict[str, dict[str, None]] = {}
    for way in plan.all_exits():
        if way.group:
            found.setdefault(way.target, {})[f"any{TIE}step{TIE}of{TIE}{way.group}"] = None
    for exit_ in plan.routine.match_exits:
        found.setdefault(exit_.target, {})[f"any{TIE}step"] = None
    return found


def _runs(numbers: list[int]) -> Iterator[str]:
    """Ascending numbers with three or more in a row drawn together: ``1``, ``3 to 7``."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    for run in runs:
        if len(run) > 2:
            yield f"{run[0]}{TIE}to{TIE}{run[-1]}"
        else:
            yield from map(str, run)
