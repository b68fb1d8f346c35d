"""`planner draw`: where the picture goes, and what is said about it."""

from __future__ import annotations

import os
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from command import FAULT, moth_folder, planner

from planner.shell import draw as draw_module


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot and its smallest routine, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans", "first_lamp"))
    return tmp_path / "my plans"


def test_left_alone_it_draws_beside_the_routine(here: Path) -> None:
    """Without -o an SVG lands beside the routine, and the command says so."""
    os.chdir(here.parent)
    ran = planner("draw", "my plans/first_lamp.routine")
    expected = f"Drew {Path('my plans/first_lamp.svg')}"
    assert (0, True) == (ran.status, ran.out.startswith(expected))
    assert "{http://www.w3.org/2000/svg}svg" == ET.parse(here / "first_lamp.svg").getroot().tag


@pytest.mark.parametrize(
    ("name", "start"),
    [
        # Source: Portable Network Graphics Specification, second edition, section 5.2.
        ("out.png", b"\x89PNG\r\n\x1a\n"),
        ("OUT.PNG", b"\x89PNG\r\n\x1a\n"),
        ("new folder/deep/out.svg", b"<?xml"),
    ],
)
def test_the_ending_says_what_is_drawn(here: Path, name: str, start: bytes) -> None:
    """The kind follows from the name, and folders are made as needed."""
    assert 0 == planner("draw", "first_lamp.routine", "-o", name).status
    assert (here / name).read_bytes().startswith(start)


def test_the_same_plan_draws_the_same_text(here: Path) -> None:
    """A picture in version control changes only when the plan does."""
    planner("draw", "first_lamp.routine", "-o", "one.dot")
    planner("draw", "first_lamp.routine", "-o", "two.dot")
    assert (here / "one.dot").read_bytes() == (here / "two.dot").read_bytes()


def test_an_older_picture_is_replaced(here: Path) -> None:
    """Drawing again replaces the picture, and leaves no other file behind."""
    (here / "out.dot").write_text("old", encoding="utf-8")
    assert 0 == planner("draw", "first_lamp.routine", "-o", "out.dot").status
    assert (here / "out.dot").read_text(encoding="utf-8") != "old"
    assert ["first_lamp.routine", "moth.bot", "out.dot"] == sorted(os.listdir(here))


def test_a_plan_with_errors_is_drawn_with_its_marks(here: Path) -> None:
    """A fault is easier to see in a picture, so a plan with errors is drawn as well."""
    routine = here / "first_lamp.routine"
    text = routine.read_text(encoding="utf-8").replace("go to Place", "go to Plaice")
    routine.write_text(text, encoding="utf-8")
    ran = planner("draw", "first_lamp.routine", "-o", "out.dot")
    assert 0 == ran.status
    assert ran.out.startswith("Drew out.dot with 1 error")
    assert ran.out.endswith(" marked; to read them: planner check first_lamp.routine.\n")
    assert "1 error" in (here / "out.dot").read_text(encoding="utf-8")


def test_a_plan_without_steps_is_not_drawn(here: Path) -> None:
    """There is nothing to draw in an empty file: the findings say so, and no file is written."""
    (here / "odd.routine").write_text("routine odd\n", encoding="utf-8")
    ran = planner("draw", "odd.routine")
    assert (1, True) == (ran.status, "Nothing was drawn: odd.routine has no step.\n" in ran.out)
    assert ["first_lamp.routine", "moth.bot", "odd.routine"] == sorted(os.listdir(here))


def test_a_system_without_dot_says_so(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Asking for a layout program that is not there ends in one line, with no file."""
    monkeypatch.setenv("PATH", str(here))
    ran = planner("draw", "first_lamp.routine", "--engine", "system")
    assert (2, 1, False) == (ran.status, ran.err.count("\n"), FAULT in ran.err)
    assert ["first_lamp.routine", "moth.bot"] == sorted(os.listdir(here))


def test_a_disk_that_is_full(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A write that fails half way leaves the older picture as it was."""
    (here / "out.dot").write_text("old", encoding="utf-8")

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", fail)
    ran = planner("draw", "first_lamp.routine", "-o", "out.dot")
    expected = "planner: could not write out.dot: the disk is full. Nothing was changed.\n"
    assert (2, expected) == (ran.status, ran.err)
    assert "old" == (here / "out.dot").read_text(encoding="utf-8")
    assert ["first_lamp.routine", "moth.bot", "out.dot"] == sorted(os.listdir(here))


def test_a_layout_that_fails_leaves_no_file(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is written before the picture is whole."""

    def fail(*_: object) -> bytes:
        raise draw_module.Trouble("the layout gave up")

    monkeypatch.setattr(draw_module, "render", fail)
    ran = planner("draw", "first_lamp.routine")
    assert (2, "planner: the layout gave up\n") == (ran.status, ran.err)
    assert ["first_lamp.routine", "moth.bot"] == sorted(os.listdir(here))
