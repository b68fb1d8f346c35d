"""`planner export`: what is written, what is left alone, and that it is all or nothing."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from command import FAULT, moth_folder, planner
from exporting import PACKAGE, exported, fates_of, tree


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot and its smallest routine, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans", "first_lamp"))
    return tmp_path / "my plans"


def test_every_file_is_new_the_first_time(here: Path) -> None:
    """The files land in the package's folders, and each is listed."""
    ran = exported()
    written = [f"java src/{name}" for name in tree(here / "java src")]
    assert (0, "") == (ran.status, ran.err)
    assert {"new"} == {fate for _, fate in fates_of(ran)}
    rows = ran.out.partition("\n\n")[0].splitlines()
    listed = sorted(row.partition(" ")[2].strip() for row in rows)
    assert sorted(str(Path(name)) for name in written) == listed
    assert all(name.startswith("java src/club/moth/auto/") for name in written)


def test_nothing_changes_the_second_time(here: Path) -> None:
    """The same plan gives the same files, and they are not even touched."""
    exported()
    before = {path: path.stat().st_mtime_ns for path in (here / "java src").rglob("*.java")}
    ran = exported()
    assert {"unchanged"} == {fate for _, fate in fates_of(ran)}
    assert before == {path: path.stat().st_mtime_ns for path in before}


def test_files_as_exported_are_brought_up_to_date(here: Path) -> None:
    """A changed plan updates the files that nobody has touched."""
    exported()
    routine = here / "first_lamp.routine"
    text = routine.read_text(encoding="utf-8").replace("after 4 s", "after 4.5 s")
    routine.write_text(text, encoding="utf-8")
    found = dict(fates_of(exported()))
    assert {"updated", "unchanged"} == set(found.values())
    assert {"unchanged"} == {dict(fates_of(exported()))[name] for name in found}


def test_line_ends_of_windows_are_no_change(here: Path) -> None:
    """A checkout that turns the line ends does not count as a person's change."""
    exported()
    for path in (here / "java src").rglob("*.java"):
        path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert {"unchanged"} == {fate for _, fate in fates_of(exported())}


@pytest.mark.parametrize(
    "change",
    [
        lambda old: old + b"\n// my own line\n",
        lambda old: old.replace(b"class", b"class ", 1),
        lambda _old: b"class Mine {}\n",
        lambda _old: b"",
        lambda _old: b"\xff\x00 not even text",
    ],
)
def test_what_a_person_changed_is_left(here: Path, change: object) -> None:
    """A changed file stays byte for byte, is named with what to do, and the others are written."""
    assert callable(change)
    exported()
    mine, *others = sorted((here / "java src").rglob("*.java"))
    mine.write_bytes(change(mine.read_bytes()))
    kept = mine.read_bytes()
    for other in others:
        other.unlink()
    ran = exported()
    assert (0, kept) == (ran.status, mine.read_bytes())
    written = {name: fate for name, fate in fates_of(ran) if fate != "new"}
    assert {mine.name: "left", "planner.json": "unchanged"} == written
    assert all(other.is_file() for other in others)
    assert "rename or delete" in ran.out


def _line_of(path: Path, words: str) -> int:
    lines = path.read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if words in line)


def test_what_is_left_to_write(here: Path) -> None:
    """The places that only the team can write are listed by line, those this plan needs first."""
    out = exported().out
    drive = Path("java src", "club", "moth", "auto", "mechanisms", "Drive.java")
    loose = drive.with_name("LooseSensors.java")
    marks = ("work out drive travelled", "say how your hub", "write what turn")
    lines = [_line_of(here / drive, words) for words in marks]
    camera = _line_of(here / loose, "put your own class here")
    assert out.partition("\n\n")[2] == (
        "1 place is yours to write before this plan can work:\n"
        f"  {drive}:{lines[0]} travelledCm\n"
        "\n"
        "3 places are yours to write too, though this plan does not use them:\n"
        f"  {drive}:{lines[1]} init (gyro), :{lines[2]} turn\n"
        f"  {loose}:{camera} postMark\n"
    )


