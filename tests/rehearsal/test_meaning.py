"""M1 to M12, rule by rule (grammar/README.md, section 6), on the reference machine."""

from __future__ import annotations

import math

import pytest
from demo import check
from played import HEAD, machine, played, spoken

from planner.rehearsal import Machine

QUIET = {"bumper": "released", "arm_floor": "released", "range_front": 100, "gyro": 0}
PRESSED = QUIET | {"bumper": "pressed"}
ENDS = "finish B\nfinish C\n"


def left_for(text: str, trace: list[tuple[int, dict[str, object]]]) -> list[str]:
    """The steps entered after the first, with times in ms."""
    lines = [line for line in played(text, trace) if " enter " in line]
    return [line.replace(" enter", "") for line in lines[1:]]


class TestM1Pass:
    def test_two_conditions_on_one_reading_see_the_same_value(self) -> None:
        """M1: a reading and its opposite are never both true in a pass."""
        text = (
            f"step A; when bumper pressed and bumper released, go to B; after 1 s, go to C\n{ENDS}"
        )
        assert left_for(text, [(0, QUIET), (10, PRESSED), (20, QUIET)]) == []

    def test_entry_reads_the_same_pass(self) -> None:
        """M1: what counts from the step's start counts from the readings of the entering pass."""
        text = "step A; after 1 s, go to D\nstep D; when drive travelled >= 5 cm, go to B\n"
        trace = [(0, {}), (1000, {"drive travelled": 40}), (1010, {"drive travelled": 44.9})]
        assert left_for(text + ENDS, [*trace, (1020, {"drive travelled": 45})]) == [
            "1000 D",
            "1020 B",
        ]


class TestM2Clocks:
    @pytest.mark.parametrize(("at_ms", "left"), [(999, []), (1000, ["1000 B"]), (1001, ["1001 B"])])
    def test_after_is_true_at_its_time(self, at_ms: int, left: list[str]) -> None:
        """M2: `after T` is true at T, not only past it."""
        text = f"step A; after 1 s, go to B\n{ENDS}"
        assert left_for(text, [(0, QUIET), (at_ms, QUIET)]) == left

    def test_the_match_clock_starts_with_the_first_pass(self) -> None:
        """M2: the match clock stands at 0 in the first pass, whatever the controller says."""
        text = f"at 1 s of match, go to B\nstep A; after 5 s, go to C\n{ENDS}"
        assert played(text, [(70_000, QUIET), (71_000, QUIET)])[-2:] == [
            "1000 enter B",
            "1000 finish B",
        ]

    @pytest.mark.parametrize(("at_ms", "left"), [(1999, []), (2000, ["2000 B"])])
    def test_the_match_clock_can_be_asked(self, at_ms: int, left: list[str]) -> None:
        """M2: a condition on the match clock compares it as written."""
        text = f"step A; when match >= 2 s, go to B; after 9 s, go to C\n{ENDS}"
        assert left_for(text, [(0, QUIET), (at_ms, QUIET)]) == left

    def test_a_step_clock_starts_with_its_entry(self) -> None:
        """M2: the clock of a step does not run before the step is entered."""
        text = f"step A; after 1 s, go to D\nstep D; after 1 s, go to B\n{ENDS}"
        trace = [(0, QUIET), (1500, QUIET), (2400, QUIET), (2500, QUIET)]
        assert left_for(text, trace) == ["1500 D", "2500 B"]


class TestM3OneMoveAPass:
    def test_a_step_is_not_left_in_the_pass_that_entered_it(self) -> None:
        """M3: two exits that are true at once take two passes."""
        text = (
            "step A; when bumper pressed, go to D; after 9 s, go to C\n"
            f"step D; when bumper pressed, go to B; after 9 s, go to C\n{ENDS}"
        )
        trace = [(0, PRESSED), (10, PRESSED), (20, PRESSED)]
        assert left_for(text, trace) == ["10 D", "20 B"]

    def test_a_limit_of_no_time_still_takes_a_pass(self) -> None:
        """M3: no loop takes zero time, not even with `after 0 s`."""
        text = f"step A; after 0 s, go to D\nstep D; after 0 s, go to B\n{ENDS}"
        assert left_for(text, [(0, QUIET), (10, QUIET), (20, QUIET)]) == ["10 D", "20 B"]


