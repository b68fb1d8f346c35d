"""Lines to show where a line makes no sense, made of the plan's own names."""

from __future__ import annotations

import re

from planner.checks.case import Case
from planner.checks.habits.habit import QUANTITY
from planner.checks.headings import nameless
from planner.checks.plan_names import (
    declared,
    home,
    next_step,
    some_command,
    some_condition,
    undeclared,
)
from planner.findings import Slip, nearest
from planner.tree.language import ROUTINE
from planner.tree.rows import split_comment

_TITLE = re.compile(r'"[^"]*"')
_TARGET = re.compile(r"\bgo\s+to\s+([A-Za-z_]\w*)", re.ASCII)
_PARTS = re.compile(r"_?(?:motors?|servos?|wheels?|lamp|arm)$")


def example_for(slip: Slip, case: Case) -> tuple[str, ...]:
    """A line of the kind that a slip's line begins as, or nothing where that cannot be told."""
    word = slip.facts.get("first_word", "")
    near = nearest(word, [known for known in slip.known if known], most=1)
    begins = word if word in slip.known else near[0] if near else ""
    line = _heading(slip, case, begins) if slip.facts.get("heading") else ""
    line = line or _line(slip, case, begins)
    return (line,) if line else ()


def _heading(slip: Slip, case: Case, begins: str) -> str:
    """The heading with the one name that is missing in the plan."""
    title = _TITLE.search(slip.place.line_text)
    behind = f" {title.group()}" if title else ""
    if slip.facts.get("file") == "robot":
        return _robot_heading(slip, begins)
    if begins in ("group", "task", "scenario"):
        return ""  # Nothing leads to these, so nothing says their names.
    lost = nameless(case)
    missing = [lost[1]] if lost and lost[0] is slip else undeclared(slip.place)
    if len(missing) != 1:
        return ""
    return f"{begins or _kind(slip)} {missing[0]}{behind}"


def _kind(slip: Slip) -> str:
    """What a heading heads, by the lines under it: what has exits is a step."""
    for line in slip.place.source.lines[slip.place.line :]:
        code = split_comment(line)[0]
        if code.strip() and not code[:1].isspace():
            break
        if code.split()[:1] in (["when"], ["after"]):
            return "step"
    return "finish"


def _robot_heading(slip: Slip, begins: str) -> str:
    taken = declared(slip.place, "hub", "mechanism")
    if begins == "hub":
        return next((f"hub {name}" for name in ("main", "second") if name not in taken), "")
    if begins != "mechanism":
        return ""
    # A mechanism is mostly called after what it moves.
    for line in slip.place.source.lines[slip.place.line :]:
        words = line.replace(",", " ").split()
        if words[:1] == ["uses"] and len(words) > 1:
            name = _PARTS.sub("", words[1])
            return f"mechanism {name}" if name and name not in taken else ""
    return ""


def _line(slip: Slip, case: Case, begins: str) -> str:
    rule = slip.facts.get("rule", "")
    if slip.facts.get("file") == "robot":
        return slip.facts.get("example", "") if begins in ("pass", "robot") else ""
    if rule == "scenario_line":
        return _scenario_line(slip, case, begins)
    return _plan_line(slip, case, begins)


def _plan_line(slip: Slip, case: Case, begins: str) -> str:
    condition = some_condition(slip.place, case.robot)
    target = _TARGET.search(slip.place.line_text)
    following = target.group(1) if target else next_step(slip.place)
    give_up = target.group(1) if target else home(slip.place)
    quantity = re.search(QUANTITY, slip.place.line_text)
    time = quantity.group() if quantity else ""
    match begins:
        case "when" if condition and len(_condition(slip)) < 2:
            return f"when {condition}, go to {following}"
        case "after":
            return f"after {time or '2.5 s'}, go to {give_up}"
        case "at":
            return f"at {time or '26 s'} of match, go to {give_up}"
        case "do" if declared(slip.place, "task"):
            return f"do {declared(slip.place, 'task')[0]}"
        case "start" if declared(slip.place, "step"):
            return f"start {declared(slip.place, 'step')[0]}"
        case "limit" | "routine":
            return ROUTINE.shapes["file_line"][begins].example
        case "robot":
            return f"robot {case.robot.name or 'moth'}"
        case "" if slip.facts.get("rule") in ("step_line", "finish_line", "together_line"):
            return _command_of(slip, case)
    return ""


def _condition(slip: Slip) -> list[str]:
    """The words between the first one and the comma."""
    return split_comment(slip.place.line_text)[0].partition(",")[0].split()[1:]


def _command_of(slip: Slip, case: Case) -> str:
    """A command of the mechanism that the line begins with."""
    word = slip.facts.get("first_word", "")
    owner = case.robot.mechanisms.get(word)
    return some_command(case.robot, owner) if owner else ""


def _scenario_line(slip: Slip, case: Case, begins: str) -> str:
    words = split_comment(slip.place.line_text)[0].replace(",", " ").split()
    second = words[1] if len(words) > 1 else ""
    condition, command = some_condition(slip.place, case.robot), some_command(case.robot)
    steps = declared(slip.place, "step", "finish")
    match begins, second:
        case "must", "visit" if len(steps) > 1:
            return f"must visit {steps[0]}, {steps[1]}"
        case "must", "be":
            return "must be cut off"
        case "must", "give" if command:
            return f"must give {' '.join(command.split()[:2])}"
        case "must", "not" if command:
            return f"must not give {' '.join(command.split()[:2])}"
        case "must", _ if home(slip.place) in declared(slip.place, "finish"):
            return f"must finish in {home(slip.place)}"
        case "at", _ if condition:
            return f"at 1 s, {condition}"
        case "in", _ if condition and steps:
            return f"in {steps[0]}, after 1 s, {condition}"
        case "pass", _:
            return "pass 20 ms"
    return ""
