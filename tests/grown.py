"""Plans that grow by steps, lanes, counts and choices, as texts for the Moth."""

from __future__ import annotations

from demo import HEADER


def skipping(steps: int, counts: int = 0, choices: int = 0) -> str:
    """A chain in which each limit skips a step; some exits lead back, once, and are counted.

    Each of the choices is of two words, and says how fast one of the first steps drives.
    """
    head = [f"choose way{number}: red, blue" for number in range(choices)]
    head += [f"setting speed{n} by way{n}\n  red 40 %\n  blue 50 %" for n in range(choices)]
    lines = [*head, "at 26 s of match, go to Dock", "start S0"]
    for at in range(steps):
        onward, skipped = (f"S{at + n}" if at + n < steps else "Lit" for n in (1, 2))
        lines += [f"step S{at}", f"  drive forward {f'speed{at}' if at < choices else '40 %'}"]
        lines.append(f"  when bumper pressed, go to {onward}")
        if 0 < at <= counts:
            back = f"go to S{at - 1}, at most 1 times, then {onward}"
            lines.append(f"  when range_front < 8 cm, {back}")
        lines.append(f"  after {1 + at * 7 % 9 / 10} s, go to {skipped}")
    return HEADER + "\n".join([*lines, "finish Lit", "finish Dock\n"])


def lanes(number: int, steps: int, counters: bool = False) -> str:
    """Two or three lanes of so many steps each, or, for one, the steps alone.

    With counters each third step of a lane counts down, and asks whether its counter is at 0.
    """
    names = _NAMES[:number]
    counted = [f"counter {name}_shots: 0 to 3, normally 3" for name in names if counters]
    lines = [*counted, "at 26 s of match, go to Still"]
    if number == 1:
        return _text([*lines, "start wheels0", *_lane(0, steps, counters, "Lit")])
    lines += ["start Work", "together Work"]
    lines += ["  when all lanes done, go to Lit", "  after 20 s, go to Still"]
    for lane, name in enumerate(names):
        inside = _lane(lane, steps, counters, "done")
        lines += [f"  lane {name}", *(f"    {line}" for line in inside)]
    return _text(lines)


def _lane(lane: int, steps: int, counters: bool, end: str) -> list[str]:
    """The steps of a lane, each with a sensor exit and a limit."""
    name, told, wait = _NAMES[lane], _TOLD[lane], _WAITS[lane]
    lines = []
    for at in range(steps):
        onward = f"{name}{at + 1}" if at + 1 < steps else end
        lines += [f"step {name}{at}", f"  {told}"]
        if counters and at % 3 == 2:
            lines.append(f"  count {name}_shots down")
            lines.append(f"  when {wait} and counter {name}_shots is 0, go to {end}")
        lines.append(f"  when {wait}, go to {onward}")
        lines.append(f"  after {1 + at * 7 % 9 / 10} s, go to {onward}")
    return lines


def _text(lines: list[str]) -> str:
    return HEADER + "\n".join([*lines, "finish Lit", "finish Still\n"])


_NAMES = ("wheels", "lifting", "lamp")
_TOLD = ("drive forward 40 %", "arm to 600 ticks", "signal light")
_WAITS = ("bumper pressed", "arm done", "tin_gate broken")
