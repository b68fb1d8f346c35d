"""Rehearsed scenarios as a person reads them in a terminal."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.findings import Finding
from planner.graph import Plan
from planner.graph.run import Finished, LimitReached
from planner.model.scenario import Scenario
from planner.model.units import seconds_text
from planner.rehearsal import Difference, Played
from planner.report.columns import NARROWEST, Cell, Column, in_columns
from planner.report.glyphs import harmless
from planner.report.outcome import Unread
from planner.report.prose import sentence, wrapped
from planner.report.screen import Role, Screen
from planner.report.storyboard import storyboard
from planner.report.summary import counted
from planner.report.text import as_text

LAST_LINES = 8
"""How much of a failed run is shown."""


@dataclass(frozen=True, slots=True)
class Rehearsed:
    """A scenario and its run; a scenario that makes no sense has findings in place of a run."""

    scenario: Scenario
    played: Played | None
    findings: tuple[Finding, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether it was played and met every demand."""
        return self.played is not None and self.played.passed


@dataclass(frozen=True, slots=True)
class RehearsedRoutine:
    """A routine and its scenarios; none are played where it has errors."""

    name: str
    """The path of its file."""
    plan: Plan
    scenarios: tuple[Rehearsed, ...] = ()
    errors: tuple[Finding, ...] = ()
    """Errors of the routine, its robot file, or between the scenarios of their own file."""
    playable: bool = True

    @property
    def failed(self) -> bool:
        """Whether anything is wrong with it."""
        return bool(self.errors) or not all(one.passed for one in self.scenarios)


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """All that a command rehearsed."""

    routines: tuple[RehearsedRoutine, ...]
    left_out: tuple[str, ...] = ()
    unread: tuple[Unread, ...] = ()

    @property
    def failed(self) -> bool:
        """Whether anything failed."""
        return any(routine.failed for routine in self.routines)

    def all(self) -> Iterator[Rehearsed]:
        """Every scenario."""
        for routine in self.routines:
            yield from routine.scenarios


def as_rehearsal_text(rehearsal: Rehearsal, screen: Screen, trace: bool = False) -> str:
    """Routine by routine, each scenario's verdict and what differed; with `trace` every run."""
    return "\n".join(_routine(routine, screen, trace) for routine in rehearsal.routines)


def rehearsal_summary(rehearsal: Rehearsal) -> str:
    """One line that counts what was rehearsed and what came of it."""
    routines = counted(len(rehearsal.routines), "routine")
    scenarios = list(rehearsal.all())
    passed = sum(one.passed for one in scenarios)
    parts = [f"{passed} passed"] if passed else []
    failed = len(scenarios) - passed
    parts += [f"{failed} failed"] if failed else []
    unplayed = sum(not routine.playable for routine in rehearsal.routines)
    parts += [f"{counted(unplayed, 'routine')} not played"] if unplayed else []
    unread = f"{counted(len(rehearsal.unread), 'file')} could not be read"
    if not rehearsal.routines:
        return f"Nothing was rehearsed: {unread}." if rehearsal.unread else "Nothing to rehearse."
    said = f"Rehearsed {counted(len(scenarios), 'scenario')} of {routines}"
    return f"{said}{': ' if parts else ''}{', '.join(parts)}." + (
        f" But {unread}." if rehearsal.unread else ""
    )


def where(difference: Difference) -> str:
    """The place of a demand, for a reader or an editor to go to."""
    place = difference.demand.place
    return f"{place.source.name}:{place.line}"


def demanded(difference: Difference) -> str:
    """A demand as it is written."""
    return " ".join(difference.demand.place.words.split())


def end_of(played: Played) -> str:
    """How a run ended, in a few words; every run ends in a finish or at the limit."""
    last = next(e for e in reversed(played.events) if isinstance(e, Finished | LimitReached))
    word = "finished" if isinstance(last, Finished) else "cut off"
    return f"{word} in {last.step} at {seconds_text(last.at_us)}"


def _routine(routine: RehearsedRoutine, screen: Screen, trace: bool) -> str:
    blocks = [screen.style(Role.FILE, harmless(routine.name, screen.encoding)) + "\n"]
    if not routine.playable:
        blocks.append(_remark("Not played: a plan with errors has no meaning to rehearse.", screen))
    elif not routine.scenarios and not routine.errors:
        blocks.append(_remark(_hint(routine), screen))
    for one in routine.scenarios:
        blocks.append(_scenario(routine.plan, one, screen, trace))
    if routine.errors:
        blocks.append("\n" + as_text(routine.errors, screen))
    # A storyboard is followed by a blank line, which the last one does not need.
    return "".join(blocks).rstrip("\n") + "\n"


def _hint(routine: RehearsedRoutine) -> str:
    path = f'"{routine.name}"' if " " in routine.name else routine.name
    return (
        "No scenarios. To run it by hand and keep the run as one: "
        f"planner rehearse {path} --by-hand"
    )


def _remark(text: str, screen: Screen) -> str:
    rows = wrapped(harmless(text, screen.encoding), max(NARROWEST, screen.width) - 2)
    return "".join(f"  {row}\n" for row in rows)


def _scenario(plan: Plan, one: Rehearsed, screen: Screen, trace: bool) -> str:
    text = in_columns(_COLUMNS, _verdict(one, trace), screen)
    if one.played is None:
        return text + "\n" + as_text(one.findings, screen) + "\n"
    if trace or not one.passed:
        last = None if trace else LAST_LINES
        run, chosen = one.played, one.scenario.choices
        text += "\n" + storyboard(plan, run.events, run.seen, screen, last, chosen) + "\n"
    return text


_COLUMNS = (Column(1), Column(6), Column())


def _verdict(one: Rehearsed, trace: bool) -> Iterator[tuple[Cell, Cell, Cell]]:
    """Passed or failed, and where it failed what differed, at its place."""
    verdict = (Role.PASSED, "passed") if one.passed else (Role.FAILED, "FAILED")
    title = f' "{one.scenario.title}"' if one.scenario.title else ""
    yield "", verdict, sentence(one.scenario.name + title, "utf-8")
    if one.played is None:
        yield "", "", "not played, because it makes no sense:"
        return
    for difference in one.played.differences:
        yield "", "", f"{where(difference)}: {demanded(difference)}"
        yield "", "", f"instead: {sentence(difference.seen, 'utf-8')}"
    if trace and one.passed:
        yield "", "", end_of(one.played)
