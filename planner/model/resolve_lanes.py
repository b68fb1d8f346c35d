"""Conditions by which one lane, or the block around it, looks at lanes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planner.model.condition import Condition, LaneIn, LanesDone, Unresolved
from planner.model.ledger import Ledger
from planner.tree import nodes as n


@dataclass(frozen=True, slots=True)
class Lanes:
    """The lanes of the block that some lines stand in, by their own names."""

    whole: Mapping[str, str]
    """The names of their groups in the routine."""
    steps: Mapping[str, tuple[str, ...]]
    """The names of the steps in each, as written."""
    prefix: str
    """Begins the whole names of these steps."""


def lanes_condition(
    ledger: Ledger, lanes: Lanes | None, written: n.LanesDone | n.LaneDone | n.LaneIn
) -> Condition:
    """The condition; `Unresolved` and a slip where there is no such lane or step in it."""
    place = written.place
    if lanes is None:
        ledger.add("lane-asked-outside", place, place.words)
        return Unresolved(place)
    if isinstance(written, n.LanesDone):
        spoken = "all lanes done" if written.every else "any lane done"
        return LanesDone(tuple(lanes.whole.values()), written.every, spoken, place)
    lane = written.lane
    if lane.text not in lanes.whole:
        ledger.unknown("unknown-lane", lane, lanes.whole)
        return Unresolved(place)
    if isinstance(written, n.LaneDone):
        return LanesDone((lanes.whole[lane.text],), True, f"lane {lane.text} done", place)
    step = written.step
    if step.text not in lanes.steps[lane.text]:
        ledger.unknown("unknown-lane-step", step, lanes.steps[lane.text], lane=lane.text)
        return Unresolved(place)
    spoken = f"lane {lane.text} in {step.text}"
    return LaneIn(lanes.whole[lane.text], f"{lanes.prefix}{step.text}", spoken, place)
