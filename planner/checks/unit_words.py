"""What units are called elsewhere, and the unit of this language that says it."""

from __future__ import annotations

from collections.abc import Mapping

UNIT_WORDS: Mapping[str, str] = {
    **dict.fromkeys(("sec", "secs", "second", "seconds"), "s"),
    **dict.fromkeys(("msec", "msecs", "millis", "millisecond", "milliseconds"), "ms"),
    **dict.fromkeys(("µs", "usec", "microsecond", "microseconds"), "us"),
    **dict.fromkeys(("inch", "inches"), "in"),
    **dict.fromkeys(("foot", "feet"), "ft"),
    **dict.fromkeys(("millimeter", "millimeters", "millimetre", "millimetres"), "mm"),
    **dict.fromkeys(("centimeter", "centimeters", "centimetre", "centimetres"), "cm"),
    **dict.fromkeys(("meter", "meters", "metre", "metres"), "m"),
    **dict.fromkeys(("°", "degs", "degree", "degrees"), "deg"),
    **dict.fromkeys(("turn", "rev", "revs", "revolution", "revolutions", "rotations"), "turns"),
    **dict.fromkeys(("percent", "pct", "per cent", "power"), "%"),
    **dict.fromkeys(("v", "volt", "volts"), "V"),
    **dict.fromkeys(("mv", "millivolt", "millivolts"), "mV"),
    **dict.fromkeys(("tick", "count", "counts", "pulse", "pulses", "steps"), "ticks"),
    **dict.fromkeys(("°/s", "deg/sec", "degrees/s", "degrees/second"), "deg/s"),
    **dict.fromkeys(("tick/s", "counts/s", "ticks/sec"), "ticks/s"),
    "cm/sec": "cm/s",
    "m/sec": "m/s",
    "in/sec": "in/s",
    "fps": "ft/s",
}
"""Keys are in lower case; the sizes are the same, so the number can stay."""

# Units that measure the same thing, but whose number has to change.
CONVERSIONS: Mapping[str, str] = {
    **dict.fromkeys(("min", "mins", "minute", "minutes"), "One minute is `60 s`."),
    **dict.fromkeys(("rad", "rads", "radian", "radians"), "One radian is `57.3 deg`."),
    **dict.fromkeys(("yd", "yard", "yards"), "One yard is `3 ft`."),
    **dict.fromkeys(("pass", "passes", "loops", "cycles"), "A time is given in `s` or `ms`."),
    "hz": "Give the time between two passes, in `ms`.",
}


def unit_meant(word: str) -> str:
    """The unit that a foreign word or other spelling says, empty where it is none of these."""
    return UNIT_WORDS.get(word.casefold(), "")
