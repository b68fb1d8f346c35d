"""The limits of groups and of the match clock that a healthy robot can run into.

The judge of what is told is the reference machine, with sensors that speak when they are expected
to; the other numbers are added up by hand.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

import pytest
from demo import check, check_text

from planner.findings import Finding
from planner.graph.run import Entered
from planner.rehearsal import Machine

TOLD = ("limit-before-expected", "match-exit-before-expected")
ENDS = "finish Lit\nfinish Still\n"
ROUNDS = """start A
group G
  after {limit}, go to Still
  step A
    drive forward 30 %
    when bumper pressed, expect 2 s to 3 s, go to B
    after 3.2 s, go to Still
  step B
    arm to 1200 ticks
    when arm done, expect 1 s to 2 s, go to A{count}
    after 3.2 s, go to Still
"""


def told(text: str) -> list[Finding]:
    """What is told of limits that come too soon for a healthy robot."""
    return [one for one in check_text(text) if one.check in TOLD]


def chain(limit: str, *waits: str) -> str:
    """Steps of a group one after the other, each with what it waits for."""
    names = "ABCDE"[: len(waits)]
    steps = [
        f"  step {name}\n    drive forward 30 %\n    when {wait}, go to {to}\n"
        "    after 9 s, go to Still\n"
        for name, to, wait in zip(names, [*names[1:], "Lit"], waits, strict=True)
    ]
    return f"start A\ngroup G\n  after {limit}, go to Still\n{''.join(steps)}{ENDS}"


SLOW = "bumper pressed, expect 2 s to 3 s"
AGAIN = "bumper released, expect 2 s to 3 s"


@pytest.mark.parametrize(
    ("limit", "headline", "why"),
    [
        ("7 s", None, None),
        (
            "5 s",
            "the limit of 5 s may end `G` when all goes well but slowly",
            "A healthy robot can need up to 6.1 s there; it is then cut off in `B`.",
        ),
        (
            "3.5 s",
            "the limit of 3.5 s ends `G` even when all goes well",
            "A healthy robot needs at least 4 s there, up to 6.1 s: it never gets through.",
        ),
    ],
)
def test_how_much_is_missing(limit: str, headline: str | None, why: str | None) -> None:
    """It is told whether no healthy run or only a slow one is cut off, and how long it takes."""
    found = [(one.headline, one.why) for one in told(chain(limit, SLOW, AGAIN))]
    assert ([(headline, why)] if headline else []) == found


@pytest.mark.parametrize(
    "text",
    [
        chain("3.5 s", "bumper pressed", "bumper released"),
        # What a step without an expectation takes is not known; the others have the time.
        chain("3.5 s", SLOW, "bumper released"),
        # Where sensors lead to several places unexpectedly, it is not known what goes well.
        chain("5 s", SLOW, AGAIN, "arm_floor pressed, go to Still\n    when bumper pressed"),
        # A limit that ends rounds is how many there are, and so is the match clock.
        ROUNDS.format(limit="9 s", count="") + ENDS,
        ROUNDS.format(limit="20 s", count=", at most 2 times, then Lit") + ENDS,
        "at 9 s of match, go to Still\n" + ROUNDS.format(limit="25 s", count="") + ENDS,
        "at 9 s of match, go to Still\n"
        + ROUNDS.format(limit="25 s", count=", at most 2 times, then Lit")
        + ENDS,
    ],
    ids=["none", "one", "several", "rounds", "counted", "clock", "clock_counted"],
)
def test_nothing_is_told_where_it_may_be_meant(text: str) -> None:
    """Limits that end rounds, or that come where nothing is expected, are left alone."""
    assert [] == told(text)


def test_what_is_not_expected_takes_no_time() -> None:
    """Where the waits around one that expects nothing are too long by themselves, that is told."""
    (found,) = told(chain("5 s", SLOW, "arm_floor pressed", AGAIN))
    assert ("G", "C") == (found.headline.split("`")[1], found.steps[0])


def test_counted_rounds_add_up() -> None:
    """All rounds that a count allows are to be done before the limit of their group comes: three
    of 3 to 5 s."""
    counted = ", at most 2 times, then Lit"
    (slow,) = told(ROUNDS.format(limit="14 s", count=counted) + ENDS)
    (never,) = told(ROUNDS.format(limit="9 s", count=counted) + ENDS)
    assert (True, True) == ("but slowly" in slow.headline, "even when" in never.headline)


def test_a_later_time_is_given_for_the_clock() -> None:
    """Where the match lasts long enough, it is told when the exit may come."""
    text = "at 5 s of match, go to Still\n" + chain("20 s", SLOW, AGAIN)
    (found,) = told(text)
    assert "Let the exit come after 6.1 s" in found.way_out
    assert [] == told(text.replace("at 5 s", "at 6.2 s"))


def test_a_task_done_twice_is_told_where_its_limit_is_short() -> None:
    """Of two steps that do a task, the one whose own limit is too short is told."""
    text = (
        "start First\nstep First\n  do place\n  when task ends placed, go to Second\n"
        "  after {}, go to Still\nstep Second\n  do place\n  when task ends placed, go to Lit\n"
        f"  after {{}}, go to Still\n{ENDS}task place ends placed\n  step Raise\n"
        "    arm to 1200 ticks\n    when arm done, expect 2 s to 2.5 s, go to Drop\n"
        "  step Drop\n    roller drop\n"
        "    when tin_gate clear, expect 1.5 s to 2 s, go to placed\n"
    )
    assert [["First"], ["Second"], ["First", "Second"], []] == [
        [one.steps[0].split(".")[0] for one in told(text.format(f"{first} s", f"{second} s"))]
        for first, second in ((4, 6), (6, 4), (4, 4), (6, 6))
    ]


def test_the_limit_of_the_group_that_is_too_short_is_told() -> None:
    """Of groups within each other each has its own time: 4 to 6 s here, and 5 to 7.5 s around."""
    text = (
        "start A\ngroup Outer\n  after {}, go to Still\n  group Inner\n    after {}, go to Still\n"
        f"    step A\n      drive forward 30 %\n      when {SLOW}, go to B\n"
        "      after 4 s, go to Still\n"
        f"    step B\n      drive forward 40 %\n      when {AGAIN}, go to C\n"
        "      after 4 s, go to Still\n  step C\n    drive turn 90 deg\n"
        "    when drive done, expect 1 s to 1.5 s, go to Lit\n    after 4 s, go to Still\n"
        f"{ENDS}"
    )
    assert [["Inner"], ["Outer"], []] == [
        [one.headline.split("`")[1] for one in told(text.format(f"{outer} s", f"{inner} s"))]
        for outer, inner in ((8.5, 5), (7, 6.5), (8.5, 6.5))
    ]


@dataclass(frozen=True)
class Drawn:
    """Waits one after the other in a group, in tenths of seconds, and its limit."""

    windows: tuple[tuple[int, int], ...]
    limit: int

    @property
    def text(self) -> str:
        """The routine."""
        words = ("pressed", "released")
        waits = (
            f"bumper {words[number % 2]}, expect {low / 10} s to {high / 10} s"
            for number, (low, high) in enumerate(self.windows)
        )
        return chain(f"{self.limit / 10} s", *waits)

    def is_cut_off(self, *, slow: bool, gap_ms: int) -> bool:
        """Whether a healthy robot runs into the limit; its sensors are all slow, or all fast."""
        machine = Machine(check(self.text).plan)
        step, entered_ms = "", 0
        for now_ms in range(0, 30_000, gap_ms):
            number = "ABCDE".find(step) if step else 0
            due_ms = 100 * self.windows[number][slow]
            pressed = (now_ms - entered_ms >= due_ms) == (number % 2 == 0)
            said = "pressed" if pressed else "released"
            for event in machine.pass_(now_ms * 1000, {"bumper": said}):
                if isinstance(event, Entered):
                    step, entered_ms = event.step, now_ms
            if machine.finished:
                return step == "Still"
        raise AssertionError("every step has a limit")


def drawn(seed: int) -> Drawn:
    """Two to four waits, and a limit above each of them."""
    choose = random.Random(seed)
    lows = [choose.randint(2, 30) for _ in range(choose.randint(2, 4))]
    windows = tuple((low, low + choose.randint(1, 15)) for low in lows)
    longest = max(high for _, high in windows)
    return Drawn(windows, choose.randint(longest + 1, max(longest + 1, sum(lows) + 30)))


@pytest.mark.parametrize("seed", range(40))
def test_a_healthy_run_shows_what_is_told(seed: int) -> None:
    """A limit is told just where the slowest healthy robot runs into it on the reference machine,
    and as ending all runs just where the fastest one does."""
    plan = drawn(seed)
    found = told(plan.text)
    assert plan.is_cut_off(slow=True, gap_ms=39) == bool(found)
    always = any("even when" in one.headline for one in found)
    # A pass comes just when each sensor speaks.
    assert plan.is_cut_off(slow=False, gap_ms=20) == always
