"""Runs by hand: moves, going back, and runs kept as scenarios."""

from __future__ import annotations

import random

import pytest
from demo import ROUTINES, check

from planner.graph import Plan
from planner.graph.run import Entered
from planner.pipeline import Checked, check_scenarios, rehearse
from planner.rehearsal.handles import handles
from planner.rehearsal.orders import Set, Wait, Word, order
from planner.rehearsal.saved import scenario_of
from planner.rehearsal.session import PASS_US, Session
from planner.report.storyboard import happened
from planner.text import Source

TEXT = (
    "start A\nstep A\n  drive forward 40 %\n"
    "  when bumper pressed, go to B, at most 2 times, then C\n"
    "  after 2 s, go to C\nstep B\n  arm to 100 ticks\n  when arm done, go to A\n"
    "  when drive travelled > 5 cm, go to C\n  after 1 s, go to A\nfinish C\n"
)


@pytest.fixture
def plan() -> Plan:
    """A plan with a loop, so that steps are visited more than once."""
    return check(TEXT).plan


def run(session: Session, *lines: str) -> Session:
    """A session after those lines were typed."""
    table = handles(session.plan)
    for line in lines:
        match order(line, table, session.world.all_shown()):
            case Set(handle, value):
                session.set(handle.reading, value)
            case Wait(duration_us):
                session.wait(duration_us)
            case Word("back"):
                session.back()
            case Word():
                session.go_on()
            case unclear:
                pytest.fail(f"{line}: {unclear}")
    return session


def test_the_first_pass_is_made_at_once(plan: Plan) -> None:
    """A run by hand begins in the start, at 0 on the match clock."""
    session = Session(plan)
    assert (0, ["A"], False) == (session.now_us, list(session.visits()), session.over)


def test_time_passes_in_passes(plan: Plan) -> None:
    """A time that is no whole number of passes takes the passes that cover it."""
    session = run(Session(plan), "1 s")
    assert 1_000_000 == session.now_us
    assert 1_020_000 == run(session, "1 ms").now_us
    assert 0 == session.now_us % PASS_US


def test_enter_goes_to_the_next_event(plan: Plan) -> None:
    """Enter stops at the limit's own pass, where nothing else happens before."""
    session = run(Session(plan), "")
    assert (2_000_000, ["A", "C"], True) == (session.now_us, list(session.visits()), session.over)


def test_a_run_that_is_over_stays_over(plan: Plan) -> None:
    """No time passes behind the end, however long somebody waits."""
    session = run(Session(plan), "")
    assert 2_000_000 == run(session, "", "10000 s").now_us


def test_a_wait_ends_with_the_run(plan: Plan) -> None:
    """A wait of hours ends where the run does."""
    assert 2_000_000 == run(Session(plan), "10000 s").now_us


def test_back_is_exact(plan: Plan) -> None:
    """Going back over any moves leads through the same moments, and on to the same run."""
    draw = random.Random(3)
    session = Session(plan)
    lines = [draw.choice(["b", "a", "", "0.3 s", "d 6", "d 1"]) for _ in range(40)]
    moments = []
    for line in lines:
        moments.append(_moment(session))
        run(session, line)
    end = _moment(session)
    for moment in reversed(moments):
        assert session.back()
        assert moment == _moment(session)
    assert not session.back()
    assert end == _moment(run(session, *lines))


def _moment(session: Session) -> tuple[object, ...]:
    state = session.machine.state.copy()
    shown = session.world.readings()
    return (session.now_us, state, shown, tuple(session.events), tuple(session.touches))


def test_what_is_told_follows_the_commands(plan: Plan) -> None:
    """A command that runs is gone with its step, one that holds stays."""
    session = run(Session(plan), "b", "")
    assert {"arm": "to"} == {name: one.command for name, one in session.told().items()}
    run(session, "a", "")
    both = {"arm": "to", "drive": "forward"}
    assert both == {name: one.command for name, one in session.told().items()}


# Runs kept as scenarios.


def saved(text: str, *lines: str) -> list[str]:
    """The lines of the scenario that a run becomes."""
    return list(scenario_of(run(Session(check(text).plan), *lines), "kept"))


def test_cues_count_from_the_steps() -> None:
    """A run is kept as a student would write it down."""
    expected = [
        "scenario kept",
        "  in A, after 1.2 s, bumper pressed",
        "  in B, after 0.5 s, drive travelled is 6 cm",
        "  must visit A, B, C",
        "  must finish in C",
    ]
    assert expected == saved(TEXT, "1.2 s", "b", "", "0.5 s", "d 6", "")


def test_a_run_that_is_not_over_demands_no_end() -> None:
    """What was not seen is not demanded."""
    assert ["scenario kept", "  must visit A"] == saved(TEXT, "1 s")


def test_a_run_that_was_cut_off_demands_that() -> None:
    """The routine's limit is an end as well."""
    text = TEXT.replace("after 2 s, go to C", "after 2 s, go to A")
    lines = saved(text, "100 s")
    assert "  must be cut off" == lines[-1]
    assert ["  must visit A, A, A, A, A, A, A, A, A, A, A, A, A", "  must visit A, A, A"] == lines[
        1:3
    ]


