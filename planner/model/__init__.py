"""What robots and routines are: names resolved, units normalised, all of it frozen."""

from planner.model.resolve_robot import missing_robot, resolve_robot
from planner.model.resolve_routine import resolve_routine, robot_named
from planner.model.resolve_scenario import resolve_scenarios
from planner.model.resolve_tasks import resolve_tasks
from planner.model.robot import Robot
from planner.model.routine import Routine
from planner.model.shared_tasks import SharedFiles, task_uses

__all__ = [
    "Robot",
    "Routine",
    "SharedFiles",
    "missing_robot",
    "resolve_robot",
    "resolve_routine",
    "resolve_scenarios",
    "resolve_tasks",
    "robot_named",
    "task_uses",
]
