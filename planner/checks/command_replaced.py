"""What it finds
    Two commands to one mechanism in one step, or two lines for one output in one command; or a
    command of a block to a mechanism that the first step of one of its lanes commands too: lanes
    begin in the pass that enters their block, after its own commands.

Why it matters on the field
    Only the last is sent, in the same moment; the first never does anything. Two moves, one after
    the other, are two steps.

Example
    start Place
    step Place
      claw open
      claw close
      after 0.6 s, go to Lit
    finish Lit

Instead
    start Place
    step Place
      claw open
      after 0.6 s, go to Shut
    step Shut
      claw close
      after 0.6 s, go to Lit
    finish Lit
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.doubles import doubles
from planner.findings import Related
from planner.graph import Plan
from planner.graph.lasting import last_given
from planner.model.spoken import spoken_command


def find(case: Case) -> Iterator[Found]:
    """The doubles that are not the slip of a twin's name."""
    for double in doubles(case):
        if double.left_out:
            continue
        way_out = "Keep the line that you mean."
        if double.step:
            way_out += " If one should follow the other, give the second in a step of its own."
        yield Found(
            double.first,
            f"`{double.first.words}` is never sent in `{double.where}`",
            f"`{double.again.words}` replaces it in the same moment.",
            way_out,
            steps=(double.step,) if double.step else (),
            related=(Related(double.again, "only the last counts"),),
        )
    if case.plan is not None:
        yield from _by_lanes(case.plan)


def _by_lanes(plan: Plan) -> Iterator[Found]:
    """The commands of blocks that the first step of a lane replaces in the same pass."""
    for block, begins in plan.begins.items():
        for mechanism, given in last_given(plan.step(block)).items():
            first = [step for step in begins if mechanism in last_given(plan.step(step))]
            if not first:
                continue
            replacing = last_given(plan.step(first[-1]))[mechanism]
            yield Found(
                given.place,
                f"`{spoken_command(given)}` is never sent in `{block}`",
                f"Its lanes begin in the same moment, and `{spoken_command(replacing)}` in "
                f"`{first[-1]}` replaces it.",
                f"Keep the line that you mean. If the one in `{first[-1]}` should follow the "
                "other, give it in the lane's second step.",
                steps=(block, first[-1]),
                related=(Related(replacing.place, "only the last counts"),),
            )
