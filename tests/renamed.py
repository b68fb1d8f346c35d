"""The same plan under other names, or with its steps in another order, as data and as text."""

from __future__ import annotations

import random
import re
from collections.abc import Iterable
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from planner.graph import Plan, unfold
from planner.model.robot import Robot, Sensor
from planner.text import Place

_HEADS = ("step", "finish", "group", "together")
_DECLARED = re.compile(rf"^ *(?:{'|'.join(_HEADS)}) +(\w+)", re.MULTILINE)
_WORD = re.compile(r"\w+")
_ASIDE = re.compile(r'("[^"\n]*"|#[^\n]*)')
"""Titles and comments, in which no word is a name."""


def new_names(names: Iterable[str], draw: random.Random) -> dict[str, str]:
    """A name of another length for each, in an order that has nothing to do with the old one."""
    old = list(dict.fromkeys(names))
    letters = [f"{first}{second}" for first in "AGMTZbkx" for second in "aeiouyw"]
    chosen = draw.sample(letters, len(old))
    return {name: two * draw.randint(1, 6) + "q" for name, two in zip(old, chosen, strict=True)}


def renamed_plan(plan: Plan, names: dict[str, str]) -> Plan:
    """The plan with its steps and groups called otherwise; parts of dotted names one by one."""
    return unfold(_renamed(plan.routine, names))


def renamed_word(word: str, names: dict[str, str]) -> str:
    """A name as `renamed_plan` has it."""
    return ".".join(names.get(part, part) for part in word.split("."))


def _renamed(value: Any, names: dict[str, str]) -> Any:
    match value:
        case str():
            return renamed_word(value, names)
        case Robot() | Sensor() | Place():
            return value
        case tuple():
            return tuple(_renamed(one, names) for one in value)
        case dict():
            return {_renamed(key, names): _renamed(one, names) for key, one in value.items()}
        case _ if is_dataclass(value) and not isinstance(value, type):
            parts = {one.name: getattr(value, one.name) for one in fields(value) if one.init}
            return replace(value, **{name: _renamed(part, names) for name, part in parts.items()})
        case _:
            return value


def names_in(plan: Plan) -> list[str]:
    """What `renamed_plan` can be given other names for: steps, finishes and groups that are no
    lanes, in parts."""
    routine = plan.routine
    steps = [name for name, step in routine.steps.items() if not step.ends_lane]
    groups = [name for name, group in routine.groups.items() if not group.lane]
    lanes = {part for name, one in routine.groups.items() if one.lane for part in name.split(".")}
    parts = [part for name in (*steps, *groups) for part in name.split(".")]
    return [part for part in parts if part not in lanes or part in groups]


def reordered_plan(plan: Plan, draw: random.Random) -> Plan:
    """The plan with its steps and finishes written in another order."""
    steps = list(plan.routine.steps.items())
    draw.shuffle(steps)
    return unfold(replace(plan.routine, steps=dict(steps)))


def names_in_text(text: str) -> list[str]:
    """The steps, finishes, groups and blocks that a text declares."""
    return _DECLARED.findall(text)


def renamed_text(text: str, names: dict[str, str]) -> str:
    """The text with other names; titles and comments stay."""
    parts = _ASIDE.split(text)
    parts[::2] = [_words_renamed(part, names) for part in parts[::2]]
    return "".join(parts)


def _words_renamed(text: str, names: dict[str, str]) -> str:
    return _WORD.sub(lambda word: names.get(word.group(), word.group()), text)


def named_back(text: str, names: dict[str, str]) -> str:
    """What is said of a renamed plan, in the old names."""
    return _words_renamed(text, {new: old for old, new in names.items()})


@dataclass(frozen=True)
class Reordered:
    """A text with its steps in another order."""

    text: str
    lines: tuple[int, ...]
    """By line of the new text, its number in the old one."""


def reordered_text(text: str, draw: random.Random) -> Reordered:
    """The text with the steps, finishes, groups and blocks that stand outside of all others in
    another order, and the steps of a group likewise; in lanes and tasks, which begin with their
    first step, all stays."""
    lines = list(enumerate(text.splitlines(), 1))
    shuffled = _shuffled(lines, 0, draw)
    return Reordered(
        "\n".join(line for _, line in shuffled) + "\n", tuple(number for number, _ in shuffled)
    )


_Lines = list[tuple[int, str]]


def _shuffled(lines: _Lines, least: int, draw: random.Random) -> _Lines:
    """Lines with the blocks that stand furthest to the left in them shuffled among themselves."""
    indents = [len(line) - len(line.lstrip()) for _, line in lines if _head(line)]
    margin = min(indents, default=least)
    blocks: list[tuple[bool, _Lines]] = []
    for one in lines:
        line = one[1]
        is_left = bool(line.strip()) and len(line) - len(line.lstrip()) <= margin
        if not blocks or (is_left and not line.lstrip().startswith("#")):
            blocks.append((is_left and _head(line) in _HEADS, [one]))
        else:
            blocks[-1][1].append(one)
    moving = [_inside(block, margin, draw) for moves, block in blocks if moves]
    draw.shuffle(moving)
    goes = iter(moving)
    return [one for moves, block in blocks for one in (next(goes) if moves else block)]


def _inside(block: _Lines, margin: int, draw: random.Random) -> _Lines:
    if _head(block[0][1]) != "group":
        return block
    return [block[0], *_shuffled(block[1:], margin + 2, draw)]


def _head(line: str) -> str:
    word = line.split()[0] if line.split() else ""
    return word if word in _HEADS else ""
