"""What the findings about a plan's graph say beyond their line: the way shown, what to paste."""

from __future__ import annotations

from pathlib import Path

import pytest
from demo import ROUTINES, check_text, names_of

from planner.findings import Finding, Severity

CASES = sorted((Path(__file__).parent / "cases").glob("graph_*.routine"))
FILES = [*CASES, *sorted((ROUTINES / "broken").glob("*.routine"))]


def text_of(name: str) -> str:
    return (ROUTINES / "broken" / name).read_text(encoding="utf-8")


def only(text: str, check: str) -> Finding:
    """The one finding of a check in a text."""
    (found,) = (finding for finding in check_text(text) if finding.check == check)
    return found


@pytest.mark.parametrize("path", FILES, ids=lambda path: path.stem)
def test_what_can_be_pasted_can_be_read(path: Path) -> None:
    """Every line offered for pasting is a line of a plan."""
    for found in check_text(path.read_text(encoding="utf-8")):
        for line in found.paste:
            above = line.split()[0] in ("at", "finish", "start", "step", "setting", "limit")
            plan = f"{line}\n" if above else f"start A\nstep A\n  {line}\n"
            assert "unreadable-line" not in names_of(check_text(plan)), line


@pytest.mark.parametrize(
    "name",
    [
        "count_never_runs_out",
        "endless_loop",
        "limit_leads_where_success_leads",
        "match_exit_too_late",
        "motor_left_on",
    ],
)
def test_pasting_over_the_line_mends_it(name: str) -> None:
    """Where one line is at fault, the line offered for it makes the plan clean."""
    text = text_of(f"{name}.routine")
    found = only(text, name.replace("_", "-"))
    assert () == check_text(text.replace(found.place.words, found.paste[0], 1))


@pytest.mark.parametrize("name", ["blind_step", "dead_end", "wait_without_limit"])
def test_pasting_into_the_step_mends_it(name: str) -> None:
    """Where a line is missing, one that is offered ends the fault."""
    text = text_of(f"{name}.routine")
    check = name.replace("_", "-")
    found = only(text, check)
    line = next(line for line in reversed(found.paste) if line.startswith(("when", "after")))
    head = f"step {found.steps[0]}\n"
    finish = "".join(f"{line}\n" for line in found.paste if line == "finish GiveUp")
    mended = text.replace(head, f"{head}  {line}\n") + finish
    assert check not in names_of(check_text(mended))


def test_a_motor_left_on_shows_the_way() -> None:
    """The way is told from the step that keeps it to the finish, a shortest one."""
    text = (
        "start Take\nstep Take\n  keep roller take\n  when tin_gate broken, go to Carry\n"
        "  after 2 s, go to Carry\nstep Carry\n  drive forward 20 %\n"
        "  when bumper pressed, go to Lit\n  after 2 s, go to Lit\nfinish Lit\n"
    )
    found = only(text, "motor-left-on")
    assert "`Take`, `Carry`, then `Lit`" in found.why
    assert ("Take", "Lit") == found.steps


def test_a_limit_that_cannot_be_read_is_not_compared_with() -> None:
    """Where the limit is a slip, nothing is said to be over it."""
    row = "step A\n  claw open\n  after 40 s, go to F\nfinish F\n"
    text = f"routine x\nrobot moth\nlimit 45\nstart A\n{row}"
    assert ["number-without-unit"] == names_of(check_text(text))
    text = f"routine x\nrobot moth\nlimit 30 s\nstart A\n{row}"
    assert ["late-finish"] == names_of(check_text(text))


def test_a_way_home_is_a_finish_of_the_plan() -> None:
    """What is offered leads to the finish that the plan itself gives up in."""
    text = (
        "start A\nstep A\n  when bumper pressed, go to B\nstep B\n  arm to 10 ticks\n"
        "  when arm done, go to Lit\n  after 2 s, go to Quay\nfinish Quay\nfinish Lit\n"
    )
    assert ("after 3 s, go to Quay",) == only(text, "wait-without-limit").paste


