"""Names that differ only by a side: `left_wheels` and `right_wheels`."""

from __future__ import annotations

import re
from collections.abc import Iterable

_PAIRS = (
    ("left", "right"),
    ("front", "back"),
    ("front", "rear"),
    ("top", "bottom"),
    ("upper", "lower"),
    ("inner", "outer"),
    ("near", "far"),
)
_OTHERS: dict[str, list[str]] = {}
for _one, _other in _PAIRS:
    _OTHERS.setdefault(_one, []).append(_other)
    _OTHERS.setdefault(_other, []).append(_one)

# The words of a name, whether written left_wheels, leftWheels or LEFT_WHEELS.
_WORDS = re.compile(r"[A-Z]?[a-z]+|[A-Z]+(?![a-z])|[0-9]+|_+")


def siblings(name: str, known: Iterable[str]) -> list[str]:
    """The names of `known` that are `name` with one word for a side changed, in their order."""
    words = _WORDS.findall(name)
    others = {
        "".join((*words[:index], _cased(other, word), *words[index + 1 :]))
        for index, word in enumerate(words)
        for other in _OTHERS.get(word.lower(), ())
    }
    return [candidate for candidate in known if candidate in others]


def opposite(name: str, other: str) -> bool:
    """Whether two names are of opposite sides, whatever else is in them."""
    words = {word.lower() for word in _WORDS.findall(name)}
    others = {word.lower() for word in _WORDS.findall(other)}
    return any(others.intersection(_OTHERS.get(word, ())) for word in words - others)


def _cased(word: str, like: str) -> str:
    """The word with capitals where `like` has them."""
    if like.isupper():
        return word.upper()
    return word.capitalize() if like[0].isupper() else word
