"""The picture in words, for those who cannot see it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from planner.graph import Exit, Plan
from planner.model.routine import Group, Step, step_in_words
from planner.model.spoken import spoken_command
from planner.model.units import seconds_text
from planner.pictures.groups import common_exits, group_does
from planner.pictures.lettering import clean
from planner.pictures.marks import Marks, spoken_count
from planner.pictures.palette import MARKS
from planner.pictures.sequence import own_exits
from planner.pictures.wording import (
    END_OF_LANE,
    memory_words,
    noted,
    settings_words,
    spoken_rule,
    time_words,
    waits_for,
)


def description(plan: Plan, numbers: Mapping[str, int], marks: Marks) -> tuple[str, ...]:
    """All that the picture shows, a sentence for each card; none holds a line end."""
    routine = plan.routine
    start = f"It starts at {routine.start}." if routine.start else "It has no start."
    sentences = [
        f"Routine {routine.name} of robot {routine.robot.name}, "
        f"limit {seconds_text(routine.limit_us)}. {start}"
    ]
    if routine.settings or routine.tables:
        sentences.append(f"It runs {settings_words(routine)}.")
    if routine.memories:
        sentences.append(f"It {memory_words(routine)}.")
    for way in routine.match_exits:
        time = time_words(way.at_us, way.setting)
        sentences.append(f"From any step, at {time} of match, go to {way.target}.")
    sentences += [f"At any time, {spoken_rule(rule)}." for rule in routine.rules]
    sentences += [_group(plan, group, numbers) for group in routine.groups.values()]
    for name, number in numbers.items():
        counts = marks.of(name)
        found = [spoken_count(severity, counts[severity]) for severity in MARKS if counts[severity]]
        parts = [*_card(plan.step(name), own_exits(plan, name)), *found]
        sentences.append(f"{number} {name}{': ' if parts else ''}{'; '.join(parts)}.")
    for finding in marks.elsewhere:
        sentences.append(f"{finding.severity.word.capitalize()}: {finding.headline}.")
    return tuple(clean(sentence) for sentence in sentences)


def _group(plan: Plan, group: Group, numbers: Mapping[str, int]) -> str:
    """A group with its cards and common exits."""
    inside = [n for n in numbers if group in plan.routine.groups_around(n)]
    parts = [*filter(None, (group.title,)), *group_does(group), f"holds {', '.join(inside)}"]
    for way in common_exits(plan, group.name):
        parts.append(f"from any step of it {waits_for(way)}, go to {way.target}")
    kind = "Lanes" if group.is_block else "Lane" if group.lane else "Group"
    return f"{kind} {group.lane or group.name}: {'; '.join(parts)}."


def _card(step: Step, exits: tuple[Exit, ...]) -> Iterator[str]:
    if step.is_finish:
        yield "a finish"
    if step.title:
        yield step.title
    for given in step.commands:
        yield spoken_command(given)
    yield from map(spoken_rule, step.rules)
    yield from noted(step)
    for way in exits:
        target = way.target if way.target == step_in_words(way.target) else END_OF_LANE
        yield f"{waits_for(way)}, go to {target}"