def test_a_wait_that_the_match_clock_ends_says_when() -> None:
    """A wait without limit tells when the match clock would end it."""
    text = (
        "at 20 s of match, go to Lit\nstart A\nstep A\n  when bumper pressed, go to Lit\n"
        "finish Lit\n"
    )
    assert "until the match clock says 20 s" in only(text, "wait-without-limit").why
    text = (
        "at 20 s of match, go to A\nstart A\nstep A\n  when bumper pressed, go to Lit\nfinish Lit\n"
    )
    assert "until the match ends" in only(text, "wait-without-limit").why


def test_a_group_of_unreachable_steps_is_one_finding() -> None:
    """Steps that only lead to each other are told once, at the first of them."""
    text = (
        "start A\nstep A\n  claw open\n  after 1 s, go to F\n"
        "step B\n  claw open\n  after 1 s, go to C\nstep C\n  claw close\n"
        "  after 1 s, go to B, at most 2 times, then F\nfinish F\n"
    )
    found = only(text, "unreachable-step")
    assert ("B", "C") == found.steps
    assert "no run ever reaches the step `B`" == found.headline


def test_a_name_that_was_perhaps_meant_is_not_unreachable() -> None:
    """A misspelt step is one slip: the step that was meant is not called unreachable, too."""
    text = "start A\nstep A\n  claw open\n  after 1 s, go to Liit\nfinish Lit\nfinish Other\n"
    assert ["unknown-step", "unreachable-step"] == names_of(check_text(text))
    assert ("Other",) == only(text, "unreachable-step").steps


def test_without_a_start_nothing_is_unreachable() -> None:
    """Where it is not known where runs start, every step may be reached."""
    text = "step A\n  claw open\n  after 1 s, go to F\nfinish F\n"
    assert ["missing-line"] == names_of(check_text(text))


def test_a_routine_of_a_finish_alone_is_no_fault() -> None:
    """A plan that means to do nothing may say so."""
    assert () == check_text("start Stay\nfinish Stay\n")


@pytest.mark.parametrize(
    ("name", "severity"),
    [
        ("wait-without-limit", Severity.ERROR),
        ("endless-loop", Severity.ERROR),
        ("blind-step", Severity.WARNING),
        ("limit-leads-where-success-leads", Severity.NOTE),
    ],
)
def test_what_loses_a_match_is_an_error(name: str, severity: Severity) -> None:
    """Faults that can lose a match are errors, likely mistakes warnings, lessons notes."""
    assert severity == only(text_of(f"{name.replace('-', '_')}.routine"), name).severity


def test_the_twin_of_a_mechanism_is_missed_in_a_step() -> None:
    """Two commands to one of two arms that differ by their side are a slip of the name."""
    robot = (
        "robot pair\nhub main\n  servo 0 left_servo\n  servo 1 right_servo\n"
        "mechanism left_arm\n  uses left_servo\n  command up holds\n    left_servo at 80 %\n"
        "mechanism right_arm\n  uses right_servo\n  command up holds\n    right_servo at 80 %\n"
    )
    text = "start A\nstep A\n  left_arm up\n  left_arm up\n  after 1 s, go to F\nfinish F\n"
    (found,) = check_text(text, robot)
    assert ("twin-name-slip", ("right_arm up",)) == (found.check, found.paste)
    text = text.replace("  left_arm up\n", "  right_arm up\n", 1)
    assert () == check_text(text, robot)


