"""Plans of any length, as texts: a street of lamp posts for the Moth."""

from __future__ import annotations


def street(steps: int) -> str:
    """A chain with retries, loops, counted exits and give-ups that all lead to one finish."""
    lines = ["at 26 s of match, go to Dock", "start Leg1"]
    for number in range(1, steps + 1):
        onward = f"Leg{number + 1}" if number < steps else "Parked"
        lines += [f'step Leg{number} "leg {number} of the street"', "  drive forward 40 %"]
        lines.append(f"  when bumper pressed, go to {onward}")
        if number % 4 == 0:
            again = f"go to Leg{number - 1}, at most 2 times, then Dock"
            lines.append(f"  when range_front < 8 cm for 0.1 s, {again}")
        if number % 7 == 0:
            lines.append(f"  when tin_gate broken, go to Leg{number}")
        lines.append("  after 2 s, go to Dock")
    return "\n".join([*lines, 'finish Parked "parked on the quay"', "finish Dock\n"])
