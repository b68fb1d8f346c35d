"""What the template of a plan prints of exits, all decided."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ExitCode:
    """An exit: the plan's lines, the test that opens it, and where it leads."""

    comments: tuple[str, ...]
    test: str
    leave: tuple[str, ...]
    """The statements that leave the groups it leads out of."""
    enter: str
    why: str
    counter: str = ""
    most: str = ""
    then_leave: tuple[str, ...] = ()
    then_enter: str = ""
    then_why: str = ""


@dataclass(frozen=True, slots=True)
class MatchCode:
    """A match-clock exit, which is taken once or counts as taken in its own target."""

    comment: str
    taken: str
    at: str
    is_there: str
    """The test that the plan is in its target."""
    leave: tuple[str, ...]
    enter: str
    why: str
    first: str = ""
    """Tests that no other one comes before it, where what is chosen decides."""
    is_asked_there: bool = True
    """Whether it is an exit of its own target too, which it then counts as taken in."""
