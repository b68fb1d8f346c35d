"""Motors that go on at the end of their way, judged by the reference machine."""

from __future__ import annotations

import random
from collections.abc import Iterator
from fractions import Fraction

from demo import check

from planner.graph import Plan
from planner.graph.end_of_way import GoesOn, pushing_on
from planner.graph.run import Commanded, SwitchedOff
from planner.rehearsal import Machine

PASS_US = 40_000
COMMANDS = ("arm lower 30 %", "keep arm lower 30 %", "arm lower -30 %", "arm stop", "claw open")
WAITS = ("arm_floor pressed", "arm_floor pressed and bumper pressed", "bumper pressed")


def random_text(seed: int) -> str:
    """A plan that lowers an arm and looks at its floor; the same for the same seed."""
    draw = random.Random(seed)
    lines = ["start A"]
    for name in "ABC":
        lines += [f"step {name}", f"  {draw.choice(COMMANDS)}"]
        if draw.random() < 0.3:
            told = draw.choice(("arm stop", "signal light", "signal light"))
            lines.append(f"  whenever arm_floor pressed, {told}")
        lines.append(f"  when {draw.choice(WAITS)}, go to {draw.choice('ABCF')}")
        lines.append(f"  after {draw.randint(1, 3)} s, go to {draw.choice('ABCF')}")
    return "\n".join([*lines, "finish F"]) + "\n"


def powers(plan: Plan, seed: int) -> Iterator[tuple[str, str, Fraction]]:
    """Of a random run: the step before and after each pass with the floor reached, and the
    power of the arm at its end."""
    draw, machine, power = random.Random(seed), Machine(plan), Fraction(0)
    for number in range(60):
        floor = draw.random() < 0.2
        said = {
            "arm_floor": "pressed" if floor else "released",
            "bumper": "pressed" if draw.random() < 0.2 else "released",
        }
        before = machine.state.step
        for event in machine.pass_(number * PASS_US * 5, said):
            match event:
                case Commanded(_, "arm", command, arguments):
                    power = arguments[0].base if command == "lower" else Fraction(0)
                case SwitchedOff(_, "arm"):
                    power = Fraction(0)
        if machine.finished:
            return
        if floor and before:
            yield before, machine.state.step, power


def goes_on(plan: Plan, one: GoesOn) -> bool:
    """Whether some run has the motor turn there although the floor is reached."""
    return any(
        power and (before, after) == (one.source, one.step)
        for seed in range(150)
        for before, after, power in powers(plan, seed)
    )


def test_a_motor_that_is_said_to_go_on_does() -> None:
    """Where a switch is said to stop nothing, some run turns the motor on with it reached."""
    found = 0
    for seed in range(60):
        plan = check(random_text(seed)).plan
        for one in pushing_on(plan):
            found += 1
            assert goes_on(plan, one)
    assert found > 10