class TestM4Order:
    def test_the_first_when_written_wins(self) -> None:
        """M4: of two `when` exits that are true, the first as written is taken."""
        text = (
            "step A; when bumper pressed, go to B; when range_front > 50 cm, go to C; "
            f"after 9 s, go to C\n{ENDS}"
        )
        assert left_for(text, [(0, QUIET), (10, PRESSED)]) == ["10 B"]

    def test_the_sensor_wins_over_the_limit(self) -> None:
        """M4: a sensor that speaks in the pass in which the limit runs out wins."""
        text = f"step A; after 1 s, go to C; when bumper pressed, go to B\n{ENDS}"
        assert left_for(text, [(0, QUIET), (1000, PRESSED)]) == ["1000 B"]

    def test_the_earlier_limit_wins(self) -> None:
        """M4: of two limits that are past, the shorter is taken, wherever it is written."""
        text = f"step A; after 2 s, go to C; after 1 s, go to B\n{ENDS}"
        assert left_for(text, [(0, QUIET), (3000, QUIET)]) == ["3000 B"]

    def test_the_match_clock_wins_over_the_step(self) -> None:
        """M4: a match-clock exit is asked before the step's own."""
        text = (
            "at 1 s of match, go to C\n"
            f"step A; when bumper pressed, go to B; after 9 s, go to B\n{ENDS}"
        )
        assert left_for(text, [(0, QUIET), (1000, PRESSED)]) == ["1000 C"]

    def test_match_exits_go_by_time(self) -> None:
        """M4: of two match-clock exits the earlier is taken first, the later in the next pass."""
        text = (
            "at 2 s of match, go to B\n"
            "at 1 s of match, go to D\n"
            "step A; after 9 s, go to C\n"
            f"step D; after 9 s, go to C\n{ENDS}"
        )
        assert left_for(text, [(0, QUIET), (3000, QUIET), (3010, QUIET)]) == ["3000 D", "3010 B"]

    def test_a_match_exit_is_taken_once(self) -> None:
        """M4: a step behind the target is not led back to it."""
        text = (
            "at 1 s of match, go to D\n"
            "step A; after 9 s, go to C\n"
            "step D; after 1 s, go to E\n"
            f"step E; after 1 s, go to B\n{ENDS}"
        )
        trace = [(0, QUIET), (1000, QUIET), (2000, QUIET), (2500, QUIET), (3000, QUIET)]
        assert left_for(text, trace) == ["1000 D", "2000 E", "3000 B"]

    def test_a_match_exit_whose_time_comes_in_its_target_is_spent(self) -> None:
        """M4: being in the target already counts as having taken the exit."""
        text = (
            "at 1 s of match, go to A\n"
            "step A; after 2 s, go to D\n"
            f"step D; after 1 s, go to B\n{ENDS}"
        )
        trace = [(0, QUIET), (1000, QUIET), (2000, QUIET), (2500, QUIET), (3000, QUIET)]
        assert left_for(text, trace) == ["2000 D", "3000 B"]

    def test_the_target_may_be_left_as_the_time_comes(self) -> None:
        """M4: leaving the target in the very pass its time comes does not lead back either."""
        text = (
            "at 2 s of match, go to A\n"
            "step A; after 2 s, go to D\n"
            f"step D; after 1 s, go to B\n{ENDS}"
        )
        trace = [(0, QUIET), (2000, QUIET), (2010, QUIET), (3000, QUIET)]
        assert left_for(text, trace) == ["2000 D", "3000 B"]


