"""`planner rehearse`: what it plays, what it says, how it ends."""

from __future__ import annotations

import json
from pathlib import Path
from xml.etree import ElementTree

import pytest
from command import FAULT, moth_folder, planner

PLAN = """routine street
robot moth
limit 30 s
start Approach
step Approach
  drive forward 40 %
  when bumper pressed, go to Lit
  after 3 s, go to GiveUp
finish Lit
finish GiveUp
"""
GOOD = """scenario good
  at 1 s, bumper pressed
  must finish in Lit
"""
BAD = """scenario bad "the bumper is silent"
  must finish in Lit
"""
SLIP = """scenario slip
  at 1 s, bumpr pressed
  must finish in Lit
"""


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans"))
    return tmp_path / "my plans"


def _plan(text: str, name: str = "street.routine") -> None:
    Path(name).parent.mkdir(parents=True, exist_ok=True)
    Path(name).write_text(text, encoding="utf-8")


def test_all_passed(here: Path) -> None:
    """Scenarios that pass are a line each, and status 0."""
    assert here.is_dir()
    _plan(PLAN + GOOD)
    ran = planner("rehearse", "street.routine")
    expected = "street.routine\n   passed  good\n\nRehearsed 1 scenario of 1 routine: 1 passed.\n"
    assert (0, expected, "") == (ran.status, ran.out, ran.err)


def test_a_failure(here: Path) -> None:
    """A failure is status 1, shown with its line, what was seen, and the end of the run."""
    assert here.is_dir()
    _plan(PLAN + GOOD + BAD)
    ran = planner("rehearse", "street.routine")
    assert (1, "") == (ran.status, ran.err)
    for words in (
        'FAILED  bad "the bumper is silent"',
        "street.routine:15: must finish in Lit",
        "instead: the run finished in `GiveUp` at 3 s",
        "   3.00 s  sees   bumper released",
        "           out    after 3 s",
        "Rehearsed 2 scenarios of 1 routine: 1 passed, 1 failed.",
    ):
        assert words in ran.out


def test_scenarios_beside_the_routine(here: Path) -> None:
    """A file of scenarios beside its routine is played with it, whichever of them is named."""
    assert here.is_dir()
    _plan(PLAN + GOOD)
    _plan("routine street\n" + BAD, "street.scenario")
    outs = {planner("rehearse", path).out for path in ("street.routine", "street.scenario", ".")}
    (out,) = outs
    assert "street.scenario:3: must finish in Lit" in out
    assert "2 scenarios of 1 routine: 1 passed, 1 failed." in out


def test_no_scenarios(here: Path) -> None:
    """A routine without scenarios is no failure; the hint says how to get one."""
    assert here.is_dir()
    _plan(PLAN)
    ran = planner("rehearse", "street.routine")
    said = " ".join(ran.out.split())
    assert (0, True) == (ran.status, "planner rehearse street.routine --by-hand" in said)


def test_a_routine_with_errors_is_not_played(here: Path) -> None:
    """Its errors are shown instead, and the other routines are played."""
    assert here.is_dir()
    _plan(PLAN.replace("go to Lit", "go to Liit") + GOOD)
    _plan(PLAN.replace("street", "other") + GOOD, "other.routine")
    ran = planner("rehearse", ".")
    assert (1, "") == (ran.status, ran.err)
    for words in ("Not played", "there is no step `Liit`", "passed  good", "1 routine not played"):
        assert words in ran.out


def test_a_robot_file_with_errors(here: Path) -> None:
    """A plan for a robot that makes no sense is not played either."""
    robot = here / "moth.bot"
    robot.write_text(robot.read_text(encoding="utf-8") + "nonsense\n", encoding="utf-8")
    _plan(PLAN + GOOD)
    ran = planner("rehearse", "street.routine")
    assert (1, True) == (ran.status, "unreadable-line" in ran.out)


