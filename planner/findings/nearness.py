"""Names that were perhaps meant."""

from __future__ import annotations

from collections.abc import Iterable


def nearest(word: str, known: Iterable[str], most: int = 3) -> tuple[str, ...]:
    """The names of `known` that a slip of the finger could have turned into `word`, nearest first.

    Distance: restricted Damerau-Levenshtein (optimal string alignment), case folded, at most a
    third of the longer word, so that short words match only their closest neighbours.
    """
    # Imported here because most runs have nothing to suggest.
    from rapidfuzz.distance import OSA

    ranked = []
    for name in sorted(set(known)):
        reach = max(1, max(len(word), len(name)) // 3)
        distance = OSA.distance(word.casefold(), name.casefold(), score_cutoff=reach)
        if distance <= reach:
            ranked.append((distance, name))
    return tuple(name for _, name in sorted(ranked)[:most])
