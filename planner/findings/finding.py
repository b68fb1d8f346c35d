"""A finding: one fault, where it is, why it matters and the way out."""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum

from planner.text import Place


class Severity(IntEnum):
    """How much a finding weighs; the larger number is the worse."""

    NOTE = 1
    WARNING = 2
    ERROR = 3

    @property
    def word(self) -> str:
        """The word the user sees."""
        return self.name.lower()


@dataclass(frozen=True, slots=True)
class Related:
    """Another place that belongs to a finding, and what it is there for."""

    place: Place
    label: str


@dataclass(frozen=True, slots=True)
class Moment:
    """A moment of a run that shows a finding: a step is left, or is where the run is cut off."""

    earliest_us: int
    latest_us: int
    """Between these times on the match clock it happens, on a run of these moments."""
    step: str
    why: str
    """What ends the step, as the plan writes it: ``after 4 s``."""
    seen: tuple[str, ...] = ()
    """What the sensors say then, in the words of a scenario."""


@dataclass(frozen=True, slots=True)
class ShownRun:
    """A run that shows a finding, from the start; it was played before it was put here."""

    moments: tuple[Moment, ...]
    chosen: tuple[tuple[str, str], ...] = ()
    """What was chosen before it, each choice with its word or number."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault as data; every report renders this object and adds no fact of its own."""

    check: str
    """The name of the check, such as ``wait-without-limit``."""
    severity: Severity
    place: Place
    headline: str
    """One sentence that stands alone, without a full stop."""
    why: str
    """Why it matters on a field, in whole sentences."""
    way_out: str
    """What to change, in whole sentences."""
    paste: tuple[str, ...] = ()
    """Lines of a plan that can be pasted as they are."""
    steps: tuple[str, ...] = ()
    """The steps it belongs to, so that a picture can mark them."""
    related: tuple[Related, ...] = ()
    run: ShownRun | None = None
    weight: int = 0
    """How bad it is beside other findings of the same check at the same place."""

    @property
    def forbids_playing(self) -> bool:
        """Whether a plan with it has no meaning that could be played: what a run shows was."""
        return self.severity is Severity.ERROR and not self.run

    @property
    def order(self) -> tuple[str, int, int, int, str, str]:
        """A key that sorts findings as a reader meets them, the same on every machine."""
        return (*self.place.order, self.check, self.headline)
