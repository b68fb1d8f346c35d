"""`planner export` again and again for a season: what is told, and what is never taken away."""

from __future__ import annotations

import hashlib
import json
import re
from pathlib import Path

import pytest
from command import FAULT, moth_folder, planner
from exporting import PACKAGE, change, edit_claw, exported, fates_of, tree

BOTH = ("first_lamp.routine", "two_lamps.routine")
FOLDER = Path("java src", "club", "moth", "auto")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot and two of its routines, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans", "first_lamp", "two_lamps"))
    return tmp_path / "my plans"


def _again(*options: str, routines: tuple[str, ...] = BOTH) -> str:
    ran = exported(PACKAGE, "java src", *options, routines=routines)
    assert (0, "") == (ran.status, ran.err)
    return ran.out


def _paragraph(out: str, first: str) -> list[str]:
    """The paragraph of an output that starts with these words."""
    found = [part for part in out.split("\n\n") if part.startswith(first)]
    assert 1 == len(found), out
    return found[0].splitlines()


def test_a_folder_stands_for_its_routines(here: Path) -> None:
    """A folder exports all routines in it, each once, as if they had been named one by one."""
    _again(routines=(".", "first_lamp.routine"))
    whole = tree(here / "java src")
    assert {"unchanged"} == {f for _, f in fates_of(exported(routines=("two_lamps.routine",)))}
    assert {"unchanged"} == {fate for _, fate in fates_of(exported())}
    assert whole == tree(here / "java src")


def test_a_folder_without_a_routine(here: Path) -> None:
    """A folder in which there is nothing to export is told in one line."""
    (here / "robots").mkdir()
    (here / "moth.bot").rename(here / "robots" / "moth.bot")
    ran = exported(routines=("robots",))
    assert (2, "planner: robots holds no routine, so nothing was written\n") == (
        ran.status,
        ran.err,
    )


@pytest.mark.parametrize("copy", [True, False])
def test_two_routines_of_one_name(here: Path, copy: bool) -> None:
    """A folder with two routines that Java cannot tell apart is refused in one line that names
    both and says what to do; exported into packages of their own they do well."""
    (here / "old").mkdir()
    text = (here / "first_lamp.routine").read_text(encoding="utf-8")
    other = here / "old" / ("first_lamp.routine" if copy else "second.routine")
    other.write_text(text if copy else text.replace("after 4 s", "after 3 s"), encoding="utf-8")
    ran = exported(routines=(".",))
    why = "are two files named first_lamp.routine" if copy else "both hold a routine `first_lamp`"
    said = (
        f"planner: first_lamp.routine and {other.relative_to(here)} {why}, and one package of Java "
        "has room for one of them. Give one another name, or export them one after the other, each "
        "into a --package of its own. Nothing was written.\n"
    )
    assert (2, said, False) == (ran.status, ran.err, (here / "java src").exists())
    _again(routines=("first_lamp.routine",))
    assert 0 == exported("club.old", "java src", routines=(str(other),)).status


def test_two_robots_for_one_package(here: Path) -> None:
    """Routines of two robots that would share files are refused together, with both named."""
    change(here / "two_lamps.routine", ("robot moth", "robot owl"))
    robot = (here / "moth.bot").read_text(encoding="utf-8").replace("robot moth", "robot owl")
    (here / "owl.bot").write_text(robot, encoding="utf-8")
    ran = exported(routines=(".",))
    assert (2, False) == (ran.status, (here / "java src").exists())
    assert ran.err.startswith("planner: moth.bot and owl.bot both become club/moth/auto/")


def test_a_check_of_what_is_up_to_date(here: Path) -> None:
    """`--check` ends with 0 where all is as the plans say; a person's change is allowed."""
    _again()
    count = len(tree(here / "java src"))
    said = f"The project is what its plans say: {count} files.\n"
    assert said == _again("--check")
    claw = here / FOLDER / "mechanisms" / "Claw.java"
    claw.write_text(claw.read_text(encoding="utf-8") + "// mine\n", encoding="utf-8")
    before = tree(here)
    said = said.replace(".", ", but for what a person changed in 1 of them.")
    assert said == _again("--check")
    assert before == tree(here)


