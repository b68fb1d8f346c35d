"""The shape of the code: docstrings, and lengths that a reader can take in."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest
from house import ROOT, nothing_in, parsed, python_files, shown

LONGEST_FILE = 400
LONGEST_FUNCTION = 70
# Longer than that, and why.
LONG: dict[str, str] = {
    "planner/tree/nodes.py": "a list of one small class a statement, read like a table",
    "planner/model/resolve_steps.py": "steps, groups and calls lead to each other by one table",
}
# Classes whose methods need no docstring, and why.
PLAIN: dict[str, str] = {
    "planner/tree/build.py:LineBuilder": "its methods are the grammar's rules, named after them",
    "planner/tree/build_scenario.py:ScenarioBuilder": "as those of LineBuilder",
    "planner/tree/build_parts.py:PartBuilder": "its methods are the grammar's rules as well",
}

_Documented = ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef


def undocumented(path: str, tree: ast.Module) -> Iterator[str]:
    """Complaints about public things without a docstring."""
    if ast.get_docstring(tree) is None:
        yield f"{path}:1: the module has no docstring"
    yield from _undocumented_in(path, tree)


def _undocumented_in(path: str, owner: ast.Module | ast.ClassDef) -> Iterator[str]:
    for node in owner.body:
        if not isinstance(node, _Documented) or node.name.startswith("_"):
            continue
        if ast.get_docstring(node) is None:
            yield f"{path}:{node.lineno}: `{node.name}` has no docstring"
        if isinstance(node, ast.ClassDef) and f"{path}:{node.name}" not in PLAIN:
            yield from _undocumented_in(path, node)


def too_long(path: str, tree: ast.Module, lines: int) -> Iterator[str]:
    """Complaints about a file and its functions that are longer than they should be."""
    if lines > LONGEST_FILE and path not in LONG:
        yield f"{path}:{lines}: {lines} lines; split it, or say in LONG why not"
    for node in ast.walk(tree):
        if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        length = (node.end_lineno or node.lineno) - node.lineno + 1
        if length > LONGEST_FUNCTION and f"{path}:{node.name}" not in LONG:
            yield f"{path}:{node.lineno}: `{node.name}` has {length} lines; split it"


def test_public_things_are_documented() -> None:
    """Every public module, class and function of the project says what it is."""
    nothing_in(c for path in python_files() for c in undocumented(shown(path), parsed(path)))


def test_lengths() -> None:
    """Files stay under 400 lines and functions under 70, but for those with a reason."""
    nothing_in(
        complaint
        for path in python_files()
        for complaint in too_long(
            shown(path), parsed(path), len(path.read_text(encoding="utf-8").splitlines())
        )
    )


@pytest.mark.parametrize("excused", sorted(LONG) + sorted(PLAIN))
def test_an_excuse_names_something(excused: str) -> None:
    """An excuse names a file, or a class or function in one, that is there."""
    path, _, name = excused.partition(":")
    names = {getattr(node, "name", "") for node in ast.walk(parsed(ROOT / path))}
    assert name in {"", *names}


def test_missing_docstrings_and_long_functions_are_seen() -> None:
    """The judges of shape see what they look for."""
    text = "def f():\n" + "    x = 1\n" * 70 + "class C:\n    '''Says.'''\n    def g(self): ...\n"
    tree = ast.parse(text)
    assert 3 == len(list(undocumented("planner/x.py", tree)))
    assert 2 == len(list(too_long("planner/x.py", tree, 401)))
    assert 0 == len(list(too_long("planner/x.py", ast.parse("def f(): ..."), 400)))
