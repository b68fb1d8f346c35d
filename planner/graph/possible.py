"""Whether conditions can be true together, whatever the sensors say: decided, not sampled.

The values of all that is looked at are chosen one after the other; a choice is given up as soon as
no condition can come out as wanted any more (backtracking; D. Knuth, "The Art of Computer
Programming", volume 4B, section 7.2.2, from memory). Each source has a value for each way of
answering all questions put to it, so nothing is left out. Of memory more is taken to be possible
than may be (see `atoms`): that something can never be is certain, and that it can be is certain
where no condition remembers anything.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import Enum

from planner.graph.atoms import (
    SOURCE,
    Answer,
    Asking,
    Assumed,
    Atoms,
    Cell,
    Key,
    counts_from_entry,
)
from planner.graph.kleene import FALSE, TRUE, UNKNOWN, Mask
from planner.model.condition import (
    Condition,
    Held,
    Lasting,
    Looks,
    Once,
    Steady,
    leaves,
)
from planner.model.meaning import meaning

MOST_TRIED = 4_000
"""So many choices are tried; where they do not decide it, it is left undecided."""

LATEST_US = 10**12
"""Later than any time that a plan asks the match clock for."""


class Verdict(Enum):
    """What a search has found."""

    POSSIBLE = "possible"
    NEVER = "never"
    UNDECIDED = "undecided"


@dataclass(frozen=True, slots=True)
class Outcome:
    """A verdict and, where it is possible, what the sensors then say."""

    verdict: Verdict
    says: Mapping[str, Cell] = field(default_factory=dict)
    """By source as a plan names it, a value in the first unit of its dimension; None where it
    cannot be read. Sources that make no difference are left out."""

    @property
    def never(self) -> bool:
        """Whether it is certain that it cannot be."""
        return self.verdict is Verdict.NEVER

    @property
    def possible(self) -> bool:
        """Whether readings were found."""
        return self.verdict is Verdict.POSSIBLE


def together(
    true: Sequence[Asking],
    not_true: Sequence[Asking] = (),
    around: Sequence[str] = (),
    assumed: Assumed | None = None,
) -> Outcome:
    """Whether all of some conditions can be true in one pass in which none of the others is.

    `around` are the names of the groups and the step that ask, outermost first: what an inner one
    remembers, an outer one does as well.
    """
    atoms = Atoms([*true, *not_true], assumed or Assumed())
    goals = [(answer, TRUE) for answer in atoms.answers[: len(true)]]
    goals += [(answer, UNKNOWN | FALSE) for answer in atoms.answers[len(true) :]]
    ties = [*_ties(atoms, around), *_looks_now(atoms)]
    return _Search(atoms.domains, goals, ties).outcome()


def implies(first: Condition, then: Condition, owner: str = "") -> bool:
    """Whether it is certain that `then` is true in every pass in which `first` is."""
    asking = [Asking(first, owner)], [Asking(then, owner)]
    return together(*asking, (owner,), Assumed(LATEST_US)).never


def untrue_with(asking: Asking, key: Key, value: Cell) -> bool:
    """Whether it is certain that a condition is not true while something it looks at says that."""
    given = {key: value}
    return together([asking], (), (asking.owner,), Assumed(LATEST_US, given=given)).never


def can_be_true(condition: Condition, limit_us: int | None = None) -> Outcome:
    """Whether some readings make it true; the match clock goes up to `limit_us`."""
    return together([Asking(condition)], assumed=Assumed(limit_us))


def always_true(condition: Condition, limit_us: int | None = None) -> bool:
    """Whether it is certain that every value that can be read makes it true."""
    return together((), [Asking(condition)], (), Assumed(limit_us, readable=True)).never


@dataclass(frozen=True, slots=True)
class _Tie:
    """Of two answers the second is true where the first is."""

    first: Answer
    then: Answer

    def may_hold(self, chosen: Mapping[Key, Cell]) -> bool:
        return bool(self.first(chosen) & ~TRUE or self.then(chosen) & TRUE)

    def holds(self, chosen: Mapping[Key, Cell]) -> bool:
        return not self.first(chosen) & TRUE or self.then(chosen) == TRUE


class _Search:
    def __init__(
        self,
        domains: Mapping[Key, tuple[Cell, ...]],
        goals: Sequence[tuple[Answer, Mask]],
        ties: Sequence[_Tie],
    ) -> None:
        self.domains = domains
        self.goals = goals
        self.ties = ties
        self.chosen: dict[Key, Cell] = {}
        # What sensors say first, then what is remembered of it; few values before many.
        self.keys = sorted(domains, key=lambda key: (key[0] != SOURCE, len(domains[key])))

    def outcome(self) -> Outcome:
        """Goes through the choices without recursion, the last key changing fastest."""
        if not self._may_succeed():
            return Outcome(Verdict.NEVER)
        if self._succeeds():
            return self._found()
        values: list[Iterator[Cell]] = [iter(self._next_values(0))]
        for _ in range(MOST_TRIED):
            key = self.keys[len(values) - 1]
            try:
                self.chosen[key] = next(values[-1])
            except StopIteration:
                values.pop()
                self.chosen.pop(key, None)
                if not values:
                    return Outcome(Verdict.NEVER)
                continue
            if not self._may_succeed():
                continue
            if self._succeeds():
                return self._found()
            if len(values) < len(self.keys):
                values.append(iter(self._next_values(len(values))))
        return Outcome(Verdict.UNDECIDED)

    def _next_values(self, number: int) -> tuple[Cell, ...]:
        return self.domains[self.keys[number]] if number < len(self.keys) else ()

    def _may_succeed(self) -> bool:
        wanted = all(answer(self.chosen) & mask for answer, mask in self.goals)
        return wanted and all(tie.may_hold(self.chosen) for tie in self.ties)

    def _succeeds(self) -> bool:
        certain = all(not answer(self.chosen) & ~mask for answer, mask in self.goals)
        return certain and all(tie.holds(self.chosen) for tie in self.ties)

    def _found(self) -> Outcome:
        says = {str(key[1]): cell for key, cell in self.chosen.items() if key[0] == SOURCE}
        return Outcome(Verdict.POSSIBLE, says)


def _looks_now(atoms: Atoms) -> Iterator[_Tie]:
    """Of the looks that count, the present one is the last."""
    for condition, _, answer in atoms.memories.values():
        if isinstance(condition, Looks):
            now = atoms.parts[id(condition)]
            if condition.least == condition.looks:
                yield _Tie(answer, now)
            if condition.least == 1:
                yield _Tie(now, answer)


def _ties(atoms: Atoms, around: Sequence[str]) -> Iterator[_Tie]:
    """What follows from one memory for another."""
    memories = list(atoms.memories.values())
    for first, owner, answer in memories:
        for then, outer, other in memories:
            if first is then or not _encloses(around, outer, owner):
                continue
            if _carries(first, then) and (outer == owner or not _is_of_entry(first, then)):
                yield _Tie(answer, other)


def _is_of_entry(*memories: Lasting) -> bool:
    """Whether some of them look at what counts from the entry: what one owner sees of it, or
    measures from a mark, another does not."""
    return any(
        isinstance(leaf, Steady) or counts_from_entry(leaf)
        for memory in memories
        for leaf in leaves(memory)
    )


def _encloses(around: Sequence[str], outer: str, inner: str) -> bool:
    """Whether what `outer` remembers goes back at least as far as what `inner` does."""
    if outer == inner:
        return True
    return outer in around and inner in around and around.index(outer) < around.index(inner)


def _carries(first: Lasting, then: Lasting) -> bool:
    """Whether the second is true where the first is, with a memory that goes back as far."""
    match first, then:
        case Held(part, held_us), Held(inner, least_us) if least_us <= held_us:
            return _same_or_implied(part, inner)
        case Looks(part, least, looks), Looks(inner, fewer, more) if (
            fewer <= least and more >= looks
        ):
            return _same_or_implied(part, inner)
        case ((Once(part) | Held(part, _) | Looks(part, _, _)), Once(inner)):
            return _same_or_implied(part, inner)
        case Steady(source, tolerance, held_us), Steady(other, reach, least_us):
            same = source.spoken == other.spoken and tolerance.base == reach.base
            return same and least_us <= held_us
        case _:
            return False


def _same_or_implied(first: Condition, then: Condition) -> bool:
    said = meaning(first)
    return (said is not None and said == meaning(then)) or implies(first, then)
