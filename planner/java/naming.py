"""From the names of a plan to names that Java takes and that stay apart."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import TypeAlias, TypeVar

from planner.java.errors import CannotExport


def names_in(text: str) -> frozenset[str]:
    """The names of a text with blanks between them."""
    return frozenset(text.split())


# The Java Language Specification, Java SE 8, section 3.9: all 50 of them, unused ones included.
KEYWORDS = names_in(
    "abstract assert boolean break byte case catch char class const continue default do double "
    "else enum extends final finally float for goto if implements import instanceof int interface "
    "long native new package private protected public return short static strictfp super switch "
    "synchronized this throw throws transient try void volatile while"
)
# Literals (section 3.10), and words that later versions of Java took for themselves.
NOT_NAMES = KEYWORDS | names_in("true false null _ var record yield sealed permits when")

# Methods that every object has; a method of that name would replace or fail to replace one.
OBJECT_METHODS = names_in("clone equals finalize getClass hashCode notify notifyAll toString wait")

# Device names that Windows keeps for itself, whatever ending the file has (from memory).
_NOT_FILES = frozenset(
    ["con", "prn", "aux", "nul", *(f"{port}{n}" for port in ("com", "lpt") for n in range(1, 10))]
)

_WORD = re.compile(r"[A-Z]+(?![a-z])[0-9]*|[A-Z]?[a-z]+[0-9]*|[0-9]+")
_SEGMENT = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")

_Key = TypeVar("_Key")
Shape: TypeAlias = Callable[[str, str], str]
"""Makes a Java name of words joined by underscores, and of a role where they do not suffice."""


def class_name(name: str, role: str) -> str:
    """``back_off`` and ``backOff`` to ``BackOff``; the role stands in front of a lone number."""
    return "".join(word[0].upper() + word[1:] for word in _words(name, role))


def member_name(name: str, role: str) -> str:
    """``BackOff`` and ``back_off`` to ``backOff``."""
    first, *rest = _words(name, role)
    return first.lower() + "".join(word[0].upper() + word[1:] for word in rest)


def constant_name(name: str, role: str) -> str:
    """``BackOff`` and ``back_off`` to ``BACK_OFF``."""
    return "_".join(word.upper() for word in _words(name, role))


def _words(name: str, role: str) -> list[str]:
    found: list[str] = _WORD.findall(name)
    return found if found and not found[0][0].isdigit() else [role, *found]


def distinct(
    names: Mapping[_Key, str], shape: Shape, role: str, taken: Iterable[str] = ()
) -> dict[_Key, str]:
    """A Java name for each key, no two alike, none of them in `taken` or kept by Java.

    The first to ask for a name gets it. The others get their role behind it, then a number, and
    never a name that somebody asked for. Class names are files, so they differ in more than case.
    """
    fold = str.casefold if shape is class_name else str
    used = {fold(name) for name in (*taken, *NOT_NAMES)}
    if shape is class_name:
        used |= _NOT_FILES
    given: dict[_Key, str] = {}
    waiting: dict[_Key, str] = {}
    for key, name in names.items():
        wanted = shape(name, role)
        if fold(wanted) in used:
            waiting[key] = name
        else:
            given[key] = wanted
            used.add(fold(wanted))
    for key, name in waiting.items():
        given[key] = _unused(name, shape, role, {*used}, fold)
        used.add(fold(given[key]))
    return {key: given[key] for key in names}


def _unused(name: str, shape: Shape, role: str, used: set[str], fold: Callable[[str], str]) -> str:
    with_role = f"{name}_{role}"
    number = 1
    candidate = shape(with_role, role)
    while fold(candidate) in used:
        number += 1
        candidate = shape(f"{with_role}_{number}", role)
    return candidate


def checked_package(package: str) -> str:
    """The package name as it came; raises `CannotExport` where Java or Windows would not have it.

    Segments are ASCII: a folder of that name must come through every file system and archive.
    """
    for segment in package.split("."):
        if not _SEGMENT.fullmatch(segment):
            raise CannotExport(
                f"{package!a} is no Java package name: write words of letters, digits and "
                "underscores with dots between them, such as org.mothclub.robot"
            )
        if segment in NOT_NAMES:
            raise CannotExport(f"{package} is no Java package name: Java keeps `{segment}`")
        if segment.casefold() in _NOT_FILES:
            raise CannotExport(f"{package} cannot be a folder: Windows keeps `{segment}`")
    if package.split(".")[0] in ("java", "javax"):
        raise CannotExport(f"{package} is no name for your own package: Java keeps `java`")
    return package


UNIT_WORDS: Mapping[str, str] = {
    "us": "microseconds",
    "ms": "milliseconds",
    "s": "seconds",
    "mm": "mm",
    "cm": "cm",
    "m": "metres",
    "in": "inches",
    "ft": "feet",
    "deg": "degrees",
    "turns": "turns",
    "%": "percent",
    "V": "volts",
    "mV": "millivolts",
    "ticks": "ticks",
    "deg/s": "degrees_per_second",
    "rpm": "rpm",
    "mm/s": "mm_per_second",
    "cm/s": "cm_per_second",
    "m/s": "metres_per_second",
    "in/s": "inches_per_second",
    "ft/s": "feet_per_second",
    "ticks/s": "ticks_per_second",
}
"""Units as parts of a name: ``range_front`` in cm is ``rangeFrontCm``."""
