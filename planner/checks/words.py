"""Turns of phrase that several checks share."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from planner.checks.sides import opposite
from planner.findings import Related, Slip, nearest
from planner.text import Place
from planner.tree.rows import split_comment

_MOST_PLACES = 6


def listed(words: Iterable[str], last: str = "or") -> str:
    """Words in code marks, joined as in a sentence: `` `a`, `b` or `c` ``."""
    marked = [f"`{word}`" for word in words]
    if len(marked) < 2:
        return "".join(marked)
    return f"{', '.join(marked[:-1])} {last} {marked[-1]}"


def near_names(slip: Slip, most: int = 3) -> tuple[str, ...]:
    """The names that were perhaps meant, nearest first.

    The same thing on the other side is never meant: who writes `left_weels` knows his left.
    """
    near = nearest(slip.word, slip.known)
    return tuple(name for name in near if not opposite(slip.word, name))[:most]


def together(slips: Iterable[Slip]) -> Iterator[tuple[Slip, tuple[Related, ...]]]:
    """Slips in their order, those of one name that is declared nowhere told once.

    With the first come the other places. A name that is near to another is a slip of the finger
    each time, and each line has its own line to paste.
    """
    first: dict[str, Slip] = {}
    further: dict[str, list[Slip]] = {}
    for slip in slips:
        key = slip.word if not near_names(slip) else f"{slip.word} {slip.place.order}"
        if first.setdefault(key, slip) is not slip:
            further.setdefault(key, []).append(slip)
    for key, slip in first.items():
        places = [other.place for other in further.get(key, ())]
        labels = [f"`{slip.word}` again" for _ in places[:_MOST_PLACES]]
        left = len(places) - _MOST_PLACES
        if left > 0:
            labels[-1] += f", and in {counted(left, 'more place')}"
        yield slip, tuple(map(Related, places, labels))


def suggestion(slip: Slip, otherwise: str) -> str:
    """The names that were perhaps meant, nearest first; `otherwise` where none is near."""
    near = near_names(slip)
    if not near:
        return otherwise
    return f"Did you mean {listed(near)}? If not, {otherwise[:1].lower()}{otherwise[1:]}"


def steps_of(slip: Slip) -> tuple[str, ...]:
    """The step a slip is in, as a finding wants it."""
    return (slip.step,) if slip.step else ()


def in_words(parts: Sequence[str], last: str = "or") -> str:
    """Phrases joined as in a sentence, whatever marks they carry already."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} {last} {parts[-1]}"


def mended_line(place: Place, words: str) -> str:
    """The line of a place with `words` put there instead, without indentation and comment."""
    text = place.line_text
    changed = text[: place.column - 1] + words + text[place.end_column - 1 :]
    return split_comment(changed)[0].strip()


def mended(slip: Slip) -> tuple[str, ...]:
    """The line with the nearest name put in, to paste; none where no name is near."""
    return tuple(mended_line(slip.place, name) for name in near_names(slip, most=1))


def whole_word(place: Place) -> Place:
    """The place made wider, so that it does not begin or end within a word."""
    text = place.line_text
    start, end = place.column - 1, place.end_column - 1
    while (
        0 < start < len(text) and re.match(r"\w", text[start]) and re.match(r"\w", text[start - 1])
    ):
        start -= 1
    while 0 < end < len(text) and re.match(r"\w", text[end - 1]) and re.match(r"\w", text[end]):
        end += 1
    return replace(place, column=start + 1, end_column=end + 1)


def counted(number: int, one: str, many: str = "") -> str:
    """A number and its noun: `1 number`, `2 numbers`."""
    return f"{number} {one if number == 1 else many or one + 's'}"
