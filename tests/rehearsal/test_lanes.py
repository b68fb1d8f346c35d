"""Lanes that run side by side on the reference machine: M8, with M2 to M4, M7, M9 and M12."""

from __future__ import annotations

import pytest
from played import machine, played

QUIET = {"bumper": "released", "arm_floor": "released", "tin_gate": "clear"}
PRESSED = QUIET | {"bumper": "pressed"}
FLOOR = QUIET | {"arm_floor": "pressed"}
BOTH = PRESSED | {"arm_floor": "pressed"}
ENDS = "finish Lit\nfinish GiveUp\n"
HEAD = "routine example\nrobot moth\nlimit 30 s\nstart Carry\n"

BUMP = """
task bump ends over
  step In
    when bumper pressed, go to Out
    after 5 s, go to over
  step Out
    when bumper released, go to over
    after 5 s, go to over
"""

IN_A_TASK = f"""{HEAD.replace("Carry", "First")}
step First
  do both
  when task ends ready, go to Lit
  when task ends stuck, go to First, at most 1 time, then GiveUp
{ENDS}
task both ends ready, stuck
  together Pair
    when all lanes done, go to ready
    after 5 s, go to stuck
    lane one
      step A
        when bumper pressed, go to done
    lane two
      step M
        when arm_floor pressed, go to stuck
        when lane one done, go to done
"""


def block(own: str = "", one: str = "", two: str = "", rest: str = "") -> str:
    """A block of two lanes, `wheels` with step A and `lifting` with step M, and what follows."""
    own = own or "when all lanes done, go to Lit; after 9 s, go to GiveUp"
    lines = ["together Carry", *(f"  {line.strip()}" for line in own.split(";"))]
    for lane, inside in (
        ("wheels", one or "step A; when bumper pressed, go to done"),
        ("lifting", two or "step M; when arm_floor pressed, go to done"),
    ):
        lines.append(f"  lane {lane}")
        for line in inside.split(";"):
            depth = 4 if line.strip().startswith("step") else 6
            lines.append(" " * depth + line.strip())
    return HEAD + "\n".join(lines) + f"\n{rest}{ENDS}"


def entered(text: str, trace: list[tuple[int, dict[str, object]]]) -> list[str]:
    """The steps entered, with times in ms."""
    return [line.replace(" enter", "") for line in played(text, trace) if " enter " in line]


def test_all_lanes_start_with_the_block_in_the_order_written() -> None:
    """M8: entering a block enters the first step of each lane in the same pass."""
    assert ["0 Carry", "0 A", "0 M"] == entered(block(), [(0, BOTH)])


def test_a_lane_that_is_done_waits_for_the_other() -> None:
    """M8: a lane at its end waits, and the block goes on until the others are done too."""
    trace = [(0, QUIET), (10, PRESSED), (20, QUIET), (30, FLOOR), (40, QUIET)]
    assert [
        *("0 Carry", "0 A", "0 M", "10 Carry wheels done", "30 Carry lifting done", "40 Lit"),
    ] == entered(block(), trace)


def test_each_lane_makes_one_move_a_pass() -> None:
    """M3: in a pass both lanes move, each once; what was entered is asked in the next pass."""
    one = "step A; when bumper pressed, go to B; step B; when bumper pressed, go to done"
    trace = [(0, QUIET), (10, BOTH), (20, PRESSED), (30, QUIET)]
    assert [
        *("0 Carry", "0 A", "0 M", "10 B", "10 Carry lifting done", "20 Carry wheels done"),
        "30 Lit",
    ] == entered(block(one=one), trace)


def test_lanes_are_asked_in_the_order_written() -> None:
    """M8: of two lanes that lead out of the block in one pass the first one written does."""
    one = "step A; when bumper pressed, go to Lit"
    two = "step M; when arm_floor pressed, go to GiveUp"
    assert "10 Lit" == entered(block(one=one, two=two), [(0, QUIET), (10, BOTH)])[-1]
    turned = block(one="step A; when arm_floor pressed, go to GiveUp").replace(
        "when arm_floor pressed, go to done", "when bumper pressed, go to Lit"
    )
    assert "10 GiveUp" == entered(turned, [(0, QUIET), (10, BOTH)])[-1]


def test_what_leads_out_of_a_block_ends_the_lanes_after_it_unasked() -> None:
    """M8: when a lane leaves the block, the lanes after it do not move in that pass any more."""
    one = "step A; when bumper pressed, go to Lit"
    moved = entered(block(one=one), [(0, QUIET), (10, BOTH)])
    assert ["0 Carry", "0 A", "0 M", "10 Lit"] == moved


def test_the_block_is_asked_before_its_lanes() -> None:
    """M4: an exit of the block is taken before any lane is asked."""
    own = "when bumper pressed, go to Lit; after 9 s, go to GiveUp"
    assert ["0 Carry", "0 A", "0 M", "10 Lit"] == entered(block(own), [(0, QUIET), (10, BOTH)])


