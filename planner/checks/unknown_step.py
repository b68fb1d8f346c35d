"""What it finds
    An exit, a start, a requirement or a scenario that names a step which no line declares.

Why it matters on the field
    The robot would have nowhere to go. Most often it is a slip of the finger, and the step that
    was meant is then never reached.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Liit
      after 3 s, go to Lit
    finish Lit

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.headings import nameless
from planner.checks.misnamed import misnamed
from planner.checks.plan_names import spans
from planner.checks.words import mended_line, near_names, steps_of, together
from planner.findings import Related, Slip
from planner.model.routine import Step
from planner.tree.announced import names_led_to


def find(case: Case) -> Iterator[Found]:
    """The names that should be those of steps, and are not."""
    slips = list(case.slips_of("unknown-step"))
    lost = nameless(case)
    at_heading = _misnamed(slips, case)
    for word, (step, named) in at_heading.items():
        yield _at_heading(word, step, named)
    for slip, others in together(slip for slip in slips if slip.word not in at_heading):
        if lost and slip.word == lost[1]:
            continue
        if "where" in slip.facts:
            yield _of_group(slip, case) or _named(slip, others)
            continue
        if slip.word.casefold() in _ENDS and _in_lane(slip):
            yield _end_of_lane(slip)
            continue
        yield misnamed(
            slip,
            f"there is no step `{slip.word}`",
            "The robot would have nowhere to go from here.",
            f"Declare it with `step {slip.word}`, or name a step that is there.",
            related=others,
        )


_ENDS = frozenset({"end", "ends", "finish", "finished", "stop", "over", "ready", "complete"})


def _in_lane(slip: Slip) -> bool:
    return any(slip.place.line in lane for lane in spans(slip.place.source, "lane"))


def _end_of_lane(slip: Slip) -> Found:
    return Found(
        slip.place,
        f"there is no step `{slip.word}`; a lane comes to its end with `done`",
        "The robot would have nowhere to go from here.",
        "In `done` a lane waits for the others.",
        paste=(mended_line(slip.place, "done"),),
        steps=steps_of(slip),
    )


def _of_group(slip: Slip, case: Case) -> Found | None:
    """A group or a lane that a scenario takes for a step; None for all else."""
    routine = case.plan.routine if case.plan else None
    groups = routine.groups.values() if routine else ()
    group = next((group for group in groups if slip.word in (group.name, group.lane)), None)
    if routine is None or group is None or slip.facts["where"] != "scenario":
        return None
    if group.lane:
        paste, way_out = _own_words_of(group.inside), "Name its block: its lanes all start with it."
    else:
        steps = (s.name for s in routine.steps.values() if group in routine.groups_around(s.name))
        paste, way_out = "", f"Name the step that it begins with, such as `{next(steps, 'Take')}`."
    return Found(
        slip.place,
        f"`{slip.word}` is a {'lane' if group.lane else 'group'}, and a scenario speaks of steps",
        "Its moments count from the entry to a step or a block, and these it sees visited.",
        way_out,
        paste=(mended_line(slip.place, paste),) if paste else (),
    )


def _own_words_of(name: str) -> str:
    """The name of a block as the plan writes it."""
    return name.rpartition(".")[2]


def _named(slip: Slip, others: tuple[Related, ...]) -> Found:
    """A name that nothing leads to: one that a requirement or a scenario speaks of."""
    required = slip.facts["where"] == "requirement"
    what = "step, group, block or lane" if required else "step"
    why = (
        "The robot is never in it, so the requirement would ask for nothing."
        if required
        else "No run ever comes to it, so the scenario would be another one."
    )
    return misnamed(
        slip,
        f"there is no {what} `{slip.word}`",
        why,
        "Name one that the routine has.",
        related=others,
    )


def _misnamed(slips: list[Slip], case: Case) -> dict[str, tuple[Step, list[Slip]]]:
    """Names that several lines use, and the one step that seems to be meant by all of them.

    Nothing leads to that step by its own name, so the slip is in its heading.
    """
    counts = Counter(slip.word for slip in slips)
    found: dict[str, tuple[Step, list[Slip]]] = {}
    for slip in slips:
        near = near_names(slip, most=1)
        step = case.plan.routine.steps.get(near[0]) if near and case.plan else None
        if not step or counts[slip.word] < 2 or step.place.source is not slip.place.source:
            continue
        if step.name not in names_led_to(step.place.source):
            found.setdefault(slip.word, (step, []))[1].append(slip)
    return found


def _at_heading(word: str, step: Step, named: list[Slip]) -> Found:
    return Found(
        step.place,
        f"other lines call this step `{word}`, and here it is `{step.name}`",
        "Nothing leads to it by this name, so the robot would never come here.",
        "Names are spelled the same everywhere, capitals and `_` included. Call the step as the "
        "other lines do:",
        paste=(mended_line(step.place, word),),
        steps=(step.name,),
        related=tuple(Related(slip.place, f"here it is `{word}`") for slip in named[:6]),
    )
