"""What turns in each step and into a finish, judged by runs of the reference machine."""

from __future__ import annotations

import random

import pytest
from demo import check
from finishing import Finishing
from graph.test_doing import PASS_US, random_text

from planner.graph.running import Turning, running

KEPT = """\
start A
step A
  keep roller take
  drive forward 40 %
  when bumper pressed, go to B
  after 3 s, go to C
step B
  roller stop
  after 1 s, go to C
step C
  drive forward -30 %
  after 1 s, go to Lit
finish Lit
  drive forward 10 %
"""


@pytest.mark.parametrize("seed", range(60))
def test_what_turns_is_foreseen(seed: int) -> None:
    """In every pass of a run what turns is foreseen, and what surely turns does; as in a finish."""
    draw = random.Random(seed)
    plan = check(random_text(seed)).plan
    turning = running(plan)
    for _ in range(15):
        machine = Finishing(plan)
        for number in range(80):
            said = {
                "bumper": draw.choice(("pressed", "released", "released")),
                "tin_gate": draw.choice(("broken", "clear", "clear")),
                "arm done": draw.random() < 0.2,
                "drive done": draw.random() < 0.2,
            }
            machine.pass_(number * PASS_US * 5, said)
            if machine.state.over:
                break
            now = machine.brought if machine.finished else set(machine.state.running)
            for step in (machine.state.step, *machine.state.lanes.values()):
                told = turning.during([step])
                assert set(told.surely) <= now <= {*told.surely, *told.perhaps}
            if machine.finished:
                break


def test_by_every_way_or_by_some() -> None:
    """What turns by every way is told apart from what turns by some; a finish's own commands are
    not what still turned when it was reached."""
    turning = running(check(KEPT).plan)
    assert [
        Turning(("roller", "drive")),
        Turning(),
        Turning(("drive",), ("roller",)),
        Turning((), ("roller",)),
    ] == [turning.during([step]) for step in ("A", "B", "C", "Lit")]
    assert Turning((), ("roller", "drive")) == turning.during(["A", "B"])


def test_by_the_exits_that_are_taken() -> None:
    """Where only some exits are taken, what turns is known better."""
    turning = running(check(KEPT).plan, {("A", 1), ("C", 0)})
    assert Turning(("roller",)) == turning.during(["Lit"])


def test_what_two_lanes_share() -> None:
    """What several lanes tell a mechanism is not followed: it may turn as long as the block runs,
    and after that only if something was to be kept."""
    text = (
        "start Both\ntogether Both\n  when all lanes done, go to Next\n  after 5 s, go to Next\n"
        "  lane one\n    step P\n      drive forward 20 %\n      after 1 s, go to done\n"
        "  lane two\n    step X\n      drive forward 30 %\n      after 2 s, go to done\n"
        "step Next\n  after 1 s, go to Lit\nfinish Lit\n"
    )
    turning = running(check(text).plan)
    assert (Turning((), ("drive",)), Turning()) == (turning.during(["P"]), turning.during(["Lit"]))
    kept = running(check(text.replace("drive forward 30", "keep drive forward 30")).plan)
    assert Turning((), ("drive",)) == kept.during(["Lit"])
