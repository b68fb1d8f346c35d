"""M13 and M14, what is remembered and counted (grammar/README.md, section 6), on the machine."""

from __future__ import annotations

from fractions import Fraction

import pytest
from demo import moth_robot, robot_of
from played import machine, played, spoken

from planner.pipeline import check_routine, plan_for
from planner.rehearsal import Machine, Readings
from planner.text import Source

QUIET = {"bumper": "released", "tin_gate": "clear", "post_mark": "unsure", "drive travelled": 0}
PRESSED = QUIET | {"bumper": "pressed"}
ENDS = "finish B\nfinish C\n"
Trace = list[tuple[int, Readings]]


def notes(text: str, trace: Trace) -> list[str]:
    """What is remembered and counted, with times in ms."""
    lines = played(_whole(text), trace)
    return [line for line in lines if " memory " in line or " counter " in line]


def done(text: str, trace: Trace) -> list[str]:
    """All that happens on a trace."""
    return played(_whole(text), trace)


def _whole(text: str) -> str:
    """A routine, where `; ` stands for a line end and an indentation."""
    return "routine example\nrobot moth\nlimit 30 s\n" + text.replace("; ", "\n  ")


FAR = "memory far = 60 cm\nstart A\n"
AWAY = "step A; remember drive travelled as far; when bumper pressed, go to D; after 9 s, go to D\n"
BACK = "step D; drive turn 0 deg; when drive travelled < 5 cm - far, go to B; after 9 s, go to C\n"


