"""Why a fault in a scenario matters: nothing in it moves the robot."""

from __future__ import annotations

from dataclasses import replace

from planner.findings import Finding
from planner.text import Place

WHYS = {
    "The planner leaves out a line that it cannot read, so the robot would not do it.": (
        "The planner leaves out a line that it cannot read, so the scenario would be another one."
    ),
    "The robot would have nowhere to go from here.": (
        "No run comes to a step that the plan does not have."
    ),
    "Asked something else it never says yes, so the exit would never be taken.": (
        "It never says anything else, so in no run does that happen."
    ),
    "The robot would leave it out.": "It is never given, whatever the plan does.",
    "The planner cannot tell what is to move, so the robot would leave this out.": (
        "Nothing of that name is ever told anything."
    ),
    "Nothing lies between them, so no value would ever be accepted.": (
        "The end would come before the beginning."
    ),
    "What depends on it would never happen.": "The plan asks for no such choice.",
}
"""What checks say of a line of the plan, and what is true of a line of a scenario instead."""


def in_scenario_words(finding: Finding) -> Finding:
    """A finding, with a reason that holds where it stands."""
    if finding.why not in WHYS or not scenario_line(finding.place):
        return finding
    return replace(finding, why=WHYS[finding.why])


def scenario_line(place: Place) -> int:
    """The line of the scenario that a place stands in; 0 where it stands in none."""
    source = place.source
    for line in range(place.line, 0, -1):
        words = source.line(line).partition("#")[0].split()
        if words and not source.line(line)[0].isspace():
            return line if words[0] == "scenario" else 0
    return 0
