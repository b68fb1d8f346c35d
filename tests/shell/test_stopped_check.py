"""`planner check` that takes long: its bar on a terminal, and Ctrl-C."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from command import moth_folder, planner, tool
from grown import lanes, skipping

from planner.checks import VariantCase
from planner.findings import Finding
from planner.reach.effects import Failure
from planner.shell import cores

if sys.platform != "win32":
    import pty

SLIP = """routine slip
robot moth
limit 30 s
start Approach
step Approach
  drive forward 40 %
  when bumper pressed, go to Liit
  after 3 s, go to Lit
finish Lit
"""
CHOOSING = """routine street
robot moth
limit 30 s
choose side: left, right
choose depth: near, far
setting speed by side
  left 30 %
  right 40 %
setting cruise by depth
  near 30 %
  far 40 %
start Approach
step Approach
  drive forward speed
  when bumper pressed, go to Creep
step Creep
  drive forward cruise
  after 2 s, go to Lit
finish Lit
"""


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot and three routines, the second with choices."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans", "first_lamp"))
    (tmp_path / "my plans" / "aslip.routine").write_text(
        SLIP.replace("slip", "aslip"), encoding="utf-8"
    )
    (tmp_path / "my plans" / "street.routine").write_text(CHOOSING, encoding="utf-8")
    return tmp_path / "my plans"


def stop_in(monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    """Ctrl-C comes while the variant of that number is checked, counted from 0."""
    find = VariantCase.findings
    checked = 0

    def findings(case: VariantCase) -> tuple[Finding, ...]:
        nonlocal checked
        if checked == number:
            raise KeyboardInterrupt
        checked += 1
        return find(case)

    monkeypatch.setattr(VariantCase, "findings", findings)


def test_what_is_known_so_far(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C shows what was found, names what was not checked to the end, and ends with status 3
    although an error is known."""
    (here / "zebra.routine").write_text(SLIP.replace("slip", "zebra"), encoding="utf-8")
    stop_in(monkeypatch, 3)
    ran = planner("check", ".", "--format", "short")
    assert 3 == ran.status
    headlines = [line.split(":")[0] for line in ran.out.splitlines()]
    assert {"aslip.routine", "street.routine"} == set(headlines)
    told, summary = ran.err.splitlines()
    assert told == (
        "planner: stopped, so not checked to the end: street.routine (3 of 4 variants were "
        "checked) and zebra.routine"
    )
    assert summary.startswith("Checked 2 routines and 1 robot file: 2 errors and 1 warning. But 2")


