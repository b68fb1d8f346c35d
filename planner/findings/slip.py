"""A slip: a fault met while reading, kept as data until a check puts it into words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from planner.text import Place


@dataclass(frozen=True, slots=True)
class Slip:
    """What the tree or the model could not make sense of.

    `check` names the check that will report it, `word` is the user's own text, `known` are the
    names that would have fitted there, and `facts` holds what else that check's message needs.
    """

    check: str
    place: Place
    word: str
    known: tuple[str, ...] = ()
    facts: Mapping[str, str] = field(default_factory=dict)
    step: str = ""
    """The step the slip is in, empty outside of steps."""
    other: Place | None = None
    """A second place, such as where a name was used first."""
