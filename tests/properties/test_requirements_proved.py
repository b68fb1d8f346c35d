"""Requirements proved for all runs of a plan, against all of its runs, played one by one."""

from __future__ import annotations

from dataclasses import replace

import pytest
from brute_force import all_runs
from hypothesis import settings
from random_plans import BUMPER, GATE, PLACE, SAID, TENTH_US, Draw, random_block, random_plan

from planner.graph import Plan, unfold
from planner.graph.owners import owners
from planner.model.requirement import (
    FinishedBy,
    Happening,
    Inside,
    LeadsTo,
    NeverWhile,
    OnlyAfter,
    Requirement,
    Told,
    happenings,
)
from planner.model.routine import Given, Rule
from planner.reach.pace import Pace
from planner.reach.required import proved
from planner.reach.search import Fails, Holds

LONG = settings.default is not None and settings.default.max_examples > 1000
SEEDS = 4_000 if LONG else 160
PACES = ((1, 1), (2, 2), (1, 2), (2, 3))
COMMANDS = (
    ("drive", "forward"),
    ("drive", "turn"),
    ("claw", "close"),
    ("arm", "to"),
    ("arm", "lower"),
)


def commanded(plan: Plan, draw: Draw) -> Plan:
    """The plan with commands in its steps, some of them kept."""
    steps = {}
    for name, step in plan.routine.steps.items():
        given = [
            _given(plan, draw) for _ in range(0 if step.ends_lane else draw.choice((0, 1, 1, 2)))
        ]
        steps[name] = replace(step, commands=tuple(given))
    return unfold(replace(plan.routine, steps=steps))


def _given(plan: Plan, draw: Draw) -> Given:
    mechanism, command = draw.choice(COMMANDS)
    told = plan.routine.robot.mechanisms[mechanism]
    keep = told.commands[command].runs and draw.random() < 0.3
    return Given(told, told.commands[command], (), keep, PLACE)


def requirement(plan: Plan, draw: Draw) -> Requirement:
    """Any requirement on the plan's steps and commands."""
    one, other = _happening(plan, draw), _happening(plan, draw)
    time_us = draw.randint(1, 11) * TENTH_US
    return draw.choice(
        (
            FinishedBy(time_us, PLACE),
            NeverWhile(one, other, PLACE),
            OnlyAfter(one, other, PLACE),
            LeadsTo(one, other, time_us, PLACE),
            LeadsTo(one, other, time_us, PLACE),
        )
    )


def _happening(plan: Plan, draw: Draw) -> Happening:
    if draw.random() < 0.6:
        mechanism, command = draw.choice(COMMANDS)
        return Told(mechanism, command, None, PLACE)
    names = [name for name, step in plan.routine.steps.items() if not step.ends_lane]
    name = draw.choice(names)
    return Inside(name, frozenset({name}), frozenset(), PLACE)


def answers(plan: Plan, pace: tuple[int, int]) -> tuple[list[bool], list[bool]]:
    """For each requirement whether it is said to be kept, and whether no run breaks it."""
    shortest, longest = pace
    gaps = tuple(gap * TENTH_US for gap in range(shortest, longest + 1))
    reckoned = Pace(shortest, longest, TENTH_US)
    if shortest == longest:
        reckoned = Pace.between(shortest * TENTH_US, longest * TENTH_US)
    judge = all_runs(plan, gaps, dict(SAID))
    said = [proved(plan, one, pace=reckoned) for one in plan.routine.requirements]
    assert all(isinstance(one, Holds | Fails) for one in said)
    return [isinstance(one, Holds) for one in said], [
        one not in judge.broken for one in plan.routine.requirements
    ]


def with_requirements(plan: Plan, seed: int) -> Plan:
    """The plan with commands and three requirements."""
    draw = Draw(seed)
    plan = commanded(plan, draw)
    required = tuple(requirement(plan, draw) for _ in range(3))
    return unfold(replace(plan.routine, requirements=required))


def test_usual_plans() -> None:
    """Where passes come at a tenth each, a requirement is said to be kept just if no run of a plan
    with what plans have breaks it.

    Of other passes more are thought possible than there are, so that a run found is rehearsed.
    """
    for seed in range(0, SEEDS, 2):
        plan = random_plan(seed, most_steps=3 + seed % 4, limit=12, usual=True)
        said, judge = answers(with_requirements(plan, seed), (1, 1))
        assert judge == said, seed


@pytest.mark.parametrize("pace", PACES, ids=str)
def test_strange_plans(pace: tuple[int, int]) -> None:
    """On plans with anything in them, what is said to be kept no run breaks."""
    for seed in range(pace[0] + 10 * pace[1], SEEDS, len(PACES)):
        usual = seed % 3 == 0
        plan = random_plan(seed, most_steps=3 + seed % 4, limit=12, usual=usual)
        said, judge = answers(with_requirements(plan, seed), pace)
        assert all(kept for kept, claimed in zip(judge, said, strict=True) if claimed), seed


def with_rules(plan: Plan, seed: int) -> Plan:
    """The plan with one or two side rules, of the routine or of a step."""
    draw = Draw(seed)
    routine, steps = plan.routine, dict(plan.routine.steps)
    rules = tuple(
        Rule(draw.choice((BUMPER, GATE)), _given(plan, draw), PLACE)
        for _ in range(draw.choice((1, 2)))
    )
    if draw.random() < 0.5:
        return unfold(replace(routine, rules=rules))
    name = draw.choice([name for name, step in steps.items() if not step.is_finish])
    steps[name] = replace(steps[name], rules=rules)
    return unfold(replace(routine, steps=steps))


def test_side_rules() -> None:
    """What is said to be kept no run breaks, also where side rules end what must not be."""
    kept = 0
    for seed in range(0, SEEDS, 2):
        plan = random_plan(seed, most_steps=3 + seed % 4, limit=10, usual=True)
        plan = with_rules(with_requirements(plan, seed), seed)
        judge = all_runs(plan, (TENTH_US,), dict(SAID))
        spoken_of = {rule.given.mechanism.name for rule in _rules(plan)}
        for one in plan.routine.requirements:
            holds = proved(plan, one, pace=Pace.between(TENTH_US, TENTH_US)) == Holds()
            assert not (holds and one in judge.broken), (seed, one)
            told = {part.mechanism for part in happenings(one) if isinstance(part, Told)}
            kept += holds and not told.isdisjoint(spoken_of)
    assert kept


def _rules(plan: Plan) -> list[Rule]:
    return [rule for owner in owners(plan.routine) for rule in owner.rules]


@pytest.mark.parametrize("pace", PACES[:2], ids=str)
def test_lanes(pace: tuple[int, int]) -> None:
    """So it is with lanes."""
    for seed in range(pace[0] + 10 * pace[1], SEEDS // 4, len(PACES)):
        said, judge = answers(with_requirements(random_block(seed, limit=8), seed), pace)
        assert all(kept for kept, claimed in zip(judge, said, strict=True) if claimed), seed