def test_a_check_of_what_has_fallen_behind(here: Path) -> None:
    """`--check` ends with 1 and a line a file where an export would write or code is lacking."""
    _again()
    (here / FOLDER / "plans" / "TwoLampsPlan.java").unlink()
    claw = here / FOLDER / "mechanisms" / "Claw.java"
    change(claw, ("public void open()", "public void widen()"))
    change(here / "first_lamp.routine", ("after 4 s", "after 4.5 s"))
    before = tree(here)
    ran = exported(PACKAGE, "java src", "--check", routines=BOTH)
    assert (1, "", before) == (ran.status, ran.err, tree(here))
    assert ran.out.splitlines() == [
        f"lacks code  {FOLDER / 'mechanisms' / 'Claw.java'}",
        f"behind      {FOLDER / 'planner.json'}",
        f"behind      {FOLDER / 'plans' / 'FirstLampPlan.java'}",
        f"missing     {FOLDER / 'plans' / 'TwoLampsPlan.java'}",
        "The project differs from its plans: export them again.",
    ]


def test_a_check_of_other_routines(here: Path) -> None:
    """`--check` of one routine also names those that stand on an older state of the robot."""
    _again()
    change(here / "moth.bot", ("at 80 %", "at 70 %"))
    _again(routines=("first_lamp.routine",))
    ran = exported(PACKAGE, "java src", "--check")
    assert (1, "behind      what two_lamps.routine became") == (
        ran.status,
        ran.out.splitlines()[0],
    )
    out = _again(routines=("first_lamp.routine",))
    assert ["The robot has changed since two_lamps.routine was exported: export it again."] == (
        _paragraph(out, "The robot has")
    )
    assert "The robot has" not in _again()
    _again("--check")


def test_a_dry_run_tells_and_writes_nothing(here: Path) -> None:
    """`--dry-run` says what the export then says, and one line more; it makes not even a folder."""
    before = tree(here)
    dry = _again("--dry-run")
    assert before == tree(here)
    assert not (here / "java src").exists()
    last = "\nThis was a dry run: nothing was written.\n"
    assert dry == _again() + last


def test_check_and_dry_run_at_once(here: Path) -> None:
    """Both at once is a slip of the user's, and nothing is written."""
    ran = exported(PACKAGE, "java src", "--check", "--dry-run")
    assert (2, False) == (ran.status, (here / "java src").exists())
    assert "ask one at a time" in ran.err


def test_new_names_are_told(here: Path) -> None:
    """A step, a command, a sensor and a mechanism with a new name are told as such, with the old
    names that stand in a changed file."""
    _again()
    drive = here / FOLDER / "mechanisms" / "Drive.java"
    change(drive, ("return Double.NaN;", "return leftWheels.getCurrentPosition() / 12.0;"))
    for routine in BOTH:
        change(here / routine, ("drive forward", "drive ahead"), ("bumper", "nose"))
    change(here / "first_lamp.routine", ("Approach", "Near"))
    change(here / "moth.bot", ("forward(", "ahead("), ("bumper", "nose"))
    out = _again()
    path = FOLDER / "mechanisms" / "Drive.java"
    lines = drive.read_text(encoding="utf-8").splitlines()
    old = [
        f":{number} {found[0]}"
        for number, line in enumerate(lines, 1)
        for found in [re.search(r"\b(bumper|forward|isBumperPressed)\b", line.partition('"')[0])]
        if found and "/**" not in line
    ]
    assert 6 == len(old)
    assert _paragraph(out, "Renamed") == [
        "Renamed since the last export, as far as the plans' text tells:",
        "  touch bumper is now nose, in Java bumper is nose, isBumperPressed is isNosePressed",
        "  command drive forward is now drive ahead, in Java forward is ahead",
        "  step Approach is now Near, in Java APPROACH is NEAR",
        "A device has its new name in the configuration on the robot's controller too.",
        "Old names that still stand in files which a person changed, to be looked at:",
        f"  {path}{', '.join(old)}",
    ]
    assert "where only a name is new, change that name there; otherwise paste." in out
    assert "Renamed" not in _again()


def test_a_new_thing_is_no_new_name(here: Path) -> None:
    """What comes without anything going, or is like nothing that went, is not told as renamed."""
    _again()
    text = (here / "first_lamp.routine").read_text(encoding="utf-8")
    head, _, tail = text.partition("\nstep ")
    extra = "step Settle\n  claw close\n  after 0.3 s, go to Approach\n\n"
    head = head.replace("start Approach", "start Settle")
    text = f"{head}\n{extra}step {tail}"
    (here / "first_lamp.routine").write_text(text, encoding="utf-8")
    out = _again()
    assert (True, False) == ("updated" in out, "Renamed" in out)


