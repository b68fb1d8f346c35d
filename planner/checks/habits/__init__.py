"""What students write from habit, and how this language says it."""

from planner.checks.habits.code import CODE
from planner.checks.habits.conditions import CONDITIONS
from planner.checks.habits.exits import EXITS
from planner.checks.habits.habit import Habit
from planner.checks.habits.lane_lines import LANE_LINES
from planner.checks.habits.lines import LINES, TASK_LINES
from planner.checks.habits.memories import MEMORIES
from planner.checks.habits.requirement_lines import REQUIREMENT_LINES
from planner.checks.habits.robot_lines import ROBOT_LINES
from planner.checks.habits.scenario_lines import SCENARIO_LINES
from planner.checks.habits.signs import SIGNS

HABITS: tuple[Habit, ...] = (
    *TASK_LINES,
    *LANE_LINES,
    *REQUIREMENT_LINES,
    *SIGNS,
    *ROBOT_LINES,
    *SCENARIO_LINES,
    *MEMORIES,
    *CONDITIONS,
    *EXITS,
    *LINES,
    *CODE,
)
"""In the order they are mended: a later pattern may count on what an earlier one has put right."""

__all__ = ["HABITS", "Habit"]
