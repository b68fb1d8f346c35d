"""Which findings a picture marks on which step, and in what words."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from planner.findings import Finding, Severity
from planner.pictures import markup
from planner.pictures.lettering import LINE, width
from planner.pictures.palette import MARKS

_PAD = 2
_SPACE = 2
MARK_HEIGHT = LINE + 2 * _PAD
MARKS_HEIGHT = MARK_HEIGHT + 2 * _SPACE
"""Points that a mark, and a row of marks with the space around it, are high."""


@dataclass(frozen=True, slots=True)
class Marks:
    """The findings of a picture: by step, and those that belong to none of its steps."""

    by_step: Mapping[str, Counter[Severity]]
    elsewhere: Sequence[Finding]

    def of(self, step: str) -> Counter[Severity]:
        """How many findings of each severity belong to a step."""
        return self.by_step.get(step, Counter())


def marks_of(findings: Iterable[Finding], steps: Collection[str]) -> Marks:
    """Sorts findings by the step they belong to; one that names several counts at each."""
    by_step: dict[str, Counter[Severity]] = {}
    elsewhere = []
    for finding in sorted(findings, key=lambda f: (-f.severity, f.order)):
        named = [step for step in dict.fromkeys(finding.steps) if step in steps]
        for step in named:
            by_step.setdefault(step, Counter())[finding.severity] += 1
        if not named:
            elsewhere.append(finding)
    return Marks(by_step, elsewhere)


def spoken_count(severity: Severity, count: int) -> str:
    """A count in words: ``2 warnings``."""
    return f"{count} {severity.word}{'' if count == 1 else 's'}"


def chips(counts: Counter[Severity], room: float) -> str:
    """A row of marks in `room` points, worst first: symbol, count and word on a fill."""
    shown = [(s, spoken_count(s, counts[s])) for s in MARKS if counts[s]]
    cells = [chip(severity, words) for severity, words in shown]
    taken = sum(chip_width(severity, words) + _SPACE for severity, words in shown)
    # What is left goes to a cell of its own, or the marks would be stretched.
    cells.append(markup.cell("", WIDTH=max(0, round(room - taken - 2 * _SPACE))))
    return markup.table(markup.row(*cells), CELLSPACING=_SPACE)


def chip(severity: Severity, words: str) -> str:
    """One mark as a cell."""
    mark = MARKS[severity]
    return markup.cell(
        markup.escaped(f"{mark.symbol} {words}"), BGCOLOR=mark.fill, CELLPADDING=_PAD
    )


def chip_width(severity: Severity, words: str) -> float:
    """About how wide a mark is, in points."""
    return width(f"{MARKS[severity].symbol} {words}") + 2 * _PAD
