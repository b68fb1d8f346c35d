"""What is proved or noticed about a plan, one file a check."""

from planner.checks.case import Case, Check
from planner.checks.table import CHECKS, OF_ALL, check_named, findings_of
from planner.checks.variants import merged

__all__ = ["CHECKS", "OF_ALL", "Case", "Check", "check_named", "findings_of", "merged"]
