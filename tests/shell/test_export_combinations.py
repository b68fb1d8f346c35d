"""`planner export --op-mode-for`: one op mode for each combination of choices that is asked for."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from command import planner
from demo import ROUTINES
from exporting import PACKAGE, change, exported, tree

OP_MODES = Path("java src", "club", "moth", "auto", "opmodes")
BLUE = ("--op-mode-for", "alliance blue, park stay")
RED = ("--op-mode-for", "alliance red")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a routine that lets a lot be chosen, and one that lets nothing."""
    for name in ("beetle.bot", "either_end.routine", "square_up.routine"):
        shutil.copy(ROUTINES / "gallery" / name, tmp_path)
    monkeypatch.chdir(tmp_path)
    return tmp_path


def asked(*options: str, routines: tuple[str, ...] = ("either_end.routine",)) -> str:
    """What an export that goes well says."""
    ran = exported(PACKAGE, "java src", *options, routines=routines)
    assert (0, "") == (ran.status, ran.err)
    return ran.out


def op_modes(here: Path) -> list[str]:
    """The op modes for one combination each that are there."""
    return sorted(path.stem for path in (here / OP_MODES).glob("*Fixed.java"))


def trouble(*options: str, routines: tuple[str, ...] = ("either_end.routine",)) -> str:
    """What an export says that cannot be done; it writes nothing."""
    before = tree(Path())
    ran = exported(PACKAGE, "java src", *options, routines=routines)
    assert (2, "", before) == (ran.status, ran.out, tree(Path()))
    return ran.err.removeprefix("planner: ").rstrip()


def test_one_for_each_that_is_asked_for(here: Path) -> None:
    """Each combination becomes an op mode beside the routine's own, numbers as normal."""
    asked(*BLUE, *RED)
    assert ["EitherEndBlueNearStayFixed", "EitherEndRedNearQuayFixed"] == op_modes(here)
    assert (here / OP_MODES / "EitherEndAuto.java").is_file()


def test_nothing_changes_the_second_time(here: Path) -> None:
    """Asked for the same, in whatever order, an export changes nothing and `--check` agrees."""
    asked(*BLUE, *RED)
    before = tree(here)
    out = asked(*RED, *BLUE)
    assert ({"unchanged"}, before) == ({row.split()[0] for row in rows(out)}, tree(here))
    asked(*BLUE, *RED, "--check")


def rows(out: str) -> list[str]:
    """The lines on single files."""
    return out.partition("\n\n")[0].splitlines()


def test_a_dry_run_and_a_check_only_look(here: Path) -> None:
    """`--dry-run` tells of a new op mode and `--check` of a missing one; neither writes it."""
    asked()
    dry = asked(*BLUE, "--dry-run")
    assert f"new        {OP_MODES / 'EitherEndBlueNearStayFixed.java'}" in rows(dry)
    ran = exported(PACKAGE, "java src", *BLUE, "--check", routines=("either_end.routine",))
    assert (1, f"missing     {OP_MODES / 'EitherEndBlueNearStayFixed.java'}", []) == (
        ran.status,
        ran.out.splitlines()[0],
        op_modes(here),
    )


def test_one_that_is_not_asked_for_any_more(here: Path) -> None:
    """It is told, with what follows, and left where it is until a person deletes it."""
    asked(*BLUE, *RED)
    out = asked(*RED)
    told = next(part for part in out.split("\n\n") if part.startswith("Of earlier exports"))
    assert told.splitlines() == [
        "Of earlier exports, and part of these plans no more. Nothing was deleted:",
        f"  {OP_MODES / 'EitherEndBlueNearStayFixed.java'}",
        "An op mode among them can still be started on the robot until you delete its file.",
    ]
    assert 2 == len(op_modes(here))
    (here / OP_MODES / "EitherEndBlueNearStayFixed.java").unlink()
    assert "Of earlier exports" not in asked(*RED)


def test_all_of_them(here: Path) -> None:
    """`all` is every combination of words, with numbers as normal: two times two times two."""
    asked("--op-mode-for", "all")
    assert 8 == len(op_modes(here))
    assert [] == [name for name in op_modes(here) if "Delay" in name]


def test_all_has_an_end(here: Path) -> None:
    """More than a person can find in a list are not made, and the line says how many they were."""
    park = "choose park: quay, stay"
    change(here / "either_end.routine", (park, f"choose partner: fast, late, lost, still\n{park}"))
    assert (
        "either_end.routine has 32 combinations, and in a list of more than 24 op modes nobody "
        "finds one before a match. Name those that you use. Nothing was written."
    ) == trouble("--op-mode-for", "all")


