"""What it finds
    A `pass` line with times that no controller has: longer than a second, or all under a
    millisecond.

Why it matters on the field
    What is said about a plan rests on how often the controller looks. A pass of 40 s is longer than
    the match: no limit could be kept, and every warning about time is worthless. That a controller
    looks every few hundredths of a second is common practice, no source.

Example
    robot example
    pass 8 s to 40 s

Instead
    robot example
    pass 8 ms to 40 ms
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found


def find(case: Case) -> Iterator[Found]:
    """The `pass` lines of a robot file that cannot be meant so."""
    for slip in case.slips_of("unlikely-pass"):
        longest = slip.facts["longest"]
        long = slip.facts["too"] == "long"
        yield Found(
            slip.place,
            f"a pass that takes up to {longest} is too {slip.facts['too']} to be meant",
            "Between two looks of the controller nobody minds a sensor or a limit."
            if long
            else "Each look asks the sensors over wires, which alone takes longer than that.",
            "A controller looks every few hundredths of a second. Put in what yours does, or leave "
            "the line out:",
            paste=("pass 8 ms to 40 ms",),
        )
