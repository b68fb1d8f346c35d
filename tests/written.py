"""Findings written by hand, so that the golden files here change with the layout alone."""

from __future__ import annotations

from planner.findings import Finding, Related, Severity
from planner.text import Place, Source

PLAN = Source(
    "my plans/street.routine",
    "routine street\n"
    "robot moth\n"
    "\n"
    "step Grip\n"
    "\twhen bumper pressed, go to Liit\n"
    'step Grip "灯をともす" nonsense\n'
    "step " + "Long" * 60 + " nonsense " + "and so on " * 40 + "\n",
)
ROBOT = Source("my plans/moth.bot", "robot moth\nhub main\n  digital 0 bumper touch\n")


def place(source: Source, line: int, words: str) -> Place:
    """The first place of `words` in a line."""
    start = source.line(line).index(words) + 1
    return Place(source, line, start, start + len(words))


ERROR = Finding(
    "unknown-step",
    Severity.ERROR,
    place(PLAN, 5, "Liit"),
    "there is no step `Liit`",
    "The robot would have nowhere to go from here, and it would stand in front of the post until "
    "the match is over while the other side lights one lamp after the other.",
    "Did you mean `Lit`?",
    paste=("finish Liit",),
    steps=("Grip",),
)
WARNING = Finding(
    "name-used-twice",
    Severity.WARNING,
    place(PLAN, 6, "Grip"),
    "`Grip` is the name of two steps",
    "Only the first is used.",
    "Give one of them another name.",
    paste=("step Grip2", "  after 2 s, go to Lit"),
    steps=("Grip",),
    related=(
        Related(place(PLAN, 4, "Grip"), "the first `Grip`"),
        Related(place(ROBOT, 3, "bumper"), "what it waits for"),
    ),
)
NOTE = Finding(
    "long-name",
    Severity.NOTE,
    place(PLAN, 7, "nonsense"),
    f"`{'Long' * 60}` is a long name for something that has to be read aloud in the pit, and this "
    "sentence is long as well",
    "It is hard to read.",
    "Choose a shorter one.",
)
ODD_PORT = Finding(
    "touch-on-even-channel",
    Severity.ERROR,
    place(ROBOT, 3, "0"),
    "`bumper` is on digital port 0",
    "It would never be pressed.",
    "Plug it into port 1.",
)
ALL = (ODD_PORT, ERROR, WARNING, NOTE)
