"""One list of findings from those of every variant of a routine."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from planner.findings import Finding
from planner.model.choices import AnyChoice, Choice, Variant, as_words
from planner.text import Place


def merged(
    choices: Mapping[str, AnyChoice],
    found: Sequence[tuple[Variant, tuple[Finding, ...]]],
    of_all: frozenset[str],
) -> tuple[Finding, ...]:
    """The findings of all variants, each told once, with the choices that it depends on.

    Of one check at one place the worst variant is told. `of_all` names the checks that speak only
    where every variant has the fault.
    """
    by_place: dict[tuple[str, Place], dict[int, Finding]] = {}
    for number, (_, findings) in enumerate(found):
        for finding in findings:
            by_place.setdefault((finding.check, finding.place), {}).setdefault(number, finding)
    told = []
    for (check, _), by_variant in by_place.items():
        # Of equal weight the first variant's, as `max` has it.
        number, finding = max(by_variant.items(), key=lambda one: one[1].weight)
        finding = _with_chosen(finding, found[number][0])
        if len(by_variant) == len(found):
            told.append(finding)
        elif check not in of_all:
            with_it = [found[number][0] for number in by_variant]
            only = _only(choices, with_it, [variant for variant, _ in found])
            told.append(replace(finding, headline=f"{finding.headline}, {only}"))
    return tuple(sorted(told, key=lambda finding: finding.order))


def _with_chosen(finding: Finding, variant: Variant) -> Finding:
    """A finding whose run says what was chosen before it."""
    if finding.run is None:
        return finding
    return replace(finding, run=replace(finding.run, chosen=as_words(variant)))


def _only(choices: Mapping[str, AnyChoice], some: list[Variant], every: list[Variant]) -> str:
    """The choices that tell some variants from the others, in words."""
    for choice in choices.values():
        values = list(dict.fromkeys(variant[choice.name] for variant in some))
        told_apart = [v for v in every if v[choice.name] in values] == some
        if told_apart and len(values) < len(choice.ends):
            return f"if `{choice.name}` is {' or '.join(f'`{value}`' for value in values)}"
    told = [f"`{name}` is `{some[0][name]}`" for name in choices if _differs(choices[name])]
    return f"for instance if {' and '.join(told)}"


def _differs(choice: AnyChoice) -> bool:
    return isinstance(choice, Choice) or choice.low != choice.high