def test_nothing_is_concluded_from_the_rest(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What all variants so far have is told for one of them, and nothing of the robot is called
    unused."""
    assert here.is_dir()
    stop_in(monkeypatch, 1)
    ran = planner("check", ".", "--format", "json")
    record = json.loads(ran.out)
    found = [one for one in record["findings"] if one["path"] == "street.routine"]
    assert "wait-without-limit" == found[0]["check"]
    assert found[0]["headline"].endswith("for instance if `side` is `left` and `depth` is `near`")
    left = [{"path": "street.routine", "variants": 1, "of_variants": 4}]
    assert (left, 3) == (record["not_checked"], ran.status)
    assert [] == [one for one in record["findings"] if one["check"].startswith("unused")]


def test_stopped_before_anything(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A routine of which no variant was checked is not said to be checked."""
    assert here.is_dir()
    stop_in(monkeypatch, 0)
    ran = planner("check", "street.routine")
    assert (3, "planner: stopped, so not checked to the end: street.routine\n") == (
        ran.status,
        ran.err,
    )
    assert ran.out.startswith("Checked 1 robot file: clean. But 1 routine was not checked to the")


def test_other_commands_end(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A command that needs the whole check ends without a word; 130 is what shells expect."""
    assert here.is_dir()
    stop_in(monkeypatch, 2)
    for command in (["draw", "street.routine"], ["rehearse", "street.routine"]):
        ran = planner(*command)
        assert (130, "", "") == (ran.status, ran.out, ran.err)


def test_while_it_breaks_things(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C while one routine is broken ends all of it, with status 3, and says what is left."""
    (here / "zebra.routine").write_bytes((here / "first_lamp.routine").read_bytes())
    (here / "aslip.routine").unlink()
    (here / "street.routine").unlink()

    def stop(_: Failure) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(Failure, "effect", stop)
    ran = planner("check", ".", "--faults")
    assert 3 == ran.status
    stopped, left = ran.err.splitlines()
    assert stopped.startswith("planner: stopped after 0 of ")
    assert "planner: nothing was broken in zebra.routine" == left


# The program itself.


def heavy(folder: Path) -> None:
    """A routine with a slip, and one of 16 variants that take some seconds each."""
    moth_folder(folder)
    (folder / "aslip.routine").write_text(SLIP.replace("slip", "aslip"), encoding="utf-8")
    (folder / "heavy.routine").write_text(skipping(20, 10, 4), encoding="utf-8")


def children_of(pid: int) -> set[int]:
    """The processes that have that one as their parent."""
    found = set()
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            after = stat.read_text(encoding="utf-8", errors="replace").rpartition(")")[2].split()
        except OSError:
            continue
        if int(after[1]) == pid:
            found.add(int(stat.parent.name))
    return found


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such terminals")
def test_on_a_terminal(tmp_path: Path) -> None:
    """On a terminal a bar says how far it is after a second, and Ctrl-C, which every process of
    the terminal gets, ends it and its workers with what is known, without a trace."""
    heavy(tmp_path)
    pid, ours = pty.fork()
    if not pid:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
        os.chdir(tmp_path)
        os.environ.update(COLUMNS="120", NO_COLOR="1")
        os.execv(tool(), [tool(), "check", ".", "--format", "short"])
    screen = b""
    while b"heavy.routine" not in screen:
        screen += os.read(ours, 65536)
    # Until the workers are there, or, on one core, until some time has gone by.
    until = time.monotonic() + 6
    while len(children_of(pid)) < 2 and time.monotonic() < until:
        time.sleep(0.1)
    children = children_of(pid)
    os.write(ours, b"\x03")
    screen += b"".join(_rest(ours))
    status = os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
    os.close(ours)
    text = screen.decode()
    assert (3, False) == (status, "Traceback" in text)
    assert "Checking  [" in text
    assert "\naslip.routine:7:30: error unknown-step" in text
    assert "not checked to the end: heavy.routine" in text
    # What Python itself keeps for its processes ends a moment after the last of them.
    until = time.monotonic() + 20
    while _running(children) and time.monotonic() < until:
        time.sleep(0.1)
    assert set() == _running(children)


def _running(processes: set[int]) -> set[int]:
    """Those that have not ended, whether or not somebody has taken note of it."""
    found = set()
    for one in processes:
        with suppress(OSError):
            stat = Path(f"/proc/{one}/stat").read_text(encoding="utf-8", errors="replace")
            if stat.rpartition(")")[2].split()[0] != "Z":
                found.add(one)
    return found


def _rest(ours: int) -> Iterator[bytes]:
    """What is still written, until nobody is left who could write."""
    while True:
        try:
            data = os.read(ours, 65536)
        except OSError:
            return
        if not data:
            return
        yield data


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signal")
def test_in_a_pipe(tmp_path: Path) -> None:
    """In a pipe there is no bar, and the signal ends it in the same way, in one long search too."""
    moth_folder(tmp_path)
    (tmp_path / "long.routine").write_text(lanes(3, 6), encoding="utf-8")
    with subprocess.Popen(
        [tool(), "check", "long.routine", "--format", "short"],
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        # Whoever runs the tests in the background may have told them to ignore the signal.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    ) as running:
        time.sleep(2.5)
        running.send_signal(signal.SIGINT)
        out, err = running.communicate(timeout=60)
    assert (3, b"") == (running.returncode, out)
    told, summary = err.decode().splitlines()
    assert "planner: stopped, so not checked to the end: long.routine" == told
    assert summary.startswith("Checked 1 robot file: clean. But 1 routine was not checked")


def test_nothing_of_it_in_a_pipe(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What a check writes does not hang on how long it takes or on which cores it ran."""
    assert here.is_dir()
    quick = planner("check", "street.routine", "--format", "json")
    monkeypatch.setattr(cores, "workers_for", lambda _left, _each_s, _cores: 2)
    assert quick == planner("check", "street.routine", "--format", "json")
