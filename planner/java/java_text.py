"""The methods that a Java text declares, read off its words: a guess that needs no compiler.

Comments and strings are blanked out first. What is left is walked through once, with a stack of
the braces and parentheses that are open.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from planner.java.naming import NOT_NAMES, names_in

_QUOTED = re.compile(
    r"//[^\n]*"
    r"|/\*(?s:.*?)(?:\*/|\Z)"
    r'|"""(?s:.*?)(?:"""|\Z)'
    r'|"(?:\\.|[^"\\\n])*"?'
    r"|'(?:\\.|[^'\\\n])*'?"
)
_WORD = re.compile(r"[A-Za-z_$][\w$]*|\S")
_PAIRS = {")": "(", "}": "{", "]": "["}
_TYPES = names_in("class interface enum record")
# Keywords behind which a name with parentheses is a call.
_BEFORE_CALLS = names_in("return new else throw assert case do yield instanceof")


@dataclass(frozen=True, slots=True)
class Declared:
    """A method's declaration: `start` is where its first word begins, `end` is behind its last."""

    owner: str
    """The class or interface that it stands in."""
    name: str
    parameters: int
    private: bool
    start: int
    end: int


def blanked(text: str) -> str:
    """The text with blanks for comments, strings and characters; every other place stays."""
    return _QUOTED.sub(lambda found: re.sub(r"[^\n]", " ", found[0]), text)


def words_of(text: str) -> frozenset[str]:
    """The names and keywords of a Java text, outside of comments and strings."""
    return frozenset(re.findall(r"[A-Za-z_$][\w$]*", blanked(text)))


def declared_in(text: str) -> tuple[Declared, ...]:
    """The methods that a text declares, in its order. A text that is no Java gives what it may."""
    return tuple(_Walk(text).methods())


class _Walk:
    def __init__(self, text: str) -> None:
        found = list(_WORD.finditer(blanked(text)))
        self.words = [match[0] for match in found]
        self.starts = [match.start() for match in found]
        self.closes, self.owners = self._matched()

    def _matched(self) -> tuple[dict[int, int], list[str]]:
        """Where each bracket closes, and the type that each word stands in."""
        closes: dict[int, int] = {}
        opened: list[int] = []
        owners, types, coming = [], [""], ""
        for at, word in enumerate(self.words):
            if word in _TYPES and at + 1 < len(self.words):
                coming = self.words[at + 1]
            owners.append(types[-1])
            if word in "([{":
                opened.append(at)
                types.append(coming if word == "{" and coming else types[-1])
                coming = "" if word == "{" else coming
            elif word in _PAIRS and opened and self.words[opened[-1]] == _PAIRS[word]:
                closes[opened.pop()] = at
                types.pop()
        return closes, owners

    def methods(self) -> list[Declared]:
        """The methods that are declared."""
        found = []
        begins = 0
        for at, word in enumerate(self.words):
            if word in (";", "{", "}"):
                begins = at + 1
            elif self._is_name_of_method(at, begins):
                method = self._method(at, begins)
                found += [method] if method else []
        return found

    def _is_name_of_method(self, at: int, begins: int) -> bool:
        if at == begins or self.words[at] in NOT_NAMES or self.words[at + 1 : at + 2] != ["("]:
            return False
        if not self.words[at].isidentifier():
            return False
        before = self.words[at - 1]
        is_type = before in (">", "]") or before.isidentifier()
        return is_type and before not in _BEFORE_CALLS

    def _method(self, at: int, begins: int) -> Declared | None:
        close = self.closes.get(at + 1)
        if close is None:
            return None
        after = close + 1
        if self.words[after : after + 1] == ["throws"]:
            while after < len(self.words) and self.words[after] not in ("{", ";"):
                after += 1
        mark = self.words[after] if after < len(self.words) else ""
        head = self.words[begins:at]
        if mark == "{":
            last = self.closes.get(after, len(self.words) - 1)
        elif mark == ";" and not {"=", "("} & set(head):
            last = after
        else:
            return None
        private, count = "private" in head, self._parameters(at + 2, close)
        start, end = self.starts[begins], self.starts[last] + 1
        return Declared(self.owners[at], self.words[at], count, private, start, end)

    def _parameters(self, first: int, close: int) -> int:
        depth, commas = 0, 0
        for word in self.words[first:close]:
            depth += (word in "(<[{") - (word in ")>]}")
            commas += word == "," and depth == 0
        return commas + 1 if first < close else 0
