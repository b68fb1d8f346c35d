"""Numbers that no plan needs are slips, so that nothing later has to count so far."""

from __future__ import annotations

import pytest
from demo import resolved, said

PLAN = "start A\nstep A\n  LINE\n  after 2 s, go to Lit\nfinish Lit\nfinish Quay\n"


@pytest.mark.parametrize(
    ("line", "slips"),
    [
        ("after 3600 s, go to Quay", []),
        ("after 3600.000001 s, go to Quay", [("wrong-time", "3600.000001 s")]),
        ("when bumper pressed for 4000 s, go to Quay", [("wrong-time", "4000 s")]),
        ("when match < 3601 s, go to Quay", [("wrong-time", "3601 s")]),
        ("when bumper pressed, go to A, at most 1000 times, then Quay", []),
        ("when bumper pressed, go to A, at most 1001 times, then Quay", [("wrong-count", "1001")]),
        ("when gyro within 0 deg of 90 deg, go to Quay", []),
        ("when gyro within -2 deg of 90 deg, go to Quay", [("negative-tolerance", "-2 deg")]),
        (
            "when drive travelled stays within -1 cm for 1 s, go to Quay",
            [("negative-tolerance", "-1 cm")],
        ),
    ],
)
def test_bounds(line: str, slips: list[tuple[str, str]]) -> None:
    """A time of an hour, a count of 1000 and a tolerance of 0 are the last that can be written."""
    assert slips == said(resolved(PLAN.replace("LINE", line))[1])


@pytest.mark.parametrize(("number", "slips"), [(50, 0), (51, 1), (60, 1)])
def test_exits_by_the_match_clock(number: int, slips: int) -> None:
    """Each exit by the match clock is one of every step, so a plan has at most 50 of them."""
    clock = "".join(f"at {second} s of match, go to Quay\n" for second in range(number))
    routine, found = resolved(clock + PLAN.replace("LINE", "claw open"))
    assert ["unreadable-line"] * slips == [slip.check for slip in found]
    assert min(number, 50) == len(routine.match_exits)


def test_exits_of_a_group_by_the_match_clock() -> None:
    """A group has at most 50 of them as well."""
    clock = "".join(f"  at {second} s of match, go to Lit\n" for second in range(55))
    text = f"start A\ngroup All\n{clock}  step A\n    after 2 s, go to Lit\nfinish Lit\n"
    routine, found = resolved(text)
    assert ["unreadable-line"] == [slip.check for slip in found]
    assert 50 == len(routine.groups["All"].match_exits)
