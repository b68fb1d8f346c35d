"""From DOT text to the bytes of a picture, by a layout program that runs beside this one.

The program comes with a package this one depends on, so that pictures are the same on every
machine; a `dot` of the system is used only when asked for.
"""

from __future__ import annotations

import importlib.metadata
import os
import re
import shutil
import subprocess
import sys
import sysconfig
from collections.abc import Iterator
from html import escape
from itertools import takewhile
from pathlib import Path
from typing import Literal

from planner.shell.trouble import Trouble

__all__ = ["FORMATS", "DrawingError", "Engine", "Format", "render"]

Format = Literal["svg", "png", "dot"]
FORMATS: tuple[Format, ...] = ("svg", "png", "dot")

Engine = Literal["packaged", "system"]
"""The layout program that came with this package, or the system's `dot`."""

_PACKAGE = "graphviz-pure"
_PNG_DPI = "144"
"""So that a projector's pixels suffice for the text of twenty steps."""
_PATIENCE_S = 60

_COMMENT = "//"
_SVG_TAG = re.compile(rb"<svg\b[^>]*>")


class DrawingError(Trouble):
    """No picture could be made; the message says why and what to do, in one line."""


def render(dot: str, format: Format, engine: Engine = "packaged") -> bytes:
    """The picture of a DOT text as the bytes of a file.

    An SVG carries the first comment line at the top of the DOT text as its title, and the other
    ones as its description. Raises `DrawingError` where the layout program is missing, fails, or
    takes longer than a minute.
    """
    if format == "dot":
        return dot.encode()
    drawn = _run(_program(engine), dot, format)
    return _described(drawn, dot) if format == "svg" else drawn


def _run(program: Path, dot: str, format: Format) -> bytes:
    arguments = [str(program), "-Kdot", f"-T{format}"]
    if format == "png":
        arguments.append(f"-Gdpi={_PNG_DPI}")
    try:
        done = subprocess.run(
            arguments, input=dot.encode(), capture_output=True, timeout=_PATIENCE_S, check=False
        )
    except subprocess.TimeoutExpired:
        raise DrawingError(
            f"drawing took longer than {_PATIENCE_S} s and was given up; "
            "draw a routine with fewer steps, or ask for the format dot"
        ) from None
    except OSError as error:
        raise DrawingError(f"cannot run {program}: {error.strerror or error}") from None
    if done.returncode != 0 or not done.stdout:
        raise DrawingError(f"{program.name} could not draw the picture: {_complaint(done)}")
    return done.stdout


def _complaint(done: subprocess.CompletedProcess[bytes]) -> str:
    """The first line the program wrote about its failure."""
    lines = done.stderr.decode("utf-8", "replace").splitlines()
    errors = [line for line in lines if line.startswith("Error")] or lines
    return errors[0].strip() if errors else f"it ended with status {done.returncode}"


def _program(engine: Engine) -> Path:
    if engine == "system":
        found = shutil.which("dot")
        if found is None:
            raise DrawingError(
                "the system has no `dot` on its PATH; leave out the wish for it, "
                "or install Graphviz"
            )
        return Path(found)
    for place in _places(f"{_PACKAGE}.exe" if os.name == "nt" else _PACKAGE):
        if place.is_file():
            return place
    raise DrawingError(
        f"the layout program {_PACKAGE} is not installed; run `python -m pip install {_PACKAGE}`"
    )


def _places(name: str) -> Iterator[Path]:
    """Where an installer may have put the program of that name, surest first."""
    # The installer's own record names it in any virtual environment, also on Windows.
    try:
        recorded = importlib.metadata.distribution(_PACKAGE).files or []
    except importlib.metadata.PackageNotFoundError:
        recorded = []
    for file in recorded:
        if file.name.lower() == name:
            yield Path(str(file.locate()))
    yield Path(sysconfig.get_path("scripts")) / name
    yield Path(sysconfig.get_path("scripts", f"{os.name}_user")) / name
    yield Path(sys.executable).parent / name
    on_path = shutil.which(name)
    if on_path:
        yield Path(on_path)


def _described(svg: bytes, dot: str) -> bytes:
    """The SVG with a title and a description that programs which read pages aloud look for."""
    tag = _SVG_TAG.search(svg)
    title, *words = _comments(dot) or [""]
    if tag is None or not title:
        return svg
    opening = tag.group()[:-1] + b' role="img" aria-labelledby="picture-title picture-description">'
    head = (
        f'\n<title id="picture-title">{escape(title, quote=False)}</title>'
        f'\n<desc id="picture-description">{escape(chr(10).join(words), quote=False)}</desc>'
    )
    return svg[: tag.start()] + opening + head.encode() + svg[tag.end() :]


def _comments(dot: str) -> list[str]:
    """The comment lines a DOT text begins with, without their slashes."""
    head = takewhile(lambda line: line.startswith(_COMMENT), dot.split("\n"))
    return [line.removeprefix(_COMMENT).strip() for line in head]
