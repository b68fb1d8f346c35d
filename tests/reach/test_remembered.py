"""All runs of plans that remember and count: what is certain is told, the rest is left open."""

from __future__ import annotations

from demo import moth_robot

from planner.graph import Plan
from planner.pipeline import check_routine
from planner.reach.required import proved
from planner.reach.search import Holds, Stopped
from planner.reach.verdict import REMEMBERED, verdict
from planner.text import Source

HEAD = """routine example
robot moth
limit 10 s
memory high = 100 ticks
counter shots: 0 to 3, normally 1
require finished by 9 s
require never arm to 100 ticks while drive forward
require never arm to while drive forward
start A
"""
SHOTS = """step A
  count shots down
  remember 200 ticks as high
  when memory high > 300 ticks, go to D
  when counter shots is 0, go to B
step D
  arm to high
  after 20 s, go to B
finish B
"""


def plan(text: str) -> Plan:
    """A plan on the Moth."""
    source = Source("example.routine", HEAD + text)
    return check_routine(source, lambda _name: moth_robot()).plan


def test_a_run_that_no_counter_allows_is_no_proof() -> None:
    """The number never is 300, which the search does not know: it does not say that a run fails."""
    found = verdict(plan(SHOTS))
    assert Stopped(REMEMBERED, found.states, 0) == found.in_time
    by_then = proved(plan(SHOTS), plan(SHOTS).routine.requirements[0])
    assert isinstance(by_then, Stopped)
    assert REMEMBERED == by_then.bound


def test_what_every_run_keeps_is_certain() -> None:
    """Where even with anything remembered all runs finish, they do."""
    timely = plan(SHOTS.replace("20 s", "2 s").replace("go to D", "go to D\n  after 1 s, go to B"))
    assert isinstance(verdict(timely).in_time, Holds)
    finished, number, command = timely.routine.requirements
    assert isinstance(proved(timely, finished), Holds)
    assert isinstance(proved(timely, command), Holds)
    # Whether `arm to high` is `arm to 100 ticks` is not known.
    assert Stopped(REMEMBERED, 0, 0) == proved(timely, number)


def test_a_counter_is_known() -> None:
    """A counter counts in the search as it does in a run: it never is 3, so nothing goes to D."""
    found = verdict(plan(SHOTS.replace("memory high > 300 ticks", "counter shots is 3")))
    assert Holds() == found.in_time
    assert ["A", "B"] == list(found.entries)
