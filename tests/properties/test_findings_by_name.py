"""What `planner check` finds in a text goes by what the plan does: not by how its steps are called,
nor by the order in which they are written where that has no meaning, nor by the process it runs in.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import pytest
from demo import HEADER, ROOT, ROUTINES
from gallery.examples import NAMES, find_robot, find_tasks, text
from graph.test_doing import random_text as doing_text
from graph.test_lasting import random_text as lasting_text
from hypothesis import settings
from renamed import named_back, names_in_text, new_names, renamed_text, reordered_text

from planner.findings import Finding
from planner.pipeline import check_routine
from planner.text import Source

LONG = settings.default is not None and settings.default.max_examples > 1000
SEEDS = range(2000 if LONG else 25)
CHECKS = ROOT / "tests" / "checks"
WORDS = frozenset({"unknown-step", "name-used-twice"})
"""What is said of names, and what other names are near to them."""
ANY_OF_SEVERAL = frozenset(
    {"endless-loop", "motor-left-on", "no-way-to-finish", "unreachable-step"}
)
"""Of steps that have a fault together these tell at the first as written, or show one way of
several that are as short."""


def texts(*folders: Path) -> dict[str, str]:
    """The gallery, and the routines of folders with faults."""
    faulty = [path for folder in folders for path in sorted(folder.glob("*.routine"))]
    return {n: text(n) for n in NAMES} | {p.stem: p.read_text(encoding="utf-8") for p in faulty}


FAULTY = texts(ROUTINES / "broken", CHECKS / "late")
EVERY = FAULTY | texts(CHECKS / "cases")
# Of two steps of one name, the one that is written first is read.
ORDERED = {name: of for name, of in FAULTY.items() if name != "name_used_twice"}
MAKERS = {"doing": doing_text, "lasting": lasting_text}
makers = pytest.mark.parametrize("make", MAKERS.values(), ids=MAKERS)


def found(of: str) -> tuple[Finding, ...]:
    """What is found in a text."""
    return check_routine(Source("example.routine", of), find_robot, (), find_tasks).findings


def told(finding: Finding) -> tuple[object, ...]:
    """All that is said of a finding, by its lines."""
    related = [(one.place.line, one.label) for one in finding.related]
    said = (finding.headline, finding.why, finding.way_out, finding.paste, finding.steps)
    return (finding.check, finding.severity, finding.place.line, said, finding.run, related)


def assert_names_have_no_say(of: str, seed: int) -> None:
    """Checks that a text under other names earns the same, word for word."""
    # This is what is offered where a plan has no such step of its own.
    declared = [name for name in names_in_text(of) if name != "GiveUp"]
    names = new_names(declared, random.Random(seed))
    before = [repr(told(one)) for one in found(of) if one.check not in WORDS]
    after = [one for one in found(renamed_text(of, names)) if one.check not in WORDS]
    assert before == [named_back(repr(told(one)), names) for one in after], seed


def assert_order_has_no_say(of: str, seed: int) -> None:
    """Checks that a text in another order earns the same checks, most of them in the same lines."""
    other = reordered_text(of, random.Random(seed))
    before, after = found(of), found(other.text)
    assert Counter(map(kind, before)) == Counter(map(kind, after)), seed
    lines = range(of.count("\n") + 2)
    expected = Counter(where(one, lines) for one in before if one.check not in ANY_OF_SEVERAL)
    moved = (0, *other.lines)
    assert expected == Counter(
        where(one, moved) for one in after if one.check not in ANY_OF_SEVERAL
    ), seed


def kind(finding: Finding) -> tuple[object, ...]:
    """Which check it is, and how bad."""
    return (finding.check, finding.severity)


def where(finding: Finding, lines: range | tuple[int, ...]) -> tuple[object, ...]:
    """A finding with its line as it was, its headline, its steps and its run."""
    line = lines[finding.place.line]
    return (finding.check, line, finding.headline, frozenset(finding.steps), finding.run)


@pytest.mark.parametrize("name", EVERY)
def test_names_have_no_say(name: str) -> None:
    """Under other names a routine earns the same findings in the same words and order."""
    assert_names_have_no_say(EVERY[name], 1)


@makers
def test_names_have_no_say_in_random_plans(make: Callable[[int], str]) -> None:
    """So do random routines with commands, side rules, groups and lanes."""
    for seed in SEEDS:
        assert_names_have_no_say(HEADER + make(seed), seed)


@pytest.mark.parametrize("name", ORDERED)
def test_order_has_no_say(name: str) -> None:
    """With its steps in another order a routine earns the same findings of the same lines."""
    assert_order_has_no_say(ORDERED[name], 1)


@makers
def test_order_has_no_say_in_random_plans(make: Callable[[int], str]) -> None:
    """So do random routines."""
    for seed in SEEDS:
        assert_order_has_no_say(HEADER + make(seed), seed)


def test_every_process_says_the_same(tmp_path: Path) -> None:
    """What is said does not hang on how a process happens to lay out its sets of names."""
    (tmp_path / "moth.bot").write_bytes((ROUTINES / "moth.bot").read_bytes())
    for name, of in FAULTY.items():
        if "\nrobot moth\n" in of:
            (tmp_path / f"{name}.routine").write_text(of, encoding="utf-8")
    for seed in SEEDS:
        drawn = HEADER.replace("example", f"drawn{seed}") + doing_text(seed)
        (tmp_path / f"drawn{seed}.routine").write_text(drawn, encoding="utf-8")
    said = {
        subprocess.run(
            [sys.executable, "-m", "planner", "check", "--format", "json", str(tmp_path)],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=False,
        ).stdout
        for seed in ("1", "2")
    }
    assert 1 == len(said)
    assert b"command-missing-on-a-way" in said.pop()
