"""What it finds
    A file without one of the lines that every such file has: `routine`, `robot`, `limit`, `start`
    and a `finish` in a routine, `tasks` and `robot` in a file of tasks, `robot` in a robot file.

Why it matters on the field
    Without `start` the robot does not know what to do first, without `limit` nobody knows whether
    the plan fits into the match, and without a finish it never switches everything off.

Example
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

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

from collections.abc import Iterator

from planner.checks.case import Case, Found

_WHY = {
    "routine": "Its name is shown on the robot's screen, where the driver picks the routine.",
    "robot": "It says which sensors and mechanisms there are; without it no name can be checked.",
    "tasks": "Routines find the tasks by this name.",
    "limit": "It says how long the plan may take. An autonomous period of 30 s is assumed.",
    "start": "The robot would not know which step comes first.",
    "finish": "In a finish everything is switched off; without one the robot is cut off midway.",
}
_WHAT = {
    "routine": "Put it at the top:",
    "robot": "Put it near the top:",
    "tasks": "Put it at the top:",
    "limit": "Put it near the top:",
    "start": "Put it above the first step, with your own step's name:",
    "finish": "Put it below the last step, and let an exit lead there:",
}


def find(case: Case) -> Iterator[Found]:
    """Lines that every file of the kind has, and this one has not."""
    for slip in case.slips_of("missing-line"):
        line, why = f"`{slip.word}`", _WHY[slip.word]
        robot_file = slip.word == "robot" and case.plan is None
        yield Found(
            slip.place,
            f"there is no {line} line in this file",
            "Routines find their robot by this name." if robot_file else why,
            "Put it at the top:" if robot_file else _WHAT[slip.word],
            paste=(_example(case, slip.word, slip.facts["example"]),),
        )


def _example(case: Case, word: str, example: str) -> str:
    """The example, with the first step of the plan where a step is named."""
    steps = [s.name for s in case.plan.routine.steps.values()] if case.plan else []
    return f"start {steps[0]}" if word == "start" and steps else example
