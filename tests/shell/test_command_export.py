"""`planner export`: what is written, what is left alone, and that it is all or nothing."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from command import FAULT, Ran, moth_folder, planner

PACKAGE = "club.moth.auto"


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot and its smallest routine, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans", "first_lamp"))
    return tmp_path / "my plans"


def _export(package: str = PACKAGE, into: str = "java src") -> Ran:
    return planner("export", "first_lamp.routine", "--into", into, "--package", package)


def _tree(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def _fates(ran: Ran) -> Iterator[tuple[str, str]]:
    """What was said to become of each file, by the file's own name."""
    for row in ran.out.partition("\n\n")[0].splitlines():
        fate, _, path = row.partition(" ")
        yield Path(path.strip()).name, fate


def test_every_file_is_new_the_first_time(here: Path) -> None:
    """The files land in the package's folders, and each is listed."""
    ran = _export()
    written = [f"java src/{name}" for name in _tree(here / "java src")]
    assert (0, "") == (ran.status, ran.err)
    assert {"new"} == {fate for _, fate in _fates(ran)}
    listed = sorted(row.partition(" ")[2].strip() for row in ran.out.splitlines())
    assert sorted(str(Path(name)) for name in written) == listed
    assert all(name.startswith("java src/club/moth/auto/") for name in written)


def test_nothing_changes_the_second_time(here: Path) -> None:
    """The same plan gives the same files, and they are not even touched."""
    _export()
    before = {path: path.stat().st_mtime_ns for path in (here / "java src").rglob("*.java")}
    ran = _export()
    assert {"unchanged"} == {fate for _, fate in _fates(ran)}
    assert before == {path: path.stat().st_mtime_ns for path in before}


def test_files_as_exported_are_brought_up_to_date(here: Path) -> None:
    """A changed plan updates the files that nobody has touched."""
    _export()
    routine = here / "first_lamp.routine"
    text = routine.read_text(encoding="utf-8").replace("after 4 s", "after 4.5 s")
    routine.write_text(text, encoding="utf-8")
    fates = dict(_fates(_export()))
    assert {"updated", "unchanged"} == set(fates.values())
    assert {"unchanged"} == {dict(_fates(_export()))[name] for name in fates}


def test_line_ends_of_windows_are_no_change(here: Path) -> None:
    """A checkout that turns the line ends does not count as a person's change."""
    _export()
    for path in (here / "java src").rglob("*.java"):
        path.write_bytes(path.read_bytes().replace(b"\n", b"\r\n"))
    assert {"unchanged"} == {fate for _, fate in _fates(_export())}


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
    _export()
    mine, *others = sorted((here / "java src").rglob("*.java"))
    mine.write_bytes(change(mine.read_bytes()))
    kept = mine.read_bytes()
    for other in others:
        other.unlink()
    ran = _export()
    assert (0, kept) == (ran.status, mine.read_bytes())
    assert {mine.name: "left"} == {name: fate for name, fate in _fates(ran) if fate != "new"}
    assert all(other.is_file() for other in others)
    assert "rename or delete" in ran.out


def test_a_plan_with_errors_is_not_exported(here: Path) -> None:
    """Code from a plan that can lose a match is not written, and the errors are shown."""
    routine = here / "first_lamp.routine"
    text = routine.read_text(encoding="utf-8").replace("go to Place", "go to Plaice")
    routine.write_text(text, encoding="utf-8")
    ran = _export()
    assert (1, False) == (ran.status, (here / "java src").exists())
    assert "`Plaice`" in ran.out
    assert "\nNothing was exported: first_lamp.routine has " in ran.out


def test_a_robot_file_with_errors_stops_the_export(here: Path) -> None:
    """Wiring that cannot be read is an error of every plan that stands on it."""
    robot = here / "moth.bot"
    robot.write_text(robot.read_text(encoding="utf-8") + "nonsense !\n", encoding="utf-8")
    ran = _export()
    assert (1, False) == (ran.status, (here / "java src").exists())
    assert "moth.bot" in ran.out


@pytest.mark.parametrize("package", ["", "../out", "a/b", "a..b", "9a", "a.class", "a b", "a\n"])
def test_a_package_that_is_none(here: Path, package: str) -> None:
    """A name that is no Java package ends in one line, and nothing is written anywhere."""
    before = _tree(here.parent)
    ran = _export(package)
    assert (2, "", 1) == (ran.status, ran.out, ran.err.count("\n"))
    assert (False, before) == (FAULT in ran.err, _tree(here.parent))


def test_a_link_that_leads_out_of_the_folder(here: Path) -> None:
    """A folder in the tree that is a link to somewhere else is not written through."""
    elsewhere = here.parent / "elsewhere"
    elsewhere.mkdir()
    (here / "java src").mkdir()
    (here / "java src" / "club").symlink_to(elsewhere, target_is_directory=True)
    ran = _export()
    assert (2, {}) == (ran.status, _tree(elsewhere))
    assert "leads out of java src, so nothing was written" in ran.err


@pytest.mark.parametrize("in_the_way", ["java src", "java src/club", "java src/club/moth/auto"])
def test_a_file_where_a_folder_should_be(here: Path, in_the_way: str) -> None:
    """A file in a folder's place stays, and nothing else is written."""
    (here / in_the_way).parent.mkdir(parents=True, exist_ok=True)
    (here / in_the_way).write_text("mine", encoding="utf-8")
    before = _tree(here)
    ran = _export()
    assert (2, 1, False) == (ran.status, ran.err.count("\n"), FAULT in ran.err)
    assert before == _tree(here)


@pytest.mark.parametrize("failing", range(6))
@pytest.mark.parametrize("older", [False, True])
def test_all_files_or_none(
    here: Path, monkeypatch: pytest.MonkeyPatch, failing: int, older: bool
) -> None:
    """A disk that fails at any file leaves everything as it was: old files old, new ones gone."""
    if older:
        _export()
        routine = here / "first_lamp.routine"
        text = routine.read_text(encoding="utf-8").replace("after 4 s", "after 4.5 s")
        routine.write_text(text, encoding="utf-8")
        for path in sorted((here / "java src").rglob("*.java"))[1::2]:
            path.unlink()
    before = _tree(here)
    renames = iter(range(100))
    replace = Path.replace

    def fail(self: Path, target: Path) -> Path:
        if next(renames) == failing:
            raise OSError(28, "No space left on device")
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", fail)
    ran = _export()
    assert (2, True) == (ran.status, "the disk is full. Nothing was changed." in ran.err)
    assert before == _tree(here)
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
    assert 2 == _export().status
    assert ["first_lamp.routine", "moth.bot"] == sorted(os.listdir(here))
