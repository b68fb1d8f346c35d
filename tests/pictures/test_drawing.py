"""Running the layout program, and what is said when it does not run."""

from __future__ import annotations

import importlib.metadata
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from demo import check

from planner.pictures import picture
from planner.shell import drawing
from planner.shell.drawing import DrawingError, render
from planner.shell.trouble import Trouble

SMALL = "// a title\n// some words\ndigraph { a -> b }\n"


def stand_in(monkeypatch: pytest.MonkeyPatch, folder: Path, text: str) -> Path:
    """A Python program that is run in place of the one that is asked for, on any system."""
    script = folder / "stand_in.py"
    script.write_text(text, encoding="utf-8")
    run = subprocess.run

    def instead(arguments: list[str], **options: Any) -> Any:
        return run([sys.executable, str(script), *arguments], **options)

    monkeypatch.setattr(subprocess, "run", instead)
    return folder / "dot"


def test_svg() -> None:
    """An SVG is XML with the title and the words of the comment lines."""
    svg = render(SMALL, "svg").decode()
    assert '<title id="picture-title">a title</title>' in svg
    assert '<desc id="picture-description">some words</desc>' in svg


def test_png() -> None:
    """A PNG begins with the eight bytes that ISO/IEC 15948 gives and ends with its last chunk."""
    png = render(SMALL, "png")
    assert b"\x89PNG\r\n\x1a\n" == png[:8]
    assert b"IEND\xaeB`\x82" == png[-8:]


def test_dot() -> None:
    """The format dot is the text itself, as UTF-8, and needs no program."""
    assert "digraph { é }".encode() == render("digraph { é }", "dot", "system")


def test_same_bytes() -> None:
    """The same text gives the same bytes."""
    dot = picture(check("start A\nstep A\n  after 1 s, go to B\nfinish B\n").plan)
    assert render(dot, "png") == render(dot, "png")
    assert render(dot, "svg") == render(dot, "svg")


def test_program_is_found_without_a_path(monkeypatch: pytest.MonkeyPatch) -> None:
    """The packaged program is found where its installer says, also if no PATH names the folder."""
    monkeypatch.setenv("PATH", "")
    assert render(SMALL, "svg").startswith(b"<?xml")


def test_program_is_found_without_a_record(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the installer left no record, the folders for scripts are looked through."""

    def unknown(name: str) -> importlib.metadata.Distribution:
        raise importlib.metadata.PackageNotFoundError(name)

    monkeypatch.setattr(importlib.metadata, "distribution", unknown)
    monkeypatch.setenv("PATH", "")
    assert render(SMALL, "svg").startswith(b"<?xml")


def test_windows_name(monkeypatch: pytest.MonkeyPatch) -> None:
    """On Windows the program's name ends in .exe, which its record may spell in capitals."""
    record = importlib.metadata.PackagePath("../../Scripts/graphviz-pure.EXE")
    wanted = Path(sys.prefix) / "Scripts" / "graphviz-pure.EXE"

    class Installed(importlib.metadata.Distribution):
        files = (record,)  # type: ignore[assignment]

        def read_text(self, _filename: str) -> str | None:
            return None

        def locate_file(self, _path: object) -> Path:
            return wanted

    record.dist = Installed()
    monkeypatch.setattr(importlib.metadata, "distribution", lambda _name: record.dist)
    places = list(drawing._places("graphviz-pure.exe"))
    assert wanted == places[0]


def test_missing_program(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the packaged program is nowhere, one line says which package to install."""
    monkeypatch.setattr(drawing, "_places", lambda _name: iter([Path("nowhere")]))
    with pytest.raises(DrawingError) as caught:
        render(SMALL, "svg")
    assert (
        "the layout program graphviz-pure is not installed; "
        "run `python -m pip install graphviz-pure`"
    ) == caught.value.message


def test_missing_system_program(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a system's dot is asked for and there is none, one line says so."""
    monkeypatch.setenv("PATH", "")
    with pytest.raises(DrawingError, match="no `dot` on its PATH") as caught:
        render(SMALL, "svg", "system")
    assert "\n" not in caught.value.message


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "import sys\nprint('Error: it broke', file=sys.stderr)\nsys.exit(3)",
            "dot could not draw the picture: Error: it broke",
        ),
        ("raise SystemExit(4)", "dot could not draw the picture: it ended with status 4"),
        ("", "dot could not draw the picture: it ended with status 0"),
    ],
)
def test_failing_program(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, message: str
) -> None:
    """A program that fails, or that draws nothing, ends in one line with its own reason."""
    program = stand_in(monkeypatch, tmp_path, text)
    monkeypatch.setattr(drawing, "_program", lambda _engine: program)
    with pytest.raises(DrawingError) as caught:
        render(SMALL, "png", "system")
    assert message == caught.value.message


def test_program_that_cannot_be_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A program that the system refuses to run ends in one line with the system's reason."""
    # No system runs a folder.
    monkeypatch.setattr(drawing, "_program", lambda _engine: tmp_path)
    with pytest.raises(DrawingError, match="cannot run"):
        render(SMALL, "png")


def test_program_that_hangs(monkeypatch: pytest.MonkeyPatch) -> None:
    """A program that does not end is stopped, and one line says what to do."""

    def hang(*_arguments: object, **_options: object) -> None:
        raise subprocess.TimeoutExpired("dot", 60)

    monkeypatch.setattr(subprocess, "run", hang)
    with pytest.raises(DrawingError, match="took longer than 60 s"):
        render(SMALL, "png")


def test_system_program_is_the_one_on_the_path(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When the system's dot is asked for, it is the one that PATH names, and gets the text."""
    program = tmp_path / ("dot.exe" if os.name == "nt" else "dot")
    program.touch(mode=0o755)
    stand_in(monkeypatch, tmp_path, "import sys\nprint(sys.argv[1], sys.stdin.read())")
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}{os.environ['PATH']}")
    ran, text = render(SMALL, "png", "system").decode().split(maxsplit=1)
    assert os.path.normcase(program) == os.path.normcase(ran)
    assert SMALL.split() == text.split()


def test_a_text_that_is_no_dot() -> None:
    """A text that the program cannot read ends in one line."""
    with pytest.raises(DrawingError, match="syntax error"):
        render("digraph {", "svg")


def test_an_error_is_trouble() -> None:
    """The command line ends with one line and status 2 on any failure to draw."""
    assert issubclass(DrawingError, Trouble)
