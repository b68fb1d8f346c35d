"""Side rules that come to nothing in the pass in which they speak, judged by the machine."""

from __future__ import annotations

import random
from collections.abc import Iterator

from demo import check

from planner.graph import Plan
from planner.graph.overruled import Overruling, overruling
from planner.graph.owners import owners
from planner.graph.run import Commanded, Left
from planner.model.routine import Rule, WhenExit
from planner.rehearsal import Machine

PASS_US = 40_000
COMMANDS = ("drive stop", "drive forward 20 %", "drive turn 90 deg", "arm to 900 ticks")
ASKED = ("bumper pressed", "tin_gate broken", "bumper pressed and tin_gate broken", "arm done")


def random_text(seed: int) -> str:
    """A group with a rule for what its steps ask for too; the same for the same seed."""
    draw = random.Random(seed)
    lines = ["start A", "group G"]
    lines += [f"  whenever {draw.choice(ASKED)}, {draw.choice(COMMANDS)}"]
    for name in ("A", "B", "C"):
        lines += [f"  step {name}", f"    {draw.choice(COMMANDS)}"]
        for _ in range(draw.randint(1, 2)):
            lines.append(f"    when {draw.choice(ASKED)}, go to {draw.choice('ABCDF')}")
        lines.append(f"    after {draw.randint(1, 3)} s, go to {draw.choice('DF')}")
    lines += ["step D", "  drive forward 30 %", "  after 1 s, go to F", "finish F"]
    return "\n".join(lines) + "\n"


def overruled(plan: Plan) -> Iterator[tuple[Rule, Overruling]]:
    """The rules of a plan that come to nothing."""
    for owner in owners(plan.routine):
        for rule in owner.rules:
            over = overruling(plan, owner, rule)
            if over:
                yield rule, over


def sent_by(plan: Plan, rule: Rule, step: str, seed: int) -> int:
    """How often a random run sends a rule's command in a step that it leaves by no limit then."""
    draw, machine, often = random.Random(seed), Machine(plan), 0
    for number in range(60):
        said = {
            "bumper": draw.choice(("pressed", "released", "released")),
            "tin_gate": draw.choice(("broken", "clear", "clear")),
            "arm done": draw.random() < 0.2,
        }
        before = machine.state.step
        events = machine.pass_(number * PASS_US * 5, said)
        limit = any(
            isinstance(event, Left) and not isinstance(event.exit.written, WhenExit)
            for event in events
        )
        sent = any(isinstance(event, Commanded) and event.rule is rule for event in events)
        often += sent and before == step and not limit
        if machine.finished:
            break
    return often


def test_what_is_overruled_is_never_sent() -> None:
    """M7, M12: of two commands in one pass only the last is sent, and a step entered has it."""
    found, others = 0, 0
    for seed in range(300):
        plan = check(random_text(seed)).plan
        for rule, over in overruled(plan):
            found += 1
            assert 0 == sum(sent_by(plan, rule, over.step, run) for run in range(20))
        if seed < 30 and not list(overruled(plan)):
            rule = plan.routine.groups["G"].rules[0]
            others += sum(sent_by(plan, rule, "A", run) for run in range(5))
    # Many are overruled, and of the others' commands many are sent.
    assert min(found, others) > 10
