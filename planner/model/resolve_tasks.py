"""From the tree of a file of tasks to what is wrong in it, whoever does the tasks."""

from __future__ import annotations

from dataclasses import replace

from planner.findings import Slip
from planner.model.choices import Chosen
from planner.model.ledger import Ledger, broken_words, perhaps_there
from planner.model.resolve_routine import AUTONOMOUS_US
from planner.model.resolve_steps import StepResolver
from planner.model.robot import Robot
from planner.model.routine import Routine
from planner.model.scopes import words_in
from planner.model.shared_tasks import settings_in
from planner.model.tasks import tell_never_reached
from planner.text import Place
from planner.tree import Parsed
from planner.tree import nodes as n

_BELONG = n.TasksHead | n.RobotUse | n.Setting | n.TaskHead | n.Broken


def resolve_tasks(parsed: Parsed, robot: Robot) -> tuple[Routine, tuple[Slip, ...]]:
    """A routine of the tasks in a file, which something leads to one by one, and the file's slips.

    Each task is done with its numbers at 0, and its outcomes are finishes. The parser's
    own slips are not repeated. Lines that belong in a routine are slips here.
    """
    file, lines = parsed.file, parsed.file.lines
    ledger = Ledger(broken_words(lines) | robot.broken_words)
    top = Place(file.source, 1, 1, 2)
    head = _the(ledger, lines, n.TasksHead, top, "tasks", f"tasks {file.source.file[0]}")
    _the(ledger, lines, n.RobotUse, top, "robot", "robot moth")
    for line in lines:
        if not isinstance(line.statement, _BELONG):
            ledger.add("line-in-tasks", line.place, line.place.words.split()[0])
    settings = settings_in(ledger, lines)
    tasks = tuple(line for line in lines if isinstance(line.statement, n.TaskHead))
    resolver = StepResolver(ledger, robot, settings, tasks, Chosen())
    resolver.resolve_tasks(alone=True)
    tell_never_reached(ledger, resolver.own_tasks)
    used = ledger.used | words_in(line for line in lines if line.salvaged)
    own = {name: replace(one, used=name in used) for name, one in settings.items()}
    name = head.statement.name if head and isinstance(head.statement, n.TasksHead) else None
    place = name.place if name else top
    steps, groups = resolver.steps, resolver.groups
    begins = [resolver.entry(task) for task in resolver.own_tasks.values() if task.first]
    # Of an outcome that is not reached there is a slip.
    ends = [name for name, step in steps.items() if step.is_finish]
    routine = Routine(
        name.text if name else "",
        "",
        robot,
        AUTONOMOUS_US,
        own,
        (),
        begins[0] if begins else "",
        steps,
        place,
        incomplete=True,
        perhaps=frozenset(steps) if resolver.leads_anywhere else frozenset((*begins, *ends)),
        groups=groups,
    )
    return routine, tuple(ledger.slips)


def _the(
    ledger: Ledger,
    lines: tuple[n.Line, ...],
    kind: type[n.Statement],
    top: Place,
    word: str,
    example: str,
) -> n.Line | None:
    """The one line of its kind; none or several are slips."""
    found = [line for line in lines if isinstance(line.statement, kind)]
    for line in found[1:]:
        ledger.add("line-twice", line.place, word, other=found[0].place)
    if not found and word not in broken_words(lines) and not perhaps_there(lines, word):
        ledger.add("missing-line", top, word, example=example)
    return found[0] if found else None
