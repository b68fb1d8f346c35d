"""Names that were perhaps meant, and the order of findings."""

from __future__ import annotations

import pytest

from planner.findings import Finding, Severity, nearest
from planner.text import Place, Source

KNOWN = ("Approach", "BackOff", "Raise", "Lit", "lift_floor", "left_wheels", "right_wheels", "on")


@pytest.mark.parametrize(
    ("word", "names"),
    [
        ("Liit", ("Lit",)),
        ("lit", ("Lit",)),
        ("Aproach", ("Approach",)),
        ("Apporach", ("Approach",)),
        ("left_wheel", ("left_wheels",)),
        ("LiftFloor", ("lift_floor",)),
        ("no", ("on",)),
        ("Harbour", ()),
        ("", ()),
    ],
)
def test_nearest(word: str, names: tuple[str, ...]) -> None:
    """A slip of the finger finds the name that was meant, and no other word finds any."""
    assert names == nearest(word, KNOWN)


def test_nearest_first() -> None:
    """Of several names the nearest comes first, then by the alphabet, three at most."""
    assert ("Grip", "Gr1p", "Grep") == nearest("Grip", ["Grop", "Grip", "Grep", "Gr1p"])


def test_order() -> None:
    """Findings are ordered as a reader meets them: file, line, column, then the check's name."""
    source = Source("a", "one two\nthree\n")
    places = [Place(source, 1, 1, 4), Place(source, 1, 5, 8), Place(source, 2, 1, 6)]
    ordered = [
        Finding(check, Severity.ERROR, place, "x", "x", "x")
        for place in places
        for check in ("blind-step", "dead-end")
    ]
    mixed = [*ordered[3:], *ordered[:3]]
    assert ordered == sorted(mixed, key=lambda finding: finding.order)


def test_severity_words() -> None:
    """Severities weigh more the worse they are, and are named in plain words."""
    assert ["note", "warning", "error"] == [severity.word for severity in sorted(Severity)]