def test_a_join_sees_the_lanes_as_the_pass_began() -> None:
    """M8: a lane that comes to its end in a pass is done for others from the next pass on."""
    two = "step M; when lane wheels done, go to done"
    trace = [(0, QUIET), (10, PRESSED), (20, QUIET), (30, QUIET)]
    assert ["10 Carry wheels done", "20 Carry lifting done", "30 Lit"] == entered(
        block(two=two), trace
    )[3:]


def test_a_lane_looks_at_one_that_stands_below_it() -> None:
    """M8: which lane is written first makes no difference to what a lane sees of another."""
    one = "step A; when lane lifting done, go to done"
    trace = [(0, QUIET), (10, FLOOR), (20, QUIET), (30, QUIET)]
    assert ["10 Carry lifting done", "20 Carry wheels done", "30 Lit"] == entered(
        block(one=one), trace
    )[3:]


@pytest.mark.parametrize(
    ("condition", "at"),
    [
        ("all lanes done", "30 Lit"),
        ("any lane done", "20 Lit"),
        ("lane wheels done", "20 Lit"),
        ("lane lifting done", "30 Lit"),
        ("lane lifting in N", "20 Lit"),
        ("not lane wheels in A", "20 Lit"),
        ("lane wheels done and lane lifting in N", "20 Lit"),
    ],
)
def test_conditions_on_lanes(condition: str, at: str) -> None:
    """M8: conditions on lanes are answered as the lanes stood when the pass began."""
    two = "step M; when bumper pressed, go to N; step N; when arm_floor pressed, go to done"
    text = block(f"when {condition}, go to Lit; after 9 s, go to GiveUp", two=two)
    trace = [(0, QUIET), (10, PRESSED), (20, FLOOR), (30, QUIET), (40, QUIET)]
    assert at == entered(text, trace)[-1]


def test_the_limit_of_a_block_counts_from_its_entry() -> None:
    """M2: the clock of a block goes on while its lanes move."""
    one = "step A; when bumper pressed, go to B; step B; after 8 s, go to done"
    own = "when all lanes done, go to Lit; after 1 s, go to GiveUp"
    trace = [(0, QUIET), (600, PRESSED), (999, QUIET), (1000, QUIET)]
    assert "1000 GiveUp" == entered(block(own, one=one), trace)[-1]


def test_the_clock_of_a_step_in_a_lane_is_its_own() -> None:
    """M2: a step of a lane counts from its own entry, whatever the other lane does."""
    one = "step A; after 1 s, go to done"
    two = "step M; when arm_floor pressed, go to N; step N; after 1 s, go to done"
    trace = [(0, QUIET), (600, FLOOR), (999, QUIET), (1000, QUIET), (1599, QUIET), (1600, QUIET)]
    assert ["600 N", "1000 Carry wheels done", "1600 Carry lifting done"] == entered(
        block(one=one, two=two), trace
    )[3:]


def test_leaving_a_block_switches_off_what_runs_in_its_lanes() -> None:
    """M7: leaving the block leaves every step of a lane; only what was given with `keep` goes on"""
    one = "step A; drive forward 40 %; when bumper pressed, go to Out"
    two = "step M; keep roller take; when arm_floor pressed, go to done"
    rest = "step Out\n  after 1 s, go to Lit\n"
    lines = played(block("roller take; after 9 s, go to GiveUp", one, two, rest), [(0, {})])
    assert ["0 drive forward 40 %", "0 roller take"] == lines[-2:]
    trace = [(0, QUIET), (10, PRESSED)]
    lines = played(block("after 9 s, go to GiveUp", one, two, rest), trace)
    assert ["10 enter Out", "10 drive off"] == lines[-2:]


def test_what_the_block_runs_goes_on_while_its_lanes_move() -> None:
    """M7: a command of the block is switched off when the block is left, not with a lane's step"""
    own = "roller take; when all lanes done, go to Out; after 9 s, go to GiveUp"
    text = block(own, rest="step Out\n  after 1 s, go to Lit\n")
    trace = [(0, QUIET), (10, BOTH), (20, QUIET)]
    off = [line for line in played(text, trace) if line.endswith("off")]
    assert ["20 roller off"] == off


def test_of_two_lanes_that_tell_a_mechanism_the_last_has_its_way() -> None:
    """M7, M8: commands of lanes are given lane by lane in one pass, and the last one is sent."""
    one = "step A; arm to 100 ticks; when bumper pressed, go to done"
    two = "step M; arm to 900 ticks; when arm_floor pressed, go to done"
    sent = [line for line in played(block(one=one, two=two), [(0, QUIET)]) if "arm" in line]
    assert ["0 arm to 900 ticks"] == sent


