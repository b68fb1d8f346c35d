"""Every check, in the order a plan is read: text, names, robot, graph, habits."""

from __future__ import annotations

import re
from collections.abc import Hashable
from dataclasses import replace

from planner.checks import (
    address_used_twice,
    always_true,
    blind_step,
    choice_of_one,
    choice_out_of_range,
    command_beside_task,
    command_replaced,
    count_never_runs_out,
    counted_twice,
    dead_end,
    endless_loop,
    ends_without_task,
    group_without_exits,
    heading_in_comment,
    holds_power_in_finish,
    idle_loop,
    keep_without_effect,
    limit_after_limit,
    limit_leads_where_success_leads,
    limit_shorter_than_a_pass,
    limits_over_match,
    line_in_scenarios,
    line_twice,
    lookalike_names,
    match_exit_after_finish,
    match_exit_too_late,
    misplaced_line,
    missing_line,
    missing_robot,
    motor_left_on,
    name_used_twice,
    negative_tolerance,
    never_true,
    no_such_port,
    no_way_to_finish,
    not_a_finish,
    nothing_moves,
    number_without_unit,
    outcome_never_reached,
    outcome_twice,
    output_in_two_mechanisms,
    port_used_twice,
    power_beyond_full,
    reserved_word,
    robot_of_another_file,
    runs_in_finish,
    scenario_without_demand,
    scenarios_of_another,
    shadowed_exit,
    span_backwards,
    start_is_finish,
    task_calls_itself,
    task_without_steps,
    tolerance_of_zero,
    too_many_hubs,
    too_many_steps,
    too_many_variants,
    touch_on_even_channel,
    twin_exits,
    twin_name_slip,
    unhandled_outcome,
    unknown_choice,
    unknown_colour,
    unknown_command,
    unknown_device,
    unknown_mechanism,
    unknown_outcome,
    unknown_parameter,
    unknown_reading,
    unknown_sensor,
    unknown_setting,
    unknown_step,
    unknown_task,
    unknown_unit,
    unknown_value,
    unreachable_step,
    unreadable_line,
    unused_command,
    unused_device,
    unused_reading,
    unused_sensor,
    unused_setting,
    unused_task,
    value_without_row,
    wait_never_commanded,
    wait_without_limit,
    whenever_leads_on,
    wrong_action,
    wrong_arguments,
    wrong_count,
    wrong_looks,
    wrong_question,
    wrong_time,
    wrong_unit,
)
from planner.checks.case import Case, Check
from planner.findings import Finding, Severity

