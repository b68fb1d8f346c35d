"""The Java that the README shows is the Java that is exported."""

from __future__ import annotations

import re
import textwrap

from demo import ROOT
from java.java_tools import ROUTINES

from planner.graph import Plan
from planner.java import export

README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_readme_shows_a_step_and_its_java(demo_plans: dict[str, Plan]) -> None:
    """The README's step stands in the demo routine word for word, and its Java in the export; each
    line of the step has its counterpart there, in the same order."""
    (java,) = re.findall(r"^```java\n(.*?)^```$", README, re.DOTALL | re.MULTILINE)
    (step,) = re.findall(r"^```\n(step Approach.*?)^```$", README, re.DOTALL | re.MULTILINE)
    assert step in (ROUTINES / "first_lamp.routine").read_text(encoding="utf-8")
    plan = export(demo_plans["first_lamp.routine"], "team")["team/plans/FirstLampPlan.java"]
    assert textwrap.indent(java, "    ") in plan
    lines = [line.strip() for line in step.splitlines()[1:]]
    # A command without numbers is said by its call alone.
    told = ["parts.clawClose();" if line == "claw close" else f"// {line}\n" for line in lines]
    places = [java.find(words) for words in told]
    assert (5, -1 in places, sorted(places)) == (len(places), False, places)
