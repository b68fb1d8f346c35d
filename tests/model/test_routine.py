"""From a routine's tree to the routine: steps, exits, counts, settings, and what is wrong."""

from __future__ import annotations

import pytest
from demo import HEADER, resolved, said

from planner.model.resolve_routine import AUTONOMOUS_US

REST = "  after 1 s, go to Lit\nfinish Lit\n"


def step_with(*lines: str) -> str:
    """A plan whose one step has these lines."""
    return "start A\nstep A\n" + "".join(f"  {line}\n" for line in lines) + REST


@pytest.mark.parametrize(
    ("text", "slips"),
    [
        (step_with(), []),
        (step_with("dirve forward 40 %"), [("unknown-mechanism", "dirve")]),
        (step_with("left_wheels forward 40 %"), [("unknown-mechanism", "left_wheels")]),
        (step_with("drive foward 40 %"), [("unknown-command", "foward")]),
        (step_with("drive forward"), [("wrong-arguments", "drive forward")]),
        (step_with("drive forward 40 %, 2 s"), [("wrong-arguments", "drive forward 40 %, 2 s")]),
        (step_with("roller take 40 %"), [("wrong-arguments", "roller take 40 %")]),
        (step_with("drive forward 40"), [("number-without-unit", "40")]),
        (step_with("drive forward 40 cm"), [("wrong-unit", "40 cm")]),
        (step_with("drive forward speed"), [("unknown-setting", "speed")]),
        (step_with("drive stop", "keep roller stop"), []),
        (step_with("drive stop 40 %"), [("wrong-arguments", "drive stop 40 %")]),
        (step_with("after 1 s, go to Lot"), [("unknown-step", "Lot")]),
        (step_with("after 1 s, go to lit"), [("unknown-step", "lit")]),
        (step_with("after 1 s, go to Lit, at most 0 times, then Lit"), [("wrong-count", "0")]),
        (step_with("after 1 s, go to Lit, at most -1 times, then Lit"), [("wrong-count", "-1")]),
        (step_with("after 1 s, go to Lit, at most 1.5 times, then Lit"), [("wrong-count", "1.5")]),
        (step_with("after 1 s, go to A, at most 2 times, then Lot"), [("unknown-step", "Lot")]),
        ("start B\nstep A\n" + REST, [("unknown-step", "B")]),
        ("start A\nat 26 s of match, go to Dok\nstep A\n" + REST, [("unknown-step", "Dok")]),
        ("start A\nat 26 cm of match, go to Lit\nstep A\n" + REST, [("wrong-unit", "26 cm")]),
        ("start A\nlimit 20 s\nstep A\n" + REST, [("line-twice", "limit 20 s")]),
        ("start A\nstart A\nstep A\n" + REST, [("line-twice", "start A")]),
        ("start A\nstep A\n" + REST + "step A\n", [("name-used-twice", "A")]),
        ("start A\nstep A\n" + REST + "finish A\n", [("name-used-twice", "A")]),
        ("start A\nstep A\n" + REST + "step match\n", [("reserved-word", "match")]),
        ("start A\nsetting a = 1 s\nsetting a = 2 s\nstep A\n" + REST, [("name-used-twice", "a")]),
        ("start A\nsetting a = 1\nstep A\n  after a, go to A\n" + REST,
         [("number-without-unit", "1")]),
        ("start A\nsetting a = one s\nstep A\n  after a, go to A\n" + REST,
         [("unreadable-line", "one")]),
    ],
)  # fmt: skip
def test_slips(text: str, slips: list[tuple[str, str]]) -> None:
    """Each fault of a routine is one slip at its own words, and none follows from another."""
    assert slips == said(resolved(text)[1])


@pytest.mark.parametrize("line", ["routine", "robot", "limit", "start", "finish"])
def test_missing_lines(line: str) -> None:
    """A line that every routine has is missed where it is not there, but not where it is broken."""
    text = HEADER + "start A\nstep A\n  after 1 s, go to A\nfinish Lit\n"
    kept = [part for part in text.splitlines() if not part.startswith(line)]
    _, slips = resolved("\n".join(kept))
    missed = [slip.word for slip in slips if slip.check == "missing-line"]
    assert [line] == missed
    broken = text.replace(line, f"{line} !", 1)
    assert [] == [s.word for s in resolved(broken)[1] if s.check == "missing-line"]


