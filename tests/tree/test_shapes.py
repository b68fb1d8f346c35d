"""The table of line shapes and the grammar say the same."""

from __future__ import annotations

import pytest
from lark.lexer import PatternStr

from planner.text import Source
from planner.tree.build import LineBuilder
from planner.tree.format import format_statement
from planner.tree.language import ROBOT, ROUTINE, Language
from planner.tree.shapes import HEAD_OF

LANGUAGES = {"robot": ROBOT, "routine": ROUTINE}
STARTS = [(name, start) for name, language in LANGUAGES.items() for start in language.shapes]
EXAMPLES = [
    (name, start, shape.example)
    for name, start in STARTS
    for shape in LANGUAGES[name].shapes[start].values()
]


def first_words(language: Language, start: str) -> set[str]:
    """What a line of a start rule may begin with, by the grammar; empty for a team's own name."""
    terminals = language.lark.parse_interactive(start=start).accepts()
    patterns = [language.lark.get_terminal(terminal).pattern for terminal in terminals]
    return {pattern.value if isinstance(pattern, PatternStr) else "" for pattern in patterns}


@pytest.mark.parametrize(("name", "start"), STARTS)
def test_first_words(name: str, start: str) -> None:
    """The table lists the words that may begin a line, all of them and no others."""
    assert first_words(LANGUAGES[name], start) == set(LANGUAGES[name].shapes[start])


@pytest.mark.parametrize(("name", "start", "example"), EXAMPLES)
def test_examples(name: str, start: str, example: str) -> None:
    """Every example in the table is read whole under its start rule, and is laid out as it is."""
    tree = LANGUAGES[name].read(example, start)
    statement = LineBuilder(Source("x", example)).build(tree, 1, len(example) + 1)
    assert example == format_statement(statement)


@pytest.mark.parametrize("name", sorted(LANGUAGES))
def test_what_stands_under_what(name: str) -> None:
    """Each rule for lines under a head is named once in the table, at that head."""
    shapes = LANGUAGES[name].shapes
    heads = {s.under: word for of_rule in shapes.values() for word, s in of_rule.items() if s.under}
    assert {rule: HEAD_OF[rule] for rule in shapes if rule != "file_line"} == heads
