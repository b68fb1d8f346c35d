"""Tasks as declared: what they are given, how they end, and their steps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from planner.model.declared import Declared, declared_in
from planner.model.ledger import Ledger, declare
from planner.model.robot import Parameter
from planner.model.routine import Named
from planner.model.values import unit_named
from planner.text import Place
from planner.tree import nodes as n


@dataclass(slots=True, eq=False)
class Task:
    """A declared task; `used` is set when something calls it. Two are the same if they are one."""

    name: str
    parameters: tuple[Parameter, ...]
    ends: tuple[str, ...]
    declared: Declared
    """Its steps and blocks as written; it begins with the first."""
    place: Place
    end_places: tuple[Place, ...]
    last_line: int
    salvaged: bool
    """Whether one of its lines could not be read whole."""
    settings: Mapping[str, Named]
    """The settings of its file."""
    beside: Mapping[str, Task]
    """The tasks of its file, which it may do."""
    used: bool = False
    reached: set[str] = field(default_factory=set)
    """The outcomes that some exit of it leads to."""

    @property
    def heads(self) -> Mapping[str, n.Line]:
        """Its steps and blocks by name."""
        return self.declared.heads

    @property
    def first(self) -> str:
        """The name of its first step; empty where it has none."""
        return next(iter(self.heads), "")


def tasks_of(
    ledger: Ledger, lines: tuple[n.Line, ...], settings: Mapping[str, Named]
) -> dict[str, Task]:
    """The tasks that a file's lines declare; what makes no sense in them is a slip."""
    found: dict[str, Task] = {}
    taken: dict[str, Place] = {}
    for line in lines:
        head = line.statement
        if isinstance(head, n.TaskHead) and declare(ledger, head.name, taken, "task"):
            taken[head.name.text] = head.name.place
            found[head.name.text] = _task(ledger, line, head, settings, found)
    return found


def tell_unused(ledger: Ledger, tasks: Mapping[str, Task]) -> None:
    """Writes down the tasks that nothing does."""
    for task in tasks.values():
        if not task.used and task.heads:
            ledger.add("unused-task", task.place, task.name)


def tell_never_reached(ledger: Ledger, tasks: Mapping[str, Task]) -> None:
    """Writes down the outcomes that no exit leads to.

    A line of a task that makes no sense may have led to the outcome.
    """
    for task in tasks.values():
        inside = range(task.place.line, task.last_line + 1)
        if task.salvaged or not task.heads or any(s.place.line in inside for s in ledger.slips):
            continue
        for end, place in zip(task.ends, task.end_places, strict=True):
            if end not in task.reached:
                ledger.add("outcome-never-reached", place, end, task=task.name)


def _task(
    ledger: Ledger,
    line: n.Line,
    head: n.TaskHead,
    settings: Mapping[str, Named],
    beside: Mapping[str, Task],
) -> Task:
    parameters: list[Parameter] = []
    named: dict[str, Place] = {}
    for written in head.parameters:
        unit = unit_named(ledger, written.unit)
        if unit and declare(ledger, written.name, named, "parameter"):
            named[written.name.text] = written.name.place
            parameters.append(Parameter(written.name.text, unit))
    taken: dict[str, Place] = {}
    ends: dict[str, Place] = {}
    for end in head.ends:
        if declare(ledger, end, taken, "outcome"):
            taken[end.text] = ends[end.text] = end.place
    _tell_strays(ledger, head, line, ends)
    steps = (under for under in line.under if not isinstance(under.statement, n.FinishHead))
    declared = declared_in(ledger, tuple(steps), taken)
    if not declared.heads and not line.salvaged:
        ledger.add("task-without-steps", head.name.place, head.name.text)
    lines = list(_all_under(line))
    return Task(
        head.name.text,
        tuple(parameters),
        tuple(ends),
        declared,
        head.name.place,
        tuple(ends.values()),
        max(under.place.line for under in lines),
        any(under.salvaged for under in lines),
        settings,
        beside,
    )


def _all_under(line: n.Line) -> Iterator[n.Line]:
    """The line and all that stand under it."""
    yield line
    for under in line.under:
        yield from _all_under(under)


def _tell_strays(ledger: Ledger, head: n.TaskHead, line: n.Line, ends: Mapping[str, Place]) -> None:
    """Writes down what belongs into a routine and stands in a task."""
    for under in line.under:
        step = under.statement
        if isinstance(step, n.FinishHead):
            declared = "yes" if step.name.text in ends else ""
            name = head.name.text
            ledger.add("finish-in-task", under.place, step.name.text, task=name, declared=declared)
            # Exits that lead there are no second slip.
            ledger.broken_words |= {step.name.text}
        elif isinstance(step, n.Start):
            ledger.add("start-in-block", under.place, step.name.text, what="task")
