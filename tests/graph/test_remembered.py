"""Waits and loops that end because of what is remembered or counted."""

from __future__ import annotations

import pytest
from demo import moth_robot

from planner.graph.loops import endless_loops
from planner.pipeline import check_routine
from planner.text import Source

HEAD = """routine example
robot moth
limit 30 s
memory side: left, middle, right, seen by post_mark
memory full: no, yes
counter shots: 0 to 3, normally 3
start A
"""
LOOP = """step A
  count shots down
  remember yes as full
  roller drop
  when tin_gate clear for 0.3 s, go to D
  after 2 s, go to C
step D
  {first}
  {second}
  when memory full is no and memory side is left, go to C
finish B
finish C
"""


def checks_of(text: str) -> list[str]:
    """The names of what is found in a plan, but notes and what was left unused."""
    source = Source("example.routine", HEAD + text)
    found = check_routine(source, lambda _name: moth_robot()).findings
    return [f.check for f in found if f.check not in ("unused-memory", "never-remembered")]


NO_END = {"endless-loop", "late-finish", "wait-without-limit"}
"""Each says in its own way that some run goes on for too long."""


def loop(first: str, second: str = "when counter shots is 0, go to B", more: str = "") -> list[str]:
    """What is found in a loop that a counter may end."""
    text = LOOP.format(first=first, second=second)
    return checks_of(text.replace("  roller drop\n", f"  roller drop\n{more}"))


def test_a_counter_ends_a_loop() -> None:
    """A loop that goes on only while a counter is above its end is not endless; what is found is
    that `full` is never `no` by then."""
    assert ["never-in-time"] == loop("when counter shots > 0, go to A")


@pytest.mark.parametrize(
    ("first", "more"),
    [
        ("when counter shots >= 0, go to A", ""),
        ("when not tin_gate broken, go to A", ""),
        ("when counter shots > 0, go to A", "  count shots up\n"),
        ("when counter shots > 0, go to A", "  count shots from 3\n"),
        ("when counter shots > 0 or bumper pressed, go to A", ""),
    ],
)
def test_a_counter_that_does_not_end_it(first: str, more: str) -> None:
    """A loop has no end where its exits do not ask for the counter, or it is counted back."""
    assert not NO_END.isdisjoint(loop(first, more=more))


def test_a_loop_beside_the_counting() -> None:
    """Steps that can follow each other without the step that counts go round without end."""
    text = LOOP.format(
        first="when counter shots > 0, go to E", second="when counter shots is 0, go to B"
    )
    text = text.replace(
        "finish B", "step E\n  when bumper pressed, go to D\n  after 1 s, go to A\nfinish B", 1
    )
    assert ["endless-loop"] == checks_of(text)


@pytest.mark.parametrize(
    ("exits", "waits"),
    [
        (("memory side is left", "not memory side is left"), False),
        (("memory side is left", "memory side is middle", "memory side is right"), False),
        (("counter shots is 0", "counter shots is 1", "counter shots >= 2"), False),
        (("memory full is no", "not counter shots < 2", "counter shots < 2"), False),
        (("counter shots is 0", "counter shots >= 2"), True),
        (("memory full is no", "memory full is yes and bumper pressed"), True),
        (("memory full is no", "not bumper pressed"), True),
    ],
)  # fmt: skip
def test_waits_that_end_at_once(exits: tuple[str, ...], waits: bool) -> None:
    """A step needs no limit where one of its exits is true, whatever is remembered and counted."""
    text = "".join(f"  when {condition}, go to B\n" for condition in exits)
    assert waits is ("wait-without-limit" in checks_of(f"step A\n{text}finish B\nfinish C\n"))


@pytest.mark.parametrize(
    ("exits", "missing"),
    [
        (("memory side is left", "memory side is right"), True),
        (("memory side is left", "not memory side is left"), False),
        (("memory side is left", "bumper pressed"), False),
        (("memory side is left and bumper pressed", "memory side is right"), True),
        (("memory side is left or bumper pressed",), False),
        (("post_mark sees left", "post_mark sees right"), True),
        (("post_mark sees left", "post_mark sees right", "post_mark sees middle"), False),
        (("post_mark sees left",), False),
        (("not post_mark sees unsure",), False),
        (("floor_eye sees red", "floor_eye sees blue"), False),
        (("once post_mark sees left", "post_mark sees right for 0.2 s"), True),
    ],
)
def test_values_without_an_arm(exits: tuple[str, ...], missing: bool) -> None:
    """A value for which no exit can be taken before the limit is told, and nothing else is."""
    text = "".join(f"  when {condition}, go to B\n" for condition in exits)
    found = checks_of(f"step A\n{text}  after 2 s, go to C\nfinish B\nfinish C\n")
    assert missing is ("value-without-arm" in found)


def test_a_counter_out_of_its_range() -> None:
    """What a counter can never be is never true; what it always is, always."""
    text = "step A\n  when counter shots is 5, go to B\n  when counter shots <= 3, go to B\n"
    found = checks_of(f"{text}  after 2 s, go to C\nfinish B\nfinish C\n")
    assert {"never-true", "always-true"} <= set(found)


LANES = """together A
  when all lanes done, go to B
  lane one
    step First
      count shots down
      when bumper pressed, go to Again
      after 1 s, go to done
    step Again
      when counter shots > 0, go to First
      when counter shots is 0, go to done
  lane two
    step Second
      {other}
      remember yes as full
      when tin_gate broken, go to done
      after 2 s, go to Third
    step Third
      when memory full is yes, go to done
      after 2 s, go to done
finish B
finish C
"""


def test_another_lane_may_count_back() -> None:
    """A counter ends a loop in a lane only where no other lane counts the other way."""
    for other, endless in (("count shots down", False), ("count shots up", True)):
        source = Source("example.routine", HEAD + LANES.format(other=other))
        plan = check_routine(source, lambda _name: moth_robot()).plan
        assert endless is any(True for _ in endless_loops(plan))


def test_another_lane_may_remember() -> None:
    """A step in a lane may wait for what another lane remembers."""
    found = checks_of(LANES.format(other="roller drop"))
    assert "value-without-arm" not in found