def test_a_routine_that_is_gone(here: Path) -> None:
    """What was made from a routine that is gone stays and is named, until somebody deletes it."""
    _again()
    (here / "two_lamps.routine").unlink()
    made = [FOLDER / "opmodes" / "TwoLampsAuto.java", FOLDER / "plans" / "TwoLampsPlan.java"]
    for _ in range(2):
        assert _paragraph(_again(routines=("first_lamp.routine",)), "two_lamps.routine") == [
            "two_lamps.routine was exported here and is not among the plans any more. "
            "Nothing was deleted:",
            *(f"  {path}" for path in made),
            "Its op mode can still be started on the robot until you delete these files.",
        ]
        assert all((here / path).is_file() for path in made)
    for path in made:
        (here / path).unlink()
    assert "two_lamps" not in _again(routines=("first_lamp.routine",))
    assert b"two_lamps" not in (here / FOLDER / "planner.json").read_bytes()


@pytest.mark.parametrize("folder", [".", "plans", "plans/of ours", "plans/gallery"])
def test_a_routine_in_a_folder_nearby_is_not_gone(here: Path, folder: str) -> None:
    """A routine that lies a folder up or down from one that is exported is still there."""
    (here / "plans").mkdir()
    for name in ("moth.bot", *BOTH):
        (here / name).rename(here / "plans" / name)
    _again(routines=("plans/first_lamp.routine", "plans/two_lamps.routine"))
    (here / folder).mkdir(exist_ok=True)
    (here / "plans" / "two_lamps.routine").rename(here / folder / "two_lamps.routine")
    assert "any more" not in _again(routines=("plans/first_lamp.routine",))


def test_what_is_left_over(here: Path) -> None:
    """A mechanism that the robot file has no more keeps its file, which is named."""
    _again()
    robot = here / "moth.bot"
    text = robot.read_text(encoding="utf-8")
    head, found, tail = text.partition("mechanism signal")
    robot.write_text(head.replace("  digital 6 signal_lamp lamp\n", ""), encoding="utf-8")
    assert (True, False) == (bool(found), "mechanism" in tail)
    for routine in BOTH:
        lines = (here / routine).read_text(encoding="utf-8").splitlines()
        kept = [line for line in lines if "signal" not in line]
        (here / routine).write_text("\n".join([*kept, ""]), encoding="utf-8")
    signal = FOLDER / "mechanisms" / "Signal.java"
    assert _paragraph(_again(), "Of earlier") == [
        "Of earlier exports, and part of these plans no more. Nothing was deleted:",
        f"  {signal}",
    ]
    assert (here / signal).is_file()
    (here / signal).unlink()
    assert "Of earlier" not in _again()


def test_the_manifest_tells_every_file(here: Path) -> None:
    """The manifest has what each file was made from, and the SHA-256 of its bytes."""
    _again()
    written = json.loads((here / FOLDER / "planner.json").read_text(encoding="utf-8"))
    assert ("planner export", 1) == (written["format"], written["version"])
    java = {path for path in tree(here / FOLDER) if path.endswith(".java")}
    assert java == set(written["files"])
    for path, made in written["files"].items():
        data = (here / FOLDER / path).read_bytes()
        assert hashlib.sha256(data).hexdigest() == made["sha256"]
    first, drive = (written["files"][f"mechanisms/{name}.java"] for name in ("Percent", "Drive"))
    assert ("", "moth.bot") == (first["made from"], drive["made from"])


def test_an_export_can_be_made_again_byte_for_byte(here: Path) -> None:
    """The same plans give the same bytes in another place, in another order and one by one."""
    _again()
    exported(PACKAGE, "elsewhere", routines=("two_lamps.routine",))
    exported(PACKAGE, "elsewhere", routines=("first_lamp.routine",))
    assert tree(here / "java src") == tree(here / "elsewhere")


def test_an_edited_file_does_not_show_in_the_manifest(here: Path) -> None:
    """The manifest holds what was exported, so a person's change makes no change there."""
    _again()
    before = (here / FOLDER / "planner.json").read_bytes()
    for path in (here / FOLDER).rglob("*.java"):
        path.write_bytes(path.read_bytes() + b"// mine\n")
    assert {"left", "unchanged"} == {fate for _, fate in fates_of(exported(routines=BOTH))}
    assert before == (here / FOLDER / "planner.json").read_bytes()


