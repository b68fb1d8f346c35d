"""What can be kept of a line that cannot be read."""

from __future__ import annotations

import re

from planner.findings import nearest
from planner.text import Place
from planner.tree import nodes as n
from planner.tree.language import Language
from planner.tree.rows import Row

_HEADS = ("step", "finish", "group", "task", "scenario", "hub", "mechanism", "command")
_NAME = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")


def salvaged(row: Row, rule: str, language: Language) -> n.Statement:
    """The head that the row's first two words announce, or the row word for word.

    ``step Grip "no end`` still opens a step named Grip, and so does ``stpe Grip``.
    """
    found = list(_NAME.finditer(row.code))
    if len(found) >= 2:
        word = found[0].group()
        heads = [head for head in _HEADS if head in language.shapes[rule]]
        close = [word] if word in heads else list(nearest(word, heads, most=1))
        known = word in language.shapes[rule]
        if close and (not known or word == close[0]):
            return _head(close[0], _name(row, found[1]))
    return n.Broken(row.code.strip())


def _name(row: Row, found: re.Match[str]) -> n.Name:
    return n.Name(found.group(), Place(row.source, row.number, found.start() + 1, found.end() + 1))


def _head(word: str, name: n.Name) -> n.Statement:
    match word:
        case "step":
            return n.StepHead(name, "")
        case "finish":
            return n.FinishHead(name, "")
        case "group":
            return n.GroupHead(name, "")
        case "task":
            return n.TaskHead(name, (), ())
        case "scenario":
            return n.ScenarioHead(name, "")
        case "hub":
            return n.HubHead(name)
        case "mechanism":
            return n.MechanismHead(name, "")
        case _:
            return n.CommandHead(name, (), "holds", False)
