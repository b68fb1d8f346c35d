"""Findings in files of tasks, in the words of those files."""

from __future__ import annotations

import re
from dataclasses import replace

from planner.findings import Finding
from planner.graph import Plan
from planner.model.routine import path_of

_WITHIN = re.compile(r"\b[A-Za-z_]\w*(?:\.[A-Za-z_]\w*)+")


def in_own_words(finding: Finding, plan: Plan, everywhere: bool = False) -> Finding:
    """A finding that points into a file of tasks, with that file's names.

    A routine knows a step of it as `First.Raise`, after the step of its own that does the task.
    Whoever reads the shared file knows no `First`: there the step is `Raise`. `everywhere` is for
    the plan of such a file itself.
    """
    routine = plan.routine
    if not everywhere and finding.place.source is routine.place.source:
        return finding

    def own(found: re.Match[str]) -> str:
        name = found.group()
        known = name in routine.steps or name in routine.groups
        return path_of(name)[-1] if known else name

    headline, why, way_out = (
        _WITHIN.sub(own, text) for text in (finding.headline, finding.why, finding.way_out)
    )
    paste = tuple(_WITHIN.sub(own, line) for line in finding.paste)
    # The steps of that plan are in no picture.
    steps = () if everywhere else finding.steps
    return replace(finding, headline=headline, why=why, way_out=way_out, paste=paste, steps=steps)
