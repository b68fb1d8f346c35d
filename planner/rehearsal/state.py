"""What the reference machine remembers, and what it tells of itself."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Any

from planner.graph.unfold import Exit
from planner.model.routine import MatchExit
from planner.rehearsal.conditions import Number, Readings
from planner.rehearsal.truth import Truth


@dataclass(slots=True)
class Visit:
    """The present stay in a step or group: since when, and what it remembers (M2, M5)."""

    entered_us: int
    at_entry: Readings
    """The readings of the pass that entered it, for those that count from there."""
    memory: dict[int, Any] = field(default_factory=dict)
    """What its conditions on several passes keep, by their number."""

    def copy(self) -> Visit:
        """A visit that later passes leave alone."""
        return replace(self, memory=dict(self.memory))


@dataclass(slots=True)
class State:
    """All that a machine remembers between two passes."""

    step: str = ""
    """The active step; empty before the first pass. While lanes run, the block's own step."""
    lanes: dict[str, str] = field(default_factory=dict)
    """The active step of each lane of the active block, in the order written; none outside of
    blocks. A lane that has come to its end is in that step (M8)."""
    started_us: int = 0
    over: bool = False
    """True once the routine's limit or a stop has switched everything off."""
    visits: dict[str, Visit] = field(default_factory=dict)
    """Of the active steps and the groups around them by name, and of the routine under no name."""
    spent: set[MatchExit] = field(default_factory=set)
    """The match-clock exits that were taken, or whose time came in their own target (M4)."""
    counts: dict[str, int] = field(default_factory=dict)
    """How often counted exits were taken, by counter (M9)."""
    remembered: dict[str, Number | str] = field(default_factory=dict)
    """What each memory and counter holds, by name: a number in the memory's unit, a word, a count
    (M13, M14)."""
    running: dict[str, str] = field(default_factory=dict)
    """The mechanisms whose latest command is one that runs, each with the step or group whose end
    switches it off; with no name if it was given with `keep` or by a rule of the routine."""

    def copy(self) -> State:
        """A state that later passes leave alone."""
        return replace(
            self,
            lanes=dict(self.lanes),
            visits={owner: visit.copy() for owner, visit in self.visits.items()},
            spent=set(self.spent),
            counts=dict(self.counts),
            remembered=dict(self.remembered),
            running=dict(self.running),
        )


@dataclass(frozen=True, slots=True)
class Active:
    """A step that is active, and since when on the match clock."""

    step: str
    entered_us: int


@dataclass(frozen=True, slots=True)
class Asked:
    """An exit of an active step as the next pass would find it."""

    exit: Exit
    truth: Truth
    in_time: bool
    """Whether it becomes true by itself if no reading changes any more."""
    due_us: int | None
    """When it becomes true on the match clock; None for an exit that waits for a condition."""
    times_left: int | None
    """How often a counted exit can still be taken; None where it is not counted."""
