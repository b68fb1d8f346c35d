"""What the exported op modes do to the hardware and show on the screen."""

from __future__ import annotations

import re

import pytest
from java.hostile import TRAPS
from java.playing import COLOURS, Bench, hardware_scripts

SCRIPTS = hardware_scripts()


@pytest.mark.parametrize("name", SCRIPTS)
def test_hardware(name: str, bench: Bench) -> None:
    """Call by call an op mode tells every device what the robot file says, and nothing else."""
    expected = [answer for _, answer in SCRIPTS[name]]

    assert expected == [_timeless(line) for line in bench.hardware[name]]


def test_a_title_reaches_the_screen_as_it_is(bench: Bench) -> None:
    """Whatever a title holds, the driver station shows it letter by letter."""
    assert f"[step: new: {TRAPS[0]}]" in bench.hostile[-1]


@pytest.mark.parametrize("index", range(len(COLOURS)), ids=lambda index: " ".join(COLOURS[index]))
def test_colours(index: int, bench: Bench) -> None:
    """A colour is named where it is plain, and unsure between two and where it is neither."""
    assert f"[sorter: {COLOURS[index][1]}]" in bench.colours[2 + index]


def _timeless(line: str) -> str:
    line = re.sub(r"\(\w+\.java:\d+\)", "(...)", line)
    line = re.sub(r"(\[lane \w+: [^\]]*, for) [^\]]* s\]", r"\1 ...]", line)
    return re.sub(r"\[(time in step|match time): [^\]]*\]", r"[\1: ...]", line)
