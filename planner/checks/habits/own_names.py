"""Habits that can only be seen with the plan's own names at hand."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from planner.checks.habits.habit import Habit
from planner.model import Robot

_PART = re.compile(r"[A-Z]?[a-z0-9]+|[A-Z]+(?![a-z])")


def in_pieces(names: Iterable[str], robot: Robot) -> tuple[Habit, ...]:
    """``range front`` for `range_front` and ``Stand Back`` for `StandBack`."""
    return tuple(
        Habit(
            rf"(?<!\w)(?!{name}\b)(?i:{'[ _-]?'.join(parts)})(?!\w)",
            name,
            f"`{{seen}}` is written `{name}`",
            "A name is one word, and is spelled the same everywhere.",
        )
        for name in names
        if len(parts := _PART.findall(name)) > 1 and not _told(parts, robot)
    )


def _told(parts: Sequence[str], robot: Robot) -> bool:
    """Whether the parts are a mechanism and what it is asked or told."""
    mechanism = robot.mechanisms.get(parts[0])
    rest = "_".join(parts[1:])
    return mechanism is not None and (rest in mechanism.commands or rest in mechanism.readings)


def without_step(names: Iterable[str]) -> tuple[Habit, ...]:
    """A heading that begins with its name, where that is led to and declared nowhere."""
    return tuple(
        Habit(
            rf"^(?={name}\b)",
            "step ",
            "a step's line begins with the word `step`",
            "Then comes its name, and a title in quotes if you like.",
            rules=("file_line", "group_line", "task_line"),
        )
        for name in names
    )


def done_alone(told: Sequence[str]) -> tuple[Habit, ...]:
    """``when done``, where the step tells one mechanism that reports it; `told` are such ones."""
    return tuple(
        Habit(
            r"^when\s+(?:it\s+is\s+|all\s+|everything\s+is\s+)?(?P<here>done|finished|ready)(?=,)",
            f"when {name} done",
            "`{seen}` does not say who is done",
            "Several mechanisms can be at work in one step.",
            rules=("step_line",),
        )
        for name in told[:1]
    )
