"""All routines of three steps, exhaustively, against the obvious judge of what they do.

Each step leads to a subset of the three steps and the finish: the last of its targets by its time
limit, the others each by a sensor; and once more without a time limit where there is one target.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

import pytest
from demo import HEADER, moth_robot

from planner.findings import Finding
from planner.pipeline import check_routine
from planner.text import Source

STEPS = ("A", "B", "C")
ALL = (*STEPS, "Lit")
WAITS = {
    "A": "bumper pressed",
    "B": "tin_gate broken",
    "C": "arm_floor pressed",
    "Lit": "floor_eye sees red",
}
COMMANDS = {"A": "claw close", "B": "claw open", "C": "arm to 100 ticks"}


@dataclass(frozen=True)
class Exits:
    """Where a step leads: by sensors, and by its time limit if it has one."""

    whens: tuple[str, ...]
    after: str | None

    @property
    def targets(self) -> set[str]:
        """All of them."""
        return {*self.whens, *([self.after] if self.after else [])}


def choices() -> Iterator[Exits]:
    """Every way for a step to lead to a subset of `ALL`."""
    for size in range(len(ALL) + 1):
        for targets in itertools.combinations(ALL, size):
            yield Exits(targets[:-1], targets[-1] if targets else None)
            if size == 1:
                yield Exits(targets, None)


CHOICES = tuple(choices())


def text_of(exits: tuple[Exits, ...]) -> str:
    """The routine whose steps have these exits."""
    lines = ["start A"]
    for step, of_step in zip(STEPS, exits, strict=True):
        lines += [f"step {step}", f"  {COMMANDS[step]}"]
        lines += [f"  when {WAITS[target]}, go to {target}" for target in of_step.whens]
        lines += [f"  after 3 s, go to {of_step.after}"] if of_step.after else []
    return HEADER + "\n".join([*lines, "finish Lit\n"])


class Judge:
    """What the checks should say, by their stated rules, without any algorithm worth the name."""

    def __init__(self, exits: tuple[Exits, ...]) -> None:
        self.exits = dict(zip(STEPS, exits, strict=True))
        self.after_one = {step: of_step.targets for step, of_step in self.exits.items()}
        self.after_one["Lit"] = set()
        self.after_some = {step: self._after_some(step) for step in ALL}
        self.reached = {"A"} | self.after_some["A"]

    def _after_some(self, step: str) -> set[str]:
        """The steps that one move or more lead to."""
        found = set(self.after_one[step])
        for _ in ALL:
            found |= {target for step in found for target in self.after_one[step]}
        return found

    def unreachable(self) -> set[str]:
        """The steps that no moves from the start lead to."""
        return set(ALL) - self.reached

    def dead_ends(self) -> set[str]:
        """The steps that are no finish and have no exit."""
        return {step for step in STEPS if not self.after_one[step]}

    def traps(self) -> set[str]:
        """The steps that a run comes to, and that all that follows leads back to."""
        return {
            step
            for step in set(STEPS) & self.reached
            if self.after_some[step]
            and all(step in self.after_some[later] for later in self.after_some[step])
        }

    def doomed(self) -> set[str]:
        """The steps of a trap, and those from which a trap can be reached and no finish."""
        traps = self.traps()
        return {
            step
            for step in self.reached
            if "Lit" not in self.after_some[step] and ({step} | self.after_some[step]) & traps
        } - {"Lit"}

    def loops(self) -> set[str]:
        """The steps that a run comes to and can come to again, other than those of a trap."""
        return {step for step in self.reached if step in self.after_some[step]} - self.traps()

    def unlimited(self) -> set[str]:
        """The steps that wait and have no time limit."""
        return {s for s, exits in self.exits.items() if exits.whens and exits.after is None}


def marked(findings: tuple[Finding, ...], check: str) -> set[str]:
    """The steps that a check's findings belong to."""
    return {step for finding in findings if finding.check == check for step in finding.steps}


@pytest.mark.parametrize("first", CHOICES, ids=str)
def test_all_routines_of_three_steps(first: Exits) -> None:
    """The checks of the graph mark just the steps that the obvious judge does."""
    for others in itertools.product(CHOICES, repeat=2):
        exits = (first, *others)
        text = text_of(exits)
        findings = check_routine(Source("x.routine", text), lambda _name: moth_robot()).findings
        judge = Judge(exits)
        expected = {
            "unreachable-step": judge.unreachable(),
            "dead-end": judge.dead_ends(),
            "no-way-to-finish": judge.doomed(),
            "endless-loop": judge.loops(),
            "wait-without-limit": judge.unlimited(),
        }
        assert expected == {check: marked(findings, check) for check in expected}, text