def test_a_step_that_differs_from_visit_to_visit() -> None:
    """Where cues by step would say something else, they are told on the match clock."""
    lines = saved(TEXT, "b", "", "a", "b released", "", "1 s", "b pressed", "", "")
    assert [True] * 4 == [line.startswith("  at ") for line in lines[1:5]]


def test_what_was_taken_back_at_once_is_not_kept() -> None:
    """Only the last of what was set between two passes was ever seen."""
    lines = saved(TEXT, "1 s", "b", "b", "b unreadable", "b", "")
    assert ["  in A, after 1 s, bumper pressed"] == [line for line in lines if " after " in line]


TASKS = """
start First
whenever tin_gate broken, signal light
step First
  do place 1200 ticks
  when task ends placed, go to Second
  when task ends stuck, go to First, at most 1 time, then Still
  after 8 s, go to Still
group Far
  after 9 s, go to Still
  step Second
    do place 900 ticks
    when task ends placed, go to Lit
    when task ends stuck, go to Still
    after 5 s, go to Still
finish Lit
finish Still
task place(height ticks) ends placed, stuck
  step Raise
    arm to height
    when arm done, go to Drop
    after 2 s, go to stuck
  step Drop
    claw open
    after 0.6 s, go to placed
"""


def test_steps_of_tasks_go_by_their_own_names() -> None:
    """A run through tasks is kept under the names that a scenario calls their steps by."""
    expected = [
        "scenario kept",
        "  in Raise, after 0 s, arm done",
        "  must visit Raise, Drop, Raise, Drop, Lit",
        "  must finish in Lit",
    ]
    assert expected == saved(TASKS, "a", "", "", "a", "", "")


def test_groups_around_the_step() -> None:
    """The groups around a step, and the step that does its task, are told with their own clocks."""
    session = run(Session(check(TASKS).plan), "a", "", "", "0.5 s", "a", "")
    (active,) = session.machine.active()
    found = [(group.name, since_us) for group, since_us in session.around(active.step)]
    assert ("Second.Drop", [("Far", 520_000), ("Second", 520_000)]) == (active.step, found)


def test_what_side_rules_look_at_is_used() -> None:
    """A sensor that only a side rule looks at is among those that are shown."""
    used = [handle.reading for handle in handles(check(TASKS).plan) if handle.used]
    assert ["arm done", "tin_gate"] == used


def _demo(name: str) -> Checked:
    return check((ROUTINES / f"{name}.routine").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", ["first_lamp", "two_lamps", "whole_street", "tasks"])
@pytest.mark.parametrize("seed", range(12))
def test_every_run_can_be_kept(name: str, seed: int) -> None:
    """Whatever was done by hand, the scenario reads clean, passes, and visits the same steps."""
    draw = random.Random(seed)
    checked = check(TASKS) if name == "tasks" else _demo(name)
    session = Session(checked.plan)
    table = handles(checked.plan)
    for _ in range(draw.randint(0, 40)):
        handle = draw.choice(table)
        if draw.random() < 0.5:
            line = draw.choice(["", "0.04 s", "0.31 s", "1 s", "back"])
        elif handle.unit:
            line = f"{handle.key} {draw.choice(['-20', '3.25', '90', 'unreadable'])}"
        else:
            line = handle.key
        if not session.over or line == "back":
            run(session, line)
    text = f"routine {checked.plan.routine.name}\n" + "\n".join(scenario_of(session, "kept")) + "\n"
    read = check_scenarios(Source("kept.scenario", text), checked)
    assert () == read.findings, text
    played = rehearse(checked, read.scenarios[0])
    assert played.passed, text
    visits = list(session.visits())
    assert visits == [e.step for e in played.events if isinstance(e, Entered)][: len(visits)]


SEEN = (
    "memory side: middle, left, right, seen by post_mark\nsetting height by side\n"
    "  middle 300 ticks\n  left 100 ticks\n  right 200 ticks\n"
    "start A\nstep A\n  arm to height\n  when arm done, go to B\n  after 2 s, go to C\n"
    "finish B\nfinish C\n"
)


def test_a_camera_set_at_once_was_seen_before_the_start() -> None:
    """What a camera sees before any time has passed is what the plan saw before the start (M13)."""
    session = run(Session(check(SEEN).plan), "post_mark left", "post_mark right", "post_mark left")
    assert ["memory side is left", "enters A", "arm to 100 ticks"] == said(session)
    assert ["memory side is right", "enters A", "arm to 200 ticks"] == said(run(session, "back"))
    run(session, "1 s", "post_mark left")
    assert "right" == session.machine.state.remembered["side"]


def test_what_was_seen_before_the_start_is_saved() -> None:
    """A saved run says of such a camera that it sees so from the start, and plays the same."""
    typed = ("post_mark left", "1 s", "post_mark right", "arm done", "")
    session = run(Session(check(SEEN).plan), *typed)
    lines = scenario_of(session, "seen")
    assert "  at 0 s, post_mark sees left" in lines
    played = check(SEEN + "\n".join(lines) + "\n").plan
    assert played.routine.scenarios[0].cues[0].at_us == 0
    run(session, "back", "back", "back", "back", "back")
    assert ["enters A", "arm to 300 ticks"] == said(session)


def said(session: Session) -> list[str]:
    """All that has happened."""
    return [happened(event) for event in session.events]
