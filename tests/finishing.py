"""The reference machine, and what it was still running when it came to a finish."""

from __future__ import annotations

from typing import Any

from planner.model.routine import Given
from planner.rehearsal import Machine


class Finishing(Machine):
    """Notes what runs on the way into a finish, before the finish says or switches off anything."""

    brought: set[str]

    def _finish(self, commands: tuple[Given, ...], this: Any) -> None:
        own = {given.mechanism.name for given in commands}
        self.brought = set(self.state.running) - own
        super()._finish(commands, this)
