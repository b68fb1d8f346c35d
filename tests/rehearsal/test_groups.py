"""Groups, tasks and side rules on the reference machine: M2, M4, M7, M9 and M12."""

from __future__ import annotations

from played import played

QUIET = {"bumper": "released", "arm_floor": "released", "tin_gate": "clear"}
PRESSED = QUIET | {"bumper": "pressed"}
FLOOR = QUIET | {"arm_floor": "pressed"}
ENDS = "finish Lit\nfinish GiveUp\n"
HEAD = "routine example\nrobot moth\nlimit 30 s\nstart A\n"

GROUP = f"""{HEAD}
group Cycle "round and round"
  after 1 s, go to GiveUp
  step A
    when bumper pressed, go to B
    after 9 s, go to Lit
  step B
    when arm_floor pressed, go to A
    after 9 s, go to Lit
{ENDS}"""

TASK = """
task place(height ticks) ends placed, stuck
  step Raise
    arm to height
    when arm done, go to Drop
    after 1 s, go to stuck
  step Drop
    claw open
    after 0.5 s, go to placed
"""


def entered(text: str, trace: list[tuple[int, dict[str, object]]]) -> list[str]:
    """The steps entered, with times in ms."""
    return [line.replace(" enter", "") for line in played(text, trace) if " enter " in line]


class TestGroups:
    def test_the_clock_of_a_group_goes_on_from_step_to_step(self) -> None:
        """M2: a group's clock stands at 0 when the group is entered, not at each of its steps."""
        trace = [(0, QUIET), (600, PRESSED), (999, QUIET), (1000, FLOOR)]
        assert ["0 A", "600 B", "1000 GiveUp"] == entered(GROUP, trace)

    def test_a_group_is_asked_before_its_steps(self) -> None:
        """M4: a group's exit is taken before those of the step that is active."""
        trace = [(0, QUIET), (1000, PRESSED)]
        assert ["0 A", "1000 GiveUp"] == entered(GROUP, trace)

    def test_the_routine_is_asked_before_the_group(self) -> None:
        """M4: the match clock of the routine comes first."""
        text = GROUP.replace("start A\n", "at 1 s of match, go to Lit\nstart A\n")
        assert ["0 A", "1000 Lit"] == entered(text, [(0, QUIET), (1000, QUIET)])

    def test_a_group_entered_again_starts_its_clock_again(self) -> None:
        """M2: leaving a group and coming back starts its clock at 0."""
        text = f"""{HEAD}
group Cycle
  after 1 s, go to GiveUp
  step A
    when bumper pressed, go to Out
    after 9 s, go to Lit
step Out
  when bumper released, go to A
  after 9 s, go to Lit
{ENDS}"""
        trace = [(0, QUIET), (900, PRESSED), (950, QUIET), (1949, QUIET), (1950, QUIET)]
        assert ["0 A", "900 Out", "950 A", "1950 GiveUp"] == entered(text, trace)

    def test_a_held_condition_of_a_group_is_held_across_its_steps(self) -> None:
        """M5: what a group remembers lasts as long as the group."""
        text = GROUP.replace(
            "after 1 s, go to GiveUp", "when tin_gate broken for 1 s, go to GiveUp"
        )
        broken = {"tin_gate": "broken"}
        trace = [(0, QUIET), (10, PRESSED | broken), (500, QUIET | broken), (1010, QUIET | broken)]
        assert ["0 A", "10 B", "1010 GiveUp"] == entered(text, trace)

    def test_a_match_exit_of_a_group_works_inside_only(self) -> None:
        """M4: a match-clock exit of a group leads away only from the group's steps."""
        text = f"""{HEAD}
group Cycle
  at 2 s of match, go to GiveUp
  step A
    after 1 s, go to Out
step Out
  after 3 s, go to Lit
{ENDS}"""
        trace = [(0, QUIET), (1000, QUIET), (2000, QUIET), (4000, QUIET)]
        assert ["0 A", "1000 Out", "4000 Lit"] == entered(text, trace)