def test_line_ends_of_windows_in_all_files(here: Path) -> None:
    """A checkout that turns every line end is up to date, manifest included, and stays as it is."""
    _again()
    for path in (here / FOLDER).rglob("*.*"):
        path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    before = tree(here)
    _again("--check")
    _again()
    assert before == tree(here)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "no JSON from line 1 on"),
        ("{\n<<<<<<< mine\n", "no JSON from line 2 on"),
        ("[" * 100_000, "no JSON that can be read"),
        ("[]", "another program's"),
        ('{"format": "planner export", "version": 2}', "written by another version of this tool"),
        ('{"format": "planner export", "version": 1}', "not whole"),
        ('{"format": "planner export", "version": 1, "files": [], "plans": {}}', "not whole"),
        (
            '{"format": "planner export", "version": 1, "files": {"\\u001b": '
            '{"made from": "x", "sha256": "y"}}, "plans": {}}',
            "not whole",
        ),
        (
            '{"format": "planner export", "version": 1, "files": {}, "plans": '
            '{"x": {"robot": "y", "mechanisms": 3, "names": []}}}',
            "not whole",
        ),
        (b"\xff\xfe\x00", "no JSON from line 1 on"),
    ],
)
def test_a_manifest_that_is_none(here: Path, text: str | bytes, why: str) -> None:
    """A manifest that cannot be read stops the export with the way out, and is not written over."""
    _again()
    manifest = here / FOLDER / "planner.json"
    manifest.write_bytes(text if isinstance(text, bytes) else text.encode())
    before = tree(here)
    for option in ((), ("--check",), ("--dry-run",)):
        ran = exported(PACKAGE, "java src", *option, routines=BOTH)
        assert (2, "", before) == (ran.status, ran.out, tree(here))
        told = f"planner: {FOLDER / 'planner.json'} is {why}, so nothing was written."
        assert (True, 1) == (ran.err.startswith(told), ran.err.count("\n"))
        assert ("delete it and export" in ran.err, FAULT in ran.err) == (True, False)
    manifest.unlink()
    _again()
    _again("--check")


def test_errors_of_several_routines(here: Path) -> None:
    """One routine with an error stops them all, and each that has one is counted."""
    change(here / "two_lamps.routine", ("go to Place", "go to Plaice"))
    ran = planner("export", ".", "--into", "java src", "--package", PACKAGE)
    assert (1, False) == (ran.status, (here / "java src").exists())
    assert "\nNothing was exported: two_lamps.routine has " in ran.out


def test_a_robot_file_with_a_new_name(here: Path) -> None:
    """A robot file under a new name goes on with its old files, a person's changes included."""
    _again()
    claw = edit_claw(here / FOLDER)
    edited = claw.read_bytes()
    change(here / "moth.bot", ("robot moth", "robot owl"))
    (here / "moth.bot").rename(here / "owl.bot")
    for routine in BOTH:
        change(here / routine, ("robot moth", "robot owl"))
    before = tree(here)
    ran = exported(PACKAGE, "java src", routines=BOTH)
    assert (2, before) == (ran.status, tree(here))
    assert "add --renamed moth.bot owl.bot. Otherwise" in ran.err
    assert "any more" not in _again("--renamed", "moth.bot", "owl.bot")
    assert edited == claw.read_bytes()
    _again("--check")
    written = json.loads((here / FOLDER / "planner.json").read_text(encoding="utf-8"))
    assert {"owl.bot", *BOTH} == set(written["plans"])


@pytest.mark.parametrize(
    ("old", "new", "why"),
    [
        ("owl.bot", "moth.bot", "owl.bot was not exported here"),
        ("moth.bot", "owl.bot", "owl.bot is no plan of this export"),
    ],
)
def test_a_new_name_of_nothing(here: Path, old: str, new: str, why: str) -> None:
    """A new name for what was never exported, or is not now, is one line and writes nothing."""
    _again()
    before = tree(here)
    ran = exported(PACKAGE, "java src", "--renamed", old, new, routines=BOTH)
    assert (2, f"planner: {why}, so nothing was written\n") == (ran.status, ran.err)
    assert before == tree(here)
