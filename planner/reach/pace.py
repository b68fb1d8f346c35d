"""How fast the controller passes, and time counted so that nothing of it is lost."""

from __future__ import annotations

from dataclasses import dataclass

from planner.graph import Plan
from planner.graph.pass_time import longest_pass_us

QUICK_PASS_US = 1_000
"""The shortest pass assumed where the robot file says none; no hub answers faster (common practice,
no source)."""


@dataclass(frozen=True, slots=True)
class Pace:
    """The shortest and the longest time between two passes, both in ticks of `unit_us`.

    Where both are the same, everything happens at whole multiples of one pass, and a tick is a
    pass; elsewhere it is a microsecond, since clocks count whole ones (M2). So every bound on a
    clock is one that the number itself keeps.
    """

    shortest: int
    longest: int
    unit_us: int

    @classmethod
    def of(cls, plan: Plan) -> Pace:
        """The pace of a plan's robot."""
        return cls.between(*(plan.routine.robot.pass_us or (QUICK_PASS_US, longest_pass_us(plan))))

    @classmethod
    def between(cls, shortest_us: int, longest_us: int) -> Pace:
        """The pace of passes between two times; no two passes come in the same microsecond."""
        low, high = sorted((max(1, shortest_us), max(1, longest_us)))
        return cls(1, 1, high) if low == high else cls(low, high, 1)

    def ticks(self, time_us: int) -> int:
        """The first tick at or past a time: a clock has reached the one where it has the other."""
        return -(-time_us // self.unit_us)

    def time_us(self, ticks: int) -> int:
        """Ticks as a time."""
        return ticks * self.unit_us
