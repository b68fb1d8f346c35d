"""The reference meaning of a plan, pass by pass."""

from planner.rehearsal.conditions import Number, Readings
from planner.rehearsal.machine import Machine, State

__all__ = ["Machine", "Number", "Readings", "State"]
