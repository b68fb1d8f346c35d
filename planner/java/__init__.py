"""A plan and its robot as Java source files."""

from planner.java.errors import CannotExport
from planner.java.export import export
from planner.java.seal import is_sealed, made_from

__all__ = ["CannotExport", "export", "is_sealed", "made_from"]
