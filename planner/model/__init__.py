"""What robots and routines are: names resolved, units normalised, all of it frozen."""

from planner.model.resolve_robot import missing_robot, resolve_robot
from planner.model.resolve_routine import resolve_routine, robot_named
from planner.model.resolve_scenario import resolve_scenarios
from planner.model.robot import Robot
from planner.model.routine import Routine

__all__ = [
    "Robot",
    "Routine",
    "missing_robot",
    "resolve_robot",
    "resolve_routine",
    "resolve_scenarios",
    "robot_named",
]
