"""Tasks that are kept in a file of their own, as the routines that share them see them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from planner.model.ledger import Ledger, broken_words, declare
from planner.model.routine import SettingValue
from planner.model.tasks import Task, tasks_of
from planner.model.values import plain_amount
from planner.text import Place
from planner.tree import Parsed
from planner.tree import nodes as n

SharedFiles = Mapping[str, "Parsed | None"]
"""The files of tasks by their names; None for one that is not there or for another robot."""


@dataclass(frozen=True, slots=True)
class Shared:
    """What a routine takes from files of tasks."""

    tasks: Mapping[str, Task] = field(default_factory=dict)
    settings: tuple[SettingValue, ...] = ()
    """Of all the files, under whole names: ``posts.high``."""
    missing: bool = False
    """Whether some file is not there, so that any task may be in it."""
    clashes: tuple[tuple[n.Name, Task, Task], ...] = ()
    """Tasks of one name: the line that names the later file, the task of it, the earlier one."""

    def tell_clashes(self, ledger: Ledger, own: Mapping[str, Task]) -> None:
        """Writes down the tasks of one name that a routine would have from two files."""
        for name in own:
            if name in self.tasks:
                ledger.add("task-in-two-files", own[name].place, name, (), self.tasks[name].place)
        for use, later, earlier in self.clashes:
            file, of = ".".join(later.place.source.file), ".".join(earlier.place.source.file)
            ledger.add(
                "task-in-two-files", use.place, later.name, (), later.place, file=file, of=of
            )


NOTHING_SHARED = Shared()


def task_uses(lines: tuple[n.Line, ...]) -> Iterator[n.Name]:
    """The files of tasks that some lines name, each once."""
    names: dict[str, n.Name] = {}
    for line in lines:
        if isinstance(line.statement, n.TasksUse):
            names.setdefault(line.statement.name.text, line.statement.name)
    return iter(names.values())


def shared_tasks(ledger: Ledger, lines: tuple[n.Line, ...], files: SharedFiles) -> Shared:
    """What some lines take from files of tasks. Slips met in those files point into them."""
    tasks: dict[str, Task] = {}
    settings: list[SettingValue] = []
    clashes: list[tuple[n.Name, Task, Task]] = []
    # Whoever left out the `from` has tasks in mind that are not there.
    missing = any(isinstance(line.statement, n.TasksHead) for line in lines)
    for use in task_uses(lines):
        parsed = files.get(use.text)
        if parsed is None:
            missing = True
            continue
        ledger.broken_words |= broken_words(parsed.file.lines)
        of_file = settings_in(ledger, parsed.file.lines, f"{use.text}.")
        settings += of_file.values()
        for name, task in tasks_of(ledger, parsed.file.lines, of_file).items():
            if name in tasks:
                clashes.append((use, task, tasks[name]))
            else:
                tasks[name] = task
    return Shared(tasks, tuple(settings), missing, tuple(clashes))


def settings_in(
    ledger: Ledger, lines: tuple[n.Line, ...], prefix: str = ""
) -> dict[str, SettingValue]:
    """The plain settings that some lines declare, by name; `prefix` begins their whole names."""
    found: dict[str, SettingValue] = {}
    taken: dict[str, Place] = {}
    for line in lines:
        head = line.statement
        if not isinstance(head, n.Setting) or not declare(ledger, head.name, taken, "setting"):
            continue
        name = head.name
        taken[name.text] = name.place
        amount = plain_amount(ledger, head.value, None, f"`{name.text}`")
        if amount is None:
            # Its uses are no second slip.
            ledger.broken_words |= {name.text}
        else:
            found[name.text] = SettingValue(f"{prefix}{name.text}", amount, name.place)
    return found
