"""What can be told to a user, as data."""

from planner.findings.finding import Finding, Moment, Related, Severity, ShownRun
from planner.findings.nearness import nearest
from planner.findings.slip import Slip

__all__ = ["Finding", "Moment", "Related", "Severity", "ShownRun", "Slip", "nearest"]
