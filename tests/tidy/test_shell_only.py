"""Only the shell touches the world: files, processes, the terminal, the environment."""

from __future__ import annotations

import ast
from collections.abc import Iterator

import pytest
from house import nothing_in, parsed, python_files, shown

CALLS = {"open", "print", "input", "__import__", "eval", "exec"}
METHODS = {
    *("open", "read_text", "read_bytes", "write_text", "write_bytes", "mkdir", "touch"),
    *("unlink", "rename", "rmdir", "iterdir", "rglob", "pipe", "unflatten", "import_module"),
}
MODULES = {
    *("os", "sys", "io", "subprocess", "shutil", "tempfile", "socket", "glob", "fileinput"),
    *("pathlib", "importlib", "pkgutil", "multiprocessing", "threading", "logging", "urllib"),
}
# What a file outside of the shell may use all the same, and why.
EXCUSED: dict[str, tuple[set[str], str]] = {
    "planner/tree/language.py": (
        {"pathlib", "open"},
        "reads the packaged grammar; Lark keeps its tables where the shell says",
    ),
}
# The folder whose files may read what is packaged beside them.
TEMPLATES = "planner/java/"
TEMPLATES_MAY = {"importlib", "pathlib", "read_text"}


def touches(path: str, tree: ast.Module) -> Iterator[str]:
    """Complaints about what the file at `path` does to the world."""
    allowed = EXCUSED[path][0] if path in EXCUSED else set()
    if path.startswith(TEMPLATES):
        allowed = TEMPLATES_MAY
    for line, word in sorted(_worldly(tree)):
        if word not in allowed:
            yield f"{path}:{line}: `{word}` is banned here, it belongs in planner/shell"


def _worldly(tree: ast.Module) -> Iterator[tuple[int, str]]:
    for node in ast.walk(tree):
        match node:
            case ast.Call(func=ast.Name(id=name)) if name in CALLS:
                yield node.lineno, name
            case ast.Call(func=ast.Attribute(attr=name)) if name in METHODS:
                yield node.lineno, name
            case ast.Import(names):
                for alias in names:
                    if alias.name.split(".")[0] in MODULES:
                        yield node.lineno, alias.name.split(".")[0]
            case ast.ImportFrom(module=str(module)) if module.split(".")[0] in MODULES:
                yield node.lineno, module.split(".")[0]
            case _:
                pass


def test_only_the_shell_touches_the_world() -> None:
    """Outside of the shell, values come in and values go out."""
    nothing_in(
        complaint
        for path in python_files()
        if not shown(path).startswith("planner/shell/")
        for complaint in touches(shown(path), parsed(path))
    )


@pytest.mark.parametrize("path", sorted(EXCUSED))
def test_an_excuse_is_needed(path: str) -> None:
    """A file is excused only as long as it needs to be, word by word."""
    used = {word for file in python_files() if shown(file) == path
            for _, word in _worldly(parsed(file))}  # fmt: skip
    assert EXCUSED[path][0] == used


@pytest.mark.parametrize(
    "text",
    [
        "print('x')",
        "def f(p):\n    return open(p)",
        "p.write_text('x')",
        "import os.path",
        "from subprocess import run",
        "graph.pipe()",
        "importlib.import_module('x')",
    ],
)
def test_a_touch_is_seen(text: str) -> None:
    """The judge sees each way of touching the world."""
    assert 1 == len(list(touches("planner/graph/x.py", ast.parse(text))))
