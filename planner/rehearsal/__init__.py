"""The reference meaning of a plan, pass by pass, and scenarios played on it."""

from planner.rehearsal.conditions import Number, Readings
from planner.rehearsal.machine import Machine
from planner.rehearsal.scenarios import Difference, Played, play
from planner.rehearsal.state import Asked, State
from planner.rehearsal.world import World

__all__ = [
    "Asked",
    "Difference",
    "Machine",
    "Number",
    "Played",
    "Readings",
    "State",
    "World",
    "play",
]
