"""A plan with one requirement after the other, each judged in random scenarios."""

from __future__ import annotations

import random
from functools import lru_cache

from java.java_tools import checked_of

from planner.graph import Plan

PACKAGE = "watched"
SCENARIOS = 10

_PLAN = """\
limit 3 s
require {}
start A
step A
  drive forward 40 %
  when bumper pressed, go to B
  when tray closed, go to Place
  after 0.6 s, go to B
group Round
  step B
    lift to 100 ticks
    claw open
    when gate broken, go to C
    after 0.5 s, go to A
  step C
    keep belt take
    drive forward 20 %
    when lift done, go to Both
    when bumper pressed, go to C
    after 0.4 s, go to Place
together Both
  claw open
  when all lanes done, go to Done
  when tray closed, go to Both
  after 0.8 s, go to A
  lane one
    step L
      drive forward -30 %
      when bumper pressed, go to M
      after 0.5 s, go to done
    step M
      claw close
      after 0.2 s, go to L
  lane two
    step N
      lift to 0 ticks
      when gate broken, go to done
      after 0.6 s, go to Done
step Place
  do place
  when task ends placed, go to Done
  when task ends stuck, go to B
task place ends placed, stuck
  step Raise
    lift to 100 ticks
    when lift done, go to placed
    after 0.7 s, go to stuck
finish Done
  signal light
"""

_REQUIREMENTS = (
    "finished by 2 s",
    "finished by 1.4 s",
    "never lift to 0 ticks while in M",
    "never drive forward 20 % while in Both",
    "never in Round while claw open",
    "never in L while claw close",
    "never belt take while in Both",
    "never in two while in M",
    "belt take only after claw close",
    "in Both only after claw close",
    "in M only after in two",
    "claw close only after in L",
    "in L only after in B",
    "signal light only after in Place",
    "claw open leads to lift to 0 ticks within 1 s",
    "in B leads to in C within 0.4 s",
    "in C leads to in Both within 0.2 s",
    "drive forward 40 % leads to in Round within 0.5 s",
    "lift to leads to claw close within 0.6 s",
    "lift to 100 ticks leads to drive forward within 0.3 s",
)

_FACTS = ("bumper {pressed|released}", "tray {closed|open}", "gate {broken|clear}", "lift done")


@lru_cache
def watched_plans() -> tuple[Plan, ...]:
    """The plan, once for each requirement."""
    return tuple(_plan(number, words) for number, words in enumerate(_REQUIREMENTS))


def _plan(number: int, requirement: str) -> Plan:
    chance = random.Random(requirement)
    head = f"routine w{number}\nrobot beetle\n"
    scenarios = "".join(_scenario(one, chance) for one in range(SCENARIOS))
    return checked_of(head + _PLAN.format(requirement) + scenarios).plan


def _scenario(number: int, chance: random.Random) -> str:
    lines = [f"scenario r{number}", f"  pass {chance.choice((10, 20, 35))} ms"]
    if chance.random() < 0.7:
        # The way into the block.
        lines += ["  in B, after 0.1 s, gate broken", "  in C, after 0.1 s, lift done"]
    for _ in range(chance.randint(2, 9)):
        fact, _, words = chance.choice(_FACTS).partition(" {")
        said = f"{fact} {chance.choice(words.rstrip('}').split('|'))}" if words else fact
        time = f"{chance.randrange(0, 100) / 100} s"
        step = chance.choice(["A", "A", "B", "C", "L", "M", "N"])
        when = f"in {step}, after {time}" if chance.random() < 0.6 else f"at {time}"
        lines.append(f"  {when}, {said}")
    return "\n".join([*lines, ""])
