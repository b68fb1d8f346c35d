"""From the tree of a robot file to the robot, names resolved."""

from __future__ import annotations

from planner.findings import Slip, nearest
from planner.model.devices import device
from planner.model.ledger import Ledger, broken_words, declare, perhaps_there, words_under
from planner.model.mechanisms import mechanism
from planner.model.robot import (
    UNSURE,
    Hub,
    Mechanism,
    Output,
    Plug,
    Robot,
    Sensor,
    SensorKind,
)
from planner.model.units import Dimension
from planner.model.values import bounds_of, time_us
from planner.text import Place
from planner.tree import Parsed
from planner.tree import nodes as n

LONGEST_PASS_US, SHORTEST_PASS_US = 1_000_000, 1_000
"""Between them lies the longest pass of any controller; common practice, no source."""

_HEADS = ("robot", "pass", "hub", "camera", "mechanism")


def resolve_robot(parsed: Parsed) -> tuple[Robot, tuple[Slip, ...]]:
    """The robot that a tree describes, as far as it makes sense, and the slips.

    The parser's own slips are not repeated.
    """
    return _RobotResolver(parsed.file).resolve()


def missing_robot(name: str, place: Place) -> Robot:
    """The stand-in for a robot file that was not found."""
    return Robot(name, "", None, (), {}, {}, {}, place, missing=True)


class _RobotResolver:
    def __init__(self, file: n.File) -> None:
        self.file = file
        self.ledger = Ledger(broken_words(file.lines))
        self.taken: dict[str, Place] = {}
        self.hubs: list[Hub] = []
        self.sensors: dict[str, Sensor] = {}
        self.outputs: dict[str, Output] = {}
        self.mechanisms: dict[str, Mechanism] = {}
        self.head: n.RobotHead | None = None
        self.head_place = Place(file.source, 1, 1, 2)
        self.pass_us: tuple[int, int] | None = None
        self.pass_place: Place | None = None

    def resolve(self) -> tuple[Robot, tuple[Slip, ...]]:
        # Devices first: a mechanism may stand above the hub its devices are on.
        for line in self.file.lines:
            self._declare(line)
        for line in self.file.lines:
            if isinstance(line.statement, n.MechanismHead):
                self._mechanism(line, line.statement)
        lines = self.file.lines
        known = "robot" in self.ledger.broken_words or perhaps_there(lines, "robot")
        if self.head is None and not known:
            self.ledger.add("missing-line", self.head_place, "robot", example="robot moth")
        robot = Robot(
            self.head.name.text if self.head else "",
            self.head.title if self.head else "",
            self.pass_us,
            tuple(self.hubs),
            self.sensors,
            self.outputs,
            self.mechanisms,
            self.head_place,
            self.ledger.broken_words,
            nameless=self._nameless(),
        )
        return robot, tuple(self.ledger.slips)

    def _nameless(self) -> bool:
        """Whether a mechanism's line has lost the mechanism's name."""
        return any(
            isinstance(line.statement, n.Broken)
            and "mechanism" in nearest(line.place.words.split(None, 1)[0], _HEADS)
            for line in self.file.lines
        )

    def _declare(self, line: n.Line) -> None:
        match line.statement:
            case n.RobotHead() as head:
                if self.head is not None:
                    self._twice("robot", line.place, self.head_place)
                else:
                    self.head, self.head_place = head, head.name.place
            case n.PassTime(span):
                if self.pass_place is not None:
                    self._twice("pass", line.place, self.pass_place)
                else:
                    self.pass_place = line.place
                    self._pass(span)
            case n.HubHead(name):
                self._hub(name, line)
            case n.Camera(name, values):
                self._camera(name, values)
            case n.Broken():
                self.ledger.broken_words |= words_under(line)
            case _:
                pass

    def _twice(self, word: str, place: Place, other: Place) -> None:
        self.ledger.add("line-twice", place, word, other=other)

    def _pass(self, span: n.Span) -> None:
        bounds = bounds_of(self.ledger, span, Dimension.TIME, "the time between two passes")
        if bounds is None:
            return
        low = time_us(self.ledger, bounds.low, span.low.place, least=1)
        high = time_us(self.ledger, bounds.high, span.high.place, least=1)
        if low is not None and high is not None:
            self.pass_us = (low, high)
            if high > LONGEST_PASS_US or high < SHORTEST_PASS_US:
                too = "long" if high > LONGEST_PASS_US else "short"
                place = span.low.place.through(span.high.place)
                longest = str(bounds.high)
                self.ledger.add("unlikely-pass", place, place.words, longest=longest, too=too)

    def _hub(self, name: n.Name, line: n.Line) -> None:
        if self._free(name, "hub"):
            self.taken[name.text] = name.place
            self.hubs.append(Hub(name.text, name.place))
        for under in line.under:
            if isinstance(under.statement, n.Device) and self._free(under.statement.name, "device"):
                self._device(name.text, under.statement)

    def _device(self, hub: str, written: n.Device) -> None:
        made = device(self.ledger, hub, written)
        self.taken[written.name.text] = written.name.place
        if isinstance(made, Sensor):
            self.sensors[made.name] = made
        else:
            self.outputs[made.name] = made

    def _camera(self, name: n.Name, values: tuple[n.Name, ...]) -> None:
        if not self._free(name, "camera"):
            return
        self.taken[name.text] = name.place
        seen: dict[str, Place] = {}
        for value in values:
            if value.text != UNSURE and declare(self.ledger, value, seen, "value"):
                seen[value.text] = value.place
        answers = (*seen, UNSURE)
        plug = Plug("", "camera", 0)
        sensor = Sensor(name.text, SensorKind.CAMERA, plug, name.place, values=answers)
        self.sensors[name.text] = sensor

    def _mechanism(self, line: n.Line, head: n.MechanismHead) -> None:
        if self._free(head.name, "mechanism"):
            self.taken[head.name.text] = head.name.place
            made = mechanism(self.ledger, line, head, self.sensors, self.outputs)
            self.mechanisms[head.name.text] = made
        else:
            # It is left out, so what it uses is not known to be unused.
            self.ledger.broken_words |= words_under(line)

    def _free(self, name: n.Name, what: str) -> bool:
        return declare(self.ledger, name, self.taken, what)
