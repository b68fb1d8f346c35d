"""Numbers of a plan: exact, and written back as they are."""

from __future__ import annotations

from fractions import Fraction

import pytest
from demo import resolved, said
from hypothesis import given
from hypothesis import strategies as st

from planner.model.units import UNITS, Amount, decimal_text, seconds_text


@pytest.mark.parametrize(
    ("number", "text"),
    [
        ("0", "0"), ("-1", "-1"), ("1200", "1200"), ("0.5", "0.5"), ("-0.05", "-0.05"),
        ("2.50", "2.5"), ("30.000001", "30.000001"), ("1234567.5", "1234567.5"),
        ("1/3", "0.333333"), ("5/127", "0.0393701"),
    ],
)  # fmt: skip
def test_decimal_text(number: str, text: str) -> None:
    """A number is written in full where a decimal can, and with six digits where none can."""
    assert text == decimal_text(Fraction(number))


@given(st.decimals(allow_nan=False, allow_infinity=False, places=9))
def test_decimals_come_back(number: Fraction) -> None:
    """Every decimal is written so that it reads back as the same number, with no exponent."""
    text = decimal_text(Fraction(number))
    assert (Fraction(number), False) == (Fraction(text), "e" in text.lower())


def test_hundreds_of_digits() -> None:
    """A number of hundreds of digits is written, whatever its fraction."""
    assert "9" * 400 + ".5" == decimal_text(Fraction("9" * 400 + ".5"))
    assert decimal_text(Fraction(10**400 + 1, 3)).startswith("3.33333")


def test_seconds_text() -> None:
    """Whole microseconds are written in seconds, to the last of them."""
    assert ["2.5 s", "0.000001 s", "30 s"] == [*map(seconds_text, (2_500_000, 1, 30_000_000))]


@pytest.mark.parametrize(
    ("written", "microseconds"),
    [
        ("0.1 s", 100_000), ("100 ms", 100_000), ("1 us", 1), ("0.000001 s", 1), ("0 s", 0),
        ("2.5 s", 2_500_000), ("0.3 s", 300_000), ("29.999999 s", 29_999_999), ("+1 s", 1_000_000),
    ],
)  # fmt: skip
def test_times_are_whole_microseconds(written: str, microseconds: int) -> None:
    """A time is held in whole microseconds, never by way of a float."""
    routine, _ = resolved(f"start A\nstep A\n  after {written}, go to Lit\nfinish Lit\n")
    assert [microseconds] == [after.limit_us for after in routine.steps["A"].afters]


@pytest.mark.parametrize(
    ("written", "slip"),
    [
        ("0.0000001 s", ("wrong-time", "0.0000001 s")),
        ("0.5 us", ("wrong-time", "0.5 us")),
        ("-1 s", ("wrong-time", "-1 s")),
        ("3", ("number-without-unit", "3")),
        ("3 sec", ("unknown-unit", "3 sec")),
        ("3 cm", ("wrong-unit", "3 cm")),
        ("patience", ("unknown-setting", "patience")),
    ],
)
def test_wrong_times(written: str, slip: tuple[str, str]) -> None:
    """A time that is none is one slip at its own words, and its step counts as incomplete."""
    routine, slips = resolved(f"start A\nstep A\n  after {written}, go to Lit\nfinish Lit\n")
    assert ([slip], True) == (said(slips), routine.steps["A"].incomplete)


def test_amounts_speak_as_written() -> None:
    """An amount that came from a setting is spoken of by the setting's name, with its sign."""
    amount = Amount(Fraction("2.50"), UNITS["s"])
    named = Amount(Fraction(40), UNITS["%"], "cruise")
    assert ["2.5 s", "cruise", "-cruise"] == [
        amount.written, named.written, named.negated().written
    ]  # fmt: skip
    assert Fraction(-40) == named.negated().base