def test_a_routine_without_its_robot(here: Path) -> None:
    """Where the robot file is missing, that is the error that is shown."""
    (here / "moth.bot").unlink()
    _plan(PLAN + GOOD)
    ran = planner("rehearse", "street.routine")
    assert (1, True) == (ran.status, "missing-robot" in ran.out)


@pytest.mark.parametrize("beside", [False, True])
def test_a_scenario_that_makes_no_sense(here: Path, beside: bool) -> None:
    """It is shown with its findings and fails; the others are played, wherever it stands."""
    assert here.is_dir()
    _plan(PLAN + GOOD + ("" if beside else SLIP))
    if beside:
        _plan("routine street\n" + SLIP, "street.scenario")
    ran = planner("rehearse", "street.routine")
    assert (1, 1) == (ran.status, ran.out.count("planner explain unknown-sensor"))
    for words in ("passed  good", "FAILED  slip", "1 passed, 1 failed"):
        assert words in ran.out


@pytest.mark.parametrize("lines", ["nonsense\n", "limit 3 s\n", SLIP + SLIP, GOOD.upper()])
def test_what_stands_between_scenarios(here: Path, lines: str) -> None:
    """A wrong line outside of scenarios is an error of its own, and the scenarios are played."""
    assert here.is_dir()
    _plan(PLAN + GOOD)
    _plan("routine street\n" + BAD.replace("Lit", "GiveUp") + lines, "street.scenario")
    ran = planner("rehearse", ".", "--format", "json")
    record = json.loads(ran.out)["routines"][0]
    assert (1, ["good", "bad"]) == (
        ran.status,
        [one["name"] for one in record["scenarios"] if one["passed"]],
    )
    told = record["errors"] + [e for one in record["scenarios"] for e in one["errors"]]
    places = [(error["path"], error["line"], error["check"]) for error in told]
    assert places
    assert len(set(places)) == len(places)


def test_scenarios_of_another_routine(here: Path) -> None:
    """A file of scenarios that names another routine is an error."""
    assert here.is_dir()
    _plan(PLAN)
    _plan("routine lane\n" + GOOD, "street.scenario")
    ran = planner("rehearse", ".")
    assert (1, True) == (ran.status, "scenarios-of-another" in ran.out)


def test_only(here: Path) -> None:
    """One scenario can be played alone, with its storyboard."""
    assert here.is_dir()
    _plan(PLAN + GOOD + BAD + SLIP)
    ran = planner("rehearse", ".", "--only", "good", "--trace")
    assert (0, False) == (ran.status, "bad" in ran.out)
    assert "   0.00 s  in     Approach\n           sends  drive forward 40 %\n" in ran.out
    assert "   1.00 s  sees   bumper pressed\n           out    bumper pressed\n" in ran.out


@pytest.mark.parametrize(
    ("name", "line"),
    [
        ("goood", "planner: there is no scenario `goood`. Did you mean `good`?\n"),
        ("", "planner: there is no scenario ``.\n"),
        ("x" * 5000, f"planner: there is no scenario `{'x' * 60}`.\n"),
    ],
)
def test_only_an_unknown_one(here: Path, name: str, line: str) -> None:
    """A name that no scenario has is one line, with the name that was perhaps meant."""
    assert here.is_dir()
    _plan(PLAN + GOOD)
    ran = planner("rehearse", ".", "--only", name)
    assert (2, "", line) == (ran.status, ran.out, ran.err)


def test_json(here: Path) -> None:
    """The record alone is on standard output, with places that lead to the demand."""
    assert here.is_dir()
    _plan(PLAN + GOOD + BAD)
    ran = planner("rehearse", ".", "--format", "json")
    record = json.loads(ran.out)
    assert (1, "", False) == (ran.status, ran.err, record["passed"])
    (routine,) = record["routines"]
    (difference,) = routine["scenarios"][1]["differences"]
    assert ("street.routine", 15, "must finish in Lit") == (
        difference["path"],
        difference["line"],
        difference["demanded"],
    )


