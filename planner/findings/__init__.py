"""What can be told to a user, as data."""

from planner.findings.finding import Finding, Related, Severity
from planner.findings.nearness import nearest
from planner.findings.slip import Slip

__all__ = ["Finding", "Related", "Severity", "Slip", "nearest"]
