"""What it finds
    A range whose first number is larger than its second.

Why it matters on the field
    No reading lies in it, so everything the sensor says would count as unreadable.

Example
    robot example
    hub main
      i2c 1 range_front distance 200 cm to 2 cm

Instead
    robot example
    hub main
      i2c 1 range_front distance 2 cm to 200 cm
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import mended_line


def find(case: Case) -> Iterator[Found]:
    """Ranges that run from the larger number to the smaller."""
    for slip in case.slips_of("span-backwards"):
        low, high = slip.facts["low"], slip.facts["high"]
        yield Found(
            slip.place,
            f"the range runs backwards: `{low}` is more than `{high}`",
            "Nothing lies between them, so no value would ever be accepted.",
            "Write the smaller number first:",
            paste=(mended_line(slip.place, f"{high} to {low}"),),
        )
