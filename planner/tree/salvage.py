"""What can be kept of a line that cannot be read."""

from __future__ import annotations

import re

from planner.findings import nearest
from planner.text import Place
from planner.tree import nodes as n
from planner.tree.announced import NAME, TITLE, joined, name_in_pieces
from planner.tree.language import Language
from planner.tree.rows import Row
from planner.tree.shapes import HEADS

_RUN_TOGETHER = re.compile(rf"\s*({'|'.join(HEADS)})(?=[A-Z0-9_])([A-Za-z0-9_]+)\b")


def salvaged(
    row: Row, rule: str, language: Language, led_to: frozenset[str] = frozenset()
) -> n.Statement:
    """The head that the row's first two words announce, or the row word for word.

    ``step Grip "no end`` still opens a step named Grip, and so do ``stpe Grip`` and ``stepGrip``.
    A name of which several words are left is known from where the plan leads to it.
    """
    heads = [head for head in HEADS if head in language.shapes[rule]]
    together = _RUN_TOGETHER.match(row.code)
    if together and together.group(1) in heads and NAME.fullmatch(together.group(2)):
        return _head(together.group(1), _name(row, together, 2))
    untitled = TITLE.sub(lambda title: " " * len(title.group()), row.code)
    found = list(NAME.finditer(untitled))
    if len(found) >= 2:
        word = found[0].group()
        close = [word] if word in heads else list(nearest(word, heads, most=1))
        known = word in language.shapes[rule]
        if close and (not known or word == close[0]):
            pieces = name_in_pieces(row, led_to)
            if pieces:
                whole = joined(pieces.group(1), led_to)
                return _head(close[0], n.Name(whole, _name(row, pieces, 1).place))
            return _head(close[0], _name(row, found[1]))
    return n.Broken(row.code.strip())


def _name(row: Row, found: re.Match[str], group: int = 0) -> n.Name:
    start, end = found.span(group)
    return n.Name(found.group(group), Place(row.source, row.number, start + 1, end + 1))


def _head(word: str, name: n.Name) -> n.Statement:
    match word:
        case "step":
            return n.StepHead(name, "")
        case "finish":
            return n.FinishHead(name, "")
        case "group":
            return n.GroupHead(name, "")
        case "together":
            return n.TogetherHead(name, "")
        case "lane":
            return n.LaneHead(name)
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
