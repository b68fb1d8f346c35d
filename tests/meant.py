"""What students write and what they are told to write, out of `checks/meant/`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

FOLDER = Path(__file__).parent / "checks" / "meant"
_STEP = "step Approach\n  @\n  after 9 s, go to GiveUp\nfinish Lit\nfinish GiveUp\n"
_TASK = (
    "task place(height ticks) ends placed, stuck\n  step Up\n    arm to height\n"
    "    when arm done, go to placed\n    after 2 s, go to stuck\n"
)
_BLOCK = (
    "start Carry\ntogether Carry\n  @\n  after 8 s, go to GiveUp\n  lane wheels\n    step Drive\n"
    "      drive forward 40 %\n      when drive travelled > 60 cm, go to done\n"
    "      after 4 s, go to done\n  lane lifting\n    step Lift\n      arm to 1200 ticks\n"
    "      when arm done, go to done\n      after 3 s, go to done\nfinish Lit\nfinish GiveUp\n"
)
FRAMES = {
    "step": _STEP,
    "remembering": "memory far = 60 cm\nmemory side: left, middle, right\n"
    "counter shots: 0 to 3, normally 3\n" + _STEP,
    "finish": "step Approach\n  claw open\n  after 1 s, go to Lit\nfinish Lit\n  @\n",
    "routine": "@\nstep Approach\n  claw open\n  after 1 s, go to Lit\nfinish Lit\n",
    "scenario": _STEP.replace("@", "drive forward 40 %\n  when bumper pressed, go to Lit")
    + "scenario one\n  @\n  must visit Approach\n",
    "doing": _STEP.replace(
        "@", "@\n  when task ends placed, go to Lit\n  when task ends stuck, go to GiveUp"
    )
    + _TASK,
    "ended": _STEP.replace("@", "do place 1200 ticks\n  @\n  when task ends stuck, go to GiveUp")
    + _TASK,
    "inside": _STEP.replace(
        "@",
        "do place 1200 ticks\n  when task ends placed, go to Lit\n"
        "  when task ends stuck, go to GiveUp",
    )
    + _TASK.replace("after 2 s, go to stuck", "@"),
    "task": _STEP.replace(
        "@",
        "do place 1200 ticks\n  when task ends placed, go to Lit\n"
        "  when task ends stuck, go to GiveUp",
    )
    + _TASK.replace("task place(height ticks) ends placed, stuck", "@"),
    "group": "start First\ngroup All\n  @\n  step First\n    claw open\n"
    "    after 1 s, go to Approach\n" + _STEP.replace("@", "claw close"),
    "asked": "choose park: quay, here\n" + _STEP,
    "block": _BLOCK,
    "block_head": _BLOCK.replace("together Carry\n  @", "@\n  when all lanes done, go to Lit"),
    "lane_head": _BLOCK.replace("@", "when all lanes done, go to Lit").replace("lane wheels", "@"),
    "lane": _BLOCK.replace("@", "after 6 s, go to Lit").replace("when arm done, go to done", "@"),
    "robot": "robot moth\n@\nhub main\n  motor 0 left_wheels\n",
    "hub": "robot moth\nhub main\n  @\n",
    "mechanism": "robot moth\nhub main\n  motor 0 left_wheels\nmechanism drive\n  @\n",
    "command": "robot moth\nhub main\n  motor 0 left_wheels\n  motor 1 arm_motor\n"
    "mechanism drive\n  uses left_wheels, arm_motor\n"
    "  command go(power %, height ticks) runs\n    @\n",
}
IN_ROBOT = ("robot", "hub", "mechanism", "command")
_HEADER = "routine example\nrobot moth\nlimit 30 s\nsetting cruise = 40 %\nstart Approach\n"


def pairs() -> Iterator[tuple[str, str, tuple[str, ...]]]:
    """Place, what is written there, and what is given to paste."""
    for file in sorted(FOLDER.iterdir()):
        written, meant = "", ()
        for line in [*file.read_text(encoding="utf-8").splitlines(), "end"]:
            if line.startswith(" "):
                meant = (*meant, line.strip())
            elif line and not line.startswith("## "):
                if written:
                    yield file.stem, written, meant
                written, meant = line, ()


def framed(place: str, lines: tuple[str, ...]) -> str:
    """A whole file with lines in their place."""
    frame = FRAMES[place]
    indent = re.search("^( *)@", frame, re.MULTILINE)
    assert indent is not None
    text = frame.replace("@", f"\n{indent.group(1)}".join(lines))
    header = _HEADER.replace("start Approach\n", "") if "start " in frame else _HEADER
    return text if place in IN_ROBOT else header + text


def shown(written: str) -> str:
    """A line with its hidden characters put in."""
    return re.sub(r"\\u([0-9a-f]{4})", lambda code: chr(int(code.group(1), 16)), written)


PAIRS = list(pairs())
