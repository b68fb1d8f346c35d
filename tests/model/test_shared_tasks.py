"""Tasks in files of their own: what they know, and what a routine knows of them."""

from __future__ import annotations

import pytest
from demo import HEADER, moth_robot, robot_of

from planner.findings import Finding
from planner.pipeline import Checked, ReadTasks, check_routine, plan_for, read_tasks
from planner.text import Source

HEAD = "tasks posts\nrobot moth\n"
LIMIT = "    after 2 s, go to stuck\n"
PLACE = f"""task place(height ticks) ends placed, stuck
  step Raise
    arm to height
    when arm done, go to placed
{LIMIT}"""
TOP = """task top ends reached, stuck
  step Go
    do place high
    when task ends placed, go to reached
    when task ends stuck, go to stuck
"""
FIRST = """start First
step First
  do {task}
  when task ends {outcome}, go to Lit
  when task ends stuck, go to GiveUp
finish Lit
finish GiveUp
"""
DO_PLACE = FIRST.format(task="place 300 ticks", outcome="placed")
DO_TOP = FIRST.format(task="top", outcome="reached")
FROM = f"{HEADER}tasks from posts\n"
HIGH = "setting high = 1200 ticks\n"


def tasks(text: str, name: str = "posts") -> ReadTasks:
    """A file of tasks as read, for the demo robot."""
    return read_tasks(Source(f"{name}.tasks", text), {"moth": moth_robot()}.get)


def routine(text: str, *files: str) -> Checked:
    """A routine as checked, with files of tasks that go by the names in their first lines."""
    read = {text.split()[1]: tasks(text, text.split()[1]) for text in files}
    robots = {"moth": moth_robot(), "beetle": moth_robot()}
    return check_routine(Source("x.routine", text), robots.get, robots, read.get, read)


def said(found: tuple[Finding, ...]) -> list[tuple[str, str, str]]:
    """Check, file and words of each finding."""
    return [(f.check, f.place.source.name, f.place.words) for f in found]


def test_done_as_if_it_stood_in_the_routine() -> None:
    """A task of a file becomes the same steps as one that stands in the routine."""
    shared = routine(FROM + DO_PLACE, HEAD + PLACE).plan.routine
    own = routine(HEADER + DO_PLACE + PLACE).plan.routine
    assert own.steps == shared.steps
    assert "posts.tasks" == shared.groups["First"].task_file
    assert "" == own.groups["First"].task_file


def test_clean() -> None:
    """Neither a routine that shares tasks nor the file by itself has a finding."""
    text = HEAD + HIGH + PLACE + TOP
    assert () == routine(FROM + DO_TOP, text).findings
    assert () == tasks(text).findings


def test_a_task_does_another_of_its_file() -> None:
    """A task of a file does other tasks of that file, with the settings of that file."""
    text = HEAD + HIGH + PLACE + TOP
    plan = routine(FROM + "setting high = 5 ticks\n" + DO_TOP, text).plan.routine
    (given,) = plan.steps["First.Go.Raise"].commands
    assert "1200 ticks" == str(given.arguments[0])
    assert {"high", "posts.high"} == set(plan.settings)


@pytest.mark.parametrize(
    ("line", "check", "word"),
    [
        ("arm to low", "unknown-setting", "low"),
        ("do mine", "unknown-task", "mine"),
        ("when choice side is red, go to stuck", "unknown-choice", "side"),
    ],
)
def test_knows_its_own_file_only(line: str, check: str, word: str) -> None:
    """What only the routine has is not known in the file: settings, tasks, choices."""
    shared = HEAD + PLACE.replace("    arm to height\n", f"    arm to height\n    {line}\n")
    own = "choose side: red, blue\nsetting low = 1 ticks\n"
    mine = PLACE.replace("place(height ticks)", "mine").replace("to height", "to low")
    found = routine(FROM + own + DO_PLACE + mine, shared).findings
    assert (check, "posts.tasks", word) in said(found)


def test_the_routine_does_not_know_its_settings() -> None:
    """A setting of the file is no setting of the routine."""
    text = HEAD + HIGH + PLACE + TOP
    found = routine(FROM + DO_PLACE.replace("300 ticks", "high"), text).findings
    assert [("unknown-setting", "x.routine", "high")] == said(found)


def test_recursion_in_the_file() -> None:
    """A task of a file that does itself through another one is found, in the file."""
    ring = """task {name} ends placed, stuck
  step Go
    do {other}
    when task ends placed, go to placed
    when task ends stuck, go to stuck
"""
    rings = [ring.format(name=a, other=b) for a, b in (("place", "top"), ("top", "place"))]
    text = HEAD + "".join(rings)
    found = routine(FROM + DO_PLACE.replace(" 300 ticks", ""), text).findings
    assert {("task-calls-itself", "posts.tasks")} == {told[:2] for told in said(found)}


