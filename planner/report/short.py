"""Findings as one line each, for editors and for searching."""

from __future__ import annotations

from collections.abc import Iterable

from planner.findings import Finding
from planner.report.glyphs import harmless
from planner.report.prose import sentence
from planner.report.screen import Role, Screen


def as_short(findings: Iterable[Finding], screen: Screen) -> str:
    """``path:line:column: severity check: headline``, in the order given.

    Lines and columns count from 1, columns in characters.
    """
    return "".join(f"{_short(finding, screen)}\n" for finding in findings)


def _short(finding: Finding, screen: Screen) -> str:
    place = finding.place
    where = f"{harmless(place.source.name, screen.encoding)}:{place.line}:{place.column}"
    word = screen.style(Role(finding.severity.word), finding.severity.word)
    return f"{where}: {word} {finding.check}: {sentence(finding.headline, screen.encoding)}"
