"""Text to tree and back."""

from planner.tree.format import comments_of, format_condition, format_file, format_value
from planner.tree.parse import Parsed, parse_robot, parse_routine

__all__ = [
    "Parsed",
    "comments_of",
    "format_condition",
    "format_file",
    "format_value",
    "parse_robot",
    "parse_routine",
]