class TestM5Held:
    TEXT = f"step A; when bumper pressed for 0.1 s, go to B; after 9 s, go to C\n{ENDS}"

    @pytest.mark.parametrize(("last_ms", "left"), [(109, []), (110, ["110 B"])])
    def test_held_counts_from_the_first_true_pass(self, last_ms: int, left: list[str]) -> None:
        """M5: true when the condition has been true since a pass at least T ago, at T included."""
        assert left_for(self.TEXT, [(0, PRESSED), (10, PRESSED), (last_ms, PRESSED)]) == left

    def test_a_gap_starts_the_time_again(self) -> None:
        """M5: one pass in which the condition was not true starts the time again."""
        trace = [(0, QUIET), (10, PRESSED), (60, QUIET), (70, PRESSED), (120, PRESSED)]
        assert left_for(self.TEXT, trace) == []
        assert left_for(self.TEXT, [*trace, (170, PRESSED)]) == ["170 B"]

    def test_an_unreadable_pass_is_a_gap(self) -> None:
        """M5 and M6: unknown is not true."""
        trace = [(0, QUIET), (10, PRESSED), (60, {}), (70, PRESSED), (115, PRESSED)]
        assert left_for(self.TEXT, trace) == []

    def test_an_earlier_part_does_not_stop_the_clock(self) -> None:
        """M5: a held part keeps its time in passes that another part decides."""
        text = (
            "step A; when range_front < 50 cm and bumper pressed for 0.1 s, go to B; "
            f"after 9 s, go to C\n{ENDS}"
        )
        near = PRESSED | {"range_front": 10}
        assert left_for(text, [(0, QUIET), (10, PRESSED), (60, PRESSED), (110, near)]) == ["110 B"]

    def test_a_new_visit_starts_anew(self) -> None:
        """M5: only passes of this visit count."""
        text = (
            "step A; when bumper pressed for 0.1 s, go to B; "
            f"after 50 ms, go to A, at most 1 time, then C\n{ENDS}"
        )
        trace = [(0, QUIET), (10, PRESSED), (50, PRESSED), (60, PRESSED), (99, PRESSED)]
        assert left_for(text, [*trace, (100, PRESSED)]) == ["50 A", "100 C"]

    def test_once_stays_true(self) -> None:
        """M5: `once C` is true from the first pass of this visit in which C is."""
        text = (
            "step A; when once bumper pressed and bumper released, go to B; after 9 s, go to C\n"
            f"{ENDS}"
        )
        assert left_for(text, [(0, PRESSED), (10, QUIET), (20, QUIET)]) == []
        assert left_for(text, [(0, QUIET), (10, PRESSED), (20, QUIET)]) == ["20 B"]

    def test_once_is_of_this_visit(self) -> None:
        """M5: what was seen in an earlier visit does not count."""
        text = (
            "step A; when once bumper pressed and arm_floor pressed, go to B; "
            f"after 1 s, go to A, at most 1 time, then C\n{ENDS}"
        )
        floor = QUIET | {"arm_floor": "pressed"}
        trace = [(0, QUIET), (10, PRESSED), (1000, QUIET), (1010, floor)]
        assert left_for(text, trace) == ["1000 A"]

    def test_looks(self) -> None:
        """M5: `C for 2 of 3 looks` counts the last three passes of this visit."""
        text = f"step A; when bumper pressed for 2 of 3 looks, go to B; after 9 s, go to C\n{ENDS}"
        far = [(0, PRESSED), (10, PRESSED), (20, QUIET), (30, QUIET), (40, PRESSED), (50, QUIET)]
        assert left_for(text, far) == []
        assert left_for(text, [*far, (60, PRESSED)]) == ["60 B"]

    def test_stays_within(self) -> None:
        """M5: the time of `stays within` starts again when the number leaves its mark."""
        text = (
            "step A; when range_front stays within 2 cm for 0.1 s, go to B; "
            f"after 9 s, go to C\n{ENDS}"
        )
        trace = [(at, QUIET | {"range_front": cm}) for at, cm in ((0, 50), (10, 50), (60, 48))]
        moved = (70, QUIET | {"range_front": 47})
        assert left_for(text, [*trace, (110, QUIET | {"range_front": 52})]) == ["110 B"]
        assert left_for(text, [*trace, moved, (160, moved[1])]) == []
        assert left_for(text, [*trace, moved, (170, moved[1])]) == ["170 B"]

    def test_stays_within_goes_the_short_way(self) -> None:
        """M5: a heading that crosses 180 degrees has hardly moved."""
        text = (
            f"step A; when gyro stays within 2 deg for 0.1 s, go to B; after 9 s, go to C\n{ENDS}"
        )
        trace = [(at, QUIET | {"gyro": deg}) for at, deg in ((0, 0), (10, 179.5), (110, -179.5))]
        assert left_for(text, trace) == ["110 B"]

    def test_an_unreadable_pass_starts_stays_within_again(self) -> None:
        """M5 and M6: a number that cannot be had stays nowhere."""
        text = (
            "step A; when range_front stays within 2 cm for 0.1 s, go to B; "
            f"after 9 s, go to C\n{ENDS}"
        )
        near = {"range_front": 50}
        assert left_for(text, [(0, near), (10, near), (60, {}), (70, near), (110, near)]) == []


