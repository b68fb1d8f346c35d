"""What checks ask about the routine's limit."""

from __future__ import annotations

from planner.checks.case import Case


def limit_is_known(case: Case) -> bool:
    """Whether the routine's limit could be read; where it could not, 30 s are assumed."""
    return not any(
        not slip.step
        and (slip.place.line_text.split()[:1] == ["limit"] or (slip.check, slip.word) == _MISSING)
        for slip in case.slips
    )


_MISSING = ("missing-line", "limit")
