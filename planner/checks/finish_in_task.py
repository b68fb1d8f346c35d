"""What it finds
    A `finish` in a task.

Why it matters on the field
    A finish ends the whole routine and switches everything off. A task ends where an exit leads to
    one of its outcomes, and the robot goes on where the step that does the task says.

Example
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to GiveUp
    finish Lit
    finish GiveUp
    task place(height ticks) ends placed, stuck
      step Raise
        arm to height
        when arm done, go to placed
        after 2 s, go to stuck
      finish stuck

Instead
    start First
    step First
      do place 1200 ticks
      when task ends placed, go to Lit
      when task ends stuck, go to GiveUp
    finish Lit
    finish GiveUp
    task place(height ticks) ends placed, stuck
      step Raise
        arm to height
        when arm done, go to placed
        after 2 s, go to stuck
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Slip
from planner.text import Place
from planner.tree.rows import split_comment


def find(case: Case) -> Iterator[Found]:
    """The finishes in tasks, by what their exits mean already."""
    for slip in case.slips_of("finish-in-task"):
        known = slip.facts["declared"]
        yield Found(
            slip.place,
            f"a task has no finish, and `{slip.word}` stands in the task `{slip.facts['task']}`",
            "A task ends where an exit leads to one of its outcomes. A finish would end the whole "
            "routine.",
            _way_out(slip),
            paste=() if known else tuple(_ends_with(slip.word, slip.facts["task"], slip.place)),
        )


def _way_out(slip: Slip) -> str:
    if slip.facts["declared"]:
        return f"Delete this line: an exit that says `go to {slip.word}` ends the task already."
    return (
        f"Delete this line, and write `{slip.word}` behind `ends` in the line of the task: then an "
        f"exit that says `go to {slip.word}` ends it."
    )


def _ends_with(outcome: str, task: str, place: Place) -> Iterator[str]:
    """The line of the task with one more outcome."""
    for line in place.source.lines[: place.line]:
        code = split_comment(line)[0].strip()
        if re.match(rf"task\s+{task}\b.*\sends\s", code):
            yield f"{code}, {outcome}"
