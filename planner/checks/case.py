"""What a check is given, and what it gives back."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from types import ModuleType
from typing import TypeVar, cast

from planner.findings import Finding, Related, Severity, ShownRun, Slip
from planner.graph import Plan
from planner.graph.owners import owners
from planner.model import Robot, Routine
from planner.model.scenario import Scenario
from planner.text import Place

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Case:
    """One file to be checked: a routine with its robot, or a robot file.

    For a robot file `plan` is None, and `routines` are the routines that were checked along with
    it; where there are none, nothing is said about what no routine uses. For a file of scenarios
    `scenario_file` holds them, and the routine they rehearse is there as well.
    """

    robot: Robot
    slips: tuple[Slip, ...]
    plan: Plan | None = None
    routines: tuple[Routine, ...] = ()
    scenario_file: tuple[Scenario, ...] | None = None
    tasks_alone: bool = False
    """Whether the plan is that of a file of tasks, done one by one and by no routine."""
    worked_out: dict[object, object] = field(default_factory=dict, compare=False, repr=False)
    """What several checks ask and one of them has worked out, by the function that did; see
    `once`."""

    def once(self, work: Callable[[Case], _T]) -> _T:
        """What a function makes of the case, worked out when it is asked for the first time."""
        if work not in self.worked_out:
            self.worked_out[work] = work(self)
        # The function that made it is its key.
        return cast(_T, self.worked_out[work])

    @property
    def whole_plan(self) -> Plan | None:
        """The plan, where nothing is missing that could change its runs; else None."""
        if self.plan is None:
            return None
        routine = self.plan.routine
        partly = routine.incomplete or routine.robot.missing or not routine.start
        partly = partly or any(owner.incomplete for owner in owners(routine))
        return None if partly else self.plan

    @property
    def scenarios(self) -> tuple[Scenario, ...]:
        """The scenarios of the file: a routine's own, or those of a file of their own."""
        if self.scenario_file is not None:
            return self.scenario_file
        return self.plan.routine.scenarios if self.plan else ()

    def slips_of(self, check: str) -> Iterator[Slip]:
        """The slips that the check of that name reports, as met."""
        return (slip for slip in self.slips if slip.check == check)


@dataclass(frozen=True, slots=True)
class Found:
    """A finding before the table has stamped the check's name and severity on it."""

    place: Place
    headline: str
    why: str
    way_out: str
    paste: tuple[str, ...] = ()
    steps: tuple[str, ...] = ()
    related: tuple[Related, ...] = ()
    weight: int = 0
    run: ShownRun | None = None


@dataclass(frozen=True, slots=True)
class Check:
    """A line of the table: how much the fault weighs, and the module that finds it."""

    severity: Severity
    module: ModuleType
    of_all: bool = False
    """Whether it is a fault only if every variant of a routine has it: what one choice leaves out
    another may use."""

    of_tasks: bool = False
    """Whether it can be told of a task that no routine does, whatever numbers it is given."""

    @property
    def name(self) -> str:
        """The module's name as the user sees it: ``wait-without-limit``."""
        return self.module.__name__.rpartition(".")[2].replace("_", "-")

    @property
    def page(self) -> str:
        """The manual page: the module's docstring."""
        assert self.module.__doc__ is not None, f"{self.name} has no manual page"
        return self.module.__doc__

    def findings(self, case: Case) -> Iterator[Finding]:
        """The faults of this kind in a case."""
        find: Callable[[Case], Iterator[Found]] = self.module.find
        for found in find(case):
            yield Finding(
                self.name,
                self.severity,
                found.place,
                found.headline,
                found.why,
                found.way_out,
                found.paste,
                found.steps,
                found.related,
                found.run,
                found.weight,
            )
