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


def cycle(steps: int) -> str:
    """A group of so many steps, with tries, common exits, and a task done in it and after it."""
    lines = [
        "start Zero",
        "step Zero",
        "  after 1 s, go to Part1",
        'group Cycle "take and drop, again and again, until there is no time left"',
        "  at 20 s of match, go to Still",
        "  when once floor_eye sees red for 3 of 5 looks, go to Part1, at most 2 times, then Still",
        "  after 15 s, go to Still",
    ]
    for number in range(1, steps + 1):
        onward = f"Part{number + 1}" if number < steps else "Within"
        lines += [f'  step Part{number} "part {number} of it"', "    drive forward 40 %"]
        lines.append(f"    when bumper pressed, go to {onward}")
        if number % 3 == 0:
            again = f"go to Part{number - 1}, at most 2 times, then Still"
            lines.append(f"    when drive travelled > 20 cm, {again}")
        lines.append("    after 2 s, go to Still")
    lines += ["  step Within", *_CALL.format(onward="After").splitlines()]
    lines += ["step After", *_CALL.format(onward="Still").splitlines(), "finish Still"]
    return "\n".join([*lines, _TASK])


_CALL = """    do fetch 20 %
    when task ends got, go to {onward}
    when task ends lost, go to Still"""
_TASK = """task fetch(power %) ends got, lost
  step Go
    drive forward power
    when tin_gate broken, go to Back
    after 2 s, go to lost
  step Back
    drive forward -30 %
    when drive travelled < -20 cm, go to Go, at most 2 times, then got
    after 2 s, go to lost
"""


def three_lanes(steps: int) -> str:
    """A plan of so many steps, all but two of them in the three lanes of a block."""
    lines = [
        "start Ready",
        "step Ready",
        "  claw close",
        "  after 1 s, go to Work",
        'together Work "drive, lift and blink side by side"',
        "  at 26 s of match, go to Still",
        "  when all lanes done, go to Release",
        "  after 20 s, go to Still",
    ]
    waits = ("drive travelled > 20 cm", "arm done", "lane wheels done")
    told = ("drive forward 40 %", "arm to 600 ticks", "signal light")
    for lane, name in enumerate(("wheels", "lifting", "lamp")):
        lines.append(f"  lane {name}")
        parts = (steps - 2 + lane) // 3
        for part in range(1, parts + 1):
            onward = f"{name}{part + 1}" if part < parts else "done"
            lines += [f'    step {name}{part} "part {part} of it"', f"      {told[lane]}"]
            lines += [f"      when {waits[lane]}, go to {onward}", "      after 2 s, go to Still"]
    lines += ["step Release", "  claw open", "  after 0.5 s, go to Lit", "finish Lit"]
    return "\n".join([*lines, "finish Still\n"])
