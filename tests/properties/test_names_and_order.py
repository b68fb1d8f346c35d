"""What is said of a plan goes by what it does: not by how its steps are called, nor by the order in
which they are written where that has no meaning."""

from __future__ import annotations

import random
from collections.abc import Callable

import pytest
from hypothesis import settings
from random_plans import random_block, random_plan, remembering
from renamed import names_in, new_names, renamed_plan, renamed_word, reordered_plan

from planner.graph import Plan
from planner.reach.position import Leaving
from planner.reach.verdict import Verdict, verdict

LONG = settings.default is not None and settings.default.max_examples > 1000
SEEDS = 3000 if LONG else 100
KINDS: dict[str, Callable[[int], Plan]] = {
    "usual": lambda seed: random_plan(seed, 3 + seed % 6, usual=True),
    "strange": lambda seed: random_plan(seed, 3 + seed % 6),
    "counting": lambda seed: remembering(random_plan(seed, 3 + seed % 4, usual=True), seed),
    "lanes": random_block,
    "strange lanes": lambda seed: remembering(random_block(seed, usual=False), seed),
}


def told(found: Verdict, names: dict[str, str]) -> dict[str, object]:
    """What is known of all runs, with steps under other names."""
    entries = {renamed_word(name, names): w for name, w in found.entries.items()}
    taken = {(renamed_word(step, names), number) for step, number in found.taken}
    moves = found.proposed.moves if found.proposed else ()
    run = [
        (renamed_word(one.step, names), one.exit.number if one.exit else None)
        for move in moves
        if isinstance(move.label, Leaving)
        for one in move.label.taken
    ]
    return {
        "windows": entries,
        "taken": taken,
        "in time": type(found.in_time),
        "stopped": found.stopped.bound if found.stopped else "",
        "run": run,
    }


@pytest.mark.parametrize("kind", KINDS)
def test_names_have_no_say(kind: str) -> None:
    """Under other names every step is entered at the same times, and runs are late or not alike."""
    for seed in range(SEEDS):
        plan = KINDS[kind](seed)
        names = new_names(names_in(plan), random.Random(seed))
        other = renamed_plan(plan, names)
        assert told(verdict(plan), names) == told(verdict(other), {}), seed


@pytest.mark.parametrize("kind", KINDS)
def test_order_has_no_say(kind: str) -> None:
    """So it is with the steps written in another order."""
    for seed in range(SEEDS):
        plan = KINDS[kind](seed)
        other = reordered_plan(plan, random.Random(seed))
        assert told(verdict(plan), {}) == told(verdict(other), {}), seed
