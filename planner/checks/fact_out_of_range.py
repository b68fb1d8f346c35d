"""What it finds
    A number in a scenario that lies outside of the range that the robot file states.

Why it matters on the field
    Such a number counts as unreadable, so the run is not the one that was meant.

Example
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 8 cm, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
    scenario far_away
      at 0 s, range_front is 300 cm
      must finish in GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 8 cm, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
    scenario far_away
      at 0 s, range_front is 200 cm
      must finish in GiveUp
    scenario blind
      at 0 s, range_front unreadable
      must finish in GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.model.condition import Source
from planner.model.robot import Bounds, Robot
from planner.model.scenario import Scenario
from planner.model.units import Amount
from planner.text import Place


def find(case: Case) -> Iterator[Found]:
    """The numbers of scenarios that their sensor cannot give."""
    ranges = _ranges(case.robot) if case.scenarios else {}
    for scenario in case.scenarios:
        for place, reading, amount in _numbers(scenario):
            bounds = ranges.get(reading)
            if bounds and not bounds.low.base <= amount.base <= bounds.high.base:
                yield Found(
                    place,
                    f"`{amount}` is outside of {bounds.low} to {bounds.high}, the range of "
                    f"`{reading}`",
                    "The plan cannot read it: every condition on it is unknown.",
                    f"Write a number in the range, or `{reading} unreadable` if that is meant.",
                )


def _ranges(robot: Robot) -> dict[str, Bounds]:
    sources: list[Source] = list(robot.sensors.values())
    for mechanism in robot.mechanisms.values():
        sources += mechanism.readings.values()
    return {source.spoken: source.bounds for source in sources if source.bounds}


def _numbers(scenario: Scenario) -> Iterator[tuple[Place, str, Amount]]:
    for cue in scenario.cues:
        if isinstance(cue.value, Amount):
            yield cue.place, cue.reading, cue.value
    for ramp in scenario.ramps:
        yield ramp.place, ramp.reading, ramp.low
        yield ramp.place, ramp.reading, ramp.high