def test_what_is_written_is_left_to_write_no_more(here: Path) -> None:
    """In a file that a person changed, only the places that are still as exported are listed."""
    exported()
    drive = here / "java src" / "club" / "moth" / "auto" / "mechanisms" / "Drive.java"
    text = drive.read_text(encoding="utf-8")
    before, _, after = text.partition("double travelledCm() {\n")
    body = "        return leftWheels.getCurrentPosition() / 12.0;\n"
    before += "double travelledCm() {\n"
    drive.write_text(before + body + after.partition("NaN;\n")[2], encoding="utf-8")
    ran = exported()
    assert (0, False, False) == (ran.status, "travelledCm" in ran.out, "lacks" in ran.out)
    assert f"Drive.java:{_line_of(drive, 'say how your')} init (gyro), :" in ran.out


def test_what_a_changed_file_lacks_can_be_pasted(here: Path) -> None:
    """Where the plan needs what a changed mechanism does not have, its code is shown whole."""
    exported()
    claw = here / "java src" / "club" / "moth" / "auto" / "mechanisms" / "Claw.java"
    claw.write_text(claw.read_text(encoding="utf-8") + "// mine\n", encoding="utf-8")
    assert "lacks" not in exported().out
    robot = here / "moth.bot"
    text = robot.read_text(encoding="utf-8")
    text = text.replace("  command close holds\n", "  command close(share %) holds, reports done\n")
    text = text.replace("uses claw_servo\n", "uses claw_servo, jaw\n")
    text = text.replace("claw_servo at 15 %\n", "claw_servo at share\n    jaw at 5 %\n")
    robot.write_text(text.replace("  servo 0", "  servo 3 jaw\n  servo 0"), encoding="utf-8")
    routine = here / "first_lamp.routine"
    text = routine.read_text(encoding="utf-8").replace("claw close", "claw close 15 %")
    routine.write_text(text, encoding="utf-8")
    ran = exported()
    told = ran.out.partition("still want.\n\n")[2].partition("\n\n1 place")[0]
    path = Path("java src", "club", "moth", "auto", "mechanisms", "Claw.java")
    assert (0, "left") == (ran.status, dict(fates_of(ran))["Claw.java"])
    assert told.splitlines() == [
        f"{path} lacks code that other files call, as far as its text can tell.",
        "The project will not compile until it is there:",
        "  to paste into Claw:",
        "",
        "    private enum Latest { NOTHING, OPEN, CLOSE, STOP }",
        "    private Servo jaw;",
        "    // and in init:",
        '        jaw = hardwareMap.get(Servo.class, "jaw");',
        "    private Latest latest = Latest.NOTHING;",
        "",
        "    /** command close(share %) holds, reports done */",
        "    public void close(double sharePercent) {",
        "        clawServo.setPosition(Percent.place(sharePercent));",
        "        jaw.setPosition(Percent.place(5.0));",
        "        latest = Latest.CLOSE;",
        "    }",
    ]


@pytest.mark.parametrize("changed", [False, True])
def test_a_routine_of_the_same_class_name(here: Path, changed: bool) -> None:
    """A routine whose names in Java are another's does not take its files' place."""
    exported()
    if changed:
        for path in (here / "java src").rglob("FirstLamp*.java"):
            path.write_text(path.read_text(encoding="utf-8") + "// mine\n", encoding="utf-8")
    text = (here / "first_lamp.routine").read_text(encoding="utf-8")
    other = text.replace("routine first_lamp", "routine FirstLamp").replace(
        "after 4 s", "after 3 s"
    )
    (here / "FirstLamp2.routine").write_text(other, encoding="utf-8")
    before = tree(here)
    ran = planner("export", "FirstLamp2.routine", "--into", "java src", "--package", PACKAGE)
    assert (2, "", before) == (ran.status, ran.out, tree(here))
    path = Path("java src", "club", "moth", "auto", "opmodes", "FirstLampAuto.java")
    assert ran.err.startswith(
        f"planner: {path} was made from first_lamp.routine, and what FirstLamp2.routine becomes"
    )
    assert (1, False) == (ran.err.count("\n"), FAULT in ran.err)


def test_another_robot_in_the_same_package(here: Path) -> None:
    """The mechanisms of another robot do not take the place of the first one's."""
    exported()
    text = (here / "first_lamp.routine").read_text(encoding="utf-8")
    other = text.replace("routine first_lamp", "routine other").replace("robot moth", "robot owl")
    (here / "other.routine").write_text(other, encoding="utf-8")
    robot = (here / "moth.bot").read_text(encoding="utf-8").replace("robot moth", "robot owl")
    (here / "owl.bot").write_text(robot, encoding="utf-8")
    before = tree(here)
    ran = planner("export", "other.routine", "--into", "java src", "--package", PACKAGE)
    assert (2, before) == (ran.status, tree(here))
    assert "Arm.java was made from moth.bot, and what owl.bot becomes" in ran.err


