"""The plan as a healthy robot runs it."""

from __future__ import annotations

from demo import check

from planner.graph.healthy import healthy
from planner.reach.verdict import Window, verdict

LONGEST_US = 40_000
"""The Moth's longest pass."""


def entries(text: str) -> dict[str, Window]:
    """When each step is entered."""
    return verdict(healthy(check(text).plan.routine)).entries


def test_expected_exits_come_in_their_window() -> None:
    """A step that expects something is left in that time, up to one pass late, and by that way."""
    found = entries(
        "start A\nstep A\n  drive forward 40 %\n"
        "  when bumper pressed, expect 1 s to 2 s, go to B\n"
        "  when arm_floor pressed, go to GiveUp\n"
        "  after 3 s, go to GiveUp\n"
        "step B\n  after 1 s, go to Lit\nfinish Lit\nfinish GiveUp\n"
    )
    assert {"A", "B", "Lit"} == set(found)
    assert 1_000_000 == found["B"].earliest_us
    assert 2_000_000 <= found["B"].latest_us < 2_000_000 + LONGEST_US
    assert 2_000_000 == found["Lit"].earliest_us


def test_what_expects_nothing_may_say_anything() -> None:
    """A step without an expectation is timed as for any robot."""
    text = (
        "start A\nstep A\n  drive forward 40 %\n  when bumper pressed, expect 1 s to 2 s, go to B\n"
        "  after 3 s, go to GiveUp\n"
        "step B\n  drive forward 40 %\n  when bumper released, go to Lit\n"
        "  after 3 s, go to GiveUp\nfinish Lit\nfinish GiveUp\n"
    )
    found = entries(text)
    assert {"A", "B", "Lit", "GiveUp"} == set(found)
    assert found["Lit"].earliest_us < 1_000_000 + LONGEST_US


def test_the_first_of_two_that_are_expected() -> None:
    """Of two expected exits either may come first; a limit before both cuts them off."""
    text = (
        "start A\nstep A\n  drive forward 40 %\n"
        "  when bumper pressed, expect 1 s to 2 s, go to B\n"
        "  when arm_floor pressed, expect 1.5 s to 3 s, go to Lit\n"
        "  after {}, go to GiveUp\nstep B\n  after 1 s, go to Lit\nfinish Lit\nfinish GiveUp\n"
    )
    assert {"A", "B", "Lit"} == set(entries(text.format("4 s")))
    assert {"A", "GiveUp"} == set(entries(text.format("0.5 s")))
    # A limit in the middle of the window may come first, or not.
    assert {"A", "B", "Lit", "GiveUp"} == set(entries(text.format("1.2 s")))
