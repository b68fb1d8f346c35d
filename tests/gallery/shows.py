"""What the gallery shows: each thing that real routines need, where to find it, and its words."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Need:
    """Something that real routines need; `words` is what every routine that shows it says."""

    name: str
    words: str
    routines: tuple[str, ...]


NEEDS = (
    Need(
        "named steps that do, wait and lead on",
        r"^step \w+ .*\n( {2}\w.*\n)* {2}when .*\n( {2}\w.*\n)* {2}after ",
        ("first_tin", "square_up", "coloured_floor"),
    ),
    Need("a reading below or above a threshold", r" [<>]=? -?\d", ("first_tin", "two_posts")),
    Need("a reading in a band", r" within [\w ]+ of ", ("first_tin", "square_up", "three_wicks")),
    Need(
        "a step that only takes its time",
        r"^ *step \w+ .*\n +\w+ (open|close|rest)\n +after ",
        ("first_tin", "arm_on_the_way", "marked_post", "three_wicks"),
    ),
    Need(
        "a move measured from the start of its step",
        r"when drive travelled [<>]=? -?\d+ in",
        ("first_tin", "square_up", "two_posts"),
    ),
    Need("alliances that mirror each other", r"^choose \w+:.* mirrors", ("either_end",)),
    Need("numbers that differ by choice", r"^setting \w+ by \w+\n", ("either_end",)),
    Need("a heading counted from the start of the match", r"drive face \d+ deg", ("square_up",)),
    Need(
        "a turn counted from where the robot stands",
        r"drive turn \d+ deg\n +when drive done",
        ("square_up", "until_the_clock"),
    ),
    Need(
        "something started that a later step waits for",
        r"arm to lamp_height\n  drive .*\n(.*\n)+step AwaitArm .*\n  when arm done",
        ("arm_on_the_way",),
    ),
    Need("one of several ends a step", r"when .* or ", ("coloured_floor",)),
    Need(
        "all of several end a step",
        r"when .* and ",
        ("square_up", "arm_on_the_way", "feel_the_way"),
    ),
    Need(
        "exits that keep the reason for leaving",
        r"when floor_eye sees .*go to Look\n  when drive travelled .*go to BackOff",
        ("coloured_floor",),
    ),
    Need(
        "a pick by camera with an answer for unsure",
        r"post_mark sees middle.*go to (\w+)\n(.*\n)*?  after .*, go to \1\b",
        ("marked_post", "whole_street"),
    ),
    Need(
        "steps done from several places, with numbers of their own",
        r"  do (\w+) \d+ \w+\n(.*\n)+  do \1 \d+ \w+\n",
        ("marked_post", "two_posts"),
    ),
    Need(
        "steps that several routines share",
        r"^tasks from posts\n(.*\n)+  do touch_post \d+ in\n",
        ("two_posts", "post_and_quay"),
    ),
    Need(
        "what was measured, remembered for later",
        r"  remember drive travelled as (\w+)\n(.*\n)+  when drive travelled > \w+ - \1, ",
        ("rest_of_the_way",),
    ),
    Need(
        "brighter than this floor",
        r"  remember \w+_light as (\w+)\n(.*\n)+  when \w+_light > \1 \+ ",
        ("rest_of_the_way",),
    ),
    Need(
        "a pick by camera before the start",
        r"^memory (\w+): .*, seen by post_mark\n(.*\n)+setting \w+ by \1\n",
        ("three_tins",),
    ),
    Need(
        "a count that conditions ask",
        r"  count (\w+) down\n(.*\n)+ +when counter \1 is 0, go to ",
        ("three_tins",),
    ),
    Need("the same again, a number of times", r"  do \w+, \d times", ("three_wicks",)),
    Need(
        "another try, with a cap",
        r", at most \d times?, then ",
        ("two_posts", "watchful", "first_lamp", "two_lamps"),
    ),
    Need(
        "a branch on one reading, with a way for unclear",
        r"eye unreadable, .*\n.*sees red .*\n.*sees blue .*\n.*sees unsure ",
        ("coloured_floor",),
    ),
    Need("held for a time", r"for 0\.\d s", ("feel_the_way", "three_wicks", "marked_post")),
    Need("seen once, then gone", r"when once \w+ \w+ and ", ("feel_the_way", "three_wicks")),
    Need("most of the looks", r"for 3 of 5 looks", ("feel_the_way",)),
    Need("stuck, or settled", r"stays within .* for ", ("feel_the_way",)),
    Need(
        "lanes side by side that wait for each other",
        r"^together \w+.*\n(.*\n)*  when all lanes done, .*\n(.*\n)*  lane \w+\n(.*\n)*  lane ",
        ("side_by_side",),
    ),
    Need("side rules", r"^ *whenever ", ("watchful",)),
    Need("a delay chosen before the start", r"^ +after delay, ", ("either_end",)),
    Need("a place to park chosen before the start", r"choice park is ", ("either_end",)),
    Need("one more only while there is time", r"and match < \d+ s", ("until_the_clock",)),
    Need(
        "called away by the match clock",
        r"^ *at \d+ s of match, go to ",
        ("until_the_clock", "two_lamps", "whole_street"),
    ),
    Need(
        "one limit around several steps",
        r"^group .*\n( {2}(whenever|when|at) .*\n)*  after ",
        ("watchful",),
    ),
    Need("a command that outlasts its step", r"^ +keep ", ("three_wicks", "whole_street")),
)
