"""Names that only the planner makes up never meet names that a plan can hold."""

from __future__ import annotations

import pytest
from demo import check, names_of
from played import played

TASK = "task blink ends over\n  step {name}\n    signal light\n    after 0.1 s, go to over\n"


def test_a_step_called_round() -> None:
    """A task that is done several times may have a step called `round`."""
    text = (
        "routine example\nrobot moth\nlimit 30 s\nstart A\nstep A\n  do blink, 2 times\n"
        "  when task ends over, go to Lit\nfinish Lit\n" + TASK.format(name="round")
    )
    trace = [(at, {}) for at in (0, 100, 200)]
    entered = [line.split(" enter ")[1] for line in played(text, trace) if " enter " in line]
    assert ["A.round", "A.round", "Lit"] == entered


@pytest.mark.parametrize("first", ["group", "step", "finish"])
@pytest.mark.parametrize("second", ["group", "step", "finish"])
def test_one_name_for_two_things(first: str, second: str) -> None:
    """A group, step or finish with a name that is taken is one slip, whichever comes first."""
    bodies = {
        "group": "group Same\n  after 9 s, go to Lit\n  step In{n}\n    after 1 s, go to Lit\n",
        "step": "step Same\n  after 1 s, go to Lit\n",
        "finish": "finish Same\n",
    }
    text = "start A\nstep A\n  after 1 s, go to Lit\nfinish Lit\n"
    text += bodies[first].format(n=1) + bodies[second].format(n=2)
    assert 1 == names_of(check(text).findings).count("name-used-twice")


def test_two_groups_with_the_same_match_exit() -> None:
    """M4: exits of two groups are two exits, each taken at most once."""
    text = """routine example
robot moth
limit 30 s
start A
group One
  at 1 s of match, go to Hub
  step A
    after 9 s, go to Lit
step Hub
  after 1 s, go to B
group Two
  at 1 s of match, go to Hub
  step B
    after 9 s, go to Lit
finish Lit
"""
    trace = [(at, {}) for at in (0, 1000, 2000, 2010, 3010)]
    entered = [line.split(" enter ")[1] for line in played(text, trace) if " enter " in line]
    assert ["A", "Hub", "B", "Hub", "B"] == entered


def test_tasks_that_double_are_stopped() -> None:
    """Tasks that each do the next twice end in a finding, not in a machine without memory."""
    tasks = "".join(
        f"task t{n} ends over\n  step A\n    do t{n + 1}\n    when task ends over, go to B\n"
        f"  step B\n    do t{n + 1}\n    when task ends over, go to over\n"
        for n in range(40)
    )
    text = "start A\nstep A\n  do t0\n  when task ends over, go to Lit\nfinish Lit\n" + tasks
    text += "task t40 ends over\n  step A\n    after 1 s, go to over\n"
    assert "too-many-steps" in names_of(check(text).findings)


def test_a_reading_cannot_be_called_like_what_follows_it() -> None:
    """A reading called `within` could not be asked for, and is told at once."""
    robot = "robot moth\nmechanism drive\n  reading within cm\n  command to(height ticks) holds\n"
    assert ["reserved-word"] == [slip.check for slip in _robot_slips(robot)]


def test_a_choice_may_be_called_anything() -> None:
    """The words of a choice stand where nothing else can."""
    text = "choose park: start, done\nstart A\nstep A\n  when choice park is done, go to Lit\n"
    text += "  after 1 s, go to Lit\nfinish Lit\n"
    assert "reserved-word" not in names_of(check(text).findings)


@pytest.mark.parametrize(
    ("lines", "unused"),
    [
        ("setting A = 40 %", True),
        ("setting far = 40 %", True),
        ("choose delay: 0 s to 2 s, normally 0 s", True),
    ],
)
def test_a_setting_is_used_where_its_number_is(lines: str, unused: bool) -> None:
    """A step of the same name, or the setting's own line, is no use of it."""
    text = f"{lines}\nstart A\nstep A\n  claw open\n  after 1 s, go to Lit\nfinish Lit\n"
    assert unused == ("unused-setting" in names_of(check(text).findings))


def _robot_slips(text: str):  # type: ignore[no-untyped-def]
    from demo import robot_of

    return robot_of(text).slips
