"""Slips made on purpose in sound plans: which of them are found.

`python -m pytest tests/quality --regenerate` writes the whole table again, in some minutes.
"""

from __future__ import annotations

import random
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import islice

from gallery.examples import checked, find_robot, find_tasks, text
from quality.judged_by_rehearsal import Run, Sensors, played
from quality.slips_of_a_plan import KINDS, Slip, slips

from planner.findings import Severity
from planner.graph import Plan
from planner.model.choices import variants
from planner.pipeline import Checked, check_routine, plan_for
from planner.text import Source

MOST_OF_A_KIND = 3
RUNS = 48
MOST_VARIANTS = 4


@dataclass(frozen=True, slots=True)
class Judged:
    """A slip, what it does and what is said of it."""

    routine: str
    kind: str
    line: int
    changes: bool
    """Whether some run goes another way."""
    late: bool
    """Whether some run is cut off outside of a finish, where no run of the sound plan was."""
    left_on: bool
    """Whether a motor runs into a finish, or after it, that never did in the sound plan."""
    checks: tuple[str, ...]
    """The errors and warnings that the sound plan does not earn, errors with a mark."""

    @property
    def breaks(self) -> bool:
        """Whether it breaks a guarantee."""
        return self.late or self.left_on

    @property
    def is_sound(self) -> bool:
        """Whether no run shows it."""
        return not self.changes and not self.breaks

    @property
    def row(self) -> str:
        """One line of the table."""
        does = "sound" if not self.changes else "changed"
        kinds = [word for word, holds in (("late", self.late), ("left on", self.left_on)) if holds]
        does = " and ".join(kinds) or does
        found = ", ".join(self.checks) or "-"
        return f"{self.routine:<20} {self.kind:<19} {self.line:>5} {does:<16} {found}"


def row_read(line: str) -> Judged:
    """A line of the table as what it says."""
    routine, kind, number = line[:21].strip(), line[21:41].strip(), int(line[41:46])
    does, told = line[47:63].strip(), line[63:].strip()
    return Judged(
        routine,
        kind,
        number,
        changes=does != "sound",
        late="late" in does,
        left_on="left on" in does,
        checks=() if told == "-" else tuple(told.split(", ")),
    )


def judged(routine: str) -> Iterator[Judged]:
    """The slips made in a routine, as they were judged."""
    sound = checked(routine)
    draw = random.Random(routine)
    for slip in slips(text(routine), sound.plan, draw, MOST_OF_A_KIND):
        source = Source(f"{routine}.routine", slip.text)
        yield _judged(routine, slip, sound, check_routine(source, find_robot, (), find_tasks))


def _judged(routine: str, slip: Slip, sound: Checked, with_slip: Checked) -> Judged:
    pairs = [
        pair
        for choices in islice(variants(sound.plan.routine.choices), MOST_VARIANTS)
        for pair in _pairs(plan_for(sound, choices), plan_for(with_slip, choices), slip)
    ]
    before = {(f.check, f.place.line_text.strip()) for f in sound.findings}
    told = [
        f"{finding.check}{'!' if finding.severity is Severity.ERROR else ''}"
        for finding in with_slip.findings
        if finding.severity is not Severity.NOTE
        and (finding.check, finding.place.line_text.strip()) not in before
    ]
    was_left_on = {name for run, _ in pairs for name in run.left_on}
    return Judged(
        routine,
        slip.kind,
        slip.line,
        any(run.story != other.story for run, other in pairs),
        any(other.cut_off for _, other in pairs) and not any(run.cut_off for run, _ in pairs),
        any(other.left_on - was_left_on for _, other in pairs),
        tuple(dict.fromkeys(told)),
    )


def _pairs(sound: Plan, with_slip: Plan, slip: Slip) -> Iterator[tuple[Run, Run]]:
    """Runs of both plans with the same sensors, aimed at the exits of the one and of the other."""
    steps = _steps_of(sound, slip.line)
    for number in range(RUNS):
        for plans in ((sound, with_slip), (with_slip, sound)):
            towards = steps[number // 2 % len(steps)] if steps and number % 2 else ""
            sensors = Sensors(plans, f"{slip.kind} {slip.line} {number}", towards)
            yield played(sound, sensors), played(with_slip, sensors)


def _steps_of(plan: Plan, line: int) -> list[str]:
    """The steps in which a line of the routine's file counts."""
    file = plan.routine.place.source
    found = [
        name
        for name, step in plan.routine.steps.items()
        for place in (
            *(given.place for given in step.commands),
            *(exit_.written.place for exit_ in plan.exits[name]),
        )
        if place.line == line and place.source.name == file.name
    ]
    return list(dict.fromkeys(found))


def table(rows: Iterable[Judged]) -> str:
    """By kind of slip: how many were made, what they do, how many of them are found."""
    every = list(rows)
    lines = [
        "slip                 made  changed  found  breaks  found  unfound  sound  false  errors",
    ]
    for kind in (*KINDS, "all"):
        of_kind = [one for one in every if kind in (one.kind, "all")]
        changed = [one for one in of_kind if not one.is_sound]
        breaks = [one for one in of_kind if one.breaks]
        sound = [one for one in of_kind if one.is_sound]
        counts = (
            len(of_kind),
            len(changed),
            sum(bool(one.checks) for one in changed),
            len(breaks),
            sum(bool(one.checks) for one in breaks),
            sum(not one.checks for one in breaks),
            len(sound),
            sum(bool(one.checks) for one in sound),
            sum(any(check.endswith("!") for check in one.checks) for one in sound),
        )
        cells = zip((6, 9, 7, 8, 7, 9, 7, 7, 8), counts, strict=True)
        lines.append(f"{kind:<19}" + "".join(f"{number:>{width}}" for width, number in cells))
    return "\n".join(lines) + "\n"
