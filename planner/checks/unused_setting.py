"""What it finds
    A setting that no line of the routine uses.

Why it matters on the field
    Somebody turns the number up and down between two matches and wonders why the robot does just
    the same.

Example
    setting cruise = 40 %
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    setting cruise = 40 %
    start Approach
    step Approach
      drive forward cruise
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.model.memory import Table
from planner.model.routine import SettingValue


def find(case: Case) -> Iterator[Found]:
    """Settings that stand in their own line only."""
    if case.plan is None:
        return
    routine = case.plan.routine
    every: tuple[SettingValue | Table, ...] = (
        *routine.settings.values(),
        *routine.tables.values(),
    )
    for setting in every:
        if not setting.used:
            yield Found(
                setting.place,
                f"nothing uses the setting `{setting.name}`",
                "Changing it at the field changes nothing.",
                f"Write `{setting.name}` where the number belongs, or delete the line.",
            )
