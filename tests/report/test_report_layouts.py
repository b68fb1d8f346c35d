"""The three layouts of findings and the closing line, as golden files."""

from __future__ import annotations

import json
from collections.abc import Callable

import pytest
from written import ALL, ERROR, NOTE, PLAN, WARNING

from planner.checks.table import CHECKS, check_named
from planner.findings import Finding
from planner.report import (
    Outcome,
    Role,
    Screen,
    Unread,
    as_json,
    as_short,
    as_text,
    left_out,
    list_of_checks,
    manual_page,
    summary,
)
from planner.report.glyphs import width_of
from planner.report.prose import sentence

OUTCOME = Outcome(
    ALL,
    (PLAN.name,),
    ("my plans/moth.bot",),
    ("my plans/broken",),
    (Unread("my plans/photo.routine", "it holds a zero byte, so it is no text file"),),
)

Golden = Callable[[str, str], None]


@pytest.mark.parametrize("width", [50, 80, 200])
def test_text(golden: Golden, width: int) -> None:
    """Cards keep their shape in narrow windows and stay readable in wide ones."""
    golden(f"report/text_{width}.txt", as_text(ALL, Screen(width)))


@pytest.mark.parametrize("width", [1, 40, 80, 90, 91, 500])
def test_no_line_of_text_is_wider_than_the_screen(width: int) -> None:
    """Prose ends at the window's edge, at 90 columns at most and at 40 at least."""
    allowed = max(40, min(90, width))
    rows = as_text((ERROR, WARNING), Screen(width)).splitlines()
    # A command to copy is left whole.
    prose = [row for row in rows if not row.startswith("  More ")]
    assert [] == [row for row in prose if width_of(row) > allowed]


def test_no_line_of_text_ends_in_blanks() -> None:
    """What is printed can be pasted into a file that a linter of white space reads."""
    rows = as_text(ALL, Screen()).splitlines()
    assert [row.rstrip() for row in rows] == rows


def test_style_leaves_the_layout_alone() -> None:
    """Colour is added to what is laid out already, so that it cannot shift anything."""
    styled = as_text(ALL, Screen(style=lambda _role, text: f"\x01{text}\x02" if text else ""))
    assert as_text(ALL, Screen()) == styled.replace("\x01", "").replace("\x02", "")


def test_the_severity_is_styled_with_its_own_role() -> None:
    """An error, a warning and a note look different, and say their word as well."""
    seen: list[tuple[Role, str]] = []

    def style(role: Role, text: str) -> str:
        seen.append((role, text))
        return text

    as_text((ERROR, WARNING, NOTE), Screen(style=style))
    words = {(Role.ERROR, "Error"), (Role.WARNING, "Warning"), (Role.NOTE, "Note")}
    assert words == {pair for pair in seen if pair[1] in ("Error", "Warning", "Note")}


def test_no_findings_give_no_text() -> None:
    """A clean plan needs no words but the closing line."""
    assert ("", "") == (as_text((), Screen()), as_short((), Screen()))


def test_short(golden: Golden) -> None:
    """One line a finding, with the place first."""
    golden("report/short.txt", as_short(ALL, Screen()))


@pytest.mark.parametrize("finding", ALL)
def test_short_is_one_line_each(finding: Finding) -> None:
    """Whatever is in a headline, the line is not broken."""
    assert 1 == as_short((finding,), Screen()).count("\n")


def test_json(golden: Golden) -> None:
    """Another program gets every field under a name in full words."""
    golden("report/record.json", as_json(OUTCOME))


def test_json_says_where_the_words_are() -> None:
    """Line and columns of the record cut the very words out of the file."""
    record = json.loads(as_json(Outcome((ERROR,))))["findings"][0]
    line = PLAN.text.split("\n")[record["line"] - 1]
    assert "Liit" == line[record["column"] - 1 : record["end_column"] - 1]


def test_json_is_ascii() -> None:
    """No code page of any console can spoil the record."""
    assert as_json(OUTCOME).isascii()


@pytest.mark.parametrize(
    ("outcome", "line"),
    [
        (Outcome((), ("a",)), "Checked 1 routine: clean."),
        (Outcome((), ("a", "b"), ("c",)), "Checked 2 routines and 1 robot file: clean."),
        (
            Outcome(ALL, ("a",), ("c",)),
            "Checked 1 routine and 1 robot file: 2 errors, 1 warning and 1 note.",
        ),
        (Outcome((NOTE,), (), ("c",)), "Checked 1 robot file: 1 note."),
        (
            Outcome((), ("a",), (), (), (Unread("b", "x"),)),
            "Checked 1 routine: clean. But 1 file could not be read.",
        ),
        (
            Outcome((), unread=(Unread("a", "x"), Unread("b", "x"))),
            "Nothing was checked: 2 files could not be read.",
        ),
    ],
)
def test_summary(outcome: Outcome, line: str) -> None:
    """The closing line counts what was checked and what came of it, and never hides a gap."""
    assert line == summary(outcome)


def test_left_out_names_the_folder() -> None:
    """A folder that was passed by is named, with the way to have it checked."""
    expected = (
        "Left out my plans/broken: plans kept there show faults on purpose. "
        "Name the folder to check them.\n"
    )
    assert expected == left_out(OUTCOME, Screen())


def test_the_list_has_every_check_once() -> None:
    """All checks are listed with their weight, in the order of the table."""
    heads = [r for r in list_of_checks(CHECKS, Screen()).splitlines() if not r.startswith(" ")]
    assert [f"{check.name} ({check.severity.word})" for check in CHECKS] == heads


def test_the_list_says_what_each_finds() -> None:
    """Under each name stands the first sentence of its page."""
    check = check_named("wait-without-limit")
    assert check is not None
    expected = (
        "wait-without-limit (error)\n"
        "    A step that waits for a sensor or a mechanism and has no time limit.\n"
    )
    assert expected == list_of_checks([check], Screen())


def test_a_page_is_the_docstring_under_the_name() -> None:
    """The manual page is the check's own docstring, nothing else."""
    check = check_named("wait-without-limit")
    assert check is not None
    assert f"wait-without-limit (error)\n\n{check.page.strip()}\n" == manual_page(check, Screen())


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("`aa bb` is  no\nname", "`aa bb` is no name"),
        (f"`{'x' * 58}` is a name", f"`{'x' * 58}` is a name"),
        (f"`{'x ' * 99}` is long", f"`{'x ' * 14} ... {'x ' * 14}` is long"),
        (f"{'9' * 99} % is more", f"{'9' * 29} ... {'9' * 29} % is more"),
        (f"`a` {'and so ' * 20}`b`", f"`a` {'and so ' * 20}`b`"),
    ],
)
def test_what_a_user_wrote_is_cut_where_it_is_too_long(text: str, shown: str) -> None:
    """A title of a megabyte leaves the sentence readable, and the sentence itself is never cut."""
    assert shown == sentence(text, "utf-8")