BROKEN_CLOCK = "at 20 of match, go to F\n"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        # An unreadable line may be the way out, the limit or the command that is missing.
        (
            "start A\nstep A\n  claw open\n  after 1 s, go to B\n  when bumper pressed\n"
            "step B\n  claw close\n  after 1 s, go to A, at most 2 times, then A\nfinish F\n",
            ["unreadable-line"],
        ),
        (
            f"{BROKEN_CLOCK}start A\nstep A\n  claw open\n  after 1 s, go to A\nfinish F\n",
            ["number-without-unit"],
        ),
        (
            f"{BROKEN_CLOCK}start A\nstep A\n  arm to 9 ticks\n  when arm done, go to A\n"
            "  after 1 s, go to F\nfinish F\n",
            ["number-without-unit"],
        ),
        (
            f"{BROKEN_CLOCK}start A\nstep A\n  when bumper pressed, go to F\n"
            "  after 31 s, go to F2\nfinish F\nfinish F2\n",
            ["number-without-unit"],
        ),
        (
            "start A\nstep A\n  when bumper pressed, go to F\n  after 31 s, go to F2\n"
            "  after 3, go to F2\nfinish F\nfinish F2\n",
            ["number-without-unit"],
        ),
        (
            "start A\nstep A\n  claw opne\n  when bumper released, go to A\n"
            "  when bumper pressed, go to F\n  after 1 s, go to F2\nfinish F\nfinish F2\n",
            ["unknown-command"],
        ),
        (
            "start A\nstep A\n  arm to 9\n  when bumper pressed, go to B\n  after 1 s, go to F\n"
            "step B\n  when arm done, go to F\n  after 1 s, go to F2\nfinish F\nfinish F2\n",
            ["number-without-unit"],
        ),
    ],
)
def test_what_could_not_be_read_may_be_what_is_missing(text: str, expected: list[str]) -> None:
    """Nothing is concluded from what a line that could not be read may have said."""
    assert expected == names_of(check_text(text))


def test_an_unreadable_command_may_be_the_other_twin() -> None:
    """Where a line of the step could not be read, the twin is not called left out."""
    robot = (
        "robot pair\nhub main\n  servo 0 left_servo\n  servo 1 right_servo\n"
        "mechanism left_arm\n  uses left_servo\n  command up holds\n    left_servo at 80 %\n"
        "mechanism right_arm\n  uses right_servo\n  command up holds\n    right_servo at 80 %\n"
    )
    text = (
        "start A\nstep A\n  left_arm up\n  left_arm up\n  right_arm pu\n  after 1 s, go to F\n"
        "finish F\n"
    )
    assert ["command-replaced", "unknown-command"] == names_of(check_text(text, robot))


HEADINGS = (
    "robot compass\nhub main\n  i2c 0 gyro heading\n  motor 0 wheel\n"
    "mechanism drive\n  uses wheel\n"
    "  reading turned deg -180 deg to 180 deg wraps from step start\n"
    "  reading far cm 0 cm to 100 cm from step start\n  reading height cm 0 cm to 100 cm\n"
)


@pytest.mark.parametrize(
    ("condition", "expected"),
    [
        ("gyro within 5 deg of 540 deg", []),
        ("gyro within 5 deg of 190 deg and gyro < 0 deg", []),
        ("gyro within 5 deg of 190 deg and gyro > 0 deg", ["never-true"]),
        ("gyro within 5 deg of 360 deg and gyro > 90 deg", ["never-true"]),
        ("gyro within 170 deg of 0 deg or gyro within 10 deg of 180 deg", ["always-true"]),
        ("gyro within 169 deg of 0 deg or gyro within 10 deg of 180 deg", []),
        ("gyro within 180 deg of 77 deg", ["always-true"]),
        ("gyro within 179 deg of 77 deg", []),
        ("gyro within -1 deg of 77 deg", ["negative-tolerance"]),
        ("drive far < -50 cm", []),
        ("drive far < -100 cm", ["never-true"]),
        ("drive height < -50 cm", ["never-true"]),
        ("drive height <= 100 cm", ["always-true"]),
        ("drive height < 100 cm", []),
        ("drive height >= 100 cm", []),
        ("drive turned > 170 deg", []),
        ("not (gyro > 200 deg or gyro < 20 deg)", ["never-true"]),
        ("gyro > 10 deg for 0.1 s and gyro < 5 deg", ["never-true"]),
        ("gyro > 10 deg for 0.1 s or gyro < 20 deg", []),
    ],
)
def test_what_a_number_can_settle(condition: str, expected: list[str]) -> None:
    """A condition is settled where the declared range, or a full turn, leaves it one answer."""
    text = f"start A\nstep A\n  when {condition}, go to F\n  after 1 s, go to G\n"
    assert expected == names_of(check_text(f"{text}finish F\nfinish G\n", HEADINGS))
