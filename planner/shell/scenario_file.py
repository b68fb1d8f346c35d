"""The file of scenarios beside a routine, to which scenarios are added."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from planner.findings import Finding, Severity
from planner.model.scenario import Scenario
from planner.pipeline import Checked, check_scenarios
from planner.shell.files import UnreadError, read_data, source_of, write_whole
from planner.shell.reading import is_there
from planner.shell.trouble import Trouble
from planner.shell.walk import SCENARIOS
from planner.text import Source, encode


@dataclass(slots=True)
class ScenarioFile:
    """What the file holds and what is to be added; nothing that it holds is changed."""

    path: Path
    checked: Checked
    data: bytes
    """Its bytes; none where there is no file yet."""
    before: str
    text: str

    @classmethod
    def beside(cls, routine: Path, checked: Checked) -> ScenarioFile:
        """The file of a routine. Raises `Trouble` where it cannot be read."""
        path = routine.with_suffix(SCENARIOS)
        data = _there(path)
        text = source_of(path, data).text if data else f"routine {checked.plan.routine.name}\n"
        return cls(path, checked, data, text, text)

    def scenarios(self) -> tuple[Scenario, ...]:
        """Those of the file, and those that stand in the routine itself."""
        return (*self._read()[0], *self.checked.plan.routine.scenarios)

    def names(self) -> set[str]:
        """The names that are taken."""
        return {scenario.name for scenario in self.scenarios()}

    def add(self, name: str, lines: Iterable[str]) -> Scenario:
        """Adds a scenario below all others; the scenario as it is read back.

        Raises `Trouble` where it cannot be read, and then it is not added.
        """
        gap = "\n" if self.text.endswith("\n") else "\n\n"
        kept = self.text
        self.text += gap + "".join(f"{line}\n" for line in lines)
        scenarios, findings = self._read()
        scenario = next((one for one in scenarios if one.name == name), None)
        if scenario is None or scenario.incomplete:
            self.text = kept
            errors = [one for one in findings if one.severity is Severity.ERROR]
            why = errors[-1].headline if errors else "it cannot be read back"
            raise Trouble(f"nothing was written, choose another name: {why}")
        return scenario

    def write(self) -> None:
        """Writes the file whole. Raises `Trouble`, and then nothing was written."""
        added = self.text[len(self.before) :]
        # Behind bytes that stay as they are, so that the file's line ends and encoding stay too.
        as_in = encode(added, self.data)[len(encode("", self.data)) :]
        write_whole(self.path, (self.data + as_in) if self.data else self.text.encode())

    def _read(self) -> tuple[tuple[Scenario, ...], tuple[Finding, ...]]:
        read = check_scenarios(Source(str(self.path), self.text), self.checked)
        return read.scenarios, read.findings


def _there(path: Path) -> bytes:
    """The bytes of the file; none where there is no file."""
    if not is_there(path):
        return b""
    try:
        data = read_data(path)
        source_of(path, data)
    except UnreadError as error:
        raise Trouble(f"{error}, so nothing was written") from None
    return data