def test_missing_file() -> None:
    """A file that is not there is told once, with the name that was perhaps meant."""
    found = routine(FROM.replace("posts", "post") + DO_PLACE, HEAD + PLACE).findings
    assert [("missing-tasks", "x.routine", "post")] == said(found)
    assert ("tasks from posts",) == found[0].paste


def test_another_robot() -> None:
    """A file for another robot is told once, and its steps are not held against this robot."""
    text = FROM.replace("robot moth", "robot beetle") + DO_PLACE
    found = routine(text, HEAD + PLACE).findings
    assert [("tasks-for-another-robot", "x.routine", "posts")] == said(found)
    assert ["moth"] == [related.place.words for related in found[0].related]


def test_clash_with_the_routine() -> None:
    """A task of the routine with the name of one in the file is found, and shows the other."""
    (found,) = routine(FROM + DO_PLACE + PLACE, HEAD + PLACE).findings
    assert ("task-in-two-files", "place") == (found.check, found.place.words)
    assert ["posts.tasks"] == [related.place.source.name for related in found.related]


def test_clash_of_two_files() -> None:
    """Two files with a task of one name are found, at the line that names the second."""
    text = FROM.replace("posts\n", "posts\ntasks from quay\n") + DO_PLACE
    found = routine(text, HEAD + PLACE, HEAD.replace("posts", "quay") + PLACE).findings
    assert [("task-in-two-files", "x.routine", "quay")] == said(found)


def test_findings_in_the_file_speak_of_its_names() -> None:
    """What the graph shows of a shared step is told at its line, by its own name there."""
    text = HEAD + PLACE.replace(LIMIT, "    when tin_gate broken, go to stuck\n")
    (found,) = routine(FROM + DO_PLACE, text).findings
    assert ("wait-without-limit", "posts.tasks", "Raise") == said((found,))[0]
    assert "`Raise` waits for" in found.headline
    assert ("First.Raise",) == found.steps


@pytest.mark.parametrize(
    ("line", "instead", "told"),
    [
        (LIMIT, "", ("wait-without-limit", "Raise")),
        (f"    when arm done, go to placed\n{LIMIT}", "", ("dead-end", "Raise")),
        (LIMIT, f"{LIMIT}  step Lost\n{LIMIT}", ("unreachable-step", "Lost")),
        (HEAD, HEAD + HIGH, ("unused-setting", "high")),
    ],
)
def test_found_in_the_file_alone(line: str, instead: str, told: tuple[str, str]) -> None:
    """What is wrong whatever a routine does with a task is found in the file by itself."""
    found = tasks((HEAD + PLACE).replace(line, instead, 1)).findings
    assert told in [(f.check, f.place.words) for f in found]
    assert all("place." not in f.headline + f.way_out for f in found)


def test_told_once_for_file_and_routine() -> None:
    """What the file shows by itself is not told again for the routine that does the task."""
    found = routine(FROM + DO_PLACE, HEAD + PLACE.replace(LIMIT, "")).findings
    assert ["wait-without-limit"] == [f.check for f in found if f.place.words == "Raise"]


def test_numbers_are_not_judged_alone() -> None:
    """What depends on the numbers a task is given is not told before something gives them."""
    text = "    drive forward 40 %\n    when drive travelled > height, go to placed\n"
    read = tasks(HEAD + PLACE.replace("ticks", "cm").replace("    arm to height\n", text))
    assert () == read.findings


def test_a_line_that_cannot_be_read_hides_no_other() -> None:
    """A slip in the file is told there, and the routine has no second one from it."""
    text = HEAD + PLACE.replace("task place(height ticks) ends", "task place(height) ends")
    found = routine(FROM + DO_PLACE, text).findings
    assert {"posts.tasks"} == {f.place.source.name for f in found}


def test_mirrored() -> None:
    """A choice that mirrors the routine mirrors the numbers of the tasks that it does."""
    bot = robot_of(
        "robot moth\nhub main\n  motor 0 wheels\nmechanism drive\n  uses wheels\n"
        "  command turn(angle deg mirrors) runs, reports done\n"
    )
    turn = "  step Turn\n    drive turn 90 deg\n    after 1 s, go to placed\n"
    read = tasks(f"{HEAD}task place ends placed, stuck\n{turn}")
    text = FROM + "choose side: red, blue mirrors\n" + DO_PLACE.replace(" 300 ticks", "")
    checked = check_routine(Source("x.routine", text), lambda _: bot, (), lambda _: read)
    turns = [
        str(plan_for(checked, {"side": side}).step("First.Turn").commands[0].arguments[0])
        for side in ("red", "blue")
    ]
    assert ["90 deg", "-90 deg"] == turns