def test_a_plan_with_errors_is_not_exported(here: Path) -> None:
    """Code from a plan that can lose a match is not written, and the errors are shown."""
    routine = here / "first_lamp.routine"
    text = routine.read_text(encoding="utf-8").replace("go to Place", "go to Plaice")
    routine.write_text(text, encoding="utf-8")
    ran = exported()
    assert (1, False) == (ran.status, (here / "java src").exists())
    assert "`Plaice`" in ran.out
    assert "\nNothing was exported: first_lamp.routine has " in ran.out


def test_a_robot_file_with_errors_stops_theexported(here: Path) -> None:
    """Wiring that cannot be read is an error of every plan that stands on it."""
    robot = here / "moth.bot"
    robot.write_text(robot.read_text(encoding="utf-8") + "nonsense !\n", encoding="utf-8")
    ran = exported()
    assert (1, False) == (ran.status, (here / "java src").exists())
    assert "moth.bot" in ran.out


@pytest.mark.parametrize("package", ["", "../out", "a/b", "a..b", "9a", "a.class", "a b", "a\n"])
def test_a_package_that_is_none(here: Path, package: str) -> None:
    """A name that is no Java package ends in one line, and nothing is written anywhere."""
    before = tree(here.parent)
    ran = exported(package)
    assert (2, "", 1) == (ran.status, ran.out, ran.err.count("\n"))
    assert (False, before) == (FAULT in ran.err, tree(here.parent))


def test_a_link_that_leads_out_of_the_folder(here: Path) -> None:
    """A folder in the tree that is a link to somewhere else is not written through."""
    elsewhere = here.parent / "elsewhere"
    elsewhere.mkdir()
    (here / "java src").mkdir()
    (here / "java src" / "club").symlink_to(elsewhere, target_is_directory=True)
    ran = exported()
    assert (2, {}) == (ran.status, tree(elsewhere))
    assert "leads out of java src, so nothing was written" in ran.err


@pytest.mark.parametrize("in_the_way", ["java src", "java src/club", "java src/club/moth/auto"])
def test_a_file_where_a_folder_should_be(here: Path, in_the_way: str) -> None:
    """A file in a folder's place stays, and nothing else is written."""
    (here / in_the_way).parent.mkdir(parents=True, exist_ok=True)
    (here / in_the_way).write_text("mine", encoding="utf-8")
    before = tree(here)
    ran = exported()
    assert (2, 1, False) == (ran.status, ran.err.count("\n"), FAULT in ran.err)
    assert before == tree(here)


@pytest.mark.parametrize("failing", range(6))
@pytest.mark.parametrize("older", [False, True])
def test_all_files_or_none(
    here: Path, monkeypatch: pytest.MonkeyPatch, failing: int, older: bool
) -> None:
    """A disk that fails at any file leaves everything as it was: old files old, new ones gone."""
    if older:
        exported()
        routine = here / "first_lamp.routine"
        text = routine.read_text(encoding="utf-8").replace("after 4 s", "after 4.5 s")
        routine.write_text(text, encoding="utf-8")
        for path in sorted((here / "java src").rglob("*.java"))[1::2]:
            path.unlink()
    before = tree(here)
    renames = iter(range(100))
    replace = Path.replace

    def fail(self: Path, target: Path) -> Path:
        if next(renames) == failing:
            raise OSError(28, "No space left on device")
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", fail)
    ran = exported()
    assert (2, True) == (ran.status, "the disk is full. Nothing was changed." in ran.err)
    assert before == tree(here)
    assert older == (here / "java src").exists()


def test_a_disk_that_is_full_while_writing(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A failure while the temporary files are written leaves none of them, and no folder."""
    opened = iter(range(100))
    open_ = Path.open

    def fail(self: Path, mode: str = "r", **more: object) -> object:
        if mode == "xb" and next(opened) == 3:
            raise OSError(28, "No space left on device")
        return open_(self, mode, **more)  # type: ignore[call-overload]

    monkeypatch.setattr(Path, "open", fail)
    assert 2 == exported().status
    assert ["first_lamp.routine", "moth.bot"] == sorted(os.listdir(here))
