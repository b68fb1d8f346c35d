"""Findings in files of tasks, in the words of those files."""

from __future__ import annotations

import re
from dataclasses import replace

from planner.findings import Finding
from planner.graph import Plan

_MARKED = re.compile(r"`([A-Za-z_][\w.]*)`")


def in_own_words(finding: Finding, plan: Plan) -> Finding:
    """A finding that points into a file of tasks, with that file's names.

    A routine knows a step of it as `First.Raise`, after the step of its own that does the task.
    Whoever reads the shared file knows no `First`: there the step is `Raise`.
    """
    routine = plan.routine
    if finding.place.source is routine.place.source:
        return finding

    def own(found: re.Match[str]) -> str:
        name = found.group(1)
        known = name in routine.steps or name in routine.groups
        return f"`{name.rpartition('.')[2]}`" if known else found.group()

    headline, why, way_out = (
        _MARKED.sub(own, text) for text in (finding.headline, finding.why, finding.way_out)
    )
    return replace(finding, headline=headline, why=why, way_out=way_out)
