"""`planner check`: what it reads, what it says, how it ends."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from command import moth_folder, planner
from demo import ROUTINES

SLIP = """routine slip
robot moth
limit 30 s
start Approach
step Approach
  drive forward 40 %
  when bumper pressed, go to Liit
  after 3 s, go to Lit
finish Lit
"""
BROKEN = len(list((ROUTINES / "broken").glob("*.routine")))
ERROR = "slip.routine:7:30: error unknown-step: there is no step `Liit`"


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty folder to stand in; commands then name their files as a user would."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


def _write(path: Path, text: str) -> Path:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def test_a_clean_plan(here: Path) -> None:
    """A clean plan ends with status 0 and a line that says what was checked."""
    moth_folder(here, "first_lamp")
    ran = planner("check", "first_lamp.routine")
    assert (0, "Checked 1 routine and 1 robot file: clean.\n", "") == (ran.status, ran.out, ran.err)


def test_errors_end_with_status_1(here: Path) -> None:
    """An error in a plan is status 1."""
    moth_folder(here)
    _write(here / "slip.routine", SLIP)
    ran = planner("check", "slip.routine", "--format", "short")
    assert (1, True) == (ran.status, ERROR in ran.out.splitlines())


def test_what_is_not_settled_ends_with_status_3(here: Path) -> None:
    """No errors, but no verdict either: status 3, and a warning that says what was not settled."""
    moth_folder(here)
    rule = "  whenever bumper pressed, claw open\n  after 3 s, go to Lit\n"
    text = SLIP.replace("  when bumper pressed, go to Liit\n  after 3 s, go to Lit\n", rule)
    required = "start Approach\nrequire claw open only after claw close\n"
    _write(here / "slip.routine", text.replace("start Approach\n", required))
    ran = planner("check", "slip.routine", "--format", "short")
    assert (3, True) == (ran.status, "warning requirement-undecided: it could" in ran.out)


def test_the_gallery_bears_every_single_failure(monkeypatch: pytest.MonkeyPatch) -> None:
    """With any one thing broken every run of every demo plan still reaches a finish in time."""
    monkeypatch.chdir(ROUTINES.parent)
    ran = planner("check", "routines", "--faults")
    told = [line for line in ran.out.splitlines() if ".routine: " in line]
    sound = [line for line in told if line.endswith("every run still reaches a finish in time.")]
    assert (0, len(list(ROUTINES.rglob("*.routine"))) - BROKEN, told) == (
        ran.status,
        len(told),
        sound,
    )


def test_a_failure_that_misses_the_finish(here: Path) -> None:
    """Where a finish is missed with something broken, the status is 1 and the command to see more
    is named; what is for a person goes to the other stream where a program reads."""
    moth_folder(here)
    late = SLIP.replace("Liit", "Lit").replace("after 3 s", "after 40 s")
    _write(here / "slip.routine", late)
    ran = planner("check", "slip.routine", "--faults", "--format", "short")
    assert (1, True) == (ran.status, "See `planner faults slip.routine`." in ran.err)


def test_short_keeps_remarks_out_of_the_way(here: Path) -> None:
    """Lines for a program come alone; the closing line goes to the other stream."""
    moth_folder(here)
    _write(here / "slip.routine", SLIP)
    ran = planner("check", "slip.routine", "--format", "short")
    assert 1 == ran.err.count("\n")
    assert ran.err.startswith("Checked 1 routine and 1 robot file: 1 error")
    assert "Checked" not in ran.out


def test_text_shows_the_line_and_the_way_out(here: Path) -> None:
    """The ordinary report marks the words and names the step that was meant."""
    moth_folder(here)
    _write(here / "slip.routine", SLIP)
    out = planner("check", "slip.routine").out
    shown = ["go to Liit", "^^^^", "`Lit`", "planner explain unknown-step"]
    assert shown == [words for words in shown if words in out]


def test_json_is_one_record(here: Path) -> None:
    """Standard output holds the record alone, with paths as they were given."""
    moth_folder(here / "my plans")
    _write(here / "my plans" / "slip.routine", SLIP)
    record = json.loads(planner("check", "my plans", "--format", "json").out)
    assert [str(Path("my plans/slip.routine"))] == record["routines"]
    assert [str(Path("my plans/moth.bot"))] == record["robot_files"]
    assert 1 == record["errors"]
    assert "unknown-step" in [finding["check"] for finding in record["findings"]]


def test_a_folder_is_read_with_its_sub_folders(here: Path) -> None:
    """A folder stands for all plans in it; other files and hidden folders are passed by."""
    moth_folder(here / "a" / "b", "first_lamp")
    moth_folder(here / "a" / ".old", "two_lamps")
    _write(here / "a" / "notes.txt", "no plan")
    record = json.loads(planner("check", "a", "--format", "json").out)
    assert [str(Path("a/b/first_lamp.routine"))] == record["routines"]


def test_a_folder_named_broken_is_left_out_with_a_line(here: Path) -> None:
    """Plans that are wrong on purpose do not spoil a folder's verdict, and the report says so."""
    moth_folder(here, "first_lamp")
    _write(here / "broken" / "slip.routine", SLIP)
    ran = planner("check", ".")
    assert (0, True) == (ran.status, "\nLeft out broken: " in ran.out)
    assert "slip.routine" not in ran.out


