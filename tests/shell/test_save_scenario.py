"""`planner check --save-scenario`: a run that is shown becomes a scenario beside the plan."""

from __future__ import annotations

import codecs
import json
from pathlib import Path

import pytest
from checks.late_plans import PLANS, Plan, text
from command import moth_folder, planner
from demo import ROOT

SAVE = "--save-scenario"
REQUIRED = """routine kept
robot moth
limit 30 s
require claw open only after arm to 1200 ticks
start Approach
step Approach
  drive forward 40 %
  when range_front < 8 cm, go to Raise
  when bumper pressed, go to Place
  after 3 s, go to Still
step Raise
  arm to 1200 ticks
  when arm done, go to Place
  after 3 s, go to Still
step Place
  claw open
  after 0.6 s, go to Still
finish Still
"""
BY_A_HAIR = """routine kept
robot moth
limit 10 s
start One
step One
  drive forward 40 %
  when bumper pressed, go to Still
  after 4.98 s, go to Two
step Two
  drive forward 30 %
  when bumper pressed, go to Still
  after 4.98 s, go to Still
finish Still
"""
ROUNDS = """routine rounds
robot moth
limit 30 s

start Take

step Take
  roller take
  when tin_gate broken, go to Lit
  after 8 s, go to Take, at most 4 times, then Lit

finish Lit
"""
SIDES = """routine kept
robot moth
limit 30 s
choose post: near, far
setting drive_time by post
  near 5 s
  far 29 s
start Out
step Out
  drive forward 40 %
  when bumper pressed, go to Back
  after drive_time, go to Back
step Back
  drive forward -40 %
  when range_front > 120 cm, go to Still
  after 4 s, go to Still
finish Still
"""


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder to stand in that holds the Moth's robot file."""
    monkeypatch.chdir(tmp_path)
    moth_folder(tmp_path)
    return tmp_path


def write(name: str, of: str) -> Path:
    """A routine of that name, and where its scenarios will be."""
    Path(f"{name}.routine").write_text(of, encoding="utf-8")
    return Path(f"{name}.scenario")


@pytest.mark.parametrize("plan", PLANS, ids=lambda plan: plan.name)
def test_it_fails_until_the_plan_is_mended(plan: Plan) -> None:
    """A late plan's scenario goes the steps of its run and fails; mended it passes."""
    scenario = write(plan.name, text(plan))
    ran = planner("check", f"{plan.name}.routine", SAVE)
    assert (1, "", True) == (
        ran.status,
        ran.err,
        f"scenario `late_finish` in {scenario}" in ran.out,
    )

    broken = planner("rehearse", f"{plan.name}.routine", "--trace")
    assert 1 == broken.status
    assert f"cut off in {plan.steps[-1]} by the limit" in broken.out

    write(plan.name, text(plan).replace(plan.broken, plan.mended))
    assert 0 == planner("rehearse", f"{plan.name}.routine").status
    assert 0 == planner("check", ".").status


def test_a_broken_requirement_is_saved() -> None:
    """The scenario fails by the requirement alone, with the one cue that this takes."""
    scenario = write("kept", REQUIRED)
    planner("check", "kept.routine", SAVE)
    lines = scenario.read_text(encoding="utf-8").splitlines()
    assert ["routine kept", "", "scenario broken_requirement"] == lines[:3]
    assert ["  in Approach, after 0.02 s, bumper pressed", "  must finish"] == lines[3:]

    ran = planner("rehearse", "kept.routine", "--format", "json")
    (failed,) = json.loads(ran.out)["routines"][0]["scenarios"]
    assert ["require claw open only after arm to 1200 ticks"] == [
        one["demanded"] for one in failed["differences"]
    ]
    write("kept", REQUIRED.replace("bumper pressed, go to Place", "bumper pressed, go to Raise"))
    assert 0 == planner("rehearse", "kept.routine").status


def test_a_run_by_a_hair_has_passes_to_fit() -> None:
    """Two limits that are late by one pass each are late in passes of some length; it is said."""
    scenario = write("kept", BY_A_HAIR)
    planner("check", "kept.routine", SAVE)
    assert "  pass " in scenario.read_text(encoding="utf-8")
    assert 1 == planner("rehearse", "kept.routine").status
    write("kept", BY_A_HAIR.replace("4.98 s", "4.9 s"))
    assert 0 == planner("rehearse", "kept.routine").status


