"""A run as JSON, for other programs.

The structure is this project's own. `version` grows when a field changes its meaning or goes away;
a new field alone does not change it. Lines and columns count from 1, columns in characters;
`end_column` is one past the last.
"""

from __future__ import annotations

import json
from typing import Any

from planner.findings import Finding, Severity
from planner.report.outcome import Outcome
from planner.text import Place

VERSION = 1


def as_json(outcome: Outcome) -> str:
    """The run as JSON text in ASCII, fields always in the same order."""
    record = {
        "version": VERSION,
        "routines": list(outcome.routines),
        "robot_files": list(outcome.robots),
        "scenario_files": list(outcome.scenario_files),
        "task_files": list(outcome.task_files),
        "left_out": list(outcome.left_out),
        "could_not_read": [
            {"path": unread.name, "reason": unread.reason} for unread in outcome.unread
        ],
        "not_checked": [
            {"path": left.name, "variants": left.variants, "of_variants": left.of}
            for left in outcome.not_checked
        ],
        "errors": outcome.count(Severity.ERROR),
        "warnings": outcome.count(Severity.WARNING),
        "notes": outcome.count(Severity.NOTE),
        "findings": [_finding(finding) for finding in outcome.findings],
    }
    return json.dumps(record, indent=2) + "\n"


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "check": finding.check,
        "severity": finding.severity.word,
        **place_record(finding.place),
        "headline": finding.headline,
        "why": finding.why,
        "way_out": finding.way_out,
        "paste": list(finding.paste),
        "steps": list(finding.steps),
        "related": [
            {**place_record(related.place), "label": related.label} for related in finding.related
        ],
        "run": [
            {
                "earliest_us": moment.earliest_us,
                "latest_us": moment.latest_us,
                "step": moment.step,
                "why": moment.why,
                "seen": list(moment.seen),
            }
            for moment in (finding.run.moments if finding.run else ())
        ],
        "chosen": dict(finding.run.chosen) if finding.run else {},
    }


def place_record(place: Place) -> dict[str, Any]:
    """A place in the fields that all records share."""
    return {
        "path": place.source.name,
        "line": place.line,
        "column": place.column,
        "end_column": place.end_column,
    }