@pytest.mark.parametrize("named", ["broken", "broken/deep", "broken/deep/slip.routine"])
def test_a_folder_named_broken_is_read_when_named(here: Path, named: str) -> None:
    """Who names the folder, or anything in it, gets it checked."""
    moth_folder(here / "broken")
    _write(here / "broken" / "deep" / "slip.routine", SLIP)
    ran = planner("check", named)
    assert (1, False) == (ran.status, "Left out" in ran.out)


def test_a_folder_named_broken_is_read_from_inside(here: Path) -> None:
    """Standing in the folder is as good as naming it."""
    moth_folder(here / "broken")
    _write(here / "broken" / "slip.routine", SLIP)
    os.chdir("broken")
    assert 1 == planner("check", ".").status


def test_naming_both_leaves_nothing_out(here: Path) -> None:
    """A folder that another argument names is not called left out."""
    moth_folder(here, "first_lamp")
    _write(here / "broken" / "slip.routine", SLIP)
    ran = planner("check", ".", "broken")
    assert (1, False) == (ran.status, "Left out" in ran.out)


def test_each_file_is_checked_once(here: Path) -> None:
    """A file named twice, or once more by its folder, counts once."""
    moth_folder(here, "first_lamp")
    ran = planner("check", "first_lamp.routine", ".", "./first_lamp.routine", "moth.bot")
    assert "\nChecked 1 routine and 1 robot file: " in ran.out


def test_the_order_of_arguments_does_not_matter(here: Path) -> None:
    """The same files give the same report."""
    moth_folder(here, "first_lamp")
    for name in ("a", "b", "c"):
        _write(here / f"{name}.routine", SLIP)
    one = planner("check", "b.routine", "c.routine", "a.routine")
    assert one == planner("check", "c.routine", "a.routine", "b.routine")


def test_the_robot_file_is_found_one_folder_up(here: Path) -> None:
    """A team keeps one robot file above its folders of plans."""
    moth_folder(here)
    _write(here / "day_one" / "slip.routine", SLIP)
    ran = planner("check", "day_one/slip.routine", "--format", "json")
    assert ["moth.bot"] == json.loads(ran.out)["robot_files"]


def test_the_robot_file_is_found_above_the_folder_one_stands_in(here: Path) -> None:
    """Standing in the folder of plans, the file above is found all the same."""
    moth_folder(here)
    _write(here / "day_one" / "slip.routine", SLIP)
    os.chdir("day_one")
    record = json.loads(planner("check", "slip.routine", "--format", "json").out)
    assert [str(Path("../moth.bot"))] == record["robot_files"]


def test_the_robot_file_beside_the_routine_comes_first(here: Path) -> None:
    """The nearer robot file is the one that is meant."""
    moth_folder(here)
    moth_folder(here / "day_one", "first_lamp")
    record = json.loads(planner("check", "day_one/first_lamp.routine", "--format", "json").out)
    assert [str(Path("day_one/moth.bot"))] == record["robot_files"]


