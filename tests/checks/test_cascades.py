"""One slip of the demo files is told once, however many lines speak of what it lost."""

from __future__ import annotations

import pytest
from demo import ROUTINES, moth_robot, robot_of

from planner.findings import Finding, Severity
from planner.pipeline import check_robot, check_routine
from planner.text import Source

ROUTINE = (ROUTINES / "first_lamp.routine").read_text(encoding="utf-8")
ROBOT = (ROUTINES / "moth.bot").read_text(encoding="utf-8")


def in_routine(was: str, slip: str) -> list[Finding]:
    """What is found in the demo routine with one slip in it."""
    assert was in ROUTINE
    source = Source("first_lamp.routine", ROUTINE.replace(was, slip, 1))
    return list(check_routine(source, lambda _name: moth_robot()).findings)


def in_robot(was: str, slip: str) -> list[Finding]:
    """What is found in the demo robot file with one slip in it, and in its routine."""
    assert was in ROBOT
    robot = robot_of(ROBOT.replace(was, slip, 1))
    checked = check_routine(Source("first_lamp.routine", ROUTINE), lambda _name: robot)
    found = [*check_robot(robot, [checked.plan.routine]), *checked.findings]
    return [finding for finding in found if finding.severity is not Severity.NOTE]


FIRST = 'routine first_lamp "Light the first post"'
RAISE, LIT = 'step Raise "arm up to the lamp"', 'finish Lit "the post is lit"'
GIVE_UP = 'finish GiveUp "stand still, lamp dark"'
STAND_BACK = 'step StandBack "leave room for the arm"'


@pytest.mark.parametrize(
    ("was", "slip", "paste"),
    [
        # The first word of a line that stands once.
        (FIRST, 'Routine first_lamp "Light the first post"', FIRST),
        (FIRST, 'routin first_lamp "Light the first post"', FIRST),
        ("robot moth", "Robot moth", "robot moth"),
        ("robot moth", "robt moth", "robot moth"),
        ("limit 30 s", "Limit 30 s", "limit 30 s"),
        ("limit 30 s", "limit30 s", "limit 30 s"),
        ("start Approach", "Start Approach", "start Approach"),
        ("start Approach", "start", "start Approach"),
        # A heading that lost its name, or its word.
        (RAISE, "step", "step Raise"),
        (RAISE, "stp", "step Raise"),
        (RAISE, "stepRaise", "step Raise"),
        (RAISE, "#step Raise", "step Raise"),
        (RAISE, "# step Raise", "step Raise"),
        (RAISE, "state Raise", "step Raise"),
        (RAISE, 'Raise "up"', 'step Raise "up"'),
        (RAISE, 'step "arm up"', 'step Raise "arm up"'),
        (STAND_BACK, "step Stand Back", "step StandBack"),
        (STAND_BACK, "step StndBack", "step StandBack"),
        (STAND_BACK, "step stand_back", "step StandBack"),
        (LIT, "end Lit", "finish Lit"),
        (LIT, "finsh Lit", "finish Lit"),
        (GIVE_UP, "finish Give Up", "finish GiveUp"),
        (GIVE_UP, "finishGiveUp", "finish GiveUp"),
        # Half an exit.
        ("after 0.6 s, go to StandBack", "aft", None),
        ("after 0.6 s, go to StandBack", "wh", None),
        (
            "after 0.6 s, go to StandBack",
            "after 0.6 s, go to Stand Back",
            "after 0.6 s, go to StandBack",
        ),
        ("after 0.6 s, go to StandBack", "wait 0.6 s", "after 0.6 s, go to StandBack"),
        ("after 0.6 s, go to StandBack", "sleep(600);", "after 600 ms, go to StandBack"),
    ],
)
def test_one_slip_in_a_routine_is_told_once(was: str, slip: str, paste: str | None) -> None:
    """A damaged line is one finding, at that line, and its paste mends the plan."""
    (found,) = in_routine(was, slip)
    line = ROUTINE[: ROUTINE.index(was)].count("\n") + 1
    assert line == found.place.line
    if paste is not None:
        assert (paste,) == found.paste
        assert [] == in_routine(was, paste)


@pytest.mark.parametrize(
    ("was", "slip", "check"),
    [
        ("hub main", "hub", "unreadable-line"),
        ("hub main", "#hub main", "heading-in-comment"),
        ("hub main\n", "", "unreadable-line"),
        ("mechanism arm\n", "mechanism\n", "unreadable-line"),
        ("mechanism arm\n", "#mechanism arm\n", "heading-in-comment"),
        ("mechanism arm\n", "mechansim arm\n", "unreadable-line"),
        ("command forward(power %)", "command forward(power percent)", "unknown-unit"),
        ("left_wheels, right_wheels", "left_wheels, right_wheel", "unknown-device"),
        ("motor 0 left_wheels", "motor 0 left wheels", "unreadable-line"),
        ("motor 0 left_wheels", "motor 0 left_whels", "unknown-device"),
    ],
)
def test_one_slip_in_a_robot_file_is_told_once(was: str, slip: str, check: str) -> None:
    """A damaged line is one finding in all of the robot file and the routine that uses it."""
    assert [check] == [finding.check for finding in in_robot(was, slip)]


def test_a_lost_heading_says_what_it_lost() -> None:
    """Lines of a hub that is not there are one finding that shows the hub's line."""
    (found,) = in_robot("hub main\n", "")
    assert "these 12 lines have no `hub` line above them" == found.headline
    assert ("hub main",) == found.paste


def test_a_name_that_nothing_declares_is_told_once() -> None:
    """Where a whole step is missing, the lines that lead to it are one finding."""
    start = ROUTINE.index(RAISE)
    whole = ROUTINE[start : ROUTINE.index("step Place")]
    found = in_routine(whole, "")
    assert ["unknown-step"] == [f.check for f in found if f.severity is Severity.ERROR]
    assert 6 == 1 + len(found[0].related)


def test_a_comment_is_a_comment() -> None:
    """A heading behind `#` whose lines are behind `#` too is left alone, and so is a remark."""
    start = ROUTINE.index("scenario good_run")
    quiet = "".join(f"# {line}\n" for line in ROUTINE[start:].splitlines())
    assert [] == in_routine(ROUTINE[start:], quiet)
    assert [] == in_routine(RAISE, f"# step Raise\n{RAISE}")
    assert [] == in_routine("  arm to 1200 ticks", "  # step Raise\n  arm to 1200 ticks")
