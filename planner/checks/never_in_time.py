"""What it finds
    A step or a finish that exits lead to, and that no run comes to: something else always comes
    first. And an exit that waits for a sensor, in a step that runs do come to, which none of them
    takes. All runs are searched, whatever the sensors say.

Why it matters on the field
    What is planned there never happens, although the plan reads as if it did. Two lanes that wait
    for each other, a limit too short for what stands in it, or the match clock is the reason.

Example
    start Take
    group Tin
      after 3 s, go to GiveUp
      step Take
        roller take
        when tin_gate broken for 2 s, go to Drop
        after 2.5 s, go to GiveUp
      step Drop
        roller drop
        when tin_gate clear for 1.5 s, go to Lit
        after 2 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Take
    group Tin
      after 5 s, go to GiveUp
      step Take
        roller take
        when tin_gate broken for 2 s, go to Drop
        after 2.5 s, go to GiveUp
      step Drop
        roller drop
        when tin_gate clear for 1.5 s, go to Lit
        after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from planner.checks import (
    always_true,
    empty_lane,
    never_true,
    shadowed_exit,
    time_shorter_than_two_passes,
    true_at_once,
    twin_exits,
)
from planner.checks.advice import some
from planner.checks.case import Case, Found
from planner.checks.timing import is_plain, verdict_of
from planner.checks.told_as import told_as
from planner.checks.words import listed
from planner.findings import Related
from planner.graph import Plan
from planner.graph.owners import groups_left
from planner.graph.unfold import Exit, ExitKind
from planner.graph.walks import entries, played, reached, shared_out, ways
from planner.model.condition import LaneIn, LanesDone, leaves
from planner.model.routine import WhenExit, end_of_lane
from planner.reach.verdict import Verdict
from planner.rehearsal.facts import reason

PLAINER = (
    never_true,
    always_true,
    true_at_once,
    shadowed_exit,
    twin_exits,
    time_shorter_than_two_passes,
)
"""The checks that say more plainly why an exit is never taken."""
MOST_SHOWN = 3
"""How many of the lines that come first are shown."""


def find(case: Case) -> Iterator[Found]:
    """The steps that no run enters in time, and the waits that no run sees come true."""
    found = verdict_of(case)
    if found is None or found.stopped or not is_plain(case) or any(empty_lane.find(case)):
        return
    plan = found.timed.plan
    graph = ways(plan)
    never = reached(graph, played(plan, graph)) - found.entries.keys()
    steps = {name for name in never if not plan.step(name).ends_lane}
    alone = graph.subgraph(steps)
    first = entries(plan, alone)
    position = {name: index for index, name in enumerate(plan.routine.steps)}
    told: set[tuple[object, ...]] = set()
    plainer = _told_plainly(case, plan)
    for name, led_to in zip(first, shared_out(alone, ([name] for name in first)), strict=True):
        leading = [e for e in plan.all_exits() if e.target == name and e.source in found.entries]
        leading = [one for one in leading if not _is_safeguard(plan, one) and _ends(found, one)]
        if leading and not any(exit_.source in plainer for exit_ in leading):
            also = sorted(set(led_to) - {name}, key=position.__getitem__)
            lanes = list(_lanes(found, leading[0]))
            told.update(one.place.order for one in (*leading, *lanes))
            yield _step(found, name, also, leading[0], lanes)
    yield from _waits(found, told, plainer)


def _is_safeguard(plan: Plan, exit_: Exit) -> bool:
    """Whether it is a limit beside other ways out: that it never comes is as good as it can be."""
    if isinstance(exit_.written, WhenExit) or exit_.overflow:
        return False
    return bool(exit_.group) or bool(plan.step(exit_.source).whens) or exit_.kind is ExitKind.MATCH


def _ends(found: Verdict, exit_: Exit) -> bool:
    """Whether some run gets on from its step; where none does the match's end is what is told."""
    steps = _sources(found, exit_)
    lanes = any(found.timed.plan.routine.lane_around(step) for step in steps)
    return lanes or any(step in steps for step, _ in found.taken)


def _step(found: Verdict, name: str, also: list[str], exit_: Exit, lanes: list[Exit]) -> Found:
    plan = found.timed.plan
    step = told_as(plan, name)
    kind = "finish" if plan.step(name).is_finish else "step"
    so = f" So no run comes to {some(also)} either." if also else ""
    return Found(
        step.place,
        f"no run reaches the {kind} `{step.name}` in time",
        f"{_why(found, exit_)}{so} What is planned there never happens.",
        "Let one lane go on without waiting for the other, or delete what is never done."
        if any(map(_asks_lanes, lanes))
        else "Give the wait more time, shorten what comes before it, or delete what is never done.",
        steps=(name, *also),
        related=(
            Related(exit_.place, "this is never taken"),
            *(Related(one.place, "so its lane never comes to its end") for one in lanes),
            *_sooner(found, exit_),
        ),
    )


