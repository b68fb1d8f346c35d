"""Names that were perhaps meant."""

from __future__ import annotations

from collections.abc import Iterable

MOST_NAMES = 1000
"""Among more names than these none is looked for: a program wrote them, and it does not slip."""


def nearest(word: str, known: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """The names of `known` that a slip of the finger could have turned into `word`, nearest first.

    Distance: restricted Damerau-Levenshtein (optimal string alignment), case folded, at most a
    third of the longer word, so that short words match only their closest neighbours.
    """
    names = tuple(known)
    if len(names) > MOST_NAMES:
        return ()
    # Imported here because most runs have nothing to suggest.
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    # A name may be half as long again as the word, and a third of that is half of the word.
    furthest = max(1, len(word) // 2)
    near = process.extract(
        word,
        set(names),
        scorer=OSA.distance,
        processor=str.casefold,
        score_cutoff=furthest,
        limit=None,
    )
    ranked = sorted((distance, name) for name, distance, _ in near)
    return tuple(
        name for distance, name in ranked if distance <= max(1, max(len(word), len(name)) // 3)
    )[:most]
