"""What it finds
    A name in the place of a number that no `setting` line declares.

Why it matters on the field
    The robot would not know how far, how fast or how long.

Example
    setting cruise = 40 %
    start Approach
    step Approach
      drive forward cruise
      when bumper pressed, go to Lit
      after crawl, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    setting cruise = 40 %
    setting crawl = 2 s
    start Approach
    step Approach
      drive forward cruise
      when bumper pressed, go to Lit
      after crawl, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.misnamed import misnamed
from planner.checks.plan_names import kept
from planner.checks.words import listed, steps_of
from planner.findings import Slip
from planner.model.choices import Choice
from planner.model.memory import WordMemory


def find(case: Case) -> Iterator[Found]:
    """Names that stand for a number, and no setting declares."""
    for slip in case.slips_of("unknown-setting"):
        owner = _word_of(slip, case)
        if owner:
            yield _as_word(slip, owner)
            continue
        yield misnamed(
            slip,
            f"there is no setting `{slip.word}`",
            "The robot would not know which number is meant.",
            _otherwise(slip),
        )


def _word_of(slip: Slip, case: Case) -> str:
    """The memory or choice that has the name for one of its words; empty where none has."""
    if case.plan is None:
        return ""
    routine = case.plan.routine
    memories = [one for one in routine.memories.values() if isinstance(one, WordMemory)]
    choices = [one for one in routine.choices.values() if isinstance(one, Choice)]
    of_memories = (one.name for one in memories if slip.word in one.words)
    of_choices = (one.name for one in choices if slip.word in one.values)
    return next(iter((*of_memories, *of_choices)), "")


def _as_word(slip: Slip, owner: str) -> Found:
    return Found(
        slip.place,
        f"`{slip.word}` is a word of `{owner}`, and here stands a number",
        "The robot would not know which number is meant.",
        f"Give each word its number, with `setting NAME by {owner}` and a row for each word under "
        "it, and write that name here.",
        steps=steps_of(slip),
    )


def _otherwise(slip: Slip) -> str:
    memories = kept(slip.place, "memory")
    settings = [name for name in slip.known if name not in memories]
    there = f"The settings are {listed(settings, 'and')}. " if settings else ""
    remembered = [name for name in slip.known if name in memories]
    there += f"Remembered are {listed(remembered, 'and')}. " if remembered else ""
    if slip.place.source.file[1] == "tasks":
        there += (
            "A task in a file of its own knows no memory of a routine: it is given the number, as "
            "in `task place(height ticks)`. "
        )
    return (
        f"{there}Declare it near the top, such as `setting {slip.word} = {_number(slip)}`, or "
        "write the number here."
    )


def _number(slip: Slip) -> str:
    """A number to show: a time where a time belongs."""
    return "2 s" if slip.place.line_text.split()[0] in ("after", "at") else "40 %"
