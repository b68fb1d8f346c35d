"""What each mechanism may be doing where, judged by the reference machine and by walking paths."""

from __future__ import annotations

import random
from itertools import pairwise

import pytest
from demo import check

from planner.graph import Plan
from planner.graph.doing import Doing, Stance, doings
from planner.graph.run import Commanded, SwitchedOff
from planner.model.spoken import spoken_command
from planner.rehearsal import Machine

MECHANISMS = ("roller", "drive", "arm")
COMMANDS = (
    *("keep roller take", "roller take", "roller drop", "roller stop", "drive forward 20 %"),
    *("keep drive turn 90 deg", "drive turn 90 deg", "arm to 900 ticks", "arm lower 20 %"),
)
WHENS = ("bumper pressed", "arm done", "drive done", "tin_gate broken")
PASS_US = 40_000


def random_text(seed: int) -> str:
    """A plan with commands and side rules in steps and in a group; the same for the same seed."""
    draw = random.Random(seed)
    names = [f"S{number}" for number in range(draw.randint(3, 6))]
    inside = names[: draw.randint(0, 2)]
    lines = ["at 20 s of match, go to F" if draw.random() < 0.3 else "", "start S0"]
    lines += [_rule(draw, "") if draw.random() < 0.2 else ""]
    if inside:
        lines += ["group G", "  after 9 s, go to F"]
        lines += [_rule(draw, "  ") if draw.random() < 0.4 else ""]
        lines += [line for name in inside for line in _step(draw, name, names, "  ")]
    lines += [line for name in names[len(inside) :] for line in _step(draw, name, names, "")]
    if draw.random() < 0.5:
        lines += _block(draw, names)
        lines = [line.replace("go to S1", "go to Both") for line in lines]
    lines += ["finish F", *draw.choice(([], ["  roller stop"]))]
    return "\n".join(filter(None, lines)) + "\n"


def _step(draw: random.Random, name: str, names: list[str], indent: str) -> list[str]:
    commands = [f"{indent}  {draw.choice(COMMANDS)}" for _ in range(draw.choice((0, 0, 1, 2)))]
    rules = [_rule(draw, f"{indent}  ")] if draw.random() < 0.3 else []
    whens = [f"when {when}" for when in draw.sample(WHENS, 2)]
    exits = [
        f"{indent}  {exit_}, go to {draw.choice([*names, *([] if 'F' in names else ['F'])])}"
        for exit_ in (*whens, f"after {draw.randint(1, 3)} s")
    ]
    return [f"{indent}step {name}", *commands, *rules, *exits]


def _block(draw: random.Random, names: list[str]) -> list[str]:
    """A block of two lanes that lead on within themselves, to their ends, or out of it."""
    lines = ["together Both", *([f"  {draw.choice(COMMANDS)}"] if draw.random() < 0.3 else [])]
    lines += [_rule(draw, "  ")] if draw.random() < 0.2 else []
    joined = draw.choice(("all lanes done", "lane one done", "any lane done"))
    lines += [f"  when {joined}, go to {draw.choice(names)}", "  after 5 s, go to F"]
    for lane, steps in (("one", ["P", "Q"]), ("two", ["X", "Y"])):
        lines.append(f"  lane {lane}")
        targets = [*steps, "done", "done", "F"]
        lines += [line for name in steps for line in _step(draw, name, targets, "    ")]
    return lines


def _rule(draw: random.Random, indent: str) -> str:
    return f"{indent}whenever {draw.choice(WHENS)}, {draw.choice(COMMANDS).removeprefix('keep ')}"


def told(doing: Doing) -> str:
    """What is in force, in words; nothing where nothing is."""
    in_force = doing.stance is Stance.TOLD and doing.given is not None
    return spoken_command(doing.given).removeprefix("keep ") if in_force and doing.given else ""


def led_to(plan: Plan, step: str) -> set[str]:
    """What may follow a step, or be active beside it; a block may be left from any of its steps."""
    beside = _beside(plan, step)
    found = {exit_.target for name in beside for exit_ in plan.exits[name]}
    return found | beside


def _beside(plan: Plan, step: str) -> set[str]:
    block = plan.block_of(step) or step
    if block not in plan.begins:
        return {step}
    return {step, block, *(name for name in plan.outer if plan.block_of(name) == block)}


def ways_are_ways(plan: Plan, mechanism: str) -> None:
    """Every way that is told begins at the start and follows exits of the plan."""
    flow = doings(plan, mechanism)
    assert flow is not None
    for step, every in flow.during.items():
        for doing in every:
            way = flow.way(step, doing)
            assert (plan.routine.start, step) == (way[0], way[-1])
            for here, there in pairwise(way):
                assert there in led_to(plan, here)


@pytest.mark.parametrize("seed", range(80))
def test_what_a_run_does_is_foreseen(seed: int) -> None:
    """Whatever is in force in a step of some run is among what the mechanism may be doing there."""
    draw = random.Random(seed)
    plan = check(random_text(seed)).plan
    foreseen = {name: (doings(plan, name) or pytest.fail("not told")).during for name in MECHANISMS}
    for _ in range(25):
        machine, now = Machine(plan), dict.fromkeys(MECHANISMS, "")
        for number in range(80):
            said = {
                "bumper": draw.choice(("pressed", "released", "released")),
                "tin_gate": draw.choice(("broken", "clear", "clear")),
                "arm done": draw.random() < 0.2,
                "drive done": draw.random() < 0.2,
            }
            for event in machine.pass_(number * PASS_US * 5, said):
                match event:
                    case Commanded(_, mechanism, command, arguments):
                        now[mechanism] = " ".join(
                            filter(None, (mechanism, command, ", ".join(map(str, arguments))))
                        )
                    case SwitchedOff(_, mechanism):
                        now[mechanism] = ""
            if machine.finished or machine.state.over:
                break
            for step in (machine.state.step, *machine.state.lanes.values()):
                for mechanism in MECHANISMS:
                    every = foreseen[mechanism][step]
                    unknown = any(doing.stance is Stance.UNKNOWN for doing in every)
                    assert unknown or now[mechanism] in {told(doing) for doing in every}


@pytest.mark.parametrize("seed", range(80))
def test_what_is_foreseen_comes_by_a_way(seed: int) -> None:
    """For all that is foreseen the plan has a way that leads there."""
    for mechanism in MECHANISMS:
        ways_are_ways(check(random_text(seed)).plan, mechanism)


def test_a_plan_with_a_line_that_could_not_be_read_is_not_judged() -> None:
    """A command that could not be read may have told the mechanism anything."""
    text = (
        "start A\nstep A\n  arm too 900 ticks\n  after 1 s, go to B\n"
        "step B\n  after 1 s, go to F\nfinish F\n"
    )
    flow = doings(check(text).plan, "arm")
    assert flow is not None
    assert [Stance.UNKNOWN] == [doing.stance for doing in flow.during["B"]]
