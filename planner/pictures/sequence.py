"""The order in which cards follow each other, and which exits get a line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planner.graph import Exit, ExitKind, Plan
from planner.pictures.palette import WHEN, look_of


def ordered(plan: Plan) -> list[str]:
    """Names of steps as pictures show them: the start, the steps as written, the finishes."""
    routine = plan.routine

    def rank(name: str) -> int:
        return 0 if name == routine.start else 2 if plan.step(name).is_finish else 1

    return sorted(routine.steps, key=rank)


def own_exits(plan: Plan, name: str) -> tuple[Exit, ...]:
    """A step's exits without those by the match clock, which are shown once for all steps."""
    return tuple(way for way in plan.exits[name] if way.kind is not ExitKind.MATCH)


def has_line(way: Exit, numbers: Mapping[str, int]) -> bool:
    """Whether an exit gets a line; more would tangle, and every row names the card it leads to.

    Lines join neighbours in the chain, and lead over one card where a sensor decides, for so a
    plan goes on past the step that tries again.
    """
    along = numbers[way.target] - numbers[way.source]
    return abs(along) == 1 or (along == 2 and look_of(way) is WHEN)


def arrivals(plan: Plan, numbers: Mapping[str, int]) -> dict[str, str]:
    """For each step that is reached other than along a line, from where, in words."""
    sources: dict[str, list[int]] = {}
    for name in numbers:
        for way in own_exits(plan, name):
            known = sources.setdefault(way.target, [])
            if not has_line(way, numbers) and numbers[name] not in known:
                known.append(numbers[name])
    from_any = {way.target for way in plan.routine.match_exits}
    places = {
        name: [*_runs(sources.get(name, [])), *["any step"] * (name in from_any)]
        for name in numbers
    }
    return {name: f"also from {', '.join(words)}" for name, words in places.items() if words}


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
            yield f"{run[0]} to {run[-1]}"
        else:
            yield from map(str, run)