class TestTasks:
    CALL = f"""{HEAD}
step A
  do place 1200 ticks
  when task ends placed, go to B
  when task ends stuck, go to A, at most 1 time, then GiveUp
  when bumper pressed, go to GiveUp
  after 4 s, go to GiveUp
step B
  do place 100 ticks
  when task ends placed, go to Lit
  when task ends stuck, go to GiveUp
{ENDS}{TASK}"""

    def test_a_task_is_done_with_the_numbers_given(self) -> None:
        """A task is done from two places, each with its own numbers and its own way on."""
        done = QUIET | {"arm done": True}
        trace = [(0, QUIET), (10, done), (510, QUIET), (520, done), (1020, QUIET)]
        lines = played(self.CALL, trace)
        assert ["0 arm to 1200 ticks", "510 arm to 100 ticks"] == [
            x for x in lines if "arm to" in x
        ]
        assert ["0 A.Raise", "10 A.Drop", "510 B.Raise", "520 B.Drop", "1020 Lit"] == [
            line.replace(" enter", "") for line in lines if " enter " in line
        ]

    def test_the_exits_of_the_caller_hold_throughout(self) -> None:
        """M4: the step that does a task is left by its own exits whatever the task is at."""
        trace = [(0, QUIET), (10, QUIET | {"arm done": True}), (20, PRESSED)]
        assert ["0 A.Raise", "10 A.Drop", "20 GiveUp"] == entered(self.CALL, trace)

    def test_an_outcome_is_counted_where_it_is_waited_for(self) -> None:
        """M9: the count of an outcome belongs to the caller, and lasts over several calls."""
        trace = [(at, QUIET) for at in (0, 1000, 2000)]
        assert ["0 A.Raise", "1000 A.Raise", "2000 GiveUp"] == entered(self.CALL, trace)

    def test_a_task_done_several_times(self) -> None:
        """`do T, 3 times` starts the task again after its first outcome, and then goes on."""
        text = f"""{HEAD}
step A
  do blink, 3 times
  when task ends blinked, go to Lit
{ENDS}
task blink ends blinked
  step On
    signal light
    after 0.1 s, go to Off
  step Off
    signal dark
    after 0.1 s, go to blinked
"""
        trace = [(at, QUIET) for at in range(0, 1000, 100)]
        names = ["On", "Off"] * 3
        steps = [f"{100 * at} A.{name}" for at, name in enumerate(names)]
        assert [*steps, "600 Lit"] == entered(text, trace)

    def test_counts_of_a_task_start_with_the_task(self) -> None:
        """M9: a count inside of a task starts at 0 each time the task is started."""
        text = f"""{HEAD}
step A
  do wait
  when task ends over, go to B
step B
  do wait
  when task ends over, go to A
{ENDS}
task wait ends over
  step W
    after 0.1 s, go to W, at most 1 time, then over
"""
        trace = [(at, QUIET) for at in range(0, 800, 100)]
        steps = ["A.W", "A.W", "B.W", "B.W"] * 2
        assert [f"{100 * i} {step}" for i, step in enumerate(steps)] == entered(text, trace)

    def test_a_task_in_a_task(self) -> None:
        """Tasks do tasks; the names of the steps tell the way down."""
        text = f"""{HEAD}
step A
  do outer
  when task ends well, go to Lit
  when task ends badly, go to GiveUp
{ENDS}{TASK}
task outer ends well, badly
  step First
    do place 5 ticks
    when task ends placed, go to well
    when task ends stuck, go to badly
"""
        trace = [(0, QUIET), (10, QUIET | {"arm done": True}), (510, QUIET)]
        assert ["0 A.First.Raise", "10 A.First.Drop", "510 Lit"] == entered(text, trace)


class TestRules:
    def test_a_rule_gives_its_command_each_time_it_becomes_true(self) -> None:
        """M12: not in every pass, but whenever the condition has become true."""
        text = (
            f"{HEAD}step A\n  whenever bumper pressed, signal light\n  after 9 s, go to Lit\n{ENDS}"
        )
        trace = [(0, QUIET), (10, PRESSED), (20, PRESSED), (30, QUIET), (40, PRESSED)]
        lines = [line for line in played(text, trace) if "signal" in line]
        assert ["10 signal light", "40 signal light"] == lines

    def test_a_step_that_is_entered_has_the_last_word(self) -> None:
        """M12 and M7: the command of a step that is entered is sent, not that of a rule."""
        text = f"""{HEAD}whenever bumper pressed, signal light
step A
  when bumper pressed, go to B
  after 9 s, go to Lit
step B
  signal dark
  after 9 s, go to Lit
{ENDS}"""
        lines = [line for line in played(text, [(0, QUIET), (10, PRESSED)]) if "signal" in line]
        assert ["10 signal dark"] == lines

    def test_a_rule_is_over_with_its_step(self) -> None:
        """M12: a rule works only while its step, group or routine is active."""
        text = f"""{HEAD}step A
  whenever bumper pressed, signal light
  after 1 s, go to B
step B
  after 9 s, go to Lit
{ENDS}"""
        assert not [
            x for x in played(text, [(0, QUIET), (1000, QUIET), (1010, PRESSED)]) if "sig" in x
        ]

    def test_what_a_rule_runs_ends_with_its_step(self) -> None:
        """M12 and M7: a `runs` command of a rule is switched off when the rule's step is left."""
        text = f"""{HEAD}step A
  whenever bumper pressed, roller take
  after 1 s, go to B
step B
  after 9 s, go to Lit
{ENDS}"""
        trace = [(0, QUIET), (10, PRESSED), (1000, QUIET)]
        assert ["10 roller take", "1000 roller off"] == [
            line for line in played(text, trace) if "roller" in line
        ]


def test_an_outcome_leaves_the_step_that_did_the_task() -> None:
    """M4: a task's end is the caller's exit, so coming back to the caller starts its clock anew."""
    text = f"""{HEAD}
step A
  do tries
  when task ends badly, go to A, at most 9 times, then Lit
  after 1 s, go to GiveUp
{ENDS}
task tries ends badly
  step W
    after 0.4 s, go to badly
"""
    trace = [(at, QUIET) for at in range(0, 2000, 400)]
    assert ["0 A.W", "400 A.W", "800 A.W", "1200 A.W", "1600 A.W"] == entered(text, trace)