@pytest.mark.parametrize(
    ("request_", "told"),
    [
        ("alliance green", "`alliance` cannot be `green`: it is `red` or `blue`."),
        ("alliance", "`alliance` cannot be left open: it is `red` or `blue`."),
        ("allince red", "there is no `allince` to choose; did you mean `alliance`?"),
        ("blue", "there is no `blue` to choose; write `alliance blue`."),
        ("alliance red, alliance blue", "`alliance` is chosen twice."),
        ("delay 9 s", "`delay` cannot be `9 s`: it goes from 0 s to 5 s."),
        ("delay 9 cm", "`delay` cannot be `9 cm`: it goes from 0 s to 5 s."),
        ("weather fine", "there is no `weather` to choose; write for example `alliance red, "),
        ("", "say what is chosen, such as `alliance red, place near, park quay, delay 0 s`."),
        ("alliance red,", "say what is chosen, such as `alliance red, "),
    ],
)
@pytest.mark.usefixtures("here")
def test_what_cannot_be_chosen(request_: str, told: str) -> None:
    """A combination that there is none of is told in one line that says what there is."""
    said = trouble("--op-mode-for", request_)
    assert said.startswith(f"either_end.routine: {told}")
    assert said.endswith("Nothing was written.")


def test_a_word_that_is_gone(here: Path) -> None:
    """Once the plan has lost a word, an export that asks for it says which ones there are."""
    asked(*BLUE)
    routine = here / "either_end.routine"
    text = routine.read_text(encoding="utf-8").partition("\nscenario ")[0]
    routine.write_text(text.replace("quay, stay", "quay, here").replace("is stay", "is here"))
    told = "`park` cannot be `stay`: it is `quay` or `here`. Nothing was written."
    assert f"either_end.routine: {told}" == trouble(*BLUE)


def test_a_plan_without_choices_any_more(here: Path) -> None:
    """An op mode for a choice stops the export of a plan that has none now, until it is deleted:
    it would not compile."""
    text = "routine plain\nrobot beetle\nlimit 30 s\n{}start A\n"
    text += "step A\n  after 1 s, go to B\nfinish B\n"
    (here / "plain.routine").write_text(text.format("choose side: left, right\n"), encoding="utf-8")
    asked("--op-mode-for", "side left", routines=("plain.routine",))
    (here / "plain.routine").write_text(text.format(""), encoding="utf-8")
    left = OP_MODES / "PlainLeftFixed.java"
    assert (
        f"plain.routine has nothing to choose any more, and {left} is for a choice: delete that "
        "file first. Nothing was written."
    ) == trouble(routines=("plain.routine",))
    (here / left).unlink()
    asked(routines=("plain.routine",))


def test_of_several_routines_those_with_the_choices(here: Path) -> None:
    """A request is for every routine that has its choices; a name in front is for that one."""
    both = ("either_end.routine", "square_up.routine")
    asked(*BLUE, "--op-mode-for", "either_end: all", routines=both)
    assert 8 == len(op_modes(here))
    said = "no routine of this export lets `weather` be chosen. Nothing was written."
    assert said == trouble("--op-mode-for", "weather fine", routines=both)
    said = "this export has no routine `eitherend`, so nothing was written. Did you mean "
    assert f"{said}`either_end`?" == trouble("--op-mode-for", "eitherend: all", routines=both)
    asked("--op-mode-for", "either_end.routine: alliance blue", routines=both)
    said = "square_up.routine has nothing to choose, so its one op mode is enough. Nothing was "
    assert f"{said}written." == trouble("--op-mode-for", "square_up: all", routines=both)


@pytest.mark.usefixtures("here")
def test_a_new_file_name_of_the_routine() -> None:
    """Op modes for combinations follow a routine whose file has a new name."""
    asked(*BLUE)
    Path("either_end.routine").rename("any_end.routine")
    out = asked(
        *(*BLUE, "--renamed", "either_end.routine", "any_end.routine"),
        routines=("any_end.routine",),
    )
    assert f"updated    {OP_MODES / 'EitherEndBlueNearStayFixed.java'}" in rows(out)


def test_what_a_person_changed_is_left(here: Path) -> None:
    """A change of a person's in such an op mode stays, as everywhere."""
    asked(*BLUE)
    path = here / OP_MODES / "EitherEndBlueNearStayFixed.java"
    change(path, ("park", "place"))
    out = asked(*BLUE)
    assert f"left       {OP_MODES / 'EitherEndBlueNearStayFixed.java'}" in rows(out)


def test_an_op_mode_that_a_person_changed_lacks_what_they_call(here: Path) -> None:
    """Where the routine's own op mode is a person's and has not what these call, it is given to
    be pasted."""
    asked()
    path = here / OP_MODES / "EitherEndAuto.java"
    text = path.read_text(encoding="utf-8")
    start, end = text.index("    /** Settles a choice"), text.index("    /** Makes everything")
    path.write_text(text[:start] + text[end:], encoding="utf-8")
    out = asked(*BLUE)
    lacking = out.partition("to paste into EitherEndAuto:")[2]
    assert "    final void fix(String choice, String word) {\n" in lacking
    assert "    final void fix(String choice, double number) {\n" in lacking
    assert "to paste" not in asked()


@pytest.mark.usefixtures("here")
def test_help_shows_how() -> None:
    """The help says what is taken, with an example."""
    assert '--op-mode-for "alliance blue"' in planner("export", "--help").out