def test_a_run_that_needs_uneven_passes_is_not_saved(here: Path) -> None:
    """Where the plan is late only if its passes differ in length, that is said and no file made."""
    robot = here / "moth.bot"
    paces = robot.read_text(encoding="utf-8").replace("pass 8 ms to 40 ms", "pass 20 ms to 21 ms")
    robot.write_text(paces, encoding="utf-8")
    # 4.2 s is a whole number of passes of 20 ms, and of 21 ms.
    write("kept", BY_A_HAIR.replace("4.98 s", "4.2 s").replace("limit 10 s", "limit 8.41 s"))
    ran = planner("check", "kept.routine", SAVE)
    assert (1, [], True) == (
        ran.status,
        list(here.glob("*.scenario")),
        "The run of late-finish in line 1 was not saved" in ran.out,
    )


def test_what_was_chosen_is_said() -> None:
    """A run of one choice is a scenario of that choice, and the card says so too."""
    scenario = write("kept", SIDES)
    ran = planner("check", "kept.routine", SAVE)
    assert ("with post far" in ran.out, True) == (
        True,
        "  choose post far" in scenario.read_text(encoding="utf-8").splitlines(),
    )
    assert 1 == planner("rehearse", "kept.routine").status


@pytest.mark.parametrize(
    ("mark", "encoding", "end"),
    [(b"", "utf-8", "\n"), (b"", "utf-8", "\r\n"), (codecs.BOM_UTF16_LE, "utf-16-le", "\r\n")],
)
def test_what_is_there_stays(mark: bytes, encoding: str, end: str) -> None:
    """Scenarios that are there stay byte for byte, and a name that is taken gets a number."""
    scenario = write("kept", REQUIRED)
    old = ["routine kept", "", "scenario broken_requirement  # mine", "  must visit Approach", ""]
    before = mark + end.join(old).encode(encoding)
    scenario.write_bytes(before)
    ran = planner("check", "kept.routine", SAVE)
    after = scenario.read_bytes()
    assert before == after[: len(before)]
    added = after[len(before) :].decode(encoding)
    assert f"{end}scenario broken_requirement_2{end}" == added[: added.index("  in ")]
    assert "broken_requirement_2" in ran.out


def test_one_run_is_saved_once() -> None:
    """A second time the scenario is found to be there, and the file is not touched."""
    scenario = write("kept", REQUIRED)
    planner("check", "kept.routine", SAVE)
    before = scenario.read_bytes()
    ran = planner("check", "kept.routine", SAVE)
    assert before == scenario.read_bytes()
    assert "is kept already: scenario `broken_requirement` in kept.scenario" in ran.out.replace(
        "\n", " "
    )


def test_a_sound_plan_has_no_run_to_save(here: Path) -> None:
    """Where nothing is shown that is said, and no file is made."""
    write("kept", BY_A_HAIR.replace("4.98 s", "3 s"))
    ran = planner("check", "kept.routine", SAVE)
    assert (0, "No run is shown, so there is none to save.") == (
        ran.status,
        ran.out.splitlines()[-1],
    )
    assert [] == list(here.glob("*.scenario"))


def test_a_file_that_cannot_be_read_is_left_alone() -> None:
    """Bytes that are no text are not added to: one line says so, with status 2."""
    scenario = write("kept", REQUIRED)
    scenario.write_bytes(b"\x00\xff\x00\xff")
    ran = planner("check", "kept.routine", SAVE)
    assert (2, 1, True) == (ran.status, len(ran.err.splitlines()), "nothing was written" in ran.err)
    assert b"\x00\xff\x00\xff" == scenario.read_bytes()


def test_json_stays_json() -> None:
    """What was saved is told on standard error where the output is for a program."""
    write("kept", REQUIRED)
    ran = planner("check", "kept.routine", SAVE, "--format", "json")
    (found,) = json.loads(ran.out)["findings"]
    assert ("broken-requirement", {}) == (found["check"], found["chosen"])
    assert "is saved: scenario `broken_requirement`" in ran.err


def test_the_readme() -> None:
    """The card and the saved scenario that the README shows are what the commands give."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    write("rounds", ROUNDS)
    card = planner("check", "rounds.routine").out.split("\n\n")[1]
    assert f"```\n{card}\n```" in readme

    (plan,) = (plan for plan in PLANS if plan.name == "rounds_add_up")
    saved = write(plan.name, text(plan))
    planner("check", f"{plan.name}.routine", SAVE)
    scenario = saved.read_text(encoding="utf-8").partition("\n\n")[2]
    assert f"```\n{scenario}```" in readme
