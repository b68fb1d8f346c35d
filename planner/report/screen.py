"""The screen or pipe that a report is laid out for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum


class Role(Enum):
    """What a piece of a report is, so that a terminal can tell the pieces apart."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"
    FILE = "file"
    LABEL = "label"
    PASSED = "passed"
    FAILED = "failed"


def _unstyled(_role: Role, text: str) -> str:
    return text


@dataclass(frozen=True, slots=True)
class Screen:
    """How wide it is, which characters it has, and how a role looks on it."""

    width: int = 80
    """In columns."""
    encoding: str = "utf-8"
    """The name of a Python codec; characters it lacks are shown as ``?``."""
    style: Callable[[Role, str], str] = _unstyled
    """Adds colour to a text that is already laid out."""
