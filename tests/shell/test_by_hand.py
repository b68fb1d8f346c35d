"""`planner rehearse ROUTINE --by-hand`: the loop around the conversation, and kept runs."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from command import FAULT, Ran, moth_folder, planner, tool

from planner.shell import by_hand as by_hand_module
from planner.shell import files as files_module

HEAD = "routine first_lamp\n"
KEPT = "scenario kept\n  in Approach, after 0 s, bumper pressed\n  must visit Approach, Raise\n"


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot and a routine, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans", "first_lamp"))
    return tmp_path / "my plans"


def play(*lines: str) -> Ran:
    """A run by hand with those lines piped in."""
    typed = "".join(f"{line}\n" for line in lines)
    ran = planner("rehearse", "first_lamp.routine", "--by-hand", typed=typed)
    assert FAULT not in ran.err
    return ran


def test_lines_from_a_pipe(here: Path) -> None:
    """Without a terminal lines are read one by one, and each screen is plain text."""
    assert here.is_dir()
    ran = play("b", "", "quit")
    assert (0, "", 3) == (ran.status, ran.err, ran.out.count("match clock"))
    assert "> b\n" in ran.out
    assert 'Step      Raise "arm up to the lamp"' in ran.out
    assert "\x1b" not in ran.out


def test_the_input_ends(here: Path) -> None:
    """When the lines run out the run ends without a word, at the very beginning too."""
    assert here.is_dir()
    assert (0, "") == (play().status, play().err)
    assert (0, "") == (play("b", "").status, play("b").err)


def test_a_last_line_without_its_end(here: Path) -> None:
    """A last line that is not ended counts."""
    assert here.is_dir()
    ran = planner("rehearse", "first_lamp.routine", "--by-hand", typed="b\n\nquit")
    assert (0, True) == (ran.status, ran.out.endswith("> quit\n\n"))


def test_errors_are_shown_instead(here: Path) -> None:
    """A plan with errors is not played by hand either."""
    routine = here / "first_lamp.routine"
    text = routine.read_text(encoding="utf-8")
    routine.write_text(text.replace("start Approach", "start Aproach"), encoding="utf-8")
    ran = play("b")
    assert (1, True) == (ran.status, "there is no step `Aproach`" in ran.out)
    assert "match clock" not in ran.out


def test_a_slip_in_a_scenario_does_not_matter(here: Path) -> None:
    """Scenarios that make no sense are no reason not to make new ones."""
    with (here / "first_lamp.routine").open("a", encoding="utf-8") as file:
        file.write("scenario odd\n  nonsense\n")
    assert (0, True) == (play("quit").status, "match clock" in play("quit").out)


def test_stopped_with_ctrl_c(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C ends it without a word; 130 is what shells expect."""
    assert here.is_dir()

    def stop() -> str:
        raise KeyboardInterrupt

    monkeypatch.setattr(by_hand_module, "_ask_in_pipe", stop)
    ran = play("b")
    assert (130, "") == (ran.status, ran.err)


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no such signal")
def test_the_program_itself_is_stopped(here: Path) -> None:
    """So does the signal that a terminal sends, while the program waits for a line."""
    assert here.is_dir()
    command = [tool(), "rehearse", "first_lamp.routine", "--by-hand"]
    with subprocess.Popen(
        command,
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        # Whoever runs the tests in the background may have told them to ignore the signal.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    ) as running:
        assert running.stdout is not None
        # The screen is there, so it waits for a line.
        os.read(running.stdout.fileno(), 65536)
        time.sleep(0.3)
        running.send_signal(signal.SIGINT)
        _, errors = running.communicate(timeout=60)
    assert (130, b"") == (running.returncode, errors)


# Runs kept as files.


def test_save(here: Path) -> None:
    """A run becomes a scenario in the file beside the routine, which passes when it is played."""
    ran = play("b", "", "save kept", "quit")
    assert "Saved as scenario `kept` in first_lamp.scenario." in ran.out
    assert HEAD + "\n" + KEPT == (here / "first_lamp.scenario").read_text(encoding="utf-8")
    assert "passed  kept" in planner("rehearse", ".").out
    assert 0 == planner("check", ".").status
    assert 0 == planner("format", "first_lamp.scenario", "--check").status


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize("last", ["", "# the end"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_save_adds_to_what_is_there(here: Path, end: str, last: str, encoding: str) -> None:
    """Nothing that a file of scenarios holds is changed, not even its line ends or its encoding."""
    old = f'routine   first_lamp{end}scenario a "ä"{end}  must visit Approach{end}{last}'
    (here / "first_lamp.scenario").write_bytes(old.encode(encoding))
    assert "Saved as" in play("b", "", "save kept").out
    added = f"{end * 2 if last else end}{KEPT}".replace("\n", end).replace("\r\r", "\r")
    assert (old + added).encode(encoding) == (here / "first_lamp.scenario").read_bytes()


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("good_run", "There is a scenario `good_run` already, so nothing was written."),
        ("there", "There is a scenario `there` already, so nothing was written."),
        ("broken", "There is a scenario `broken` already, so nothing was written."),
    ],
)
def test_names_that_cannot_be(here: Path, name: str, says: str) -> None:
    """No scenario is overwritten, be it in the routine or beside it, and no other line either."""
    text = HEAD + "scenario there\n  must visit Approach\nscenario broken (what\n"
    (here / "first_lamp.scenario").write_text(text, encoding="utf-8")
    ran = play("b", f"save {name}", "quit")
    assert (0, True) == (ran.status, says in ran.out), ran.out[-600:]
    assert text == (here / "first_lamp.scenario").read_text(encoding="utf-8")


def test_save_twice(here: Path) -> None:
    """One run can be saved at several moments, and a name only once."""
    ran = play("b", "save one", "", "save two", "save two", "quit")
    assert (2, 1) == (ran.out.count("Saved as"), ran.out.count("There is a scenario `two`"))
    assert 0 == planner("rehearse", ".").status
    assert (here / "first_lamp.scenario").read_text(encoding="utf-8").startswith(HEAD)


def test_a_file_that_is_no_text(here: Path) -> None:
    """The run goes on, and the file stays as it is."""
    (here / "first_lamp.scenario").write_bytes(b"\xff\xd8\xff")
    ran = play("save kept", "b", "quit")
    assert (0, 3) == (ran.status, ran.out.count("match clock"))
    assert "so nothing was written." in " ".join(ran.out.split())
    assert b"\xff\xd8\xff" == (here / "first_lamp.scenario").read_bytes()


def test_a_disk_that_is_full(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A run that cannot be written is not lost: it goes on, and nothing half written is left."""

    def refuse(*_: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files_module.Path, "replace", refuse)
    ran = play("b", "save kept", "", "quit")
    assert (0, True) == (ran.status, "the disk is full. Nothing was changed." in ran.out)
    assert {"moth.bot", "first_lamp.routine"} == {path.name for path in here.iterdir()}


def test_its_file_of_scenarios_names_the_routine(here: Path) -> None:
    """The file of scenarios may be named instead of the routine."""
    (here / "first_lamp.scenario").write_text(HEAD, encoding="utf-8")
    ran = planner("rehearse", "first_lamp.scenario", "--by-hand", typed="quit\n")
    assert (0, True) == (ran.status, "match clock" in ran.out)


CHOICES = (
    "routine either\nrobot moth\nlimit 30 s\nchoose alliance: red, blue mirrors\n"
    "choose delay: 0 s to 5 s, normally 0 s\nrequire finished by 4 s\nstart Wait\n"
    "step Wait\n  after delay, go to Go\nstep Go\n  drive turn 90 deg\n"
    "  when drive done, go to Lit\n  after 2 s, go to Lit\nfinish Lit\n"
)


def chosen(folder: Path, *lines: str) -> Ran:
    """A run by hand of a plan with choices, with those lines piped in."""
    (folder / "either.routine").write_text(CHOICES, encoding="utf-8")
    typed = "".join(f"{line}\n" for line in lines)
    ran = planner("rehearse", "either.routine", "--by-hand", typed=typed)
    assert FAULT not in ran.err
    return ran


def test_choices_come_first(here: Path) -> None:
    """Before the first pass the student chooses, and the run is the one for that."""
    ran = chosen(here, "blue", "d 1", "", "1.5 s", "quit")
    assert (0, "") == (ran.status, ran.err)
    assert "Chosen    alliance blue, delay 1 s\n" in ran.out


def test_leaving_while_choosing(here: Path) -> None:
    """Who leaves before the start, or whose input ends, has run nothing."""
    for lines in (("quit",), ("a",), ()):
        ran = chosen(here, *lines)
        assert (0, "", 0) == (ran.status, ran.err, ran.out.count("match clock"))


def test_a_kept_run_carries_its_choices(here: Path) -> None:
    """A saved scenario says what was chosen and passes for that; the trace says it as well."""
    chosen(here, "a", "d 1.5 s", "", "", "", "save kept", "quit")
    text = (here / "either.scenario").read_text(encoding="utf-8")
    assert "scenario kept\n  choose alliance blue\n  choose delay 1.5 s\n" in text
    ran = planner("rehearse", "either.routine", "--trace")
    assert (0, True) == (ran.status, "with   alliance blue, delay 1.5 s" in ran.out)
    assert '"delay": "1.5 s"' in planner("rehearse", "either.routine", "--format", "json").out


def test_a_run_that_breaks_a_requirement_can_be_kept(here: Path) -> None:
    """A run worth keeping may be one that breaks a requirement: it fails until that is mended."""
    ran = chosen(here, "d 3 s", "", "", "", "save slow", "quit")
    assert "Broken    require finished by 4 s: no finish by 4 s" in ran.out
    assert "Saved as scenario `slow` in either.scenario" in ran.out
    ran = planner("rehearse", "either.routine")
    assert 1 == ran.status
    assert "require finished by 4 s\n           instead: no finish by 4 s" in ran.out
