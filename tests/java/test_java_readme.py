"""The Java that the README shows is the Java that is exported."""

from __future__ import annotations

import re
import shlex
import shutil
import textwrap
from pathlib import Path

import pytest
from command import planner
from demo import ROOT
from java.java_tools import ROUTINES

from planner.graph import Plan
from planner.java import export

README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_the_readme_shows_a_step_and_its_java(demo_plans: dict[str, Plan]) -> None:
    """The README's step stands in the demo routine word for word, and its Java in the export; each
    line of the step has its counterpart there, in the same order."""
    java, block = re.findall(r"^```java\n(.*?)^```$", README, re.DOTALL | re.MULTILINE)
    (step,) = re.findall(r"^```\n(step Approach.*?)^```$", README, re.DOTALL | re.MULTILINE)
    assert step in (ROUTINES / "first_lamp.routine").read_text(encoding="utf-8")
    plan = export(demo_plans["first_lamp.routine"], "team")["team/plans/FirstLampPlan.java"]
    assert textwrap.indent(java, "    ") in plan
    lanes = export(demo_plans["side_by_side.routine"], "team")["team/plans/SideBySidePlan.java"]
    # Lines without text have no blanks.
    assert textwrap.indent(block, "    ") in lanes
    lines = [line.strip() for line in step.splitlines()[1:]]
    # A command without numbers is said by its call alone.
    told = ["parts.clawClose();" if line == "claw close" else f"// {line}\n" for line in lines]
    places = [java.find(words) for words in told]
    assert (5, -1 in places, sorted(places)) == (len(places), False, places)


def test_the_readme_makes_an_op_mode_for_a_combination(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The README's command adds an op mode with the very name that the README gives."""
    (line,) = re.findall(r"^    planner (export .*--op-mode-for .*)$", README, re.MULTILINE)
    (name,) = re.findall(r'^adds "(.*)" to the list on the driver station', README, re.MULTILINE)
    monkeypatch.chdir(tmp_path)
    shutil.copytree(ROUTINES, tmp_path / "routines")
    ran = planner(*shlex.split(line))
    assert (0, "") == (ran.status, ran.err)
    (java,) = (path.read_text(encoding="utf-8") for path in tmp_path.rglob("*Fixed.java"))
    assert [name] == re.findall(r'@Autonomous\(name = "(.*)", group', java)