CHECKS: tuple[Check, ...] = (
    # Reading: the text, names, units.
    Check(Severity.ERROR, unreadable_line),
    Check(Severity.ERROR, misplaced_line),
    Check(Severity.ERROR, heading_in_comment),
    Check(Severity.ERROR, missing_line),
    Check(Severity.ERROR, line_twice),
    Check(Severity.ERROR, name_used_twice),
    Check(Severity.ERROR, reserved_word),
    Check(Severity.ERROR, missing_robot),
    Check(Severity.WARNING, robot_of_another_file),
    Check(Severity.ERROR, unknown_step),
    Check(Severity.ERROR, unknown_mechanism),
    Check(Severity.ERROR, unknown_command),
    Check(Severity.ERROR, unknown_reading),
    Check(Severity.ERROR, unknown_sensor),
    Check(Severity.ERROR, unknown_setting),
    Check(Severity.ERROR, unknown_device),
    Check(Severity.ERROR, unknown_parameter),
    Check(Severity.ERROR, unknown_colour),
    Check(Severity.ERROR, unknown_unit),
    Check(Severity.ERROR, number_without_unit),
    Check(Severity.ERROR, wrong_unit),
    Check(Severity.ERROR, wrong_question),
    Check(Severity.ERROR, wrong_arguments),
    Check(Severity.ERROR, wrong_count),
    Check(Severity.ERROR, wrong_looks),
    Check(Severity.ERROR, wrong_time),
    Check(Severity.ERROR, negative_tolerance),
    Check(Severity.ERROR, wrong_action),
    Check(Severity.ERROR, span_backwards),
    Check(Severity.ERROR, not_a_finish),
    Check(Severity.ERROR, line_in_scenarios),
    Check(Severity.ERROR, scenarios_of_another),
    Check(Severity.ERROR, unknown_choice),
    Check(Severity.ERROR, unknown_value),
    Check(Severity.ERROR, choice_of_one),
    Check(Severity.ERROR, choice_out_of_range),
    Check(Severity.ERROR, value_without_row),
    Check(Severity.ERROR, too_many_variants),
    Check(Severity.ERROR, unknown_task),
    Check(Severity.ERROR, unknown_outcome),
    Check(Severity.ERROR, unhandled_outcome),
    Check(Severity.ERROR, outcome_twice),
    Check(Severity.ERROR, ends_without_task),
    Check(Severity.ERROR, task_calls_itself),
    Check(Severity.ERROR, too_many_steps),
    Check(Severity.ERROR, task_without_steps),
    Check(Severity.ERROR, command_beside_task),
    Check(Severity.ERROR, counted_twice),
    Check(Severity.ERROR, whenever_leads_on),
    # The robot: its wiring, and what nobody uses.
    Check(Severity.ERROR, no_such_port),
    Check(Severity.ERROR, port_used_twice),
    Check(Severity.ERROR, too_many_hubs),
    Check(Severity.ERROR, touch_on_even_channel),
    Check(Severity.ERROR, address_used_twice),
    Check(Severity.WARNING, lookalike_names),
    Check(Severity.WARNING, output_in_two_mechanisms),
    Check(Severity.WARNING, power_beyond_full),
    Check(Severity.WARNING, nothing_moves),
    Check(Severity.WARNING, unused_device),
    Check(Severity.WARNING, unused_setting, of_all=True),
    Check(Severity.NOTE, unused_sensor),
    Check(Severity.NOTE, unused_command),
    Check(Severity.NOTE, unused_reading),
    # The graph.
    Check(Severity.ERROR, start_is_finish),
    Check(Severity.WARNING, unreachable_step, of_all=True),
    Check(Severity.WARNING, unused_task, of_all=True),
    Check(Severity.ERROR, outcome_never_reached, of_all=True),
    Check(Severity.WARNING, group_without_exits),
    Check(Severity.ERROR, dead_end),
    Check(Severity.ERROR, no_way_to_finish),
    Check(Severity.ERROR, wait_without_limit),
    Check(Severity.ERROR, wait_never_commanded),
    Check(Severity.ERROR, never_true),
    Check(Severity.ERROR, always_true),
    Check(Severity.WARNING, tolerance_of_zero),
    Check(Severity.WARNING, twin_exits),
    Check(Severity.WARNING, shadowed_exit),
    Check(Severity.WARNING, limit_after_limit),
    Check(Severity.WARNING, limit_shorter_than_a_pass),
    Check(Severity.ERROR, endless_loop),
    Check(Severity.ERROR, idle_loop),
    Check(Severity.WARNING, count_never_runs_out, of_all=True),
    Check(Severity.ERROR, twin_name_slip),
    Check(Severity.WARNING, command_replaced),
    Check(Severity.WARNING, motor_left_on),
    Check(Severity.WARNING, keep_without_effect),
    Check(Severity.WARNING, runs_in_finish),
    Check(Severity.WARNING, holds_power_in_finish),
    Check(Severity.WARNING, limits_over_match),
    Check(Severity.ERROR, match_exit_too_late),
    Check(Severity.WARNING, match_exit_after_finish),
    Check(Severity.WARNING, blind_step),
    Check(Severity.NOTE, limit_leads_where_success_leads),
    Check(Severity.WARNING, scenario_without_demand, of_all=True),
)

_WITHIN = re.compile(r"\b(?:[A-Za-z_]\w*\.)+([A-Za-z_]\w*)")


def findings_of(case: Case) -> tuple[Finding, ...]:
    """All findings of a case, as a reader meets them in the text.

    The steps of a task are there once for each step that does it: what is found in a line of it
    is told once, for the first of them, and marked at all.
    """
    found: dict[Hashable, Finding] = {}
    for check in CHECKS:
        for finding in check.findings(case):
            key = (check.name, finding.place.order, _WITHIN.sub(r"\1", finding.headline))
            first = found.setdefault(key, finding)
            if first is not finding:
                steps = tuple(dict.fromkeys((*first.steps, *finding.steps)))
                found[key] = replace(first, steps=steps)
    return tuple(sorted(found.values(), key=lambda finding: finding.order))


OF_ALL = frozenset(check.name for check in CHECKS if check.of_all)
"""The checks that speak only where every variant of a routine has the fault."""


def check_named(name: str) -> Check | None:
    """The check of that name."""
    return next((check for check in CHECKS if check.name == name), None)
