"""Names that were perhaps meant, and the order of findings."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.findings import Finding, Severity, nearest
from planner.findings.nearness import MOST_NAMES
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


def _distance(one: str, other: str) -> int:
    """Optimal string alignment, by its definition: the obvious judge."""
    if not one or not other:
        return len(one) + len(other)
    ways = [
        _distance(one[1:], other) + 1,
        _distance(one, other[1:]) + 1,
        _distance(one[1:], other[1:]) + (one[0] != other[0]),
    ]
    if len(one) > 1 and len(other) > 1 and (one[0], one[1]) == (other[1], other[0]):
        ways.append(_distance(one[2:], other[2:]) + 1)
    return min(ways)


SHORT = st.text("aBb", max_size=6)


@given(SHORT, st.sets(SHORT, max_size=8))
def test_nearest_is_what_it_says(word: str, known: set[str]) -> None:
    """The names are those within a third of the longer word, nearest first, three at most."""
    ranked = sorted(
        (distance, name)
        for name in known
        if (distance := _distance(word.casefold(), name.casefold()))
        <= max(1, max(len(word), len(name)) // 3)
    )
    assert tuple(name for _, name in ranked[:3]) == nearest(word, known)


def test_thousands_of_names() -> None:
    """Among thousands of names none is suggested, so that a file of slips takes no minutes."""
    names = [f"step_{number}" for number in range(MOST_NAMES)]
    assert 3 == len(nearest("stepp_1", names))
    assert () == nearest("stepp_1", [*names, "one_more"])
