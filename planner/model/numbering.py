"""Numbers for what a plan may say twice in the same words, so that each can be told apart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import count
from typing import TypeVar

from planner.model.routine import AfterExit, Group, MatchExit, Routine, Rule, Step, WhenExit

_Exit = TypeVar("_Exit", WhenExit, AfterExit, MatchExit)


def numbered(routine: Routine) -> Routine:
    """The routine with a number for each exit, side rule and command, from 1, no two the same.

    Two exits that say the same are equal and still two: each has its own count and memory.
    """
    numbers = count(1)
    match_exits = _exits(routine.match_exits, numbers)
    rules = _rules(routine.rules, numbers)
    groups = {name: _group(group, numbers) for name, group in routine.groups.items()}
    steps = {name: _step(step, numbers) for name, step in routine.steps.items()}
    return replace(routine, match_exits=match_exits, rules=rules, groups=groups, steps=steps)


def _exits(exits: tuple[_Exit, ...], numbers: Iterator[int]) -> tuple[_Exit, ...]:
    return tuple(replace(exit_, number=next(numbers)) for exit_ in exits)


def _rules(rules: tuple[Rule, ...], numbers: Iterator[int]) -> tuple[Rule, ...]:
    return tuple(
        replace(rule, number=next(numbers), given=replace(rule.given, number=next(numbers)))
        for rule in rules
    )


def _group(group: Group, numbers: Iterator[int]) -> Group:
    return replace(
        group,
        match_exits=_exits(group.match_exits, numbers),
        whens=_exits(group.whens, numbers),
        afters=_exits(group.afters, numbers),
        rules=_rules(group.rules, numbers),
    )


def _step(step: Step, numbers: Iterator[int]) -> Step:
    return replace(
        step,
        commands=tuple(replace(given, number=next(numbers)) for given in step.commands),
        whens=_exits(step.whens, numbers),
        afters=_exits(step.afters, numbers),
        rules=_rules(step.rules, numbers),
    )
