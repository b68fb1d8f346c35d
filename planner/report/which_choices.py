"""Which combinations of choices something is about, in words."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import prod

from planner.model.choices import AnyChoice, RangeChoice, Variant


def which_choices(variants: Sequence[Variant], choices: Mapping[str, AnyChoice]) -> str:
    """What they have in common: ``park is quay and place is near or far``.

    Choices of which they have every value are left out; all is told where each combination has to
    be named by itself.
    """
    values = {name: _values(variants, name) for name in choices}
    if prod(len(of_one) for of_one in values.values()) == len(variants):
        told = [
            f"{name} is {' or '.join(of_one)}"
            for name, of_one in values.items()
            if len(of_one) < len(choices[name].ends)
        ]
        return " and ".join(told)
    apart = [name for name in choices if not _makes_no_difference(variants, name, choices[name])]
    combinations = dict.fromkeys(
        " and ".join(f"{name} is {variant[name]}" for name in apart) for variant in variants
    )
    return ", or ".join(combinations)


def over_ranges(variants: Sequence[Variant], choices: Mapping[str, AnyChoice]) -> str:
    """Of which numbers of their ranges they are, such as ``for any delay from 0 s to 5 s``; empty
    where nothing is chosen from a range."""
    ranges = [choice for choice in choices.values() if isinstance(choice, RangeChoice)]
    told = []
    for choice in ranges:
        values = _values(variants, choice.name)
        whole = len(values) == len(choice.ends)
        every = f"any {choice.name} from {choice.low} to {choice.high}"
        told.append(every if whole else f"{choice.name} {values[0]}")
    return f"for {' and '.join(told)}" if told else ""


def _values(variants: Sequence[Variant], name: str) -> list[str]:
    return list(dict.fromkeys(str(variant[name]) for variant in variants))


def _makes_no_difference(variants: Sequence[Variant], name: str, choice: AnyChoice) -> bool:
    """Whether with every combination they have those with the choice's other values as well."""
    rest = {
        tuple(str(value) for other, value in variant.items() if other != name)
        for variant in variants
    }
    return len(rest) * len(choice.ends) == len(variants)