class TestM6Unreadable:
    @pytest.mark.parametrize("value", [None, math.nan, 1, 201, "far", True])
    def test_a_reading_that_cannot_be_had_takes_no_exit(self, value: object) -> None:
        """M6: nothing, not a number, out of range or no number at all: only time is left."""
        text = (
            "step A; when range_front < 500 cm or not range_front < 500 cm, go to B; "
            f"after 1 s, go to C\n{ENDS}"
        )
        trace = [(0, {}), (10, {"range_front": value}), (1000, {"range_front": value})]
        assert left_for(text, trace) == ["1000 C"]

    @pytest.mark.parametrize("value", [2, 200])
    def test_the_ends_of_the_range_can_be_read(self, value: object) -> None:
        """M6: the declared range includes its ends."""
        text = f"step A; when range_front < 500 cm, go to B; after 1 s, go to C\n{ENDS}"
        assert left_for(text, [(0, {}), (10, {"range_front": value})]) == ["10 B"]

    def test_unreadable_can_be_asked_for(self) -> None:
        """M6: `unreadable` is true or false, never unknown."""
        text = f"step A; when range_front unreadable, go to B; after 1 s, go to C\n{ENDS}"
        assert left_for(text, [(0, {}), (10, {"range_front": 50}), (20, {"range_front": 1})]) == [
            "20 B"
        ]

    @pytest.mark.parametrize(
        ("third", "left"), [("released", []), (None, []), ("pressed", ["30 B"])]
    )
    def test_looks_with_an_unreadable_pass(self, third: str | None, left: list[str]) -> None:
        """M6: what an unreadable pass could have been does not make looks true."""
        text = f"step A; when bumper pressed for 2 of 3 looks, go to B; after 9 s, go to C\n{ENDS}"
        trace = [(0, {}), (10, PRESSED), (20, {}), (30, {"bumper": third})]
        assert left_for(text, trace) == left

    # Kleene's tables: S. C. Kleene, Introduction to Metamathematics, 1952, §64 (from memory).
    @pytest.mark.parametrize(
        ("condition", "taken"),
        [
            ("bumper pressed or range_front < 8 cm", True),
            ("bumper pressed and range_front < 8 cm", False),
            ("not (bumper released and range_front < 8 cm)", True),
            ("not (bumper pressed and range_front < 8 cm)", False),
            ("not range_front < 8 cm", False),
            ("not (bumper released or range_front < 8 cm)", False),
        ],
    )
    def test_unknown_follows_kleene(self, condition: str, taken: bool) -> None:
        """M6: with the range unknown and the bumper pressed, only what is surely true is taken."""
        text = f"step A; when {condition}, go to B; after 9 s, go to C\n{ENDS}"
        entered = left_for(text, [(0, {}), (10, {"bumper": "pressed"})])
        assert entered == (["10 B"] if taken else [])


