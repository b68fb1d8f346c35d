"""The plan as a healthy robot runs it."""

from __future__ import annotations

import pytest
from demo import check

from planner.graph.healthy import healthy, seen_before
from planner.model.memory import WordMemory
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


WAITS = """memory side: left, right{seen}
counter tins: 0 to 3, normally {tins}
start A
step A
  drive forward 40 %
  when counter tins is 0, go to Short
  when memory side is right and arm_floor pressed, go to Odd
  when bumper pressed, expect 1 s to 2 s, go to Long
  after 3 s, go to Short
step Short
  after 1 s, go to Lit
step Odd
  after 1 s, go to Lit
step Long
  after 2 s, go to Lit
finish Lit
"""


def test_what_is_remembered_and_counted_goes_on() -> None:
    """An exit by a counter is taken where something is expected; one with a sensor in it is not."""
    assert {"A", "Long", "Lit"} == set(entries(WAITS.format(seen="", tins=3)))
    assert {"A", "Short", "Lit"} == set(entries(WAITS.format(seen="", tins=0)))


def test_each_way_a_camera_can_have_settled_a_memory() -> None:
    """A memory that a camera settles is each of its words, with no camera any more."""
    routine = check(WAITS.format(seen=", seen by post_mark", tins=3)).plan.routine
    ways = [one.memories["side"] for one in seen_before(routine) or ()]
    assert [("left", None), ("right", None)] == [
        (one.first, one.seen_by) for one in ways if isinstance(one, WordMemory)
    ]
    plain = check(WAITS.format(seen="", tins=3)).plan.routine
    assert [plain] == seen_before(plain)


LATE = """memory side: middle, left, right{seen}
at 8 s of match, go to Still
start A
step A
  drive forward 40 %
  {line}
  when bumper pressed, expect {expect}, go to Which
  after 7 s, go to Still
step Which
  when memory side is left, go to Raise
  when memory side is right, go to Rare
  after 0.5 s, go to Lit
step Raise
  arm to 1200 ticks
  when arm done, expect 4.5 s to 5 s, go to Late
  after 7 s, go to Still
step Late
  after 0.1 s, go to Lit
step Rare
  after 0.1 s, go to Lit
finish Lit
finish Still
"""


@pytest.mark.parametrize(
    ("line", "seen", "expect", "expected"),
    [
        # The camera may see left before the start, and then there is no time for what follows.
        ("claw close", ", seen by post_mark", "4 s to 6 s", [("Late",)]),
        ("claw close", ", seen by post_mark", "1 s to 2 s", []),
        # It always is middle: that is no want of time.
        ("claw close", "", "4 s to 6 s", []),
        # What is remembered is followed: it is left whenever Which is entered, so Lit is late too.
        ("remember left as side", "", "4 s to 6 s", [("Late", "Lit")]),
        # What a sensor says on the way is not followed, and nothing is said.
        ("remember post_mark as side", "", "4 s to 6 s", []),
    ],
)
def test_no_time_where_memories_lead(
    line: str, seen: str, expect: str, expected: list[tuple[str, ...]]
) -> None:
    """A plan that remembers is told the steps for which there is no time, and no others."""
    findings = check(LATE.format(line=line, seen=seen, expect=expect)).findings
    assert expected == [one.steps for one in findings if one.check == "no-time-when-healthy"]


def test_a_shorter_way_by_a_memory_is_no_want_of_time() -> None:
    """A step that a counter leads to at once is in time, though the way past a sensor is not."""
    text = (
        "counter tins: 0 to 3, normally {}\nat 8 s of match, go to Still\nstart A\nstep A\n"
        "  drive forward 40 %\n  when counter tins is 0, go to C\n"
        "  when bumper pressed, expect 4 s to 5 s, go to B\n  after 7 s, go to Still\n"
        "step B\n  arm to 1200 ticks\n  when arm done, expect 4.5 s to 5 s, go to C\n"
        "  after 7 s, go to Still\nstep C\n  after 0.1 s, go to Lit\nfinish Lit\nfinish Still\n"
    )
    told = [
        [f.steps for f in check(text.format(tins)).findings if f.check == "no-time-when-healthy"]
        for tins in (0, 3)
    ]
    assert [[], [("C", "Lit")]] == told


def test_what_is_expected_of_lanes_comes_with_them() -> None:
    """That all lanes are done is no sooner than they are, whatever the block expects."""
    found = entries(
        "start Both\ntogether Both\n  when all lanes done, expect 1 s to 2 s, go to Lit\n"
        "  after 9 s, go to GiveUp\n  lane wheels\n    step W\n      drive forward 40 %\n"
        "      when bumper pressed, expect 3 s to 4 s, go to done\n      after 5 s, go to done\n"
        "  lane lifting\n    step L\n      arm to 1200 ticks\n"
        "      when arm done, expect 1 s to 2 s, go to done\n      after 5 s, go to done\n"
        "finish Lit\nfinish GiveUp\n"
    )
    assert "GiveUp" not in found
    assert found["Lit"].earliest_us >= 3_000_000
