"""What the machine says it waits for is what its next pass does."""

from __future__ import annotations

from played import machine

from planner.rehearsal import Machine, Readings

TRUE, UNKNOWN, FALSE = 1, 0, -1


def asked(running: Machine, at_ms: int, readings: Readings) -> list[tuple[str, int, bool]]:
    """Each exit by where it leads, with its truth and whether it comes true in time."""
    return [(a.exit.target, a.truth, a.in_time) for a in running.asked(at_ms * 1000, readings)]


def test_each_exit_has_its_truth() -> None:
    """True, false and unknown are told apart, in the order in which exits are asked (M4, M6)."""
    running = machine(
        "at 20 s of match, go to D\nstep A; when bumper pressed, go to B\n"
        "  when range_front < 8 cm, go to C; when arm done, go to B; after 2 s, go to D\n"
        "finish B\nfinish C\nfinish D\n"
    )
    assert () == running.asked(0, {})
    running.pass_(0, {})
    found = asked(running, 20, {"bumper": "released", "range_front": None})
    late = asked(running, 2000, {"bumper": "pressed", "range_front": 7})
    exits = [("D", FALSE, True), ("B", FALSE, False), ("C", UNKNOWN, False)]
    exits += [("B", UNKNOWN, False), ("D", FALSE, True)]
    assert exits == found
    assert [("D", FALSE), ("B", TRUE), ("C", TRUE), ("B", UNKNOWN), ("D", TRUE)] == [
        pair[:2] for pair in late
    ]
    dues = [a.due_us for a in running.asked(20_000, {})]
    assert [20_000_000, None, None, None, 2_000_000] == dues


def test_asking_changes_nothing() -> None:
    """A held condition is not held any longer for having been asked about (M5)."""
    text = "step A; when bumper pressed for 0.1 s, go to B; after 9 s, go to B\nfinish B\n"
    running, other = machine(text), machine(text)
    pressed: Readings = {"bumper": "pressed"}
    for at_ms in range(0, 200, 20):
        before = running.state.copy()
        running.asked(at_ms * 1000, pressed)
        assert before == running.state
        readings = pressed if at_ms > 40 else {"bumper": "released"}
        assert other.pass_(at_ms * 1000, readings) == running.pass_(at_ms * 1000, readings)


def test_a_held_condition_comes_in_time() -> None:
    """A condition that is true but not for long enough is false, and true in time."""
    running = machine(
        "step A; when bumper pressed for 0.1 s, go to B; after 9 s, go to B\nfinish B\n"
    )
    running.pass_(0, {})
    assert ("B", FALSE, True) == asked(running, 20, {"bumper": "pressed"})[0]
    assert ("B", FALSE, False) == asked(running, 20, {"bumper": "released"})[0]


def test_counts() -> None:
    """Of a counted exit only what it leads to now is told, with how often it still may (M9)."""
    running = machine(
        "step A; when bumper pressed, go to A, at most 1 time, then B; after 9 s, go to B\n"
        "finish B\n"
    )
    running.pass_(0, {})
    (first, _) = running.asked(20_000, {"bumper": "pressed"})
    assert ("A", 1) == (first.exit.target, first.times_left)
    running.pass_(20_000, {"bumper": "pressed"})
    assert ["B", "B"] == [a.exit.target for a in running.asked(40_000, {"bumper": "pressed"})]


def test_spent_exits() -> None:
    """A match-clock exit that was taken is not told again (M4)."""
    running = machine(
        "at 0.02 s of match, go to B\n"
        "step A; after 9 s, go to B\nstep B; after 0.02 s, go to A\nfinish C\n"
    )
    running.pass_(0, {})
    assert [("B", TRUE), ("B", FALSE)] == [pair[:2] for pair in asked(running, 20, {})]
    running.pass_(20_000, {})
    running.pass_(40_000, {})
    assert [("B", FALSE)] == [pair[:2] for pair in asked(running, 60, {})]


def test_what_is_told_is_what_happens() -> None:
    """The first exit that is told to be true is the one that the next pass takes."""
    running = machine(
        "step A; when bumper pressed or range_front < 8 cm, go to B; after 0.1 s, go to C\n"
        "step B; when bumper released, go to A; after 0.1 s, go to A\nstep C\n"
        "  after 0.1 s, go to A\n"
    )
    for at_ms in range(0, 3000, 20):
        readings: Readings = {
            "bumper": "pressed" if at_ms % 170 < 60 else "released",
            "range_front": None if at_ms % 90 < 30 else at_ms % 70,
        }
        told = [a.exit for a in running.asked(at_ms * 1000, readings) if a.truth > 0]
        events = running.pass_(at_ms * 1000, readings)
        taken = [event.exit for event in events if hasattr(event, "exit")]
        assert told[:1] == taken


def test_active_steps() -> None:
    """The active step is told with the moment it was entered at on the match clock."""
    running = machine("step A; after 0.1 s, go to B\nfinish B\n")
    assert () == running.active()
    running.pass_(500_000, {})
    running.pass_(600_000, {})
    assert [("B", 100_000)] == [(one.step, one.entered_us) for one in running.active()]