class TestM7Commands:
    def test_given_once_on_entry_in_order(self) -> None:
        """M7: commands are given on entry, in the order written, and not again."""
        text = f"step A; claw open; drive forward 40 %; after 1 s, go to B\n{ENDS}"
        assert played(text, [(0, QUIET), (10, QUIET)]) == [
            "0 enter A",
            "0 claw open",
            "0 drive forward 40 %",
        ]

    def test_the_last_to_one_mechanism_is_sent(self) -> None:
        """M7: of several commands to one mechanism in a pass only the last is sent, once."""
        text = f"step A; drive forward 40 %; claw open; drive spin 20 %; after 1 s, go to B\n{ENDS}"
        assert played(text, [(0, QUIET)]) == ["0 enter A", "0 claw open", "0 drive spin 20 %"]

    def test_what_runs_is_switched_off(self) -> None:
        """M7: a `runs` command ends with its step, a `holds` command does not."""
        text = (
            "step A; claw open; drive forward 40 %; after 1 s, go to D\n"
            f"step D; after 1 s, go to B\n{ENDS}"
        )
        assert played(text, [(0, QUIET), (1000, QUIET)])[3:] == [
            "1000 leave A by after",
            "1000 enter D",
            "1000 drive off",
        ]

    def test_what_is_told_something_else_is_not_switched_off_between(self) -> None:
        """M7: leaving and entering send one command, the last."""
        text = (
            "step A; drive forward 40 %; after 1 s, go to D\n"
            f"step D; drive spin 20 %; after 1 s, go to B\n{ENDS}"
        )
        assert played(text, [(0, QUIET), (1000, QUIET)])[-1] == "1000 drive spin 20 %"
        assert "1000 drive off" not in played(text, [(0, QUIET), (1000, QUIET)])

    def test_keep_goes_on(self) -> None:
        """M7: a kept command goes on until another replaces it or the plan ends."""
        text = f"step A; keep roller take; after 1 s, go to D\nstep D; after 1 s, go to B\n{ENDS}"
        lines = played(text, [(0, QUIET), (1000, QUIET), (2000, QUIET)])
        assert [line for line in lines if "roller" in line] == ["0 roller take", "2000 roller off"]

    def test_a_self_loop_gives_its_commands_again(self) -> None:
        """M7: a step that leads to itself is left and entered again."""
        text = f"step A; drive forward 40 %; after 1 s, go to A, at most 1 time, then B\n{ENDS}"
        lines = played(text, [(0, QUIET), (1000, QUIET)])
        assert [line for line in lines if "drive" in line] == [
            "0 drive forward 40 %",
            "1000 drive forward 40 %",
        ]

    def test_the_last_command_says_whether_it_is_kept(self) -> None:
        """M7: of several commands to one mechanism the last is sent, and its `keep` counts."""
        text = (
            "step A; drive forward 40 %; keep drive spin 20 %; after 1 s, go to D\n"
            f"step D; after 1 s, go to B\n{ENDS}"
        )
        assert "1000 drive off" not in played(text, [(0, QUIET), (1000, QUIET)])


class TestM9Counts:
    def test_at_most(self) -> None:
        """M9: the exit leads to its target N times, then to the other."""
        text = (
            "step A; when bumper pressed, go to A, at most 2 times, then B; "
            f"after 9 s, go to C\n{ENDS}"
        )
        trace = [(at_ms, PRESSED) for at_ms in (0, 10, 20, 30)]
        assert left_for(text, trace) == ["10 A", "20 A", "30 B"]

    def test_each_exit_has_its_own_count(self) -> None:
        """M9: the count belongs to the exit, not to the step."""
        text = (
            "step A; when bumper pressed, go to A, at most 1 time, then B\n"
            f"  after 1 s, go to A, at most 1 time, then C\n{ENDS}"
        )
        assert left_for(text, [(0, QUIET), (10, PRESSED), (1010, QUIET), (1020, PRESSED)]) == [
            "10 A",
            "1010 A",
            "1020 B",
        ]


