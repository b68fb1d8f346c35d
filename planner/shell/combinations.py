"""Which combinations of what routines let choose are to have op modes of their own."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import product
from pathlib import Path

from planner.findings import nearest
from planner.model.choices import Choice, Variant, normal_variant
from planner.model.routine import Routine
from planner.pipeline import Checked
from planner.rehearsal.choosing import combination, named_in
from planner.shell.trouble import Trouble

MOST_OP_MODES = 24
"""How many op modes `all` makes of a routine: a longer list is no help before a match."""

ALL = "all"


def combinations(
    plans: Mapping[Path, Checked], requests: Sequence[str]
) -> dict[Path, list[Variant]]:
    """The combinations that each routine is asked for, as typed. Raises `Trouble`.

    A request is ``alliance blue, park here`` or `all`, for every routine of the export that has
    those choices, or for one with its name in front: ``either_side: alliance blue``.
    """
    found: dict[Path, list[Variant]] = {path: [] for path in plans}
    for request in requests:
        name, _, text = request.rpartition(":")
        routines = {path: checked.plan.routine for path, checked in plans.items()}
        asked = _named(routines, name.strip()) if name else routines
        for path, variants in _requested(asked, text.strip()).items():
            found[path] += variants
    return found


def _named(routines: Mapping[Path, Routine], name: str) -> dict[Path, Routine]:
    """The routine of that name; the name of its file will do as well."""
    found = {
        path: routine
        for path, routine in routines.items()
        if name in (routine.name, path.name, path.stem)
    }
    if not found:
        near = nearest(name[:60], [routine.name for routine in routines.values()], most=1)
        hint = f" Did you mean `{near[0]}`?" if near else ""
        raise Trouble(f"this export has no routine `{name[:60]}`, so nothing was written.{hint}")
    return found


def _requested(routines: Mapping[Path, Routine], text: str) -> dict[Path, list[Variant]]:
    names = () if text == ALL else named_in(text)
    asked = {
        path: routine
        for path, routine in routines.items()
        if len(routines) == 1 or (routine.choices and set(names) <= set(routine.choices))
    }
    if not asked:
        wanted = " and ".join(f"`{name[:60]}`" for name in names) or "anything"
        raise Trouble(f"no routine of this export lets {wanted} be chosen. Nothing was written.")
    return {path: _of_one(path, routine, text) for path, routine in asked.items()}


def _of_one(path: Path, routine: Routine, text: str) -> list[Variant]:
    if not routine.choices:
        raise Trouble(
            f"{path} has nothing to choose, so its one op mode is enough. Nothing was written."
        )
    if text == ALL:
        return _all(path, routine)
    chosen, wrong = combination(routine.choices, text)
    if wrong:
        end = "" if wrong.endswith("?") else "."
        raise Trouble(f"{path}: {wrong}{end} Nothing was written.")
    return [chosen]


def _all(path: Path, routine: Routine) -> list[Variant]:
    """Every combination of words; numbers are as normal."""
    worded = [choice for choice in routine.choices.values() if isinstance(choice, Choice)]
    whole = [
        dict(zip([choice.name for choice in worded], values, strict=True))
        for values in product(*(choice.values for choice in worded))
    ]
    if len(whole) > MOST_OP_MODES:
        raise Trouble(
            f"{path} has {len(whole)} combinations, and in a list of more than {MOST_OP_MODES} op "
            "modes nobody finds one before a match. Name those that you use. Nothing was written."
        )
    normal = normal_variant(routine.choices)
    return [{**normal, **words} for words in whole]
