"""When each step of a plan can be entered, and whether every run finishes, for what was chosen."""

from __future__ import annotations

from dataclasses import dataclass

from planner.checks.shown_run import run_that_shows
from planner.checks.timing import bounds_for, is_cut_off, late_run
from planner.graph import Plan
from planner.graph.unfold import Exit
from planner.model.choices import Variant
from planner.reach.search import Bounds, Holds, Stopped
from planner.reach.verdict import Verdict, Window, verdict
from planner.rehearsal.conflicts import Conflict, conflicts


@dataclass(frozen=True, slots=True)
class Timetable:
    """What every run of a plan keeps to, for one combination of what was chosen."""

    plan: Plan
    chosen: Variant
    entries: dict[str, Window]
    """When each step is entered, finishes too, in the order of the text. No run enters it before
    or after; steps that no run enters are left out."""
    whole: bool
    """Whether the search came to its end; if not, `entries` are what it had found by then."""
    late: bool
    """Whether some run is in no finish when the routine's limit comes."""
    stopped: str
    """Why that is not known, after the words *The search of all runs*; empty where it is."""
    conflicts: tuple[Conflict, ...] = ()
    """Where the order of two exits decides."""
    never: tuple[Exit, ...] = ()
    """An exit of each line that no run takes, of those in steps that runs enter."""

    @property
    def finishes(self) -> dict[str, Window]:
        """When each finish is entered."""
        return {name: w for name, w in self.entries.items() if self.plan.step(name).is_finish}


def timetable(plan: Plan, chosen: Variant, bounds: Bounds | None = None) -> Timetable:
    """Searches all runs of a plan, which must be free of errors; as far as a check does."""
    found = verdict(plan, bounds or bounds_for(plan))
    late, stopped = _late(plan, found)
    whole = found.stopped is None
    earliest_us = {name: window.earliest_us for name, window in found.entries.items()}
    decided = tuple(conflicts(plan, earliest_us, whole))
    never = tuple(_never_taken(plan, found)) if whole else ()
    return Timetable(plan, chosen, found.entries, whole, late, stopped, decided, never)


def _never_taken(plan: Plan, found: Verdict) -> list[Exit]:
    asked = [exit_ for exit_ in plan.all_exits() if exit_.source in found.entries]
    taken = {exit_.place for exit_ in asked if (exit_.source, exit_.number) in found.taken}
    lines = {exit_.place: exit_ for exit_ in reversed(asked) if exit_.place not in taken}
    return sorted(lines.values(), key=lambda exit_: exit_.place.order)


def _late(plan: Plan, found: Verdict) -> tuple[bool, str]:
    """Whether a run is late, or why it is not known. A run counts once it has been played."""
    if isinstance(found.in_time, Holds):
        return False, ""
    if found.proposed is None:
        assert isinstance(found.in_time, Stopped), "what fails has a run"
        return False, f"came to no answer: it ended at {found.in_time.bound}"
    shown = run_that_shows(plan, found.proposed, late_run, is_cut_off)
    # No text means that it is so at another end of a range, and the answer is for all of it.
    return (False, shown) if isinstance(shown, str) and shown else (True, "")
