"""What it finds
    A line that stands at the wrong depth: not indented under its step, or indented too far.

Why it matters on the field
    Indentation says what belongs to a step. The planner takes the line where it fits; somebody who
    reads the plan in a hurry between two matches may take it elsewhere.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
      at 26 s of match, go to Lit
    finish Lit
    finish GiveUp

Instead
    at 26 s of match, go to Lit
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.repair import foreign_line
from planner.checks.words import steps_of
from planner.findings import Slip
from planner.tree.rows import split_comment

_WHY = "Indentation says what belongs to what, and a plan must read the same for everybody."


def find(case: Case) -> Iterator[Found]:
    """Lines at the wrong depth; lines that follow each other and belong together are one fault."""
    group: list[Slip] = []
    # A line of another language is told once, as one that cannot be read.
    foreign = [s.place for s in case.slips_of("unknown-mechanism") if foreign_line(s, case.robot)]
    elsewhere = {(place.source.name, place.line) for place in foreign}
    for slip in case.slips_of("misplaced-line"):
        if (slip.place.source.name, slip.place.line) in elsewhere:
            continue
        if group and not _goes_with(group[-1], slip):
            yield _found(group)
            group = []
        group.append(slip)
    if group:
        yield _found(group)


def _goes_with(above: Slip, slip: Slip) -> bool:
    together = above.facts["under_line"] == slip.facts["under_line"]
    return together and slip.place.line == above.place.line + 1


def _found(group: list[Slip]) -> Found:
    first = group[0]
    lines = [split_comment(slip.place.line_text)[0].strip() for slip in group]
    them = "this line" if len(group) == 1 else f"these {len(group)} lines"
    belong = "belongs" if len(group) == 1 else "belong"
    under = first.facts["under_line"]
    if under:
        headline = f"{them} {belong} under `{under}`, indented by two spaces"
        paste = (under, *(f"  {line}" for line in lines))
    else:
        headline = f"a line that begins with `{first.word}` stands at the left margin"
        paste = tuple(lines)
    was = first.facts["was_under_line"]
    one = len(group) == 1
    seems = f"Here {'it seems' if one else 'they seem'} to belong to `{was}`. " if was else ""
    way_out = f"{seems}Move {'it' if one else 'them'}:"
    return Found(first.place, headline, _WHY, way_out, paste=paste, steps=steps_of(first))
