"""Groups within groups: M2 and M4, by hand and against an interpreter that shares no code."""

from __future__ import annotations

import random
from dataclasses import dataclass, field

import pytest
from demo import check, resolved
from played import played

from planner.findings import Finding, Severity
from planner.model.declared import DEEPEST_GROUPS
from planner.pipeline import Checked, format_routine
from planner.text import Source
from planner.tree import parse_routine

HEAD = "routine example\nrobot moth\nlimit 30 s\nstart A\n"
ENDS = "finish Lit\nfinish GiveUp\n"
QUIET = {"bumper": "released", "tin_gate": "clear", "arm_floor": "released"}
BOTH = QUIET | {"bumper": "pressed", "tin_gate": "broken"}

OUTER = f"""{HEAD}
group Outer
  {{outer}}
  group Inner
    {{inner}}
    step A
      {{own}}
      after 9 s, go to Lit
{ENDS}step B
  after 9 s, go to Lit
"""


def entered(text: str, trace: list[tuple[int, dict[str, object]]]) -> list[str]:
    """The steps entered, with times in ms."""
    return [line.replace(" enter", "") for line in played(text, trace) if " enter " in line]


@pytest.mark.parametrize(
    ("outer", "inner", "own", "led_to"),
    [
        ("when bumper pressed, go to GiveUp", "when bumper pressed, go to B", "", "GiveUp"),
        ("after 1 s, go to GiveUp", "when bumper pressed, go to B", "", "GiveUp"),
        ("after 1 s, go to GiveUp", "at 1 s of match, go to B", "", "GiveUp"),
        ("after 2 s, go to GiveUp", "after 1 s, go to B", "when bumper pressed, go to Lit", "B"),
        ("after 2 s, go to GiveUp", "after 3 s, go to B", "when bumper pressed, go to Lit", "Lit"),
    ],
)
def test_outer_groups_are_asked_first(outer: str, inner: str, own: str, led_to: str) -> None:
    """M4: all exits of an outer group come before any of an inner one, and those before the step's.

    A sensor wins over a time limit only within one place.
    """
    text = OUTER.format(outer=outer, inner=inner, own=own or "signal dark")
    assert ["0 A", f"1000 {led_to}"] == entered(text, [(0, QUIET), (1000, BOTH)])


NESTED = f"""{HEAD}
group Outer
  after 2 s, go to GiveUp
  step C
    when bumper released, go to A
    after 9 s, go to Lit
  group Inner
    after 1.5 s, go to Lit
    when tin_gate broken, go to A
    step A
      when bumper pressed, go to C
      after 9 s, go to Lit
{ENDS}"""


def test_the_outer_clock_goes_on() -> None:
    """M2: leaving an inner group for its outer one starts the inner clock again, not the outer."""
    pressed = QUIET | {"bumper": "pressed"}
    trace = [(0, QUIET), (900, pressed), (950, QUIET), (1999, QUIET), (2000, QUIET)]
    assert ["0 A", "900 C", "950 A", "2000 GiveUp"] == entered(NESTED, trace)


def test_an_inner_exit_leaves_the_inner_group_only() -> None:
    """M4: a group's exit leaves that group and what is in it; what is around it goes on."""
    gate = QUIET | {"tin_gate": "broken"}
    trace = [(0, QUIET), (1000, gate), (1600, QUIET), (2000, QUIET)]
    assert ["0 A", "1000 A", "2000 GiveUp"] == entered(NESTED, trace)


def errors(checked: Checked) -> list[Finding]:
    """What is found that can lose a match."""
    return [found for found in checked.findings if found.severity is Severity.ERROR]


def test_too_deep() -> None:
    """Groups go so deep and no deeper; the one too many is told once."""
    lines = ["start A"]
    for deep in range(DEEPEST_GROUPS + 1):
        lines += [f"{'  ' * deep}group G{deep}", f"{'  ' * (deep + 1)}after 9 s, go to Lit"]
    margin = "  " * (DEEPEST_GROUPS + 1)
    lines += [f"{margin}step A", f"{margin}  after 1 s, go to Lit", "finish Lit"]
    found = errors(check("\n".join(lines)))
    assert [("too-many-steps", f"G{DEEPEST_GROUPS}")] == [(f.check, f.place.words) for f in found]


def test_a_slip_in_a_group_within() -> None:
    """A line that cannot be read in an inner group is told alone, and its steps are still known."""
    text = OUTER.format(outer="after 5 s, go to B", inner="aftre 3 s, go to B", own="signal dark")
    assert ["unreadable-line"] == [f.check for f in errors(check(text))]
    text = text.replace("  group Inner", "  gruop Inner").replace("aftre", "after")
    found = check(text)
    assert ["unreadable-line"] == [f.check for f in errors(found)]
    assert {"A", "B", "Lit", "GiveUp"} == set(found.plan.routine.steps)
    assert ["Outer", "Inner"] == [group.name for group in found.plan.routine.groups_around("A")]


