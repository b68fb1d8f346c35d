"""Requirements judged on runs: each boundary of M15 from both sides."""

from __future__ import annotations

import pytest
from played import machine

from planner.graph.monitor import Broken, follow, judged, watches
from planner.graph.run import Event, Stopped
from planner.rehearsal import World

MS = 1000
PLAN = """routine example
robot moth
limit 10 s
{lines}
start A
step A
  claw close
  drive forward 40 %
  when bumper pressed, go to B
  when tin_gate broken, go to A
  after 2 s, go to B
group G
  when arm_floor pressed, go to B
  step B
    arm to 1200 ticks
    after 1 s, go to C
  step C
    claw open
    roller take
    arm to 0 ticks
    after 1 s, go to D
step D
  drive forward 20 %
  roller take
  after 1 s, go to Lit
finish Lit
  signal light
  drive spin 40 %
"""


def run(*lines: str, pass_ms: int = 100, until_ms: int = 12_000, **pressed: int) -> list[Event]:
    """All events of a run with those requirements; sensors speak from a time in ms on."""
    playing = machine(PLAN.format(lines="\n".join(lines)))
    world = World(playing.plan.routine.robot)
    events: list[Event] = []
    for now_ms in range(0, until_ms, pass_ms):
        for name, at_ms in pressed.items():
            if at_ms == now_ms:
                world.set(name, "broken" if name == "tin_gate" else "pressed")
            elif at_ms < now_ms:
                world.set(name, "clear" if name == "tin_gate" else "released")
        events.extend(playing.pass_(now_ms * MS, world.readings()))
    return events


