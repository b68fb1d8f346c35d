"""Op modes that are each for one combination of what a routine lets choose, ready to be printed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import product

from planner.java.naming import class_name, distinct
from planner.java.op_mode_code import auto_type
from planner.java.plan_names import routine_type
from planner.java.robot_names import unit_words
from planner.java.wording import comment, double, string
from planner.java.wording import name as name_literal
from planner.model.choices import AnyChoice, Choice, RangeChoice, Variant, normal_variant
from planner.model.routine import Routine
from planner.model.units import Amount, decimal_text

LONGEST_TITLE = 60
"""How much of a routine's title an op mode's name in the list of the driver station has."""

# Words that say nothing without the name of their choice.
_ANSWERS = frozenset({"yes", "no", "on", "off", "none", "one", "two", "three"})


@dataclass(frozen=True, slots=True)
class FixedCode:
    """The op mode of one combination: the routine's own op mode with all of its choices made."""

    type_name: str
    auto_type: str
    combination: str
    """What it is for, for a comment."""
    name: str
    """What the driver station calls it, a literal."""
    group: str
    fixes: tuple[str, ...]
    """The arguments that settle each choice."""


def fixed_codes(routine: Routine, combinations: Iterable[Variant]) -> Iterator[FixedCode]:
    """The op mode of each combination, in their order; what one leaves out is as normal.

    A class name is made of the combination alone, so it stays whatever others are asked for.
    """
    choices = routine.choices
    normal = normal_variant(choices)
    words = _names_of_words(choices)
    wanted: dict[tuple[str, ...], Variant] = {}
    for chosen in combinations:
        every = {name: chosen.get(name, normal[name]) for name in choices}
        wanted.setdefault(_key(every), every)
    names = {
        key: f"{words[_words_of(whole)]}_{_numbers(choices, whole)}"
        for key, whole in wanted.items()
    }
    types = distinct(names, class_name, "Chosen")
    title = routine.title or routine.name
    robot = routine.robot
    for key, whole in wanted.items():
        spoken = ", ".join(_spoken(choices, whole))
        yield FixedCode(
            f"{routine_type(routine)}{types[key]}Fixed",
            auto_type(routine),
            comment(f"{title}: {spoken}"),
            # The combination is what tells it from others in the list, so it is never cut.
            name_literal(f"{_shortened(title)}: {spoken}"),
            string(robot.title or robot.name),
            tuple(f"{string(name)}, {_value(choices[name], whole[name])}" for name in choices),
        )


def _shortened(title: str) -> str:
    return title if len(title) <= LONGEST_TITLE else f"{title[: LONGEST_TITLE - 3]}..."


def _key(chosen: Variant) -> tuple[str, ...]:
    """The same for two combinations that say the same in other units."""
    return tuple(str(v.base) if isinstance(v, Amount) else v for v in chosen.values())


def _words_of(chosen: Variant) -> tuple[str, ...]:
    return tuple(value for value in chosen.values() if isinstance(value, str))


def _names_of_words(choices: Mapping[str, AnyChoice]) -> dict[tuple[str, ...], str]:
    """A part of a class name for each combination of words there can be, none like another."""
    worded = [choice for choice in choices.values() if isinstance(choice, Choice)]
    every = {
        words: "_".join(
            _word(choices, choice, word) for choice, word in zip(worded, words, strict=True)
        ).replace(" ", "_")
        for words in product(*(choice.values for choice in worded))
    }
    return distinct(every, class_name, "Chosen") if worded else {(): ""}


def _word(choices: Mapping[str, AnyChoice], choice: Choice, word: str) -> str:
    """A word that was chosen, behind its choice's name where it would say nothing by itself."""
    others = (c for c in choices.values() if isinstance(c, Choice) and c is not choice)
    clear = word not in _ANSWERS and all(word not in other.values for other in others)
    return word if clear else f"{choice.name} {word}"


def _told(choices: Mapping[str, AnyChoice], chosen: Variant) -> Iterator[tuple[str, Amount]]:
    """The numbers that a name says: those that are not normal, or all where there are no words."""
    alone = not any(isinstance(choice, Choice) for choice in choices.values())
    for name, choice in choices.items():
        value = chosen[name]
        if not isinstance(choice, RangeChoice) or not isinstance(value, Amount):
            continue
        if alone or value.base != choice.normal.base:
            unit = choice.low.unit
            yield name, Amount(value.in_unit(unit), unit)


def _numbers(choices: Mapping[str, AnyChoice], chosen: Variant) -> str:
    """The numbers as part of a class name, no two alike: ``delay_2_point_5_s``."""
    parts = []
    for name, amount in _told(choices, chosen):
        number = decimal_text(amount.number).replace("-", "minus_").replace(".", "_point_")
        parts.append(f"{name}_{number}_{unit_words(amount.unit)}")
    return "_".join(parts)


def _spoken(choices: Mapping[str, AnyChoice], chosen: Variant) -> Iterator[str]:
    """What was chosen as the driver station says it: ``blue``, ``delay 2.5 s``."""
    for name, choice in choices.items():
        if isinstance(choice, Choice):
            yield _word(choices, choice, str(chosen[name]))
    for name, amount in _told(choices, chosen):
        yield f"{name} {amount}"


def _value(choice: AnyChoice, value: str | Amount) -> str:
    """What a choice is settled with: a word, or a number in the choice's own unit."""
    if isinstance(choice, RangeChoice) and isinstance(value, Amount):
        return double(value.in_unit(choice.low.unit))
    return string(str(value))
