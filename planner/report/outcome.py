"""What a run over some files came to, before anybody lays it out."""

from __future__ import annotations

from dataclasses import dataclass

from planner.findings import Finding, Severity


@dataclass(frozen=True, slots=True)
class Unread:
    """A file that could not be read, and why, in words that follow "could not read NAME: "."""

    name: str
    reason: str


@dataclass(frozen=True, slots=True)
class NotChecked:
    """A routine that was not checked to the end, because that was stopped."""

    name: str
    variants: int = 0
    """How many variants of its choices were checked."""
    of: int = 0
    """How many there are; 0 where that is not known."""

    @property
    def words(self) -> str:
        """It as words: ``lantern.routine (5 of 16 variants were checked)``."""
        some = f" ({self.variants} of {self.of} variants were checked)" if self.variants else ""
        return f"{self.name}{some}"


@dataclass(frozen=True, slots=True)
class Outcome:
    """All that a run found out. Files go by the name their `Source` has."""

    findings: tuple[Finding, ...]
    routines: tuple[str, ...] = ()
    """The routines that were checked."""
    robots: tuple[str, ...] = ()
    """The robot files that were checked."""
    left_out: tuple[str, ...] = ()
    """Folders that a folder's walk passed by."""
    unread: tuple[Unread, ...] = ()
    scenario_files: tuple[str, ...] = ()
    """The files of scenarios that were checked."""
    task_files: tuple[str, ...] = ()
    """The files of tasks that were checked."""
    not_checked: tuple[NotChecked, ...] = ()
    """The routines that were not checked, or not in all variants; none of `routines` is there."""

    def count(self, severity: Severity) -> int:
        """How many findings weigh that much."""
        return sum(finding.severity is severity for finding in self.findings)

    @property
    def has_errors(self) -> bool:
        """Whether any plan of the run can lose a match."""
        return any(finding.severity is Severity.ERROR for finding in self.findings)

    @property
    def is_undecided(self) -> bool:
        """Whether of some plan it is not settled what all of its runs do."""
        undecided = ("finish-undecided", "requirement-undecided")
        found = any(finding.check in undecided for finding in self.findings)
        return found or bool(self.not_checked)
