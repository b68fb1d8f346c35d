"""What it finds
    A wait for a mechanism to be done, where one way to the step gives the command and another does
    not: on that one nothing was told to the mechanism, or something that never reports done. A lane
    may come to its wait before another lane gives the command: that is said only where the other
    lane can end without giving it.

Why it matters on the field
    On the practice field the robot comes the one way and all is well. In the match it comes the
    other way, and the step waits until its time limit for an arm that nobody has told to move.

Example
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 30 cm, go to Raise
      after 3 s, go to Place
    step Raise
      arm to 1200 ticks
      when bumper pressed, go to Place
      after 2 s, go to GiveUp
    step Place
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 30 cm, go to Raise
      after 3 s, go to Place
    step Raise
      arm to 1200 ticks
      when bumper pressed, go to Place
      after 2 s, go to GiveUp
    step Place
      arm to 1200 ticks
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.findings import Related
from planner.graph.atoms import Asking, named
from planner.graph.doing import Doing, Doings, Stance, doings
from planner.graph.lasting import last_given
from planner.graph.possible import untrue_with
from planner.model.condition import Done, leaves
from planner.model.routine import Step, WhenExit, step_in_words
from planner.model.spoken import spoken_command


def find(case: Case) -> Iterator[Found]:
    """The exits that need a mechanism to be done which some way, but not each, has told to move."""
    if case.plan is None:
        return
    flows: dict[str, Doings | None] = {}
    for step in case.plan.routine.steps.values():
        for when in step.whens:
            for done in _needed(step, when):
                name = done.mechanism.name
                if name not in flows:
                    flows[name] = doings(case.plan, name)
                flow = flows[name]
                found = _found(step, done, flow) if flow else None
                if found:
                    yield found


def _needed(step: Step, when: WhenExit) -> Iterator[Done]:
    """What has to be done before an exit can be true."""
    told: set[str] = set()
    for leaf in leaves(when.condition):
        if isinstance(leaf, Done) and leaf.mechanism.name not in told:
            told.add(leaf.mechanism.name)
            done = named(f"{leaf.mechanism.name} done")
            if untrue_with(Asking(when.condition, step.name), done, False):
                yield leaf


def _found(step: Step, done: Done, flow: Doings) -> Found | None:
    own = last_given(step).get(done.mechanism.name)
    if own and own.command.reports_done:
        # Only a side rule can tell it something else then, in the step itself and on no way to it.
        return None
    during = flow.during.get(step.name, ())
    lost = flow.lost(step.name)
    unknown = any(doing.stance is Stance.UNKNOWN for doing in during)
    # Where no way gives it, that is `wait-never-commanded`.
    if not lost or unknown or not any(doing.may_be_done for doing in during):
        return None
    way = [f"`{step_in_words(name)}`" for name in flow.way(step.name, lost[0])]
    name = done.mechanism.name
    given = next(doing.given for doing in during if doing.may_be_done and doing.given)
    spoken = spoken_command(given).removeprefix("keep ")
    return Found(
        done.place,
        f"`{step.name}` waits for `{name} done`, which not every way to it has asked for",
        f"On the way {_spelt_out(way)}, {_why(name, lost[0])}, so that nothing ever arrives.",
        f"Give `{name}` its command on that way too, or in `{step.name}` itself.",
        paste=(spoken,),
        steps=(step.name,),
        related=(Related(given.place, "another way comes with this command"),),
    )


MOST_SHOWN = 8


def _spelt_out(way: list[str]) -> str:
    if len(way) > MOST_SHOWN:
        left_out = f"{len(way) - MOST_SHOWN + 1} more steps"
        way = [*way[: MOST_SHOWN - 2], left_out, way[-1]]
    return ", ".join(way[:-1]) + f", then {way[-1]}" if len(way) > 1 else way[0]


def _why(name: str, doing: Doing) -> str:
    if doing.stance is Stance.NEVER_TOLD or doing.given is None:
        return f"`{name}` is told nothing"
    spoken = f"`{name} {doing.given.command.name}`"
    if not doing.given.command.reports_done:
        return f"the last that `{name}` is told is {spoken}, which does not report done"
    return f"{spoken} was switched off with its step before it was done"
