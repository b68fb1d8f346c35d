"""An export that is killed half way leaves a project that compiles."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from exporting import change, edit_claw, exported, tree
from java.java_tools import HERE, ROUTINES, compile_java

from planner.java import in_order
from planner.shell import files


# Changes of a plan and its robot after which several files must change together.
def _new_command(folder: Path) -> None:
    change(folder / "moth.bot", ("command forward(", "command ahead("))
    change(folder / "plan.routine", ("drive forward", "drive ahead"), ("after 4 s", "after 5 s"))


def _new_sight(folder: Path) -> None:
    change(folder / "moth.bot", ("left, middle, right", "left, centre, right"))
    change(folder / "plan.routine", ("middle", "centre"))


_CASES = {
    "command": ("first_lamp", _new_command),
    "sight": ("gallery/marked_post", _new_sight),
    "combination": ("first_lamp", _new_command),
    "tests": ("first_lamp", _new_command),
}
# Of the last, some op modes are asked for before the change and some after it.
_CHOOSE = "choose side: left, right mirrors\nchoose pace: calm, brisk\n"
_BEFORE = ("--op-mode-for", "side left", "--op-mode-for", "side right")
_AFTER = ("--op-mode-for", "side right", "--op-mode-for", "side right, pace brisk")


class KilledError(BaseException):
    """Stands for the end of the process: nobody tidies up behind it."""


@dataclass
class _Kill:
    """Counts what is done to files in place, and ends it all before one of them."""

    before: int
    done: int = field(default=0)

    def __call__(self) -> None:
        if self.done == self.before:
            raise KilledError
        self.done += 1


def _kill_before(number: int, monkeypatch: pytest.MonkeyPatch) -> _Kill:
    kill = _Kill(number)
    for name in ("take_away", "put_in_place"):
        method = getattr(files._Writing, name)

        def step(self: object, path: Path, method: object = method) -> None:
            kill()
            method(self, path)  # type: ignore[operator]

        monkeypatch.setattr(files._Writing, name, step)
    monkeypatch.setattr(files._Writing, "undo", lambda _self: "")
    return kill


def _states(case: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """Exports, changes the plan and exports again, killed before each file in turn.

    Gives the name of each package in which that left something; each is then finished, and is as
    if nothing had happened.
    """
    routine, changed = _CASES[case]
    old, new = folder / f"{case} old", folder / f"{case} new"
    for plans in (old, new):
        plans.mkdir()
        shutil.copy(ROUTINES / "moth.bot", plans)
        shutil.copy(ROUTINES / f"{routine}.routine", plans / "plan.routine")
    asked: tuple[tuple[str, ...], tuple[str, ...]] = ((), ())
    if case == "combination":
        asked = (_BEFORE, _AFTER)
        for plans in (old, new):
            change(plans / "plan.routine", ("\nstart ", f"\n{_CHOOSE}\nstart "))
    if case == "tests":
        asked = (("--tests", str(folder / "unit tests")),) * 2
    changed(new)
    for number in range(100):
        package = f"{case}{number}.auto"
        there = folder / "src" / f"{case}{number}"
        _run(old, package, folder / "src", *asked[0])
        claw = edit_claw(there / "auto")
        mine = claw.read_bytes()
        with monkeypatch.context() as patch:
            kill = _kill_before(number, patch)
            try:
                _run(new, package, folder / "src", *asked[1])
            except KilledError:
                assert kill.done == number
            else:
                assert number > 2, "several files change"
                return
        shutil.copytree(there, folder / "killed" / f"{case}{number}")
        if case == "tests":
            unit_tests = folder / "unit tests" / f"{case}{number}"
            shutil.copytree(unit_tests, folder / "killed" / "unit tests" / f"{case}{number}")
        assert mine == claw.read_bytes()
        _run(new, package, folder / "src", *asked[1])
        _run(new, package, folder / "src", *asked[1], "--check")
        assert [] == [path for path in tree(there) if path.rpartition("/")[2].startswith(".")]
        assert mine == claw.read_bytes()
        # One that is not asked for any more is left where it is, whatever happened on the way.
        assert (
            case != "combination" or (there / "auto/opmodes/FirstLampLeftCalmFixed.java").is_file()
        )
        yield package


def _run(plans: Path, package: str, into: Path, *options: str) -> None:
    ran = exported(package, str(into), *options, routines=(str(plans / "plan.routine"),))
    assert (0, "") == (ran.status, ran.err)


def test_killed_between_any_two_files(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whenever the process ends, what is in place compiles with a person's change in it, and the
    next export gives what an export without a fault gives."""
    states = [state for case in _CASES for state in _states(case, tmp_path, monkeypatch)]
    assert {*_CASES} == {state.partition(".")[0].rstrip("0123456789") for state in states}
    compiled = compile_java([HERE / "stubs", tmp_path / "killed"], tmp_path / "classes")
    assert (0, "") == (compiled.status, compiled.messages)


def test_what_calls_a_file_comes_after_it() -> None:
    """A file that calls what another one has gained is put in place after that one."""
    names = ("RunLog", "Watched", "FirstPlanTest", "FirstPlan", "Moves", "Rehearsal")
    order = in_order(f"plans/{name}.java" for name in names)

    for below, above in (
        ("Moves", "Watched"),
        ("Watched", "RunLog"),
        ("Watched", "FirstPlan"),
        ("FirstPlan", "FirstPlanTest"),
        ("Rehearsal", "FirstPlanTest"),
    ):
        assert order.index(f"plans/{below}.java") < order.index(f"plans/{above}.java")
