"""What a team still has to write in the files of an export, read off the files' texts."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath

from planner.java.java_text import Declared, blanked, declared_in, words_of
from planner.java.named import Named
from planner.java.renames import Rename

# Put together here, because in a text of ours the word would say that work is left undone.
_MARK = "// TO" + "DO:"
_FIELD = re.compile(r"^    private (?:final )?[\w.<>\[\], ]+ (\w+)(?: = .*)?;$", re.MULTILINE)
_IMPORT = re.compile(r"^import (?:static )?[\w.]*?(\w+);$", re.MULTILINE)


@dataclass(frozen=True, slots=True)
class Unwritten:
    """A place that is the team's to write."""

    line: int
    """Counted from 1."""
    name: str
    """The method or field that it belongs to."""
    wanted: bool
    """Whether the routine's op mode calls it."""


def unwritten_in(generated: str, there: str, op_mode: str) -> tuple[Unwritten, ...]:
    """The places of a generated file that are still as generated in the text that is there.

    `op_mode` is the text of the routine's op mode.
    """
    marks = {line.strip() for line in generated.splitlines() if _MARK in line}
    methods, calls = declared_in(there), blanked(op_mode)
    found, at = [], 0
    for number, line in enumerate(there.splitlines(keepends=True), 1):
        if line.strip() in marks:
            method = next((m for m in methods if m.start <= at < m.end), None)
            name, users = _place(there, methods, at, method)
            wanted = any(re.search(rf"\.{re.escape(user)}\(", calls) for user in users)
            found.append(Unwritten(number, name, wanted))
        at += len(line)
    return tuple(found)


def _place(
    text: str, methods: tuple[Declared, ...], at: int, method: Declared | None
) -> tuple[str, list[str]]:
    """What a mark at a place of the text belongs to, and the methods that stand on it."""
    if method is not None and method.name != "init":
        return method.name, [method.name]
    # The device in the next line: its field, or the call that makes it ready.
    following = re.search(r"(\w+)(?: = [^\n]*;|\.\w+\()", blanked(text[at:]))
    device = following[1] if following else ""
    others = [m for m in methods if m.name != "init"]
    users = [m.name for m in others if device in words_of(text[m.start : m.end])]
    return f"init ({device})" if method else device, users


@dataclass(frozen=True, slots=True)
class Lacking:
    """Code that a file lacks: other files of the export call it."""

    owner: str
    """The class that it belongs into."""
    code: str
    """Whole lines, as generated."""


def lacking_in(path: str, files: Mapping[str, str], there: str) -> tuple[Lacking, ...]:
    """What the text that is there lacks of the file of that path, as far as its words tell.

    A method counts as there if one of its name with as many parameters is. Needed is what other
    files of the export call; `files` are all of them, by path.
    """
    generated = files[path]
    have = {(method.name, method.parameters) for method in declared_in(there)}
    others = [blanked(text) for other, text in files.items() if other != path]
    missing = [
        method
        for method in declared_in(generated)
        if not method.private
        and (method.name, method.parameters) not in have
        and _is_called(method, PurePosixPath(path).stem, others)
    ]
    owners = dict.fromkeys(method.owner for method in missing)
    return tuple(
        Lacking(owner, _code(generated, there, [m for m in missing if m.owner == owner]))
        for owner in owners
    )


@dataclass(frozen=True, slots=True)
class OldName:
    """A line of a file in which something still goes by its old name."""

    line: int
    """Counted from 1."""
    name: str


def old_names_in(
    there: str, renamed: Iterable[Rename], names: Iterable[Named]
) -> tuple[OldName, ...]:
    """Where a text still uses Java names that were given up; `names` are all that there are now."""
    in_use = {word for named in names for word in named.java}
    old = {word for rename in renamed for word in rename.before.java if word not in in_use}
    found = []
    for number, line in enumerate(blanked(there).split("\n"), 1):
        words = dict.fromkeys(re.findall(r"[A-Za-z_$][\w$]*", line))
        found += [OldName(number, word) for word in words if word in old]
    return tuple(found)


def _is_called(method: Declared, type_name: str, others: list[str]) -> bool:
    """Whether another file calls a method by the file's type, by a variable of that type, or as
    its own because it extends the type.

    What stands in a type within the file is called by whoever names it.
    """
    name = rf"{re.escape(method.name)}\s*\("
    if method.owner != type_name:
        return any(re.search(rf"\b{name}", text) for text in others)
    for text in others:
        variables = re.findall(rf"\b{re.escape(type_name)}\s+(\w+)\s*[=;]", text)
        by = "|".join(map(re.escape, [type_name, *variables]))
        if re.search(rf"\b(?:{by})\.{name}", text):
            return True
        extends = re.search(rf"\bextends\s+{re.escape(type_name)}\b", text)
        if extends and re.search(rf"(?<![.\w]){name}", text):
            return True
    return False


def _code(generated: str, there: str, methods: list[Declared]) -> str:
    """The methods, behind what they need and the text does not have either."""
    blocks = [_whole_lines(generated, method) for method in methods]
    needs = list(_needs(generated, words_of(there), "\n".join(blocks)))
    return "\n\n".join([*(["\n".join(needs)] if needs else []), *blocks])


def _whole_lines(text: str, method: Declared) -> str:
    """A method's lines, with the comment and the annotations above it."""
    lines = text.splitlines()
    first, last = text.count("\n", 0, method.start), text.count("\n", 0, method.end)
    while first and lines[first - 1].strip().startswith(("/**", "*", "@", "//")):
        first -= 1
    return "\n".join(lines[first : last + 1])


def _needs(generated: str, have: frozenset[str], code: str) -> Iterator[str]:
    """Imports, constants and fields that the code stands on, and how they are made ready."""
    used = words_of(code)
    fields = [f for f in _FIELD.finditer(generated) if f[1] in used - have]
    of_fields = words_of("\n".join(field[0] for field in fields))
    for found in _IMPORT.finditer(generated):
        if found[1] in (used | of_fields) - have:
            yield found[0]
    yield from _latest(generated, have, code)
    for field in fields:
        yield field[0]
        yield from _made_ready(generated, field[1])


def _latest(generated: str, have: frozenset[str], code: str) -> Iterator[str]:
    """The commands that `isDone` tells apart, or those of them that are new."""
    constants = dict.fromkeys(re.findall(r"\bLatest\.(\w+)", blanked(code)))
    if constants and "Latest" not in have:
        yield from re.findall(r"^ *private enum Latest .*$", generated, re.MULTILINE)
        return
    for constant in constants:
        if constant not in have:
            yield f"    // Latest needs one more constant: {constant}"


def _made_ready(generated: str, field: str) -> Iterator[str]:
    """The lines of `init` that make a field's device ready, as a comment says."""
    init = next((m for m in declared_in(generated) if m.name == "init"), None)
    body = generated[init.start : init.end] if init else ""
    lines = [line for line in body.splitlines() if re.match(rf"\s+{field}( =|\.)", line)]
    if lines:
        yield "    // and in init:"
        yield from lines
