"""Memories, counters, choices and lanes that a plan asks as if they were sensors."""

from __future__ import annotations

import re
from dataclasses import replace

from planner.checks.case import Found
from planner.checks.plan_names import kept
from planner.checks.repair import readable
from planner.checks.words import steps_of
from planner.findings import Slip
from planner.text import Place
from planner.tree.language import ROUTINE
from planner.tree.rows import split_comment

_WHY = "The planner takes it for a sensor, and the robot has none of that name."
_ALL = frozenset({"lanes", "all", "both", "everything", "each", "every"})
_ONE = frozenset({"any", "lane"})
_WORD = re.compile(r"\s+(?:sees\s+)?([A-Za-z_]\w*)(?=\s*(?:,|\)|$|\b(?:and|or|for)\b))")
_NUMBER = re.compile(r"\s*([<>]=?)\s*(\d+)\b(?:\s*(?!(?:and|or|for)\b)(?:%|[a-z/]+))?")


def asked_bare(slip: Slip, place: Place | None = None) -> Found | None:
    """What to write where something else is asked by its bare name; None where nothing is.

    `place` is where the name stands, if it is not what the slip is about.
    """
    at = place or slip.place
    return _of_lanes(slip, at) or _of_kept(slip, at)


def _of_lanes(slip: Slip, at: Place) -> Found | None:
    lanes, word, behind = kept(at, "lane"), at.words, at.line_text[at.end_column - 1 :]
    if not lanes or not behind.lstrip().startswith("done"):
        return None
    if word in lanes:
        headline = f"`{word}` is a lane, and is asked with `lane` in front"
        return _found(slip, at, headline, f"lane {word} done", _until(at, "done"))
    asked = "all lanes done" if word in _ALL else "any lane done" if word in _ONE else ""
    if not asked:
        return None
    headline = f"`{word} done` is written `{asked}`"
    return _found(slip, at, headline, asked, _until(at, "done"))


def _of_kept(slip: Slip, at: Place) -> Found | None:
    for word, what in _KINDS.items():
        if at.words in kept(at, word):
            asked, end = _question(at, what)
            headline = f"`{at.words}` is a {what}, and is asked with `{what}` in front"
            return _found(slip, at, headline, asked, end)
    return None


_KINDS = {"memory": "memory", "counter": "counter", "choose": "choice"}


def _question(at: Place, what: str) -> tuple[str, int]:
    """How it is asked, and the column behind what that takes the place of."""
    behind = at.line_text[at.end_column - 1 :]
    number, word = _NUMBER.match(behind), _WORD.match(behind)
    if what == "counter" and number:
        return (
            f"counter {at.words} {number.group(1)} {number.group(2)}",
            at.end_column + number.end(),
        )
    if what != "counter" and word:
        return f"{what} {at.words} is {word.group(1)}", at.end_column + word.end()
    return f"{what} {at.words}", at.end_column


def _until(at: Place, word: str) -> int:
    return at.line_text.index(word, at.end_column - 1) + len(word) + 1


def _found(slip: Slip, at: Place, headline: str, asked: str, end: int) -> Found:
    text = at.line_text
    line = split_comment(text[: at.column - 1] + asked + text[end - 1 :])[0].strip()
    reads = any(readable(line, ROUTINE, rule) for rule in ("step_line", "file_line"))
    return Found(
        replace(at, end_column=end),
        headline,
        _WHY,
        _LESSONS[asked.split()[0]].replace("LANE", "".join(kept(at, "lane")[:1])),
        paste=(line,) if reads else (),
        steps=steps_of(slip),
    )


_LESSONS = {
    "all": "`any lane done` asks for one of them, `lane LANE done` for the one of that name.",
    "any": "`all lanes done` asks for every lane, `lane LANE done` for the one of that name.",
    "lane": "Where it is can be asked too: `lane LANE in` and a step of it.",
    "memory": "One of words is asked with `is`, a number with `<`, `<=`, `>` or `>=`.",
    "counter": "It is compared with a plain number: `is`, `<`, `<=`, `>` or `>=`.",
    "choice": "It is asked with `is`, and only words can be asked; a number that is chosen stands "
    "where a number stands.",
}
