"""One list of findings from those of every variant of a routine."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from planner.findings import Finding
from planner.model.choices import AnyChoice, Choice, Variant
from planner.text import Place

# What one choice leaves out another may use: such a finding holds only if it holds for all.
_OF_ALL = frozenset(
    {
        *("unreachable-step", "unused-setting", "unused-task", "outcome-never-reached"),
        *("count-never-runs-out", "scenario-without-demand"),
    }
)


def merged(
    choices: Mapping[str, AnyChoice], found: Sequence[tuple[Variant, tuple[Finding, ...]]]
) -> tuple[Finding, ...]:
    """The findings of all variants, each told once, with the choices that it depends on."""
    by_place: dict[tuple[str, Place], list[int]] = {}
    first: dict[tuple[str, Place], Finding] = {}
    for number, (_, findings) in enumerate(found):
        for finding in findings:
            key = (finding.check, finding.place)
            first.setdefault(key, finding)
            by_place.setdefault(key, []).append(number)
    told = []
    for key, numbers in by_place.items():
        finding = first[key]
        with_it = [found[number][0] for number in dict.fromkeys(numbers)]
        if len(with_it) == len(found):
            told.append(finding)
        elif finding.check not in _OF_ALL:
            only = _only(choices, with_it, [variant for variant, _ in found])
            told.append(replace(finding, headline=f"{finding.headline}, {only}"))
    return tuple(sorted(told, key=lambda finding: finding.order))


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
