"""Names that were perhaps meant, measured by optimal string alignment."""

from __future__ import annotations

import pytest
from demo import check_text
from rapidfuzz.distance import OSA

from planner.checks.unit_words import CONVERSIONS, UNIT_WORDS, unit_meant
from planner.findings import nearest
from planner.model.units import UNITS


@pytest.mark.parametrize(
    ("first", "second", "distance"),
    [
        # The usual examples of the literature on edit distances, from memory: "CA" to "ABC" is 3
        # where a swapped pair may not be edited again (optimal string alignment), and 2 otherwise.
        ("CA", "ABC", 3),
        ("kitten", "sitting", 3),
        ("sunday", "saturday", 3),
        # G. Navarro, "A guided tour to approximate string matching" (2001), from memory: 2 edits.
        ("survey", "surgery", 2),
        # One swapped pair is one edit (F. Damerau, CACM 7, 1964, from memory).
        ("bumper", "bumepr", 1),
    ],
)
def test_distance(first: str, second: str, distance: int) -> None:
    """The library measures what we say it does."""
    assert distance == OSA.distance(first, second)
    assert distance == OSA.distance(second, first)


@pytest.mark.parametrize(
    ("word", "known", "expected"),
    [
        ("bumepr", ("bumper", "gyro"), ("bumper",)),
        ("Bumper", ("bumper", "gyro"), ("bumper",)),
        ("CA", ("ABC",), ()),
        ("kitten", ("sitting",), ()),
        ("survey", ("surgery",), ("surgery",)),
        ("x", ("y", "zz"), ("y",)),
        ("grip", ("lift", "drive"), ()),
        ("", ("a", "bb"), ("a",)),
    ],
)
def test_nearest(word: str, known: tuple[str, ...], expected: tuple[str, ...]) -> None:
    """Only names within a third of the longer word are offered, and at least one letter."""
    assert expected == nearest(word, known)


@pytest.mark.parametrize(
    ("written", "unit"),
    [
        # Names of units in SI and in common English and American use.
        *(("seconds", "s"), ("sec", "s"), ("S", "s"), ("Milliseconds", "ms"), ("msec", "ms")),
        *(("inch", "in"), ("inches", "in"), ("feet", "ft"), ("centimeters", "cm")),
        *(("metres", "m"), ("meter", "m"), ("degrees", "deg"), ("percent", "%"), ("volts", "V")),
        *(("counts", "ticks"), ("revolutions", "turns"), ("RPM", "rpm"), ("CM", "cm"), ("v", "V")),
    ],
)
def test_units_by_other_names(written: str, unit: str) -> None:
    """A unit under its long name or in other letters is answered with the one to write."""
    text = f"start A\nstep A\n  claw open\n  after 3 {written}, go to B\nfinish B\n"
    found = next(finding for finding in check_text(text) if finding.check == "unknown-unit")
    assert f"`{written}` is no unit here; it is written `{unit}`" == found.headline
    assert (f"after 3 {unit}, go to B",) == found.paste


def test_words_for_units_are_no_units() -> None:
    """The table of other names leads to units, and names none that is one already."""
    assert set() == set(UNIT_WORDS.values()) - set(UNITS)
    assert set() == (set(UNIT_WORDS) | set(CONVERSIONS)) & set(UNITS)
    assert "" == unit_meant("cm")


@pytest.mark.parametrize(
    ("written", "told"),
    # A minute has 60 seconds, a radian 180/pi = 57.296 degrees, a yard 3 feet.
    [("min", "60 s"), ("rad", "57.3 deg"), ("yards", "3 ft")],
)
def test_units_that_change_the_number(written: str, told: str) -> None:
    """Where the number cannot stay, the message says how much one is, and offers no line."""
    text = f"start A\nstep A\n  claw open\n  after 3 {written}, go to B\nfinish B\n"
    found = next(finding for finding in check_text(text) if finding.check == "unknown-unit")
    assert told in found.way_out
    assert () == found.paste
