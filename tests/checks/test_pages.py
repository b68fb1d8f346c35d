"""Each manual page is run: its example earns the finding, what it says instead earns none."""

from __future__ import annotations

import re
from textwrap import dedent

import pytest
from demo import HEADER, ROUTINES, moth_robot, robot_of

from planner.checks import Check
from planner.checks.table import CHECKS
from planner.findings import Finding
from planner.pipeline import (
    Checked,
    all_findings,
    check_robot,
    check_routine,
    check_scenarios,
    read_tasks,
)
from planner.text import Source

HEADINGS = (
    "What it finds",
    "Why it matters on the field",
    "Example",
    "Instead",
)


POSTS = """tasks posts
robot moth
task place(height ticks) ends placed, stuck
  step Raise
    arm to height
    when arm done, go to placed
    after 2 s, go to stuck
"""
"""The file of tasks that a page's routine finds beside it, where the page shows none."""


def sections(check: Check) -> dict[str, str]:
    """The parts of a manual page under its headings."""
    parts = re.split(rf"^({'|'.join(HEADINGS)})$", check.page, flags=re.MULTILINE)
    assert "" == parts[0].strip()
    return {
        heading: dedent(text).strip("\n")
        for heading, text in zip(parts[1::2], parts[2::2], strict=True)
    }


def findings(text: str) -> list[Finding]:
    """What is found in a plan, or in a robot file and the routine that may follow it."""
    if text.startswith("robot example"):
        robot_text, _, routine = text.partition("\nroutine ")
        robot = robot_of(robot_text, "example.bot")
        if not routine:
            return list(check_robot(robot))
        checked = check_routine(Source("x.routine", f"routine {routine}"), lambda _name: robot)
        return [*check_robot(robot, [checked.plan.routine]), *checked.findings]
    if text.startswith("tasks ") and text.splitlines()[1].startswith("robot "):
        return of_tasks(text)
    if text.startswith("# two routines"):
        return beside(text)
    if text.startswith("# first_lamp.scenario"):
        return list(check_scenarios(Source("x.scenario", text), first_lamp()).findings)
    whole = text if text.startswith(("routine", "robot")) else HEADER + text
    robots = {"moth": moth_robot()}
    files = {"posts": read_tasks(Source("posts.tasks", POSTS), robots.get)}
    source = Source("x.routine", whole)
    return list(check_routine(source, robots.get, robots, files.get, files).findings)


def of_tasks(text: str) -> list[Finding]:
    """What is found in posts.tasks, and in the routine that may follow it."""
    tasks_text, _, routine = text.partition("\nroutine ")
    robots = {"moth": moth_robot(), "beetle": moth_robot()}
    read = read_tasks(Source("posts.tasks", tasks_text), robots.get)
    files = {"posts": read}
    if not routine:
        return list(read.findings)
    source = Source("x.routine", f"routine {routine}")
    return all_findings([check_routine(source, robots.get, robots, files.get, files)], [read])


def beside(text: str) -> list[Finding]:
    """What is found in two routines of one name that lie in two folders."""
    _, *routines = text.split("\nroutine ")
    sources = [Source(f"{n}/x.routine", f"routine {routine}") for n, routine in enumerate(routines)]
    return all_findings([check_routine(source, lambda _name: moth_robot()) for source in sources])


def first_lamp() -> Checked:
    """The demo routine that pages on scenarios rehearse."""
    text = (ROUTINES / "first_lamp.routine").read_text(encoding="utf-8")
    return check_routine(Source("first_lamp.routine", text), lambda _name: moth_robot())


def named(check: Check) -> str:
    """The check's name, to tell its test by."""
    return check.name


@pytest.mark.parametrize("check", CHECKS, ids=named)
def test_page_has_its_headings(check: Check) -> None:
    """A manual page has the four headings, in order, each with text under it."""
    parts = sections(check)
    assert HEADINGS == tuple(parts)
    assert all(parts.values())


@pytest.mark.parametrize("check", CHECKS, ids=named)
def test_example_earns_the_finding(check: Check) -> None:
    """The example of a page earns one finding, and it is the page's own."""
    assert [check.name] == [found.check for found in findings(sections(check)["Example"])]


@pytest.mark.parametrize("check", CHECKS, ids=named)
def test_instead_earns_nothing(check: Check) -> None:
    """What a page says to write instead is free of findings."""
    assert [] == findings(sections(check)["Instead"])


def test_pages_are_looked_up_where_the_demo_robot_is() -> None:
    """The robot that the pages count on is the demo robot."""
    assert (ROUTINES / "moth.bot").is_file()