class TestM10Finish:
    def test_commands_then_all_that_runs_is_off(self) -> None:
        """M10: a finish gives its commands and switches off what runs, kept or its own."""
        text = (
            "step A; keep roller take; after 1 s, go to B\n"
            "finish B; signal light; drive forward 40 %\n"
            ""
        )
        assert played(text, [(0, QUIET), (1000, QUIET)])[3:] == [
            "1000 enter B",
            "1000 signal light",
            "1000 drive off",
            "1000 roller off",
            "1000 finish B",
        ]

    def test_then_the_plan_only_reports(self) -> None:
        """M10: after a finish nothing moves the plan any more, not even a match-clock exit."""
        text = f"at 2 s of match, go to C\nstep A; after 1 s, go to B\n{ENDS}"
        trace = [(0, QUIET), (1000, QUIET), (2000, PRESSED), (29_999, QUIET)]
        assert left_for(text, trace) == ["1000 B"]


class TestM11Limit:
    def test_cut_off_outside_a_finish(self) -> None:
        """M11: at the limit everything is off at once, before any exit is asked."""
        text = f"step A; claw open; after 30 s, go to B\n{ENDS}"
        lines = played(text, [(0, QUIET), (29_999, QUIET), (30_000, QUIET), (30_010, QUIET)])
        assert lines[2] == "30000 limit in A cut off"
        assert sorted(lines[3:]) == [
            f"30000 {name} off" for name in ("arm", "claw", "drive", "roller", "signal")
        ]

    def test_no_failure_in_a_finish(self) -> None:
        """M11: the limit switches off what a finish holds, and that is no failed run."""
        text = f"step A; after 1 s, go to B\n{ENDS}"
        lines = played(text, [(0, QUIET), (1000, QUIET), (30_000, QUIET)])
        assert lines[5 - 1] == "30000 limit in B"

    def test_stop_does_the_same_at_once(self) -> None:
        """M11: the operator's stop switches everything off in any step, and the plan is over."""
        running = machine(f"step A; drive forward 40 %; after 1 s, go to B\n{ENDS}")
        running.pass_(0, QUIET)
        lines = [spoken(event) for event in running.stop(500_000)]
        assert lines[0] == "500 stop in A"
        assert "500 drive off" in lines
        assert running.pass_(2_000_000, QUIET) == ()


def test_a_kept_state_leads_to_the_same_run_again() -> None:
    """A machine set back to a copy of its state does the same again."""
    running = machine(TestM5Held.TEXT)
    for at_ms in (0, 10):
        running.pass_(at_ms * 1000, PRESSED)
    kept = running.state.copy()
    first = running.pass_(110_000, PRESSED)
    running.state = kept.copy()
    assert running.pass_(110_000, PRESSED) == first
    assert first != ()


def test_a_reading_in_turns_wraps_at_a_turn() -> None:
    """A band on a reading that wraps goes the short way round, whatever its unit."""
    robot = "robot moth\nmechanism drive\n  reading facing turns wraps\n"
    text = "step A; when drive facing within 0.1 turns of 0.45 turns, go to B; after 1 s, go to C\n"
    plan = check(HEAD + text.replace("; ", "\n  ") + ENDS, robot).plan
    running = Machine(plan)
    running.pass_(0, {})
    assert () == running.pass_(10_000, {"drive facing": 0.3})
    assert () != running.pass_(20_000, {"drive facing": -0.46})


def test_what_is_expected_changes_nothing() -> None:
    """A run goes by what the sensors say, whatever was expected of them (section 4)."""
    plain = "step A; when bumper pressed{}, go to B; after 1 s, go to C\n" + ENDS
    expected = plain.format(", expect 0.1 s to 0.2 s, 9 of 10 runs")
    for trace in (
        [(0, QUIET), (500, PRESSED)],
        [(0, QUIET), (50, PRESSED)],
        [(0, QUIET), (1000, QUIET)],
    ):
        assert left_for(plain.format(""), trace) == left_for(expected, trace)
