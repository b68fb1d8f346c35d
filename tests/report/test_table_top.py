"""Runs by hand as whole conversations."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from demo import ROOT, ROUTINES, check

from planner.pipeline import plan_for
from planner.report import Screen
from planner.report.choosing import ChoosingTable
from planner.report.glyphs import width_of
from planner.report.table_top import TableTop

Golden = Callable[[str, str], None]

CHOICES = """choose alliance: red, blue mirrors
choose delay: 0 s to 5 s, normally 0 s
start Wait
step Wait
  after delay, go to Lit
finish Lit
"""
BREAKS = """{}
start Go
step Go
  claw close
  drive forward 40 %
  when bumper pressed, go to Lit
  after 2 s, go to Let
step Let
  claw open
  drive forward 20 %
  when bumper pressed, go to Lit
  after 2 s, go to Lit
finish Lit
"""


def table(name: str = "first_lamp") -> TableTop:
    """One of the demo team's routines on the table."""
    return TableTop(check((ROUTINES / f"{name}.routine").read_text(encoding="utf-8")).plan)


def conversation(top: TableTop, *lines: str, screen: Screen | None = None) -> str:
    """What a student types, and each screen that answers."""
    look = screen or Screen()
    shown = [top.screen(look)]
    for line in lines:
        top.do(line)
        shown.append(f"> {line}".rstrip() + "\n\n" + top.screen(look))
    return "".join(shown)


def test_the_screen_of_the_readme(golden: Golden) -> None:
    """One screen in the middle of a run, as the README shows it."""
    top = table()
    for line in ("1.2 s", "r 7 cm", "0.04 s"):
        top.do(line)
    golden("report/by_hand_screen.txt", top.screen(Screen()) + "> \n")


def test_the_readme_shows_that_screen() -> None:
    """The README's screen is what the program shows for the keys that the README names."""
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    told = text.split("A run by hand, as the students see it")[1]
    before, shown, _ = told.split("```", 2)
    keys = re.findall(r"`([^`]+)`", before.split(". ")[0])
    top = table()
    for key in keys:
        top.do(key)
    assert 3 == len(keys)
    assert shown.strip("\n") == (top.screen(Screen()) + ">").strip("\n")


def test_choosing_before_the_start(golden: Golden) -> None:
    """What can be chosen is shown before the run, and what was chosen during it."""
    checked = check(CHOICES)
    before = ChoosingTable(checked.plan)
    shown = [before.screen(Screen())]
    for line in ("blu", "a", "d 2", "help", ""):
        before.do(line)
        shown.append(f"> {line}".rstrip() + "\n\n")
        shown.append("" if before.started else before.screen(Screen()))
    chosen = before.choosing.chosen
    top = TableTop(plan_for(checked, chosen), chosen)
    top.do("")
    golden("report/by_hand_choices.txt", "".join(shown) + top.screen(Screen()))


def test_a_broken_requirement_is_on_the_screen() -> None:
    """From the moment a requirement is broken until the student goes back, the screen says so."""
    line = "require never drive forward while claw open"
    top = TableTop(check(BREAKS.format(line)).plan)
    top.do("1 s")
    assert line not in top.screen(Screen())
    top.do("")
    told = f"Broken    {line}: `drive forward` and `claw"
    assert told in top.screen(Screen())
    top.do("back")
    assert line not in top.screen(Screen())


def test_a_good_run(golden: Golden) -> None:
    """A student presses the bumper, lets the arm arrive, goes back once, and lights the lamp."""
    lines = ["1.2 s", "b", "", "1 s", "not arm done", "a", "", "", "d -20", "back", "", "", "b"]
    golden("report/by_hand_good_run.txt", conversation(table(), *lines))


def test_slips_and_help(golden: Golden) -> None:
    """Slips are answered under the screen; help and all sensors can be asked for."""
    lines = ["bumpr", "r", "r 500", "1.5", "back", "back", "sensors", "sensors", "help", "save"]
    golden("report/by_hand_slips.txt", conversation(table(), *lines))


def test_a_match_clock_and_counts(golden: Golden) -> None:
    """The match clock's exits, counts and several answers are on the screen as well."""
    lines = ["4 s", "d -25", "", "f", "f", "4 s", "d -25", "", "", "f"]
    golden("report/by_hand_two_lamps.txt", conversation(table("two_lamps"), *lines))


def test_a_run_that_is_cut_off() -> None:
    """The limit's end is told as the failure it is, and only going back helps."""
    top = TableTop(
        check(
            "start A\nstep A\n  when bumper pressed, go to B\n  after 40 s, go to B\nfinish B"
        ).plan
    )
    top.do("")
    text = top.screen(Screen())
    assert "cut off in A by the limit: this run failed" in text
    top.do("b")
    assert "The run is over: type back, save NAME or quit." in top.screen(Screen())
    top.do("back")
    assert "false" in top.screen(Screen())


@pytest.mark.parametrize("name", ["first_lamp", "two_lamps", "whole_street"])
@pytest.mark.parametrize("width", [40, 60, 71, 72, 80, 120])
def test_the_screen_fits(name: str, width: int) -> None:
    """No line is wider than the window; at 80 columns all fits 24 rows with the line to type on."""
    top = table(name)
    for line in ("", "b", "", "a", "0.1 s", "", "", "sensors", "help"):
        top.do(line)
        rows = top.screen(Screen(width)).splitlines()
        assert [] == [row for row in rows if width_of(row) > width], line
        assert width < 80 or len(rows) < 24, line


def test_every_reading_is_shown() -> None:
    """What the plan waits for is on the screen, whatever the width; all sensors on demand."""
    top = table("two_lamps")
    for width in (50, 80):
        text = top.screen(Screen(width))
        used = [handle.reading for handle in top.handles if handle.used]
        assert used == [name for name in used if name in text]
        assert "post_mark" not in text
    top.do("sensors")
    assert "post_mark" in top.screen(Screen())


def test_colour_leaves_the_layout_alone() -> None:
    """Colour is added to what is laid out already."""
    plain, styled = table(), table()
    for line in ("", "r 7", "b"):
        plain.do(line)
        styled.do(line)
        text = styled.screen(Screen(style=lambda _role, text: f"\x01{text}\x02" if text else ""))
        assert plain.screen(Screen()) == text.replace("\x01", "").replace("\x02", "")


def test_nothing_typed_steers_the_screen() -> None:
    """What somebody's terminal sends reaches the screen in plain characters only."""
    top = table()
    for line in ("\x1b[2J", "\u202eback", "\x00", "a" * 5000, "bumper \x07"):
        top.do(line)
        text = top.screen(Screen())
        assert all(c.isprintable() or c == "\n" for c in text)
        assert 1000 > len(text.rpartition("\n\n")[2])


def test_save_is_handed_out() -> None:
    """Saving touches files, so the name goes to whoever holds the conversation."""
    top = table()
    assert ["", "", "mine"] == [top.do("b"), top.do("save"), top.do("save mine")]


def test_quit() -> None:
    """One word ends it."""
    top = table()
    top.do("quit")
    assert top.left
