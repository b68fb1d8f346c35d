"""Five plans whose faults only the clock shows, and what mends each."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

LATE = Path(__file__).parent / "late"


@dataclass(frozen=True)
class Plan:
    """A plan that is late, how its run goes, and the one change after which it is not."""

    name: str
    steps: tuple[str, ...]
    """The steps of the run, in the order in which they end; the last is cut off."""
    broken: str
    mended: str
    says: str
    """What the card says of this plan beside its run."""


PLANS = (
    # 3 rounds of 4 s, 3 s and 2 s, and the next tin: past 27 s + 4 s.
    Plan(
        "rounds_add_up",
        ("Take", "Carry", "Drop") * 3 + ("Take",),
        "at most 3 times",
        "at most 2 times",
        "`at most 2 times` in line 21",
    ),
    # 26 s on the match clock, 2 s to lower the arm and 3 s to the quay.
    Plan(
        "clock_comes_late",
        ("Take", "Drop") * 4 + ("Take", "Lower", "Dock"),
        "at 26 s of match",
        "at 24 s of match",
        "in the place of line 6",
    ),
    # 8 s to the post, then 8 s for the arm, then 7 s to the post's foot, 2 s and 5.5 s: the longer
    # lane alone is 15 s of that.
    Plan(
        "lanes_take_turns",
        ("Near", "Ready", "Raise", "Wait", "Nudge", "Hold", "Carry", "Place", "Dock"),
        "when lane wheels in Wait, go to Raise",
        "when lane wheels in Near, go to Raise",
        "`Ready` lasts 8.1 s of this run",
    ),
    # 8 s in the group and 2 s back, three times over.
    Plan(
        "group_starts_anew",
        ("Take", "Drop", "Back") * 3,
        "after 8 s, go to Back",
        "after 7 s, go to Back",
        "the clock of `Tin` starts anew each time `Tin` is entered: this runs out 3 times",
    ),
    # 3 s to aim and 5 s to shoot, four times where three were meant.
    Plan(
        "one_shot_more",
        ("Aim", "Shoot") * 4,
        "counter shots > 3",
        "counter shots >= 3",
        "`Shoot` lasts 17.8 s of this run, in 4 visits",
    ),
)


def text(plan: Plan) -> str:
    """The plan as it is broken."""
    return (LATE / f"{plan.name}.routine").read_text(encoding="utf-8")