def test_junit(here: Path) -> None:
    """The XML alone is on standard output, whatever a title holds."""
    assert here.is_dir()
    _plan(PLAN + GOOD + BAD.replace("the bumper is silent", "]]> & <b> \x01"))
    ran = planner("rehearse", ".", "--format", "junit")
    root = ElementTree.fromstring(ran.out)
    assert (1, "") == (ran.status, ran.err)
    cases = {case.get("name"): case.find("failure") is not None for case in root.iter("testcase")}
    assert {"good": False, "bad": True} == cases


def test_a_file_that_cannot_be_read(here: Path) -> None:
    """It takes status 2, and the others are played all the same."""
    assert here.is_dir()
    _plan(PLAN + GOOD)
    Path("photo.routine").write_bytes(b"\xff\xd8\xff")
    ran = planner("rehearse", ".")
    assert (2, 1) == (ran.status, ran.err.count("\n"))
    assert "passed  good" in ran.out
    assert ran.out.endswith("1 passed. But 1 file could not be read.\n")


def test_scenarios_without_a_routine(here: Path) -> None:
    """A file of scenarios alone is one line that names what it lacks."""
    assert here.is_dir()
    _plan("routine lane\n" + GOOD, "lane.scenario")
    ran = planner("rehearse", "lane.scenario")
    assert (2, "Nothing was rehearsed: 1 file could not be read.") == (ran.status, ran.out.strip())
    assert "its routine should lie beside it, and there is no lane.routine" in ran.err


def test_a_folder_named_broken_is_left_out(here: Path) -> None:
    """Plans that are wrong on purpose are not played, and the report says so."""
    assert here.is_dir()
    _plan(PLAN + GOOD)
    _plan(PLAN + BAD, "broken/street.routine")
    ran = planner("rehearse", ".")
    assert (0, True) == (ran.status, "Left out broken: " in ran.out)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([], "Missing argument"),
        (["nothing.routine"], "could not read nothing.routine: there is no such file"),
        (["moth.bot"], "moth.bot is a robot file; what is rehearsed is a routine"),
        (["street.routine", "--format", "xml"], "'xml' is not one of 'text', 'json', 'junit'"),
        (["street.routine", "--only"], "'--only' requires an argument"),
        (["street.routine", "--trase"], "--trace"),
        (["--by-hand"], "Missing argument"),
        ([".", "--by-hand"], "it is a folder"),
        (["moth.bot", "--by-hand"], "is a robot file; this command takes a routine"),
        (["nothing.routine", "--by-hand"], "there is no such file"),
        (["street.routine", "street.routine", "--by-hand"], "--by-hand takes one routine"),
        (["street.routine", "--by-hand", "--trace"], "goes with no other option"),
        (["street.routine", "--by-hand", "--format", "json"], "goes with no other option"),
        (["street.routine", "--by-hand", "--only", "good"], "goes with no other option"),
    ],
)
def test_wrong_usage(here: Path, arguments: list[str], words: str) -> None:
    """Every slip on the command line is told, with status 2."""
    assert here.is_dir()
    _plan(PLAN + GOOD)
    ran = planner("rehearse", *arguments, typed="")
    assert (2, True, False) == (ran.status, words in ran.err, FAULT in ran.err), ran.err


def test_no_colour_in_a_pipe(here: Path) -> None:
    """What is piped holds no escape sequence."""
    assert here.is_dir()
    _plan(PLAN + GOOD + BAD + SLIP)
    ran = planner("rehearse", ".", "--trace", env={"FORCE_COLOR": "1", "COLUMNS": "30"})
    assert "\x1b" not in ran.out
    assert ran == planner("rehearse", ".", "--trace")


def test_the_demo_plans_pass() -> None:
    """The demo team's own scenarios pass."""
    routines = Path(__file__).resolve().parents[2] / "routines"
    ran = planner("rehearse", routines)
    assert (0, "") == (ran.status, ran.err)