# --- at random -------------------------------------------------------------------------------

Exit = tuple[str, str, int, str]
"""``when`` with a sensor's words, or ``after`` with a time in ms; and the step it leads to."""


@dataclass
class Owner:
    """A group or step as plain data."""

    name: str
    exits: list[Exit]
    around: list[Owner] = field(default_factory=list)
    """The groups around it, outermost first."""


@dataclass
class Drawn:
    """A plan of nested groups, and its text."""

    steps: dict[str, Owner]
    lines: list[str]


def drawn(seed: int) -> Drawn:
    """A small plan of steps in groups in groups; the same for the same seed."""
    draw = random.Random(seed)
    names = [chr(ord("A") + number) for number in range(draw.randint(2, 6))]
    plan = Drawn({}, [HEAD.rstrip()])
    left = list(names)

    def exits(margin: str, most: int) -> list[Exit]:
        found: list[Exit] = []
        for _ in range(draw.randint(0, most)):
            target = draw.choice([*names, "Lit"])
            word = draw.choice(("bumper pressed", "tin_gate broken"))
            at = draw.choice((100, 250, 400, 700, 1100)) + 3 * len(found)
            when = draw.random() < 0.5
            found.append(("when" if when else "after", word, at, target))
            what = f"when {word}" if when else f"after {at} ms"
            plan.lines.append(f"{margin}{what}, go to {target}")
        return found

    def fill(around: list[Owner]) -> None:
        margin = "  " * len(around)
        while left:
            if len(around) < DEEPEST_GROUPS and draw.random() < 0.45:
                name = f"G{len(plan.lines)}"
                plan.lines.append(f"{margin}group {name}")
                group = Owner(name, [], list(around))
                group.exits = exits(f"{margin}  ", 2)
                fill([*around, group])
            else:
                name = left.pop(0)
                plan.lines.append(f"{margin}step {name}")
                plan.steps[name] = Owner(name, exits(f"{margin}  ", 2), list(around))
            if around and draw.random() < 0.4:
                return

    fill([])
    plan.lines.append("finish Lit")
    return plan


def moves(plan: Drawn, trace: list[tuple[int, dict[str, object]]]) -> list[str]:
    """The steps entered, with times in ms, by the rules read again from the reference."""
    here, began = "A", {"A": 0, **{group.name: 0 for group in plan.steps["A"].around}}
    found = ["0 A"]
    for now, seen in trace[1:]:
        taken = _taken(plan.steps[here], now, seen, began)
        if taken is None:
            continue
        owner, target = taken
        found.append(f"{now} {target}")
        if target == "Lit":
            break
        around = [group.name for group in plan.steps[here].around]
        # An exit of a group leaves it and all that is in it; a step's own leaves none by itself.
        left = around[around.index(owner) :] if owner in around else []
        stays = {name: began[name] for name in around if name not in left}
        began = {g.name: stays.get(g.name, now) for g in plan.steps[target].around} | {target: now}
        here = target
    return found


def _taken(
    step: Owner, now: int, seen: dict[str, object], began: dict[str, int]
) -> tuple[str, str] | None:
    for owner in (*step.around, step):
        for kind, word, _, target in owner.exits:
            sensor, answer = word.split()
            if kind == "when" and seen[sensor] == answer:
                return owner.name, target
        due = [(at, to) for kind, _, at, to in owner.exits if kind == "after"]
        for at, target in sorted(due, key=lambda pair: pair[0]):
            if now - began[owner.name] >= at:
                return owner.name, target
    return None


@pytest.mark.parametrize("seed", range(150))
def test_random_groups(seed: int) -> None:
    """M2 and M4 on groups at any depth: the machine moves as a second interpreter does."""
    plan, draw = drawn(seed), random.Random(-seed)
    text = "\n".join([*plan.lines, ""])
    trace = [
        (50 * number, QUIET | (draw.choice((QUIET, {"bumper": "pressed"}, {"tin_gate": "broken"}))))
        for number in range(60)
    ]
    assert moves(plan, trace) == entered(text, trace)


@pytest.mark.parametrize("seed", range(30))
def test_random_groups_are_laid_out(seed: int) -> None:
    """Groups at any depth are read without a slip, and keep layout and meaning."""
    text = "\n".join([*drawn(seed).lines, ""])
    assert () == resolved(text)[1]
    ragged = text.replace("  ", "\t   ")
    formatted = format_routine(Source("x.routine", ragged), lambda _: None)
    assert (text, True) == (formatted.text, formatted.unchanged)
    assert () == parse_routine(Source("x.routine", ragged)).slips
