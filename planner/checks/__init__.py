"""What is proved or noticed about a plan, one file a check.

The whole table is `planner.checks.table`; it is not loaded with the package, because most runs
need only half of it.
"""

from planner.checks.case import Case, Check
from planner.checks.own_words import in_own_words
from planner.checks.run import findings_of, findings_together, of_all, told_once
from planner.checks.variants import FindEach, VariantCase, in_turn, merged

__all__ = [
    "Case",
    "Check",
    "FindEach",
    "VariantCase",
    "findings_of",
    "findings_together",
    "in_own_words",
    "in_turn",
    "merged",
    "of_all",
    "told_once",
]