def test_an_empty_routine() -> None:
    """A routine of nothing misses each line that every routine has, once."""
    _, slips = resolved("routine example\n")
    assert ["robot", "limit", "start", "finish"] == [slip.word for slip in slips]


def test_limits() -> None:
    """The limit is held in microseconds; where it is missing or wrong, 30 s are assumed."""
    limits = [
        resolved(f"routine x\n{line}\n")[0].limit_us
        for line in ("limit 25.5 s", "limit 0 s", "limit 3 cm", "limit soon", "")
    ]
    assert [25_500_000, *[AUTONOMOUS_US] * 4] == limits
    assert 30_000_000 == AUTONOMOUS_US


def test_exits_in_order() -> None:
    """M4: `when` exits as written, then `after` exits, earliest first, then as written."""
    text = step_with(
        "after 3 s, go to Lit",
        "when arm done, go to A",
        "after 2 s, go to A",
        "when bumper pressed, go to Lit",
        "after 2 s, go to Lit",
    )
    routine, _ = resolved(text)
    lines = [exit_.place.words for exit_ in routine.steps["A"].exits]
    assert [
        "when arm done, go to A",
        "when bumper pressed, go to Lit",
        "after 1 s, go to Lit",
        "after 2 s, go to A",
        "after 2 s, go to Lit",
        "after 3 s, go to Lit",
    ] == lines


def test_match_exits_in_order() -> None:
    """Match-clock exits are held earliest first."""
    routine, _ = resolved(
        "start A\nat 26 s of match, go to A\nat 20 s of match, go to B\nfinish A\nfinish B"
    )
    assert [(20_000_000, "B"), (26_000_000, "A")] == [
        (exit_.at_us, exit_.target) for exit_ in routine.match_exits
    ]


def test_counts() -> None:
    """A counted exit knows how often it leads where, and where it leads then."""
    routine, _ = resolved(step_with("after 1 s, go to A, at most 2 times, then Lit"))
    counts = [
        exit_.count and (exit_.count.most, exit_.count.then) for exit_ in routine.steps["A"].exits
    ]
    assert [(2, "Lit"), None] == counts


def test_settings() -> None:
    """A setting stands for its number everywhere, with the other sign where one is written."""
    text = (
        "start A\nsetting pace = 40 %\nsetting late = 26 s\nsetting spare = 1 s\n"
        "at late of match, go to Lit\nstep A\n  drive spin -pace\n" + REST
    )
    routine, slips = resolved(text)
    (given,) = routine.steps["A"].commands
    (amount,) = given.arguments
    assert ([], -40, "-pace") == (said(slips), amount.number, amount.written)
    assert (26_000_000, "late") == (routine.match_exits[0].at_us, routine.match_exits[0].setting)
    assert {"pace": True, "late": True, "spare": False} == {
        name: setting.used for name, setting in routine.settings.items()
    }


@pytest.mark.parametrize(
    ("line", "incomplete", "perhaps"),
    [
        ("claw close", False, set()),
        ("claw shut", True, set()),
        ("when bumper presed maybe, go to Lit", True, {"Lit"}),
        ("when bumpr pressed, go to Lit", True, {"Lit"}),
        ("after 1 s, go to Lot", True, {"Lit"}),
        ("!!", True, set()),
    ],
)
def test_incomplete_steps(line: str, incomplete: bool, perhaps: set[str]) -> None:
    """A step with a line that makes no sense is incomplete, and knows where that may lead."""
    step = resolved(step_with(line))[0].steps["A"]
    assert incomplete == step.incomplete
    assert perhaps <= step.perhaps <= perhaps | {"Lit"}


@pytest.mark.parametrize(
    ("text", "incomplete"),
    [
        (step_with(), False),
        ("!!\n" + step_with(), True),
        ("at 26 s of match, go to Dok\n" + step_with(), True),
        ("at soon of match, go to Lit\n" + step_with(), True),
        (step_with("!!"), False),
    ],
)
def test_incomplete_routines(text: str, incomplete: bool) -> None:
    """A routine is incomplete where a line outside of its steps made no sense."""
    assert incomplete == resolved(text)[0].incomplete


def test_thousands_of_unknown_steps() -> None:
    """The names that would have fitted are held once, however many slips there are."""
    text = "".join(f"step S{number}\n  after 1 s, go to T{number}\n" for number in range(2000))
    _, slips = resolved(text)
    assert 1 == len({id(slip.known) for slip in slips if slip.check == "unknown-step"})
