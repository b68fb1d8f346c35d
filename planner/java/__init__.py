"""A plan and its robot as Java source files."""

from planner.java.errors import CannotExport
from planner.java.export import export
from planner.java.seal import is_sealed, made_from
from planner.java.team_code import Lacking, Unwritten, lacking_in, unwritten_in

__all__ = [
    "CannotExport",
    "Lacking",
    "Unwritten",
    "export",
    "is_sealed",
    "lacking_in",
    "made_from",
    "unwritten_in",
]
