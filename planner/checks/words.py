"""Turns of phrase that several checks share."""

from __future__ import annotations

from collections.abc import Iterable

from planner.findings import Slip, nearest


def listed(words: Iterable[str], last: str = "or") -> str:
    """Words in code marks, joined as in a sentence: `` `a`, `b` or `c` ``."""
    marked = [f"`{word}`" for word in words]
    if len(marked) < 2:
        return "".join(marked)
    return f"{', '.join(marked[:-1])} {last} {marked[-1]}"


def suggestion(slip: Slip, otherwise: str) -> str:
    """The names that were perhaps meant, nearest first; `otherwise` where none is near."""
    near = nearest(slip.word, slip.known)
    return f"Did you mean {listed(near)}? If not: {otherwise}" if near else otherwise


def steps_of(slip: Slip) -> tuple[str, ...]:
    """The step a slip is in, as a finding wants it."""
    return (slip.step,) if slip.step else ()