def test_capitals_count_in_the_name_of_a_robot_file(here: Path) -> None:
    """Moth.bot is not the robot file of `moth`, on no disk; the near name is offered."""
    moth_folder(here, "first_lamp")
    (here / "moth.bot").rename(here / "Moth.bot")
    ran = planner("check", "first_lamp.routine", "--format", "json")
    assert ["missing-robot"] == [f["check"] for f in json.loads(ran.out)["findings"]]


def test_a_robot_files_findings_are_shown_once(here: Path) -> None:
    """Two routines of one robot show a fault of its file one time."""
    moth_folder(here, "first_lamp", "two_lamps")
    robot = here / "moth.bot"
    _write(robot, robot.read_text(encoding="utf-8") + "nonsense\n")
    found = planner("check", "first_lamp.routine", "two_lamps.routine", "--format", "short").out
    assert 1 == found.count("moth.bot:")


def test_a_robot_file_alone(here: Path) -> None:
    """A robot file can be checked before there is any plan."""
    moth_folder(here)
    ran = planner("check", "moth.bot")
    assert (0, "Checked 1 robot file: clean.\n") == (ran.status, ran.out)


def test_every_readable_file_is_checked(here: Path) -> None:
    """A file that cannot be read takes status 2, and the others are checked all the same."""
    moth_folder(here)
    _write(here / "slip.routine", SLIP)
    ran = planner("check", "nothing.routine", "slip.routine", "--format", "short")
    assert (2, True) == (ran.status, ERROR in ran.out.splitlines())
    line = "planner: could not read nothing.routine: there is no such file"
    assert line == ran.err.splitlines()[0]


def test_a_link_in_a_circle_does_not_hang_a_walk(here: Path) -> None:
    """A folder that links to itself is read once."""
    moth_folder(here / "a", "first_lamp")
    (here / "a" / "again").symlink_to(here / "a", target_is_directory=True)
    assert "\nChecked 1 routine and 1 robot file: " in planner("check", "a").out


SCENARIOS = "routine {}\nscenario good\n  at 1 s, bumpr pressed\n  must visit Approach\n"


@pytest.mark.parametrize("path", [".", "first_lamp.scenario"])
def test_a_file_of_scenarios_is_checked_with_its_routine(here: Path, path: str) -> None:
    """Named or found, scenarios are checked against the routine beside them, which is checked too.

    Their findings are told once, at their own place.
    """
    moth_folder(here, "first_lamp")
    _write(here / "first_lamp.scenario", SCENARIOS.format("first_lamp"))
    ran = planner("check", path, "--format", "short")
    place = "first_lamp.scenario:3:11: error unknown-sensor: "
    assert (1, 1) == (ran.status, ran.out.count(place))
    assert "Checked 1 routine, 1 file of scenarios and 1 robot file: " in ran.err
    record = json.loads(planner("check", path, "--format", "json").out)
    assert ["first_lamp.scenario"] == record["scenario_files"]


def test_scenarios_without_a_routine(here: Path) -> None:
    """A file of scenarios alone is one line that names the routine it lacks."""
    moth_folder(here)
    _write(here / "first_lamp.scenario", SCENARIOS.format("first_lamp"))
    ran = planner("check", ".", "--format", "short")
    line = (
        "planner: could not read first_lamp.scenario: its routine should lie beside it, "
        "and there is no first_lamp.routine"
    )
    assert (2, line) == (ran.status, ran.err.splitlines()[0])


def test_scenarios_of_a_routine_that_cannot_be_read(here: Path) -> None:
    """Where the routine cannot be read, both files say so, in a line each."""
    _write(here / "odd.scenario", SCENARIOS.format("odd"))
    (here / "odd.routine").write_bytes(b"\xff\xd8\xff")
    ran = planner("check", "odd.scenario", "--format", "short")
    assert 2 == ran.status
    assert ran.err.startswith("planner: could not read odd.routine: line 1 holds a byte ")
    assert "could not read odd.scenario: its routine odd.routine could not be read: " in ran.err