def _waits(found: Verdict, told: set[tuple[object, ...]], plainer: set[str]) -> Iterator[Found]:
    """The exits that wait for a sensor and are never taken, in a line that is not told yet."""
    plan = found.timed.plan
    waiting: dict[tuple[object, ...], list[Exit]] = {}
    for exit_ in plan.all_exits():
        if isinstance(exit_.written, WhenExit) and not exit_.overflow:
            waiting.setdefault(exit_.place.order, []).append(exit_)
    never = [
        exits
        for line, exits in waiting.items()
        if line not in told
        and any(one.source in found.entries and _ends(found, one) for one in exits)
        and not any((one.source, one.number) in found.taken for one in exits)
    ]
    for exits in never:
        exit_ = next(one for one in exits if one.source in found.entries)
        if exit_.source not in plainer:
            yield Found(
                exit_.place,
                f"no run takes the exit to `{_target(plan, exit_)}` by `{reason(exit_)}`",
                f"{_why(found, exit_)} So the plan never hears of what it waits for.",
                "Let one lane go on without waiting for the other, or delete the line."
                if _asks_lanes(exit_)
                else "Give the wait more time, change what it waits for, or delete the line.",
                steps=(exit_.source,),
                related=tuple(_sooner(found, exit_)),
            )


def _told_plainly(case: Case, plan: Plan) -> set[str]:
    """The steps of which it is told more plainly that an exit is never taken, or always at once."""
    told = {(one.place.source, one.place.line) for check in PLAINER for one in check.find(case)}
    return {e.source for e in plan.all_exits() if (e.place.source, e.place.line) in told}


def _target(plan: Plan, exit_: Exit) -> str:
    return "done" if plan.step(exit_.target).ends_lane else exit_.target


def _why(found: Verdict, exit_: Exit) -> str:
    plan, late = found.timed.plan, f"before `{reason(exit_)}` comes true"
    several = len(_sources(found, exit_)) > 1
    whole = f"On every run `{exit_.group if several else exit_.source}`"
    ends = list(dict.fromkeys(reason(one) for one in _ending(found, exit_)))
    if ends:
        more = " or another exit" if len(ends) > MOST_SHOWN else ""
        return f"{whole} is left by {listed(ends[:MOST_SHOWN])}{more}, {late}."
    lane = plan.routine.lane_around(exit_.source)
    until = f"`{lane.inside}` around it is left" if lane else "the match is over"
    return f"{whole} lasts until {until}, {late}."


def _sources(found: Verdict, exit_: Exit) -> set[str]:
    """The steps that runs come to and that ask the exit: several where it is a group's."""
    same = (one for one in found.timed.plan.all_exits() if one.written is exit_.written)
    return {one.source for one in same} & found.entries.keys()


def _ending(found: Verdict, exit_: Exit) -> list[Exit]:
    """The exits by which runs leave its step, or the group whose it is in several steps."""
    plan, sources = found.timed.plan, _sources(found, exit_)
    taken = [e for e in plan.all_exits() if (e.source, e.number) in found.taken]
    inside = [one for one in taken if one.source in sources]
    if len(sources) == 1:
        return inside
    return [one for one in inside if exit_.group in groups_left(plan, one)]


def _sooner(found: Verdict, exit_: Exit) -> Iterator[Related]:
    own = exit_.place.order
    ending = {one.place.order: one for one in _ending(found, exit_) if one.place.order != own}
    label = "this comes first" if len(ending) == 1 else "this comes first on some runs"
    for one in [*ending.values()][:MOST_SHOWN]:
        yield Related(one.place, label)


def _lanes(found: Verdict, exit_: Exit) -> Iterator[Exit]:
    """In lanes that an exit waits for and that do not come to their ends, what is never taken."""
    plan = found.timed.plan
    for lane in _waited_for(exit_):
        end = end_of_lane(lane)
        if end not in found.entries:
            for one in plan.all_exits():
                if one.target == end and one.source in found.entries:
                    yield one


def _asks_lanes(exit_: Exit) -> bool:
    if not isinstance(exit_.written, WhenExit):
        return False
    return any(isinstance(leaf, LanesDone | LaneIn) for leaf in leaves(exit_.written.condition))


def _waited_for(exit_: Exit) -> Iterable[str]:
    if not isinstance(exit_.written, WhenExit):
        return ()
    asked = [leaf for leaf in leaves(exit_.written.condition) if isinstance(leaf, LanesDone)]
    return dict.fromkeys(lane for leaf in asked for lane in leaf.lanes)
