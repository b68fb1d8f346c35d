"""The order in which cards follow each other, and from where each is reached."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping

from planner.graph import Exit, ExitKind, Plan
from planner.pictures.lettering import TIE


def ordered(plan: Plan) -> list[str]:
    """Names of steps as pictures show them: the start, the steps as written, the finishes."""
    routine = plan.routine

    def rank(name: str) -> int:
        return 0 if name == routine.start else 2 if plan.step(name).is_finish else 1

    return sorted(routine.steps, key=rank)


def own_exits(plan: Plan, name: str) -> tuple[Exit, ...]:
    """A step's exits without those by the match clock, which are shown once for all steps."""
    return tuple(way for way in plan.exits[name] if way.kind is not ExitKind.MATCH)


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
    from_any = {way.target for way in plan.routine.match_exits}
    places = {
        name: [*_runs(list(sources.get(name, ()))), *[f"any{TIE}step"] * (name in from_any)]
        for name in numbers
    }
    return {
        name: f"reached without a line from {', '.join(words)}"
        for name, words in places.items()
        if words
    }


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
