"""Habits that can only be seen with the plan's own names at hand."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from planner.checks.habits.habit import Habit
from planner.checks.habits.own_memories import (
    of_choices,
    of_counters,
    of_lane,
    of_lanes,
    of_memories,
)
from planner.checks.plan_names import (
    MOST_NAMES,
    declared,
    every_name,
    kept,
    outcomes,
    reporting_above,
    spans,
    steps_around,
    undeclared,
)
from planner.model import Robot
from planner.model.robot import STATES
from planner.text import Place

# Other ways to say `go to`, which have habits of their own.
_LEADS = r".*(?:(?i:\bgo\b|\bgo_?to\b|\bto\b|\bwith\b|\bnext\b|\bstep\b)|[-=]>|→)"
_PART = re.compile(r"[A-Z]?[a-z0-9]+|[A-Z]+(?![a-z])")


class OwnHabits:
    """The habits that show only with the names of a plan and its robot at hand."""

    def __init__(self, robot: Robot) -> None:
        self.robot = robot
        self._of_robot = (told_oddly(robot), unanswered(robot))
        self._of_names: dict[tuple[str, ...], tuple[Habit, ...]] = {}
        self._of_steps: dict[tuple[str, ...], tuple[Habit, ...]] = {}

    def around(self, habits: tuple[Habit, ...], place: Place, heading: bool) -> tuple[Habit, ...]:
        """The habits of everybody with those for the line of a place in front and behind."""
        names = every_name(place, self.robot)
        if names not in self._of_names:
            self._of_names[names] = in_pieces(names, self.robot)
        # The end of a lane has habits of its own: `when arm done` asks the arm.
        around = dict.fromkeys(name for _, _, name in steps_around(place) if name != "done")
        steps = tuple(around)[:MOST_NAMES]
        if steps not in self._of_steps:
            self._of_steps[steps] = without_go(steps)
        told, asked = self._of_robot
        return (
            *self._of_names[names],
            *(without_step(undeclared(place)[:MOST_NAMES]) if heading else ()),
            *of_tasks(declared(place, "task"), outcomes(place)),
            *done_alone(reporting_above(place, self.robot)),
            *_of_kept(place),
            *self._of_steps[steps],
            *told,
            *habits,
            *asked,
        )


def _of_kept(place: Place) -> tuple[Habit, ...]:
    return (
        *of_memories(kept(place, "memory")),
        *of_counters(kept(place, "counter")),
        *of_choices(kept(place, "choose")),
        *of_lanes(kept(place, "lane")),
        *(of_lane() if any(place.line in lane for lane in spans(place.source, "lane")) else ()),
    )


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


def unanswered(robot: Robot) -> tuple[Habit, ...]:
    """``when bumper, go to Lit``: a sensor whose answer is left out."""
    return tuple(
        Habit(
            rf"^(when\b(?:.*?\b(?:and|or|not|once)\b)?\s+\(?\s*{sensor.name})"
            r"(?=\s*(?:[,)]|\band\b|\bor\b|\bfor\b))",
            rf"\1 {STATES[sensor.kind][0]}",
            "a sensor is asked with its answer",
            f"`{sensor.name}` answers `{STATES[sensor.kind][0]}` or `{STATES[sensor.kind][1]}`.",
            rules=("step_line", "group_line"),
        )
        for sensor in robot.sensors.values()
        if sensor.kind in STATES
    )


def told_oddly(robot: Robot) -> tuple[Habit, ...]:
    """``arm go to 1200 ticks``, ``arm keep to 1200 ticks`` and ``arm 1200 ticks``."""
    habits = []
    for mechanism in robot.mechanisms.values():
        commands = "|".join(mechanism.commands)
        habits.append(
            Habit(
                rf"^(?:keep\s+)?{mechanism.name}\s+(?P<here>(?!(?:{commands})\b)[a-z]+)\s+"
                rf"(?=(?:{commands})\b(?!\s*[<>=]))",
                lambda line, name=mechanism.name: (  # type: ignore[misc]
                    f"keep {name} " if line.group("here") == "keep" else f"{name} "
                ),
                f"behind `{mechanism.name}` comes its command: not `{{seen}}`",
                "The mechanism, the command, then its numbers. `keep` stands in front.",
                rules=("step_line", "finish_line"),
            )
        )
        habits.append(
            Habit(
                rf"^must\s+(not\s+)?(?={mechanism.name}\s+(?:{commands})\b)",
                lambda line: f"must {line.group(1) or ''}give ",
                "what is sent is said with `must give`",
                "It reads `must give`, the mechanism, its command.",
                rules=("scenario_line",),
            )
        )
        habits.append(
            Habit(
                rf"^(?P<here>when)\s+(?=[^,]*,\s*{mechanism.name}\s+(?:{commands})\b)",
                "whenever ",
                "`when` leads to a step; a command is given with `whenever`",
                "`whenever` gives its command each time the condition becomes true, and the step "
                "goes on.",
                rules=("step_line", "group_line"),
            )
        )
        habits.append(
            Habit(
                rf"^(whenever\b[^,:>]*?(?<!\bthen)(?<!\bdo))\s+(?={mechanism.name}\s+(?:{commands})\b(?!\s*[<>]))",
                r"\1, ",
                "between the condition and the command stands a comma",
                "It reads `whenever tin_gate broken, signal light`.",
                rules=("step_line", "group_line", "file_line"),
            )
        )
        for command in mechanism.commands.values():
            if len(command.parameters) == 1:
                unit = re.escape(command.parameters[0].unit.name)
                habits.append(
                    Habit(
                        rf"^(?P<here>{mechanism.name})\s+(?=-?\d[\d.]*\s*{unit}(?!\w))",
                        f"{mechanism.name} {command.name} ",
                        "between `{seen}` and the number stands a command",
                        "The mechanism, the command, then its numbers.",
                        rules=("step_line", "finish_line"),
                    )
                )
    return tuple(habits)


def of_tasks(tasks: Sequence[str], outcomes: Sequence[str]) -> tuple[Habit, ...]:
    """``call place``, ``when placed`` and ``end placed``, with the plan's tasks and outcomes."""
    if not tasks:
        return ()
    task, outcome = "|".join(tasks), "|".join(outcomes) or "(?!)"
    step = ("step_line",)
    return (
        Habit(
            rf"^repeat\s+({task})\b(.*?)\s*,?\s+(\d+)\s*(?:times?|x)$",
            r"do \1\2, \3 times",
            "a task is done with `do`",
            "It reads `do place 1200 ticks, 3 times`.",
            rules=step,
        ),
        Habit(
            rf"^(?:(?P<here>call|run|perform|execute|use|start|do\s+task|task|go\s+to|goto|do\s+the)"
            rf"\s+)?(?<!do )(?=(?:{task})\b(?!\s*,\s*go\b))",
            "do ",
            "a task is done with `do`",
            "`do`, the task's name, then its numbers.",
            rules=step,
        ),
        Habit(
            rf"^(do\s+(?:{task}))\s*\(([^()]*)\)",
            r"\1 \2",
            "a task is done without parentheses",
            "`do`, the task's name, then its numbers.",
            rules=step,
        ),
        Habit(
            rf"^(?:when|if|on|once|until)\s+(?:(?:the\s+)?(?:task|{task})\s+)?(?:is\s+|has\s+|ends?\s+(?:with|in|as)?\s*|"
            rf"ended\s+|returns?\s+|==?\s*|done\s+)*(?P<here>{outcome})(?=\s*,)",
            r"when task ends \1".replace(r"\1", r"\g<here>"),
            "how a task ended is asked with `when task ends`",
            "It reads `when task ends placed, go to Second`.",
            rules=step,
        ),
        Habit(
            rf"^(?P<here>end|ends|return|finish|exit|done)\s+({outcome})$",
            r"after 0.1 s, go to \2",
            "a task ends where an exit leads to an outcome",
            "Its steps have `when` and `after` exits like all others; one that leads to an outcome "
            "ends the task.",
            rules=step,
        ),
    )


def without_go(names: Iterable[str]) -> tuple[Habit, ...]:
    """``after 2 s, stuck``, with the names that can be led to."""
    return tuple(
        Habit(
            rf"^((?:when|after|at)\b(?!{_LEADS}).*?)\s*[,:]?\s+(?:then\s+|end\s+|ends\s+)?"
            rf"(?P<here>{name})$",
            rf"\1, go to {name}",
            "an exit says `go to` before the step's name",
            "It reads: what it waits for, a comma, `go to`, the step.",
            rules=("step_line", "group_line", "file_line"),
        )
        for name in names
    )
