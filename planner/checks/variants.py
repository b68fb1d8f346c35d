"""Each variant of a routine checked by itself, and one list of findings from those of all."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

from planner.checks.case import Case
from planner.checks.run import findings_of
from planner.findings import Finding, Slip
from planner.graph import unfold
from planner.model import Robot, SharedFiles, resolve_routine
from planner.model.choices import AnyChoice, Choice, Variant, as_words
from planner.text import Place
from planner.tree import Parsed


@dataclass(frozen=True, slots=True)
class VariantCase:
    """A routine as read, with what is chosen; it can be sent to another process."""

    parsed: Parsed
    robot: Robot
    files: SharedFiles
    slips: tuple[Slip, ...]
    """Met while the routine was read."""
    chosen: Variant

    def findings(self) -> tuple[Finding, ...]:
        """What is found in the plan as chosen."""
        routine, slips = resolve_routine(self.parsed, self.robot, self.chosen, self.files)
        return findings_of(Case(self.robot, self.slips + slips, unfold(routine)))


FindEach: TypeAlias = Callable[[Sequence[VariantCase]], Iterable[tuple[Finding, ...]]]
"""Gives the findings of each variant, in their order; fewer of them where it was stopped."""


def in_turn(cases: Sequence[VariantCase]) -> Iterable[tuple[Finding, ...]]:
    """The findings of each variant, one after the other."""
    return (case.findings() for case in cases)


def merged(
    choices: Mapping[str, AnyChoice],
    found: Sequence[tuple[Variant, tuple[Finding, ...]]],
    of_all: frozenset[str],
    whole: bool = True,
) -> tuple[Finding, ...]:
    """The findings of all variants, each told once, with the choices that it depends on.

    Of one check at one place the worst variant is told. `of_all` names the checks that speak only
    where every variant has the fault. Where not all variants are `found`, nothing is concluded
    from those that are missing.
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
        if whole and len(by_variant) == len(found):
            told.append(finding)
        elif check not in of_all:
            with_it = [found[number][0] for number in by_variant]
            every = [variant for variant, _ in found]
            only = _only(choices, with_it, every) if whole else _for_instance(choices, with_it[0])
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
    return _for_instance(choices, some[0])


def _for_instance(choices: Mapping[str, AnyChoice], variant: Variant) -> str:
    told = [f"`{name}` is `{variant[name]}`" for name in choices if _differs(choices[name])]
    return f"for instance if {' and '.join(told)}"


def _differs(choice: AnyChoice) -> bool:
    return isinstance(choice, Choice) or choice.low != choice.high
