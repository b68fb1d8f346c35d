"""Which words start a line where, and what such a line looks like.

The grammar says the same in its own way; a test holds the two together.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planner.tree import nodes as n


@dataclass(frozen=True, slots=True)
class Shape:
    """A kind of line: an example of it, and the start rule for lines indented under it."""

    example: str
    under: str = ""


ROUTINE_SHAPES: Mapping[str, Mapping[str, Shape]] = {
    "file_line": {
        "routine": Shape('routine first_lamp "Light the first lamp"'),
        "robot": Shape("robot moth"),
        "tasks": Shape("tasks from posts"),
        "limit": Shape("limit 30 s"),
        "setting": Shape("setting cruise = 40 %", under="table_line"),
        "choose": Shape("choose alliance: red, blue mirrors"),
        "require": Shape("require finished by 29 s"),
        "memory": Shape("memory far = 60 cm"),
        "counter": Shape("counter shots: 0 to 3, normally 3"),
        "at": Shape("at 26 s of match, go to Dock"),
        "start": Shape("start Approach"),
        "step": Shape('step Approach "drive to the post"', under="step_line"),
        "finish": Shape('finish Parked "on the quay"', under="finish_line"),
        "group": Shape('group Cycle "one tin after the other"', under="group_line"),
        "together": Shape('together Carry "drive while the arm rises"', under="together_line"),
        "task": Shape("task place(height ticks) ends placed, stuck", under="task_line"),
        "whenever": Shape("whenever arm_floor pressed, arm zero"),
        "scenario": Shape('scenario good_run "the bumper speaks"', under="scenario_line"),
    },
    "step_line": {
        "when": Shape("when bumper pressed, go to Grip"),
        "after": Shape("after 2.5 s, go to BackOff"),
        "keep": Shape("keep drive forward 40 %"),
        "do": Shape("do place 1200 ticks"),
        "remember": Shape("remember drive travelled as far"),
        "count": Shape("count shots down"),
        "whenever": Shape("whenever arm_floor pressed, arm zero"),
        "": Shape("drive forward 40 %"),
    },
    "group_line": {
        "at": Shape("at 20 s of match, go to Dock"),
        "when": Shape("when bumper pressed, go to Dock"),
        "after": Shape("after 12 s, go to Dock"),
        "whenever": Shape("whenever arm_floor pressed, arm zero"),
        "step": Shape('step Approach "drive to the post"', under="step_line"),
        "group": Shape('group Cycle "one tin after the other"', under="group_line"),
        "together": Shape('together Carry "drive while the arm rises"', under="together_line"),
    },
    "together_line": {
        "at": Shape("at 20 s of match, go to Dock"),
        "when": Shape("when all lanes done, go to Place"),
        "after": Shape("after 6 s, go to Dock"),
        "whenever": Shape("whenever arm_floor pressed, arm zero"),
        "keep": Shape("keep drive forward 40 %"),
        "lane": Shape("lane wheels", under="lane_line"),
        "": Shape("signal light"),
    },
    "lane_line": {
        "step": Shape('step Approach "drive to the post"', under="step_line"),
        "group": Shape('group Cycle "one tin after the other"', under="group_line"),
        "together": Shape('together Carry "drive while the arm rises"', under="together_line"),
    },
    "task_line": {
        "step": Shape('step Raise "arm up"', under="step_line"),
        "together": Shape('together Carry "drive while the arm rises"', under="together_line"),
    },
    "finish_line": {
        "keep": Shape("keep drive forward 40 %"),
        "": Shape("arm fold"),
    },
    "table_line": {
        "": Shape("near 12 in"),
    },
    "scenario_line": {
        "choose": Shape("choose alliance blue"),
        "pass": Shape("pass 20 ms"),
        "at": Shape("at 0.9 s, bumper pressed"),
        "in": Shape("in Raise, after 1.2 s, arm done"),
        "from": Shape("from 0 s to 2 s, range_front goes from 100 cm to 6 cm"),
        "must": Shape("must finish in Lit by 12 s"),
    },
}

ROBOT_SHAPES: Mapping[str, Mapping[str, Shape]] = {
    "file_line": {
        "robot": Shape('robot moth "The Moth"'),
        "pass": Shape("pass 8 ms to 40 ms"),
        "hub": Shape("hub main", under="hub_line"),
        "camera": Shape("camera post_mark sees left, middle, right"),
        "mechanism": Shape("mechanism drive", under="mechanism_line"),
    },
    "hub_line": {
        "motor": Shape("motor 0 left_wheels reversed"),
        "servo": Shape("servo 0 claw_servo"),
        "digital": Shape("digital 7 bumper touch"),
        "analog": Shape("analog 0 arm_angle 0 V to 3.3 V"),
        "encoder": Shape("encoder 3 side_wheel"),
        "i2c": Shape("i2c 1 range_front distance 2 cm to 200 cm"),
    },
    "mechanism_line": {
        "uses": Shape("uses left_wheels, right_wheels"),
        "command": Shape("command forward(power %) runs", under="command_line"),
        "reading": Shape("reading travelled cm from step start"),
    },
    "command_line": {
        "": Shape("left_wheels at power"),
    },
}

# Lines that are often put into a group, a task or a lane, where they mean something else than
# anywhere: they stay there, to be told what that is. By the rule of that place and the line's first
# word, the rule by which such a line is read.
STRAYS: Mapping[tuple[str, str], str] = {
    ("task_line", "finish"): "file_line",
    ("task_line", "start"): "file_line",
    ("group_line", "start"): "file_line",
    **{("lane_line", word): "together_line" for word in ("when", "after", "at", "whenever")},
}


@dataclass(frozen=True, slots=True)
class Block:
    """A line with lines of its own under it: its word, their start rule, and its node."""

    word: str
    rule: str
    node: type


BLOCKS = (
    Block("step", "step_line", n.StepHead),
    Block("finish", "finish_line", n.FinishHead),
    Block("scenario", "scenario_line", n.ScenarioHead),
    Block("setting", "table_line", n.SettingTable),
    Block("group", "group_line", n.GroupHead),
    Block("together", "together_line", n.TogetherHead),
    Block("lane", "lane_line", n.LaneHead),
    Block("task", "task_line", n.TaskHead),
    Block("hub", "hub_line", n.HubHead),
    Block("mechanism", "mechanism_line", n.MechanismHead),
    Block("command", "command_line", n.CommandHead),
)

HEAD_OF: Mapping[str, str] = {block.rule: block.word for block in BLOCKS}
"""The word of the line that each start rule's lines stand under."""

RULE_UNDER: Mapping[type, str] = {block.node: block.rule for block in BLOCKS}
"""The start rule for the lines under a node."""

HEADS = tuple(block.word for block in BLOCKS if block.node is not n.SettingTable)
"""The words of headings. A setting is a line like others, to which a table may belong."""