def broken(line: str, **pressed: int) -> list[tuple[int, str]]:
    """When in ms a run breaks a requirement, and what was seen; nothing where it keeps to it."""
    plan = machine(PLAN.format(lines=line)).plan
    return [(b.at_us // MS, b.seen) for b in judged(plan, run(line, **pressed))]


@pytest.mark.parametrize(
    ("line", "pressed", "expected"),
    [
        # M15: at T is in time. The run comes to Lit at 5 s.
        ("require finished by 5 s", {}, []),
        ("require finished by 4.999999 s", {}, [4999]),
        # On from the pass it is sent until the mechanism is told something else or switched off.
        ("require never claw close while drive forward", {}, [0]),
        ("require never claw open while claw close", {}, []),
        ("require never drive forward 40 % while in B", {}, []),
        ("require never arm to while drive forward", {}, [4000]),
        ("require never arm to 1200 ticks while drive forward", {}, []),
        ("require never arm to 1200 ticks while roller take", {}, []),
        ("require never arm to 0 ticks while in C", {}, [3000]),
        # What a finish gives and switches off in one pass was never sent (M10).
        ("require never drive spin while in Lit", {}, []),
        ("require never signal light while in Lit", {}, [5000]),
        # The same pass is not after; once is enough, and a step can come before a command.
        ("require claw open only after arm to 1200 ticks", {}, []),
        ("require claw open only after arm to 0 ticks", {}, [3000]),
        ("require drive forward only after claw close", {}, [0]),
        ("require in D only after claw close", {}, []),
        ("require claw close only after in B", {}, [0]),
        ("require signal light only after in Lit", {}, [5000]),
        ("require roller drop only after signal light", {}, []),
        # The same pass will do, and at T is in time.
        ("require arm to 1200 ticks leads to claw open within 1 s", {}, []),
        ("require arm to 1200 ticks leads to claw open within 0.999999 s", {}, [2999]),
        ("require claw open leads to arm to 0 ticks within 1 us", {}, []),
        ("require in D leads to claw open within 1 us", {}, []),
        # What is awaited at the end does not come any more.
        ("require in D leads to roller drop within 20 s", {}, [5000]),
        ("require in Lit leads to roller drop within 20 s", {}, [5000]),
        ("require in Lit leads to signal light within 1 us", {}, []),
        # Each coming counts, not only the first.
        ("require in A leads to in B within 2 s", {}, []),
        ("require in A leads to in B within 2.5 s", {"tin_gate": 1000}, [2500]),
        # A group comes when it is entered, not when it goes on, and again when it is left and
        # entered by its own exit.
        ("require in G leads to roller take within 1 s", {}, []),
        ("require in G leads to in D within 2 s", {}, []),
        ("require in G leads to in D within 2 s", {"arm_floor": 2500}, [4000]),
        ("require in G only after in C", {}, [2000]),
    ],
)
def test_boundaries(line: str, pressed: dict[str, int], expected: list[int]) -> None:
    """M15: each requirement is met or broken at the moment that its rule says."""
    assert expected == [at for at, _ in broken(line, **pressed)]


@pytest.mark.parametrize(
    ("line", "seen"),
    [
        ("require finished by 4 s", "no finish by 4 s"),
        (
            "require never arm to while drive forward",
            "`arm to` and `drive forward` were both on at 4 s",
        ),
        (
            "require in D only after roller drop",
            "`in D` came at 4 s, and no `roller drop` before it",
        ),
        (
            "require in D leads to roller drop within 0.5 s",
            "`in D` came at 4 s, and no `roller drop` by 4.5 s",
        ),
        (
            "require in D leads to roller drop within 5 s",
            "`in D` came at 4 s, and the run ended at 5 s without `roller drop`",
        ),
    ],
)
def test_what_is_seen(line: str, seen: str) -> None:
    """What broke a requirement is told with both moments."""
    assert [seen] == [said for _, said in broken(line)]


def test_cut_off() -> None:
    """M15: a run that its limit cuts off is not finished, and what it awaited is broken."""
    lines = ("require finished by 60 s", "require in A leads to in D within 60 s")
    text = PLAN.format(lines="\n".join(lines)).replace("limit 10 s", "limit 1 s")
    playing = machine(text)
    world = World(playing.plan.routine.robot)
    events = [e for at in range(0, 2000, 20) for e in playing.pass_(at * MS, world.readings())]
    seen = [one.seen for one in judged(playing.plan, events)]
    assert seen == [
        "the run was cut off at 1 s",
        "`in A` came at 0 s, and the run ended at 1 s without `in D`",
    ]


def test_a_stop_by_the_operator_is_no_fault_of_the_plan() -> None:
    """M15: what is awaited at an operator's stop is not judged."""
    lines = ("require finished by 9 s", "require in A leads to in D within 9 s")
    plan = machine(PLAN.format(lines="\n".join(lines))).plan
    events = run(*lines, until_ms=1000)
    assert () == judged(plan, [*events, Stopped(1_000_000, "A")])


def test_a_run_so_far() -> None:
    """A run that has not ended is judged up to a moment: what may still come is not broken."""
    line = "require in A leads to roller drop within 1.5 s"
    plan = machine(PLAN.format(lines=line)).plan
    events = run(line, until_ms=1000)
    assert () == judged(plan, events, 1_500_000)
    assert 1 == len(judged(plan, events, 1_500_001))


LANES = """routine example
robot moth
limit 10 s
{line}
start Carry
together Carry
  when bumper pressed, go to Carry
  when all lanes done, go to After
  lane wheels
    step Drive
      drive forward 40 %
      after 1 s, go to Stand
    step Stand
      when tin_gate broken, go to Out
      after 2 s, go to done
  lane lifting
    step Lift
      arm to 1200 ticks
      after 2 s, go to done
step After
  claw open
  after 1 s, go to Lit
step Out
  after 1 s, go to Lit
finish Lit
"""


@pytest.mark.parametrize(
    ("line", "pressed", "expected"),
    [
        # Steps of two lanes are on at once, a step of a lane with its block and its lane.
        ("require never in Drive while in Lift", {}, [0]),
        ("require never in Stand while in Lift", {}, [1000]),
        ("require never in Carry while in Stand", {}, [1000]),
        ("require never in lifting while in Stand", {}, [1000]),
        # A lane that waits at its end is on as long as its block.
        ("require never in lifting while in Out", {"tin_gate": 2500}, []),
        # With the block every lane is left, whichever way.
        ("require never in Lift while in Out", {"tin_gate": 1500}, []),
        ("require never in Carry while in Out", {"tin_gate": 1500}, []),
        ("require never in Carry while claw open", {}, []),
        ("require in Out leads to in Carry within 9 s", {"tin_gate": 1500}, [2500]),
        # A block comes once while it runs, and again when it starts again.
        ("require in Carry leads to claw open within 3.1 s", {}, []),
        ("require in Carry leads to claw open within 3.1 s", {"bumper": 500}, [3100]),
        ("require in Carry leads to in Stand within 1.5 s", {"bumper": 500}, []),
        ("require in lifting only after in Drive", {}, [0]),
        ("require in Stand only after in Lift", {}, []),
    ],
)
def test_lanes(line: str, pressed: dict[str, int], expected: list[int]) -> None:
    """M8, M15: each lane has a step that is on, and leaving the block leaves them all."""
    playing = machine(LANES.format(line=line))
    world = World(playing.plan.routine.robot)
    events: list[Event] = []
    for now_ms in range(0, 9000, 100):
        for name, at_ms in pressed.items():
            word = {"tin_gate": ("broken", "clear"), "bumper": ("pressed", "released")}[name]
            world.set(name, word[now_ms != at_ms])
        events.extend(playing.pass_(now_ms * MS, world.readings()))
    assert expected == [one.at_us // MS for one in judged(playing.plan, events)]


def test_a_watch_is_a_value() -> None:
    """Following a run changes no watch, and equal pasts give equal watches."""
    lines = ("require never arm to while drive forward", "require in D only after in B")
    plan = machine(PLAN.format(lines="\n".join(lines))).plan
    first = watches(plan)
    after = [follow(plan, watch, 0, run(*lines, until_ms=100)) for watch in first]
    assert first == watches(plan)
    assert after == [follow(plan, watch, 0, run(*lines, until_ms=100)) for watch in first]
    assert {None} == {watch.broken for watch in after}


def test_what_broke_it() -> None:
    """A requirement that something breaks names the event, one that nothing came in time none."""
    lines = ("require never arm to while drive forward", "require finished by 2 s")
    plan = machine(PLAN.format(lines="\n".join(lines))).plan
    found: tuple[Broken, ...] = judged(plan, run(*lines))
    assert [False, True] == [one.event is None for one in found]