def test_a_block_that_leads_to_itself_starts_again() -> None:
    """M8: an exit to the block leaves all its lanes, and enters each with its first step."""
    own = "when bumper pressed, go to Carry; after 1 s, go to GiveUp"
    two = "step M; when arm_floor pressed, go to N; step N; after 8 s, go to done"
    trace = [(0, QUIET), (10, FLOOR), (600, PRESSED), (1000, QUIET), (1599, QUIET), (1600, QUIET)]
    assert ["10 N", "600 Carry", "600 A", "600 M", "1600 GiveUp"] == entered(
        block(own, two=two), trace
    )[3:]


def test_a_lane_can_start_its_block_again() -> None:
    """M8: an exit of a lane to its own block leads out of the block and into it again."""
    one = "step A; when bumper pressed, go to Carry, at most 1 time, then GiveUp"
    trace = [(0, QUIET), (10, PRESSED), (20, QUIET), (30, PRESSED)]
    assert ["10 Carry", "10 A", "10 M", "30 GiveUp"] == entered(block(one=one), trace)[3:]


def test_a_match_clock_exit_to_a_block_is_spent_while_its_lanes_run() -> None:
    """M4: while its lanes run, a plan is in the block that a match-clock exit leads to."""
    text = block(rest="step Out\n  after 1 s, go to Lit\n").replace(
        "start Carry", "at 1 s of match, go to Carry\nstart Carry"
    )
    assert ["0 Carry", "0 A", "0 M"] == entered(text, [(0, QUIET), (1000, QUIET), (1010, QUIET)])


def test_a_match_clock_exit_of_a_block() -> None:
    """M4: an `at` exit under a block leads out of it, and comes before its lanes."""
    own = "at 1 s of match, go to GiveUp; when all lanes done, go to Lit; after 9 s, go to Lit"
    assert "1000 GiveUp" == entered(block(own), [(0, QUIET), (1000, BOTH)])[-1]


def test_rules_of_a_block_and_of_its_lanes() -> None:
    """M12: rules of the block come before those of its lanes, in one pass before all exits."""
    own = "whenever bumper pressed, arm to 1 ticks; after 9 s, go to GiveUp"
    two = (
        "step M; whenever bumper pressed, arm to 2 ticks; whenever lane wheels done, signal light;"
        "after 8 s, go to done"
    )
    trace = [(0, QUIET), (10, PRESSED), (20, QUIET)]
    moves = ("enter", "leave")
    lines = [line for line in played(block(own, two=two), trace) if line.split()[1] not in moves]
    assert ["10 arm to 2 ticks", "20 signal light"] == lines


def test_a_task_in_a_lane() -> None:
    """M8, M9: a step of a lane may do a task; `in` holds for the whole of it."""
    one = "step A; do bump; when task ends over, go to done"
    own = "when not lane wheels in A, go to Lit; after 9 s, go to GiveUp"
    text = block(own, one=one) + BUMP
    trace = [(0, QUIET), (10, PRESSED), (20, PRESSED), (30, QUIET), (40, QUIET)]
    assert ["0 Carry", "0 A.In", "0 M", "10 A.Out", "30 Carry wheels done", "40 Lit"] == entered(
        text, trace
    )


def test_a_block_in_a_task() -> None:
    """M8: a block in a task is entered with it, and a lane may lead to an outcome."""
    trace = [(0, QUIET), (10, FLOOR), (20, QUIET), (30, PRESSED), (40, QUIET), (50, QUIET)]
    assert [
        *("0 First.Pair", "0 First.A", "0 First.M"),
        *("10 First.Pair", "10 First.A", "10 First.M"),
        *("30 First.Pair one done", "40 First.Pair two done", "50 Lit"),
    ] == entered(IN_A_TASK, trace)


def test_held_for_in_a_lane_begins_with_its_own_step() -> None:
    """M5: what a step of a lane has seen is not forgotten when another lane moves."""
    one = "step A; when bumper pressed for 0.5 s, go to done"
    trace = [(0, QUIET), (100, PRESSED), (300, BOTH), (599, PRESSED), (600, PRESSED)]
    assert ["300 Carry lifting done", "600 Carry wheels done"] == entered(block(one=one), trace)[3:]


def test_a_state_that_was_kept_goes_on_alike() -> None:
    """A copy of the machine's state holds its lanes, and later passes leave it alone."""
    run = machine(block())
    run.pass_(0, QUIET)
    kept = run.state.copy()
    run.pass_(10_000, BOTH)
    assert ({"Carry wheels": "A", "Carry lifting": "M"}, ["Carry", "A", "M"]) == (
        kept.lanes,
        [kept.step, *kept.lanes.values()],
    )
    run.state = kept
    assert ["Carry", "A", "M"] == [active.step for active in run.active()]


def test_what_is_asked_of_a_block_and_its_lanes() -> None:
    """What the machine waits for is told in the order of M4 and M8: the block, then each lane."""
    run = machine(block())
    run.pass_(0, QUIET)
    asked = [(ask.exit.source, ask.exit.target) for ask in run.asked(0, QUIET)]
    assert [
        *(("Carry", "Lit"), ("Carry", "GiveUp")),
        *(("A", "Carry wheels done"), ("M", "Carry lifting done")),
    ] == asked