class TestM13Memory:
    def test_it_is_remembered_on_leaving(self) -> None:
        """M13: the reading of the pass that leaves the step counts, not that of its entry."""
        trace: Trace = [(0, QUIET), (10, QUIET | {"drive travelled": 10})]
        trace += [(20, PRESSED | {"drive travelled": 30})]
        assert ["20 memory far is 30 cm"] == notes(FAR + AWAY + BACK + ENDS, trace)

    def test_by_whatever_exit(self) -> None:
        """M13: the time limit remembers as well as the sensor does."""
        trace: Trace = [(0, QUIET), (9000, QUIET | {"drive travelled": 12.5})]
        assert ["9000 memory far is 12.5 cm"] == notes(FAR + AWAY + BACK + ENDS, trace)

    def test_from_the_start_of_the_step_that_is_left(self) -> None:
        """M13: a reading from the step's start is what the step's own exits saw."""
        trace: Trace = [(0, QUIET | {"drive travelled": 100})]
        trace += [(10, PRESSED | {"drive travelled": 130})]
        assert ["10 memory far is 30 cm"] == notes(FAR + AWAY + BACK + ENDS, trace)

    def test_it_is_there_when_the_next_step_begins(self) -> None:
        """M13: what is remembered comes before the commands of the next step."""
        text = (
            "memory away = 0 deg\nstart A\nstep A; remember gyro as away; after 1 s, go to D\n"
            f"step D; drive turn away + 90 deg; after 1 s, go to B\n{ENDS}"
        )
        trace: Trace = [(0, QUIET), (1000, QUIET | {"gyro": 30})]
        assert [
            "1000 leave A by after",
            "1000 memory away is 30 deg",
            "1000 enter D",
            "1000 drive turn 120 deg",
        ] == done(text, trace)[1:]

    @pytest.mark.parametrize("said", [None, float("nan"), float("inf")])
    def test_what_cannot_be_had_changes_nothing(self, said: float | None) -> None:
        """M13: an unreadable reading leaves the memory as it is."""
        trace: Trace = [(0, QUIET), (9000, QUIET | {"drive travelled": said})]
        trace += [(9010, QUIET), (9020, QUIET | {"drive travelled": -54})]
        trace += [(9030, QUIET | {"drive travelled": -55.5})]
        happened = done(FAR + AWAY + BACK + ENDS, trace)
        assert [] == [line for line in happened if "memory" in line]

    def test_the_value_at_the_start(self) -> None:
        """M13: a memory that nothing was remembered in holds what its line gives."""
        text = FAR + (
            "step A; after 9 s, go to D\nstep E; remember 1 cm as far; after 1 s, go to B\n" + BACK
        )
        before: Trace = [(0, QUIET), (9000, QUIET | {"drive travelled": 100})]
        not_yet = (9010, QUIET | {"drive travelled": 45})
        there = (9020, QUIET | {"drive travelled": 44.5})
        assert "9020 enter B" not in done(text + ENDS, [*before, not_yet])
        assert "9020 enter B" in done(text + ENDS, [*before, not_yet, there])

    def test_in_the_order_written(self) -> None:
        """M13: a later line of the step sees what an earlier one remembered."""
        text = (
            "memory one = 1 cm\nmemory two = 2 cm\nstart A\n"
            "step A; remember two + 3 cm as one; remember one + one as two; after 1 s, go to B\n"
        )
        assert ["1000 memory one is 5 cm", "1000 memory two is 10 cm"] == notes(
            text + ENDS, [(0, QUIET), (1000, QUIET)]
        )

    def test_a_step_that_leads_to_itself_adds_up(self) -> None:
        """M13: leaving a step for itself remembers, each time from that visit's own start."""
        text = (
            "memory far = 0 cm\nstart A\nstep A; remember far + drive travelled as far; "
            f"after 1 s, go to A, at most 3 times, then B\n{ENDS}"
        )
        trace: Trace = [
            (at, QUIET | {"drive travelled": at // 100}) for at in (0, 1000, 2000, 3500)
        ]
        assert [
            "1000 memory far is 10 cm",
            "2000 memory far is 20 cm",
            "3500 memory far is 35 cm",
        ] == notes(text, trace)

    def test_a_task_remembers_when_it_is_left(self) -> None:
        """M13: a step that does a task remembers with the task, after the step in it."""
        text = (
            "memory far = 0 cm\nmemory near = 0 cm\nstart A\n"
            "step A; do go_on; remember far + 1 cm as near; when task ends ok, go to B\n"
            "step B; after 1 s, go to C\nfinish C\n"
            "task go_on ends ok\n  step One\n    remember drive travelled as far\n"
            "    after 1 s, go to Two\n  step Two\n    remember drive travelled as far\n"
            "    after 1 s, go to ok\n"
        )
        trace: Trace = [(at, QUIET | {"drive travelled": at // 100}) for at in (0, 1000, 2000)]
        assert [
            "1000 memory far is 10 cm",
            "2000 memory far is 10 cm",
            "2000 memory near is 11 cm",
        ] == notes(text, trace)

    def test_a_cut_off_remembers_nothing(self) -> None:
        """M13: the routine's limit and a stop leave no step."""
        trace: Trace = [(0, QUIET), (30_000, QUIET | {"drive travelled": 12})]
        assert [] == notes(FAR + AWAY.replace("9 s", "40 s") + BACK + ENDS, trace)


def test_a_later_lane_sees_what_an_earlier_one_remembered() -> None:
    """M13, M8: lanes move in the order written, and so do their memories."""
    lane = (
        "  lane {0}\n    step {1}\n      remember far + 1 cm as far\n      after 1 s, go to done\n"
    )
    text = (
        "memory far = 0 cm\nstart A\ntogether A\n  when all lanes done, go to B\n"
        f"{lane.format('one', 'D')}{lane.format('two', 'E')}"
        "step B\n  when memory far > 1 cm, go to C\n  after 1 s, go to C\nfinish C\n"
    )
    assert ["1000 memory far is 1 cm", "1000 memory far is 2 cm"] == notes(
        text, [(0, QUIET), (1000, QUIET)]
    )


SIDE = "memory side: middle, left, right, seen by post_mark\nstart A\n"
ASK = (
    "step A; after 1 s, go to D\n"
    "step D; when memory side is left, go to B; when not memory side is left, go to C\n"
)


class TestM13Words:
    def test_the_first_pass_is_before_the_start(self) -> None:
        """M13: what the camera answers in the first pass counts, what it says later does not."""
        trace: Trace = [(0, QUIET | {"post_mark": "left"}), (1000, QUIET | {"post_mark": "right"})]
        assert ["0 memory side is left"] == notes(SIDE + ASK + ENDS, trace)

    def test_looks_before_the_start(self) -> None:
        """M13: the last answer that is one of the words counts, however long ago it was."""
        running = machine(_whole(SIDE + ASK + ENDS))
        said = [
            [spoken(event) for event in running.look_before_start(QUIET | {"post_mark": word})]
            for word in ("right", "left", "left", "unsure")
        ]
        assert [["0 memory side is right"], ["0 memory side is left"], [], []] == said
        assert ["0 enter A"] == [spoken(event) for event in running.pass_(0, QUIET)]
        assert () == running.look_before_start(QUIET | {"post_mark": "right"})
        assert "left" == running.state.remembered["side"]

    def test_no_answer_leaves_the_first_word(self) -> None:
        """M13: with a camera that never speaks the memory holds its first word."""
        trace: Trace = [(0, QUIET), (1000, QUIET), (1010, QUIET)]
        assert "1010 enter C" in done(SIDE + ASK + ENDS, trace)

    @pytest.mark.parametrize(
        ("says", "held"), [("left", "left"), ("unsure", "middle"), (None, "middle")]
    )
    def test_an_answer_that_is_no_word_changes_nothing(self, says: str | None, held: str) -> None:
        """M13: `unsure` and silence leave a word memory as it is."""
        text = (
            "memory side: middle, left, right\nstart A\nstep A; remember post_mark as side; "
            "after 1 s, go to D\nstep D; when memory side is left, go to B; "
            f"when not memory side is left, go to C\n{ENDS}"
        )
        running = machine(_whole(text))
        for at_ms, readings in ((0, QUIET), (1000, QUIET | {"post_mark": says})):
            running.pass_(at_ms * 1000, readings)
        assert held == running.state.remembered["side"]

    def test_a_number_by_the_word_that_is_remembered(self) -> None:
        """M13: a setting that goes by a memory is looked up when the command is given."""
        text = (
            "memory side: middle, left, seen by post_mark\nsetting height by side\n"
            "  middle 100 ticks\n  left 200 ticks\nstart A\n"
            f"step A; arm to height + 1 ticks; after 1 s, go to B\n{ENDS}"
        )
        trace: Trace = [(0, QUIET | {"post_mark": "left"})]
        assert "0 arm to 201 ticks" in done(text, trace)
        assert "0 arm to 101 ticks" in done(text, [(0, QUIET)])


class TestM13Numbers:
    @pytest.mark.parametrize(
        ("ahead", "gyro", "there"),
        [(100, -170, True), (100, -168, True), (100, -167.5, False), (100, 179, False),
         (170, -100, True), (90, -180, True), (90, 179, True), (90, 177, False)],
    )  # fmt: skip
    def test_the_seam(self, ahead: float, gyro: float, there: bool) -> None:
        """M13: `within` goes the short way round, also where the sum lies beyond 180 deg."""
        text = (
            "memory ahead = 0 deg\nstart A\nstep A; remember gyro as ahead; after 1 s, go to D\n"
            "step D; when gyro within 2 deg of ahead + 90 deg, go to B; after 9 s, go to C\n"
        )
        trace: Trace = [(0, QUIET), (1000, QUIET | {"gyro": ahead}), (1010, QUIET | {"gyro": gyro})]
        assert there is ("1010 enter B" in done(text + ENDS, trace))

    def test_inches_and_centimetres(self) -> None:
        """M13: a sum of units is exact: an inch is 25.4 mm (the agreement of 1959)."""
        text = (
            "memory far = 10 cm\nstart A\n"
            "step A; remember 2 * far + 1 in as far; after 1 s, go to B\n"
        )
        running = machine(_whole(text + ENDS))
        for at_us in (0, 1_000_000):
            running.pass_(at_us, QUIET)
        assert Fraction("22.54") == running.state.remembered["far"]

    def test_an_unreadable_sensor_stays_unknown(self) -> None:
        """M13, M6: a comparison with a memory is unknown where the sensor cannot be read."""
        text = (
            "memory far = 10 cm\nstart A\nstep A; when not range_front < far, go to B; "
            f"after 1 s, go to D\nstep D; remember 1 cm as far; after 1 s, go to C\n{ENDS}"
        )
        assert "10 enter B" not in done(text, [(0, QUIET), (10, QUIET)])
        assert "10 enter B" in done(text, [(0, QUIET), (10, QUIET | {"range_front": 50})])

    def test_a_number_of_a_task_is_not_a_copy(self) -> None:
        """M13: the number that a task was given stands for the memory, and goes with it."""
        text = (
            "memory high = 100 ticks\nstart A\n"
            "step A; do lift high; when task ends ok, go to B\nfinish B\n"
            "task lift(goal ticks) ends ok\n  step One\n    arm to goal\n"
            "    remember high + 50 ticks as high\n    after 1 s, go to Two\n"
            "  step Two\n    arm to goal\n    after 1 s, go to ok\n"
        )
        happened = done(text, [(0, QUIET), (1000, QUIET)])
        assert ["0 arm to 100 ticks", "1000 arm to 150 ticks"] == [
            line for line in happened if " arm " in line
        ]

    def test_a_state_can_be_kept(self) -> None:
        """Going back to a copy of the state goes back to what was remembered then."""
        running = machine(_whole(FAR + AWAY + BACK + ENDS))
        running.pass_(0, QUIET)
        kept = running.state.copy()
        running.pass_(10_000, PRESSED | {"drive travelled": 30})
        assert 30 == running.state.remembered["far"]
        running.state = kept
        assert 60 == running.state.remembered["far"]


MIRROR = """routine example
robot moth
limit 30 s
choose alliance: red, blue mirrors
memory turned = 0 deg
start A
step A
  remember heading as turned
  after 1 s, go to D
step D
  drive turn turned + 10 deg
  when heading > turned + 20 deg, go to B
  when heading within 1 deg of turned - 20 deg, go to C
  after 9 s, go to C
finish B
finish C
"""
ROBOT = """robot moth
hub main
  motor 0 wheels
  i2c 0 heading heading mirrors
mechanism drive
  uses wheels, heading
  command turn(angle deg mirrors) runs
"""


class TestM13Mirrored:
    @pytest.mark.parametrize(("alliance", "sign"), [("red", 1), ("blue", -1)])
    def test_it_holds_what_the_plan_sees(self, alliance: str, sign: int) -> None:
        """M13: with every sign turned round, a mirrored plan does the same at the same times."""
        running = mirrored(alliance)
        happened = []
        for at_us, heading in ((0, 0), (1_000_000, 30), (1_010_000, 45), (1_020_000, 51)):
            happened += map(spoken, running.pass_(at_us, {"heading": sign * heading}))
        assert 30 == running.state.remembered["turned"]
        assert f"1000 drive turn {sign * 40} deg" in happened
        assert ["1020 enter B"] == [line for line in happened if line.startswith("1020 enter")]

    def test_the_middle_of_a_band_is_turned_as_well(self) -> None:
        """M13: a band around what was remembered lies on the other side in a mirrored plan."""
        running = mirrored("blue")
        happened = []
        for at_us, heading in ((0, 0), (1_000_000, -30), (1_010_000, -10)):
            happened += map(spoken, running.pass_(at_us, {"heading": heading}))
        assert "1010 enter C" in happened


def mirrored(alliance: str) -> Machine:
    """A machine for the plan that is turned round by the blue alliance."""
    robot = robot_of(ROBOT)
    checked = check_routine(Source("x.routine", MIRROR), lambda _name: robot)
    return Machine(plan_for(checked, {"alliance": alliance}))


COUNT = "counter shots: 0 to 3, normally 3\nstart A\n"


class TestM14Counters:
    def test_it_counts_on_entry(self) -> None:
        """M14: the pass that enters the step counts, not the one that leaves it."""
        text = COUNT + (
            "step A; after 1 s, go to D\n"
            "step D; count shots down; when counter shots is 2, go to B; after 1 s, go to C\n"
        )
        trace: Trace = [(0, QUIET), (1000, QUIET), (1010, QUIET)]
        assert ["1000 counter shots is 2"] == notes(text + ENDS, trace)
        assert "1010 enter B" in done(text + ENDS, trace)

    def test_it_stays_within_its_range(self) -> None:
        """M14: counting beyond an end of the range leaves it at that end."""
        text = COUNT + (
            "step A; count shots down; when counter shots > 1, go to A; "
            "when counter shots <= 1, go to D\n"
            "step D; count shots up; count shots up; count shots up; after 1 s, go to E\n"
            "step E; count shots from 1; count shots down; count shots down; after 1 s, go to B\n"
        )
        trace: Trace = [(at, QUIET) for at in (0, 10, 20, 1020)]
        assert [
            "0 counter shots is 2",
            "10 counter shots is 1",
            "20 counter shots is 2",
            "20 counter shots is 3",
            "20 counter shots is 3",
            "1020 counter shots is 1",
            "1020 counter shots is 0",
            "1020 counter shots is 0",
        ] == notes(text + ENDS, trace)

    def test_a_task_does_not_begin_it_anew(self) -> None:
        """M14: counters are the routine's; each start of a task goes on from where they stand."""
        text = COUNT + (
            "step A; do shoot, 2 times; when task ends ok, go to B\nfinish B\n"
            "task shoot ends ok\n  step One\n    count shots down\n    after 1 s, go to ok\n"
        )
        trace: Trace = [(0, QUIET), (1000, QUIET)]
        assert ["0 counter shots is 2", "1000 counter shots is 1"] == notes(text, trace)

    def test_it_starts_with_the_routine(self) -> None:
        """M14: a counter starts at its `normally`."""
        text = COUNT + (
            "step A; when counter shots is 3, go to B; when counter shots < 3, go to D\n"
            f"step D; count shots down; after 1 s, go to C\n{ENDS}"
        )
        assert "10 enter B" in done(text, [(0, QUIET), (10, QUIET)])


def test_the_moth_is_what_these_plans_are_for() -> None:
    """The plans above are free of errors, which the machine asks for."""
    for text in (FAR + AWAY + BACK + ENDS, SIDE + ASK + ENDS):
        checked = check_routine(Source("x.routine", _whole(text)), lambda _name: moth_robot())
        assert [] == [str(f.headline) for f in checked.findings if f.severity.word == "error"]
