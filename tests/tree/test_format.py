"""The canonical layout keeps what is said, and comments and blank lines with it."""

from __future__ import annotations

import itertools

import pytest

from planner.text import Place, Source
from planner.tree import format_condition, format_file, parse_robot, parse_routine
from planner.tree import nodes as n


def laid_out(text: str) -> str:
    """A routine's text in the canonical layout."""
    return format_file(parse_routine(Source("x", text)).file)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("", ""),
        ("\n\n# a\n\n\n\n# b\n\n", "# a\n\n# b\n"),
        ("step   A   # why\n\tdrive  forward   40%#slow",
         "step A  # why\n  drive forward 40 %  #slow\n"),
        ("step A\n\n\n\n  # first\n  claw close\n\n", "step A\n\n  # first\n  claw close\n"),
        ('step A ""\n', "step A\n"),
        ("step A\n    after 1 s,go to B,at most 1 times,then C",
         "step A\n  after 1 s, go to B, at most 1 time, then C\n"),
        ("step A\n  after 1 s, go to B, at most 2 time, then C",
         "step A\n  after 1 s, go to B, at most 2 times, then C\n"),
        ("step A\n  when ( (a on)and(b on or c on) ) , go to B",
         "step A\n  when a on and (b on or c on), go to B\n"),
        ("step A\n  when a<3cm, go to B", "step A\n  when a < 3 cm, go to B\n"),
        ("step  A  (broken)  # why", "step  A  (broken)  # why\n"),
        ("step A\n  claw close\n      after 1 s, go to A",
         "step A\n  claw close\n  after 1 s, go to A\n"),
        ("step A\n  keep   claw close", "step A\n  keep claw close\n"),
    ],
)  # fmt: skip
def test_layout(text: str, expected: str) -> None:
    """Two spaces a level, single spaces between words, single blank lines; broken lines as are."""
    assert expected == laid_out(text)
    assert expected == laid_out(expected)


def test_robot_layout() -> None:
    """A robot file's canonical layout says the same with single spaces."""
    text = (
        "hub  main\n\tdigital  4  gate  beam  active  high # tin\n\ti2c 1 r distance 2cm to 9cm\n"
    )
    expected = (
        "hub main\n  digital 4 gate beam active high  # tin\n  i2c 1 r distance 2 cm to 9 cm\n"
    )
    assert expected == format_file(parse_robot(Source("x", text)).file)


def _place() -> Place:
    return Place(Source("x", ""), 1, 1, 2)


def _leaf(name: str) -> n.Condition:
    return n.State(n.Name(name, _place()), n.Name("on", _place()), _place())


def _nested(depth: int) -> list[n.Condition]:
    """Every way to put `not`, `for`, `and` and `or` into each other, up to a depth.

    `and` right inside of `and` is left out, and so is `or` inside of `or`: the tree joins them.
    """
    if depth == 0:
        return [_leaf("a")]
    inner = _nested(depth - 1)
    second = n.Quantity("1", "s", _place())
    found: list[n.Condition] = [_leaf("a")]
    found += [n.Negated(part, _place()) for part in inner]
    found += [n.HeldFor(part, second, _place()) for part in inner]
    few = inner if depth < 3 else inner[::2]
    for kind in (n.Both, n.Either):
        others = [part for part in few if not isinstance(part, kind)]
        found += [kind(pair, _place()) for pair in itertools.product(others, repeat=2)]
    return found


def test_conditions_keep_their_meaning() -> None:
    """However conditions are nested, their layout is read as the same condition."""
    conditions = _nested(3)
    assert len(conditions) > 300
    for condition in conditions:
        text = format_condition(condition)
        read = parse_routine(Source("x", f"step A\n  when {text}, go to A\n"))
        statement = read.file.lines[0].under[0].statement
        assert isinstance(statement, n.When), text
        assert condition == statement.condition, text


@pytest.mark.parametrize(
    "text", ["a on and b on or c on", "not a on for 1 s", "(not a on) for 1 s"]
)
def test_no_needless_parentheses(text: str) -> None:
    """A condition's layout has no more parentheses than its meaning needs."""
    assert f"step A\n  when {text}, go to A\n" == laid_out(f"step A\n  when {text}, go to A\n")


def test_comments_stay_where_they_are() -> None:
    """Every comment stays, above its line or behind it, in the order written."""
    text = "# 1\n\n# 2\nstep A  # 3\n  # 4\n  claw close  # 5\n\n  # 6\n\n# 7\nfinish B\n# 8\n"
    comments = [part.split()[0] for part in laid_out(text).split("# ")[1:]]
    assert list("12345678") == comments
