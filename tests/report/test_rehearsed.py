"""Rehearsed scenarios as text, JSON and XML, and runs as storyboards."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from xml.etree import ElementTree

import pytest
from demo import check
from written import ERROR

from planner.pipeline import Checked, rehearse
from planner.report import Role, Screen, Unread
from planner.report.glyphs import width_of
from planner.report.rehearsed import (
    Rehearsal,
    Rehearsed,
    RehearsedRoutine,
    as_rehearsal_text,
    rehearsal_summary,
)
from planner.report.rehearsed_record import as_junit, as_rehearsal_json
from planner.report.storyboard import clock, storyboard

Golden = Callable[[str, str], None]

TEXT = """
setting standoff = 8 cm
at 20 s of match, go to Home
start Approach
step Approach "drive to the post"
  claw close
  drive forward 40 %
  when bumper pressed, go to Raise
  when range_front < standoff and not post_mark sees left, go to Raise
  after 2 s, go to BackOff
step BackOff
  keep roller take
  drive forward -30 %
  when drive travelled < -10 cm, go to Approach, at most 1 time, then Home
  after 1 s, go to Home
step Raise
  arm to 1200 ticks
  when arm done, go to Home
  after 3 s, go to Home
finish Home "stand on the quay"
  roller stop
scenario good_run "the range finder speaks"
  from 0 s to 1 s, range_front goes from 100 cm to 5 cm
  in Raise, after 1 s, arm done
  must visit Approach, Raise, Home
  must finish in Home by 3 s
scenario twice "the post is not there & the title's <long> enough to need a second line"
  in BackOff, from 0 s to 0.3 s, drive travelled goes from 0 cm to -11 cm
  must visit Approach, Raise
  must finish in Home by 3 s
  must not give roller take
scenario slow
  pass 7 ms
  must be cut off
"""


@pytest.fixture(scope="module")
def checked() -> Checked:
    """A plan with every kind of exit, and scenarios that pass and fail."""
    return check(TEXT)


@pytest.fixture(scope="module")
def rehearsal(checked: Checked) -> Rehearsal:
    """One of everything: passed, failed, makes no sense, not played, none, not read."""
    plan = checked.plan
    played = [Rehearsed(one, rehearse(checked, one)) for one in plan.routine.scenarios]
    odd = Rehearsed(plan.routine.scenarios[0], None, (ERROR,))
    return Rehearsal(
        (
            RehearsedRoutine("plans/street.routine", plan, (*played, odd)),
            RehearsedRoutine("plans/slip.routine", plan, (), (ERROR,), playable=False),
            RehearsedRoutine("my plans/bare.routine", plan),
        ),
        ("plans/broken",),
        (Unread("photo.routine", "it holds a zero byte, so it is no text file"),),
    )


def test_text(golden: Golden, rehearsal: Rehearsal) -> None:
    """Each scenario has its verdict; one that failed shows what differed, where, and its end."""
    text = as_rehearsal_text(rehearsal, Screen())
    golden("report/rehearsed.txt", f"{text}\n{rehearsal_summary(rehearsal)}\n")


def test_trace(golden: Golden, checked: Checked) -> None:
    """A storyboard says when, which step, what was sent, what was seen and why it was left."""
    one = checked.plan.routine.scenarios[1]
    run = Rehearsed(one, rehearse(checked, one))
    rehearsal = Rehearsal((RehearsedRoutine("street.routine", checked.plan, (run,)),))
    golden("report/storyboard.txt", as_rehearsal_text(rehearsal, Screen(), trace=True))


def test_json(golden: Golden, rehearsal: Rehearsal) -> None:
    """Another program gets every verdict with its reasons and places."""
    text = as_rehearsal_json(rehearsal)
    golden("report/rehearsed.json", text)
    assert text.isascii()


def test_json_with_the_runs(rehearsal: Rehearsal) -> None:
    """With the trace each run's events are in the record, in order."""
    record = json.loads(as_rehearsal_json(rehearsal, trace=True))
    events = record["routines"][0]["scenarios"][0]["events"]
    assert {"at_us": 0, "event": "enters Approach"} == events[0]
    assert sorted(event["at_us"] for event in events) == [event["at_us"] for event in events]
    assert "events" not in as_rehearsal_json(rehearsal)


def test_junit(golden: Golden, rehearsal: Rehearsal) -> None:
    """Build servers get a suite a routine."""
    golden("report/rehearsed.xml", as_junit(rehearsal))


def shapes(xml: str) -> dict[str, set[str]]:
    """The attributes that each element of an XML text has."""
    found: dict[str, set[str]] = {}
    for element in ElementTree.fromstring(xml).iter():
        found.setdefault(element.tag, set()).update(element.attrib)
    return found


def test_junit_is_what_pytest_writes(rehearsal: Rehearsal, tmp_path: Path) -> None:
    """Every element and attribute is one that pytest's own report has, in the same place.

    Source: `pytest --junitxml`, run here, whose reports build servers read.
    """
    (tmp_path / "test_it.py").write_text(
        "import pytest\n@pytest.fixture\ndef f():\n    raise OSError\n"
        "def test_a():\n    pass\ndef test_b():\n    print('x')\n    assert 0\n"
        "def test_c(f):\n    pass\n"
    )
    command = [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "--junitxml=out.xml"]
    command += ["-c", "none.ini", "-o", "junit_logging=all", "test_it.py"]
    (tmp_path / "none.ini").write_text("[pytest]\n")
    subprocess.run(command, cwd=tmp_path, capture_output=True, check=False)
    theirs = shapes((tmp_path / "out.xml").read_text(encoding="utf-8"))
    ours = shapes(as_junit(rehearsal, trace=True))
    assert set() == set(ours) - set(theirs)
    for tag, attributes in ours.items():
        assert set() == attributes - theirs[tag], tag


