"""Rehearsed scenarios for other programs: JSON, and JUnit's XML for build servers.

The JSON's structure is this project's own; `version` grows when a field changes its meaning or
goes away. The XML holds the elements and attributes that build servers agree on, as far as they
make sense here; `time` is the run's own, on the match clock, in seconds.
"""

from __future__ import annotations

import json
from collections.abc import Iterable
from fractions import Fraction
from typing import Any
from xml.etree import ElementTree

from planner.findings import Finding
from planner.graph import Plan
from planner.model.choices import normal_variant
from planner.model.units import decimal_text
from planner.rehearsal import Played
from planner.report.glyphs import harmless
from planner.report.record import place_record
from planner.report.rehearsed import (
    Rehearsal,
    Rehearsed,
    RehearsedRoutine,
    demanded,
    end_of,
    where,
)
from planner.report.screen import Screen
from planner.report.short import as_short
from planner.report.storyboard import happened, storyboard

VERSION = 1


def as_rehearsal_json(rehearsal: Rehearsal, trace: bool = False) -> str:
    """The rehearsal as JSON text in ASCII; with `trace` the events of every run as well."""
    record = {
        "version": VERSION,
        "passed": not rehearsal.failed and not rehearsal.unread,
        "left_out": list(rehearsal.left_out),
        "could_not_read": [{"path": one.name, "reason": one.reason} for one in rehearsal.unread],
        "routines": [_routine(routine, trace) for routine in rehearsal.routines],
    }
    return json.dumps(record, indent=2) + "\n"


def _routine(routine: RehearsedRoutine, trace: bool) -> dict[str, Any]:
    return {
        "path": routine.name,
        "played": routine.playable,
        "errors": _errors(routine.errors),
        "scenarios": [_scenario(routine.plan, one, trace) for one in routine.scenarios],
    }


def _scenario(plan: Plan, one: Rehearsed, trace: bool) -> dict[str, Any]:
    record: dict[str, Any] = {
        "name": one.scenario.name,
        "title": one.scenario.title,
        **place_record(one.scenario.place),
        "played": one.played is not None,
        "passed": one.passed,
        "errors": _errors(one.findings),
    }
    if plan.routine.choices:
        chosen = {**normal_variant(plan.routine.choices), **one.scenario.choices}
        record["choices"] = {name: str(value) for name, value in chosen.items()}
    if one.played is None:
        return record
    record["end"] = end_of(one.played)
    record["end_us"] = one.played.events[-1].at_us
    record["differences"] = [
        {
            **place_record(difference.demand.place),
            "demanded": demanded(difference),
            "seen": difference.seen,
        }
        for difference in one.played.differences
    ]
    if trace:
        record["events"] = [
            {"at_us": event.at_us, "event": happened(event)} for event in one.played.events
        ]
    return record


def _errors(findings: Iterable[Finding]) -> list[dict[str, Any]]:
    return [
        {
            "check": finding.check,
            **place_record(finding.place),
            "headline": finding.headline,
            "way_out": finding.way_out,
        }
        for finding in findings
    ]


def as_junit(rehearsal: Rehearsal, trace: bool = False) -> str:
    """The rehearsal as XML, a test suite a routine; what could not be read is a suite as well."""
    root = ElementTree.Element("testsuites")
    for routine in rehearsal.routines:
        cases = [_case(routine, one, trace) for one in routine.scenarios]
        if routine.errors:
            text = as_short(routine.errors, Screen())
            cases.append(_wrong(routine.name, "the plan itself", "it has errors", text))
        _suite(root, routine.name, cases)
    for unread in rehearsal.unread:
        _suite(root, unread.name, [_wrong(unread.name, "the file", unread.reason, "")])
    ElementTree.indent(root)
    declaration = '<?xml version="1.0" encoding="utf-8"?>\n'
    return declaration + ElementTree.tostring(root, encoding="unicode") + "\n"


def _suite(root: ElementTree.Element, name: str, cases: list[ElementTree.Element]) -> None:
    suite = ElementTree.SubElement(root, "testsuite", name=_safe(name))
    for attribute, tag in (("tests", None), ("failures", "failure"), ("errors", "error")):
        number = sum(tag is None or case.find(tag) is not None for case in cases)
        suite.set(attribute, str(number))
    suite.set("skipped", "0")
    suite.extend(cases)


def _case(routine: RehearsedRoutine, one: Rehearsed, trace: bool) -> ElementTree.Element:
    if one.played is None:
        text = as_short(one.findings, Screen())
        return _wrong(routine.name, one.scenario.name, "it makes no sense", text)
    case = _element(routine.name, one.scenario.name, one.played)
    if not one.passed:
        told = [
            f"{where(difference)}: {demanded(difference)}\n  instead: {difference.seen}"
            for difference in one.played.differences
        ]
        first = one.played.differences[0]
        failure = ElementTree.SubElement(case, "failure", message=_safe(first.seen))
        failure.text = _safe("\n".join(told))
    if trace or not one.passed:
        out = ElementTree.SubElement(case, "system-out")
        run, chosen = one.played, one.scenario.choices
        board = storyboard(routine.plan, run.events, run.seen, Screen(), chosen=chosen)
        out.text = _safe(board)
    return case


def _wrong(suite: str, name: str, message: str, text: str) -> ElementTree.Element:
    case = _element(suite, name, None)
    error = ElementTree.SubElement(case, "error", message=_safe(message))
    error.text = _safe(text)
    return case


def _element(suite: str, name: str, played: Played | None) -> ElementTree.Element:
    at_us = played.events[-1].at_us if played else 0
    return ElementTree.Element(
        "testcase", classname=_safe(suite), name=_safe(name), time=_seconds(at_us)
    )


def _seconds(at_us: int) -> str:
    return decimal_text(Fraction(at_us, 1_000_000))


def _safe(text: str) -> str:
    """Without the characters that no XML may hold, line by line."""
    return "\n".join(harmless(line, "utf-8") for line in text.split("\n"))
