"""What it finds
    `keep` in front of a command that does not run: one that holds anyway, or `stop`.

Why it matters on the field
    `keep` lets what runs go on when the step is left. A command that `holds` stays in force without
    it, and after `stop` there is nothing to keep. Whoever reads the plan at the field believes that
    something goes on, or would end without the word.

Example
    start Raise
    step Raise
      keep arm to 1200 ticks
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Raise
    step Raise
      arm to 1200 ticks
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.graph.owners import given_in
from planner.model.routine import Given
from planner.model.spoken import spoken_command


def find(case: Case) -> Iterator[Found]:
    """The commands given with `keep` that are not of the kind that a step's end switches off."""
    if case.plan is None:
        return
    for given, steps in given_in(case.plan.routine):
        if given.keep and (not given.command.runs or given.command.name == "stop"):
            yield _found(given, steps)


def _found(given: Given, steps: tuple[str, ...]) -> Found:
    name = f"{given.mechanism.name} {given.command.name}"
    stops = given.command.name == "stop"
    why = (
        "After it there is nothing left to keep."
        if stops
        else f"`{name}` holds until `{given.mechanism.name}` is told something else, in any case."
    )
    return Found(
        given.place,
        f"`keep` changes nothing for `{name}`",
        why,
        "Leave the word out.",
        paste=(spoken_command(given).removeprefix("keep "),),
        steps=steps,
    )
