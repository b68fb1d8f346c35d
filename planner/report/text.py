"""Findings as a person reads them in a terminal, one card a finding."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from planner.findings import Finding, Moment, Related, ShownRun
from planner.rehearsal.choosing import spoken_choices
from planner.report.excerpt import excerpt
from planner.report.glyphs import harmless
from planner.report.prose import sentence, wrapped
from planner.report.screen import Role, Screen
from planner.text import Place

# Prose is hard to read in wider columns, and nothing can be laid out in narrower ones.
_WIDEST = 90
_NARROWEST = 40

_MARGIN = "  "
_LABEL_WIDTH = 10

# A longer run is cut in the middle, where it goes round in most cases.
_MOST_MOMENTS = 16
_FIRST_MOMENTS = 9


def as_text(findings: Iterable[Finding], screen: Screen) -> str:
    """The findings by file, in the order they are given; empty where there are none.

    Each shows what is wrong, its line with the words marked, why that matters, the way out, lines
    that can be pasted, other places that belong to it, and how to learn more.
    """
    blocks = []
    for name, of_file in groupby(findings, key=lambda finding: finding.place.source.name):
        cards = ["\n".join(_Card(screen).rows(finding)) for finding in of_file]
        head = screen.style(Role.FILE, harmless(name, screen.encoding))
        blocks.append("\n\n".join([head, *cards]) + "\n")
    return "\n".join(blocks)


class _Card:
    """Lays one finding out: labels in a narrow column, texts in a wide one."""

    def __init__(self, screen: Screen) -> None:
        self.screen = screen
        width = max(_NARROWEST, min(_WIDEST, screen.width))
        self.room = width - len(_MARGIN) - _LABEL_WIDTH - 2

    def rows(self, finding: Finding) -> Iterator[str]:
        yield from self._headline(finding)
        yield from self._line(finding)
        yield from self._prose("Why", finding.why)
        yield from self._prose("Way out", finding.way_out)
        # Pasted lines stay whole, whatever the width: a cut one would be no plan.
        paste = [harmless(line, self.screen.encoding) for line in finding.paste]
        yield from self._labelled("Paste", paste)
        yield from self._run(finding.run)
        for related in finding.related:
            yield from self._related(related, finding.place)
        yield from self._labelled("More", [f"planner explain {finding.check}"])

    def _headline(self, finding: Finding) -> Iterator[str]:
        word = finding.severity.word.capitalize()
        text = f"{word}: {sentence(finding.headline, self.screen.encoding)}"
        first, *others = wrapped(text, self.room + _LABEL_WIDTH)
        yield self.screen.style(Role(finding.severity.word), word) + first.removeprefix(word)
        yield from (" " * (len(word) + 2) + other for other in others)

    def _line(self, finding: Finding) -> Iterator[str]:
        row, marks = excerpt(finding.place, self.room, self.screen.encoding)
        blanks = " " * (len(marks) - len(marks.lstrip()))
        marks = blanks + self.screen.style(Role(finding.severity.word), marks.lstrip())
        yield from self._labelled(f"line {finding.place.line}", [row, marks])

    def _run(self, run: ShownRun | None) -> Iterator[str]:
        """The run as a storyboard: when, in which step, why it is left, what the sensors say."""
        if run is None:
            return
        left_out = len(run.moments) - _MOST_MOMENTS
        rows = [(_when(moment), _happening(moment)) for moment in run.moments]
        if left_out > 1:
            between = f"... {left_out} more moves, all in `--format json`"
            rows[_FIRST_MOMENTS : _FIRST_MOMENTS + left_out] = [("", between)]
        if run.chosen:
            rows.insert(0, ("", f"with {spoken_choices(dict(run.chosen))}"))
        width = max((len(when) for when, _ in rows), default=0)
        lines: list[str] = []
        for when, text in rows:
            shown = sentence(text, self.screen.encoding)
            first, *others = wrapped(shown, max(self.room - width - 2, _NARROWEST // 2))
            lines.append(f"{when.rjust(width)}  {first}")
            lines += [" " * (width + 4) + other for other in others]
        yield from self._labelled("Run", lines)

    def _related(self, related: Related, home: Place) -> Iterator[str]:
        where = f"line {related.place.line}"
        if related.place.source.name != home.source.name:
            where += f" of {harmless(related.place.source.name, self.screen.encoding)}"
        text = f"{where}: {sentence(related.label, self.screen.encoding)}"
        row, marks = excerpt(related.place, self.room, self.screen.encoding)
        yield from self._labelled("See also", [*wrapped(text, self.room), row, marks])

    def _prose(self, label: str, text: str) -> Iterator[str]:
        yield from self._labelled(label, wrapped(sentence(text, self.screen.encoding), self.room))

    def _labelled(self, label: str, lines: Iterable[str]) -> Iterator[str]:
        for number, line in enumerate(lines):
            shown = label if number == 0 else ""
            front = self.screen.style(Role.LABEL, shown) + " " * (_LABEL_WIDTH - len(shown))
            yield f"{_MARGIN}{front}  {line}".rstrip()


def _happening(moment: Moment) -> str:
    # What the plan waits for is often just what a sensor says.
    seen = ", ".join(one for one in moment.seen if one != moment.why)
    return f"{moment.step}: {moment.why}" + (f" ({seen})" if seen else "")


def _when(moment: Moment) -> str:
    """The time window of a moment, to hundredths of a second: ``2.00 to 2.04 s``."""
    low, high = (f"{time_us / 1_000_000:.2f}" for time_us in (moment.earliest_us, moment.latest_us))
    return f"{low} s" if low == high else f"{low} to {high} s"
