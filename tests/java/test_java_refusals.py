"""What cannot become Java is refused in one clear line, and never becomes something else."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import pytest
from demo import check
from java.hostile import crowded_routine, long_routine
from java.java_tools import beetle, exported, plan_of

from planner.graph import Plan, unfold
from planner.java import CannotExport, export
from planner.java.limits import MOST_IN_A_STEP, MOST_MEMORIES, MOST_STEPS
from planner.model import missing_robot
from planner.model.condition import Not
from planner.model.robot import SensorKind
from planner.model.routine import WhenExit
from planner.pipeline import check_routine
from planner.text import Source

SMALL = (
    "routine small\nrobot beetle\nlimit 30 s\nstart A\n"
    "step A\n  when bumper pressed, go to Done\n  after 1 s, go to Done\nfinish Done\n"
)
MEMORY = "  when once bumper pressed, go to Done\n"


@pytest.mark.parametrize("package", ["a", "org.mothclub", "Org.MothClub.auto_2", "_a._b"])
def test_a_package_name_is_taken(package: str) -> None:
    """Words with dots between them are a package, capital letters and underscores too."""
    files = exported(SMALL, package)

    assert all(path.startswith(package.replace(".", "/") + "/") for path in files)
    assert all(f"\npackage {package}." in text for text in files.values())


@pytest.mark.parametrize(
    "package",
    [
        *("", ".", "a.", ".a", "a..b", "1a", "a-b", "a b", "a/b", "a\\b", "../a", "a.*", "a;b"),
        *("new", "org.class", "org.true", "a._", "h\u00f6he", "a\nb", "a.\u202eb", "${x}", "a.b "),
        *("java.auto", "javax", "org.con.b", "a.AUX"),
    ],
)
def test_a_package_name_is_refused(package: str) -> None:
    """What Java or Windows would not take as a package is refused in one line."""
    with pytest.raises(CannotExport) as refused:
        exported(SMALL, package)

    assert isinstance(refused.value, ValueError)
    assert 1 == len(str(refused.value).splitlines())


def _with_condition(change: Callable[[WhenExit], WhenExit]) -> Plan:
    routine = plan_of(SMALL).routine
    step = routine.steps["A"]
    steps = dict(routine.steps) | {"A": replace(step, whens=tuple(map(change, step.whens)))}
    return unfold(replace(routine, steps=steps))


@dataclass(frozen=True)
class _Tomorrow:
    """A condition that the language does not have yet."""


def test_a_new_condition_is_refused() -> None:
    """A condition that the exporter does not know stops the export, however deep it stands."""
    plan = _with_condition(lambda exit_: replace(exit_, condition=Not(_Tomorrow())))  # type: ignore[arg-type]

    with pytest.raises(CannotExport, match="Java cannot ask this yet"):
        export(plan, "org.mothclub")


def test_a_new_action_is_refused() -> None:
    """An action of the robot file that the exporter does not know stops the export."""
    plan = plan_of(SMALL)
    robot = plan.routine.robot
    claw = robot.mechanisms["claw"]
    command = replace(claw.commands["open"], actions=(_Tomorrow(),))  # type: ignore[arg-type]
    claw = replace(claw, commands={**claw.commands, "open": command})
    robot = replace(robot, mechanisms={**robot.mechanisms, "claw": claw})

    with pytest.raises(CannotExport, match="Java cannot do this action yet"):
        export(unfold(replace(plan.routine, robot=robot)), "org.mothclub")


@pytest.mark.parametrize("asked", ["bumper", "tray", "gate"])
def test_a_wire_that_always_reads_something(asked: str) -> None:
    """Whether a wire of two states can be read is refused: Java would never find that it cannot."""
    text = SMALL.replace("bumper pressed", f"{asked} unreadable")

    with pytest.raises(CannotExport, match=f"`{asked} unreadable` cannot be asked in Java"):
        exported(text, "org.mothclub")


def test_every_kind_of_device_is_known() -> None:
    """The robot of these tests has a sensor of every kind, so that none is left out unseen."""
    assert set(SensorKind) == {sensor.kind for sensor in beetle().robot.sensors.values()}


def test_a_missing_robot_is_refused() -> None:
    """Without its robot file a routine cannot be exported."""
    checked = check_routine(Source("small.routine", SMALL), lambda _name: None)
    assert missing_robot("beetle", checked.plan.routine.place).missing

    with pytest.raises(CannotExport, match="without its robot file"):
        export(checked.plan, "org.mothclub")


@pytest.mark.parametrize(
    "text",
    [
        SMALL.replace("bumper pressed", "bumper presed"),
        SMALL.replace("start A\n", ""),
        SMALL.replace("after 1 s", "aftr 1 s"),
        SMALL.replace("limit 30 s", "limit 30 s\nat 26 s of mtch, go to Done"),
        SMALL.replace("  after", "  drive forwrd 3 %\n  after"),
        SMALL.replace("routine small\n", ""),
    ],
)
def test_what_makes_no_sense_is_refused(text: str) -> None:
    """A routine with a line that makes no sense is refused, and told where to look."""
    checked = check_routine(Source("small.routine", text), lambda _name: beetle())

    with pytest.raises(CannotExport, match="`planner check` shows") as refused:
        export(checked.plan, "org.mothclub")
    assert 1 == len(str(refused.value).splitlines())


def test_a_robot_file_that_makes_no_sense_is_refused() -> None:
    """A robot file with a line that cannot be read is refused: the line may be a motor."""
    robot_text = "robot r\nhub h\n  motr 0 wheel\n  digital 1 bumper touch\n"
    checked = check(SMALL.replace("beetle", "r"), robot_text)

    with pytest.raises(CannotExport, match="`planner check` shows"):
        export(checked.plan, "org.mothclub")


def test_a_turn_without_an_angle_is_refused() -> None:
    """A reading that wraps must be an angle: Java has to know how much a full turn is."""
    robot_text = (
        "robot r\nhub h\n  motor 0 wheel\nmechanism drive\n  uses wheel\n  reading gone cm wraps\n"
    )
    text = SMALL.replace("beetle", "r").replace("bumper pressed", "drive gone within 1 cm of 3 cm")
    checked = check(text, robot_text)

    with pytest.raises(CannotExport, match="`drive gone` wraps"):
        export(checked.plan, "org.mothclub")


def test_a_lane_in_a_long_task_is_many_tests() -> None:
    """To ask whether a lane is in a task is a test for each of its steps, and counts as so many."""
    ask = "      when lane one in A, go to done\n"
    steps = [f"  step T{n}\n    after 1 s, go to good\n" for n in range(MOST_IN_A_STEP // 4 - 1)]
    text = (
        "routine small\nrobot beetle\nlimit 30 s\nstart Carry\ntogether Carry\n"
        "  when all lanes done, go to Done\n  after 2 s, go to Done\n"
        "  lane one\n    step A\n      do long\n      when task ends good, go to done\n"
        f"  lane two\n    step B\n{3 * ask}      after 1 s, go to done\nfinish Done\n"
        f"task long ends good\n{''.join(steps)}"
    )
    assert exported(text, "org.mothclub")

    with pytest.raises(CannotExport, match=f"step B has .* holds {MOST_IN_A_STEP}: split it"):
        exported(text.replace(ask, 2 * ask), "org.mothclub")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        (long_routine().replace("finish Done", "finish Done\nfinish TooMany"), f"{MOST_STEPS}"),
        (
            SMALL.replace("  after", "  when bumper pressed, go to Done\n" * 200 + "  after"),
            f"holds {MOST_IN_A_STEP}",
        ),
        (
            crowded_routine().replace("step S1\n", "step S1\n" + 21 * MEMORY),
            f"conditions on several passes; a Java class holds {MOST_MEMORIES}",
        ),
    ],
)
def test_what_is_too_large_is_refused(text: str, words: str) -> None:
    """More than a Java class or method holds is refused with the number that it holds."""
    with pytest.raises(CannotExport, match=words):
        exported(text, "org.mothclub")