def test_junit_counts(rehearsal: Rehearsal) -> None:
    """The numbers of a suite are those of its cases."""
    suites = ElementTree.fromstring(as_junit(rehearsal)).findall("testsuite")
    counts = [[suite.get(name) for name in ("tests", "failures", "errors")] for suite in suites]
    assert [["4", "2", "1"], ["1", "0", "1"], ["0", "0", "0"], ["1", "0", "1"]] == counts


@pytest.mark.parametrize("title", ['"quoted"', "a\x01b", "a\u202eb", "]]>", "<&>", "\udcff", "🤖"])
def test_junit_holds_any_text(checked: Checked, title: str) -> None:
    """Whatever stands in a file's name, the XML can be read and nothing in it steers a screen."""
    routine = RehearsedRoutine(f"{title}.routine", checked.plan)
    unread = Unread(title, title)
    xml = as_junit(Rehearsal((routine,), unread=(unread,)))
    root = ElementTree.fromstring(xml.encode("utf-8"))
    assert 2 == len(root)
    assert all(c.isprintable() or c == "\n" for c in xml)


@pytest.mark.parametrize("width", [20, 40, 60, 80, 100, 300])
def test_nothing_is_wider_than_the_screen(rehearsal: Rehearsal, width: int) -> None:
    """All is wrapped at the window's edge, but for what is to be copied."""
    text = as_rehearsal_text(rehearsal, Screen(width), trace=True)
    rows = [row for row in text.splitlines() if "planner " not in row and "Paste" not in row]
    assert [] == [row for row in rows if width_of(row) > max(40, min(100, width))]
    assert [row.rstrip() for row in rows] == rows


def test_style_leaves_the_layout_alone(rehearsal: Rehearsal) -> None:
    """Colour is added to what is laid out already; passed and failed have one each."""
    seen: set[Role] = set()

    def style(role: Role, text: str) -> str:
        seen.add(role)
        return f"\x01{text}\x02" if text else ""

    styled = as_rehearsal_text(rehearsal, Screen(style=style))
    assert as_rehearsal_text(rehearsal, Screen()) == styled.replace("\x01", "").replace("\x02", "")
    assert {Role.PASSED, Role.FAILED, Role.FILE} <= seen


def test_the_screen_lacks_characters(checked: Checked) -> None:
    """What the screen cannot show is shown as a question mark, and nothing shifts."""
    text = TEXT.replace("stand on the quay", "к причалу")
    one = check(text)
    played = rehearse(one, one.plan.routine.scenarios[0])
    wide, narrow = (
        storyboard(one.plan, played.events, played.seen, Screen(80, encoding))
        for encoding in ("utf-8", "ascii")
    )
    assert 'Home "? ???????"' in narrow
    assert wide.replace("к причалу", "? ???????") == narrow
    assert checked.plan.routine.name == one.plan.routine.name


@pytest.mark.parametrize(
    ("at_us", "text"),
    [(0, "0.00 s"), (1_200_000, "1.20 s"), (7_000, "0.007 s"), (30_000_001, "30.000001 s")],
)
def test_clock(at_us: int, text: str) -> None:
    """Times line up at hundredths, and none is rounded."""
    assert text == clock(at_us)


@pytest.mark.parametrize(
    ("rehearsal_", "line"),
    [
        (Rehearsal(()), "Nothing to rehearse."),
        (
            Rehearsal((), unread=(Unread("a", "b"),)),
            "Nothing was rehearsed: 1 file could not be read.",
        ),
    ],
)
def test_summary_of_nothing(rehearsal_: Rehearsal, line: str) -> None:
    """Where nothing was played, the closing line says so."""
    assert line == rehearsal_summary(rehearsal_)


def test_a_bare_routine_is_no_failure(checked: Checked) -> None:
    """A routine without scenarios fails nothing, and says how to get one."""
    rehearsal_ = Rehearsal((RehearsedRoutine("a b/c.routine", checked.plan),))
    text = " ".join(as_rehearsal_text(rehearsal_, Screen()).split())
    assert (False, True) == (
        rehearsal_.failed,
        'planner rehearse "a b/c.routine" --by-hand' in text,
    )
    assert "Rehearsed 0 scenarios of 1 routine." == rehearsal_summary(rehearsal_)


def test_records_agree(rehearsal: Rehearsal) -> None:
    """Text, JSON and XML name the same failures."""
    record = json.loads(as_rehearsal_json(rehearsal))
    by_json = {
        one["name"]: one["passed"] for routine in record["routines"] for one in routine["scenarios"]
    }
    text = as_rehearsal_text(rehearsal, Screen())
    suites: Mapping[str, bool] = {
        str(case.get("name")): len(case) == 0
        for case in ElementTree.fromstring(as_junit(rehearsal)).iter("testcase")
    }
    for name, passed in by_json.items():
        assert passed == suites[name]
        assert f"{'passed' if passed else 'FAILED'}  {name}" in text
