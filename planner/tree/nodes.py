"""The tree of a file: what was written, line by line, with places.

Nodes compare by what they say; places are left out, so that a text and its canonical layout give
equal trees.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeAlias

from planner.text import Place, Source


@dataclass(frozen=True, slots=True)
class Name:
    """A name, or another single word, as it was written."""

    text: str
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number and its unit as written; `unit` is None where it was left out."""

    number: str
    unit: str | None
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class NameValue:
    """A name that stands for a number, perhaps with a minus sign."""

    name: Name
    negated: bool
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class ReadingValue:
    """A mechanism's reading where a number stands: ``drive travelled``."""

    mechanism: Name
    reading: Name
    place: Place = field(compare=False)


Atom: TypeAlias = Quantity | NameValue | ReadingValue


@dataclass(frozen=True, slots=True)
class Term:
    """A part of a sum: ``- 2 * far``. `factor` is None where none was written."""

    negated: bool
    factor: str | None
    atom: Atom


@dataclass(frozen=True, slots=True)
class Sum:
    """Numbers added, taken away or multiplied by a plain factor: ``102 in - far``."""

    terms: tuple[Term, ...]
    place: Place = field(compare=False)


Value: TypeAlias = Atom | Sum
Setpoint: TypeAlias = Quantity | NameValue
"""A number under a command of a robot file."""


@dataclass(frozen=True, slots=True)
class Span:
    """From `low` to `high`."""

    low: Quantity
    high: Quantity


# --- conditions ------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Subject:
    """What a condition looks at: a sensor, or a mechanism and one of its readings."""

    first: Name
    second: Name | None


@dataclass(frozen=True, slots=True)
class Comparison:
    """``range_front < 8 cm``"""

    subject: Subject
    operator: str
    value: Value
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Band:
    """``gyro within 2 deg of 90 deg``"""

    subject: Subject
    tolerance: Value
    centre: Value
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class State:
    """``bumper pressed``"""

    subject: Name
    state: Name
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Sees:
    """``floor_eye sees red``"""

    subject: Name
    value: Name
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Negated:
    """``not`` a condition."""

    part: Condition
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class HeldFor:
    """A condition ``for`` a time."""

    part: Condition
    duration: Value
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Both:
    """Conditions joined by ``and``."""

    parts: tuple[Condition, ...]
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Either:
    """Conditions joined by ``or``."""

    parts: tuple[Condition, ...]
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class ChoiceIs:
    """``choice park is centre``"""

    choice: Name
    value: Name
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class MemoryIs:
    """``memory side is left``"""

    memory: Name
    value: Name
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class MemoryCompared:
    """``memory far < 50 cm``"""

    memory: Name
    operator: str
    value: Value
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class CounterCompared:
    """``counter shots is 0`` or ``counter shots < 2``; `operator` is a comparison or ``is``."""

    counter: Name
    operator: str
    number: Name
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Once:
    """``once`` a condition."""

    part: Condition
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class InLooks:
    """A condition ``for 3 of 5 looks``."""

    part: Condition
    least: Name
    looks: Name
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Stays:
    """``drive travelled stays within 1 cm for 0.4 s``"""

    subject: Subject
    tolerance: Value
    duration: Value
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class Unreadable:
    """``range_front unreadable``"""

    subject: Subject
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class MatchClock:
    """``match < 20 s``"""

    operator: str
    value: Value
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class LanesDone:
    """``all lanes done``; ``any lane done`` where `every` is false."""

    every: bool
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class LaneDone:
    """``lane wheels done``"""

    lane: Name
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class LaneIn:
    """``lane wheels in Drive``"""

    lane: Name
    step: Name
    place: Place = field(compare=False)


Condition: TypeAlias = (
    Comparison | Band | State | Sees | Unreadable | Stays | MatchClock | ChoiceIs
    | LanesDone | LaneDone | LaneIn
    | MemoryIs | MemoryCompared | CounterCompared
    | Negated | Once | HeldFor | InLooks | Both | Either
)  # fmt: skip


# --- the lines of a robot file ---------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class RobotHead:
    """``robot moth "The Moth"``"""

    name: Name
    title: str


@dataclass(frozen=True, slots=True)
class PassTime:
    """``pass 8 ms to 40 ms``"""

    span: Span


@dataclass(frozen=True, slots=True)
class HubHead:
    """``hub main``"""

    name: Name


@dataclass(frozen=True, slots=True)
class Camera:
    """``camera post_mark sees left, middle, right``"""

    name: Name
    values: tuple[Name, ...]


@dataclass(frozen=True, slots=True)
class MechanismHead:
    """``mechanism drive``"""

    name: Name
    title: str


@dataclass(frozen=True, slots=True)
class Device:
    """A port of a hub and what is plugged into it: ``digital 7 bumper touch``.

    `port_kind` is the line's first word, `kind` says which device it is (the port's word again
    where the line names none), `words` the further words (`reversed`, `active high`, ...).
    """

    port_kind: str
    port: Name
    name: Name
    kind: str
    words: tuple[str, ...] = ()
    span: Span | None = None
    values: tuple[Name, ...] = ()
    address: Name | None = None


@dataclass(frozen=True, slots=True)
class Uses:
    """``uses left_wheels, right_wheels``"""

    names: tuple[Name, ...]


@dataclass(frozen=True, slots=True)
class Parameter:
    """``height ticks``, in the parentheses of a command; perhaps with ``mirrors``."""

    name: Name
    unit: Name
    mirrors: bool = False


@dataclass(frozen=True, slots=True)
class CommandHead:
    """``command to(height ticks) holds, reports done``"""

    name: Name
    parameters: tuple[Parameter, ...]
    lasts: str
    reports_done: bool


@dataclass(frozen=True, slots=True)
class ReadingLine:
    """``reading travelled cm from step start``"""

    name: Name
    unit: Name
    span: Span | None
    wraps: bool
    from_step_start: bool
    mirrors: bool = False


@dataclass(frozen=True, slots=True)
class Power:
    """``left_wheels at power``, under a command."""

    output: Name
    value: Setpoint


@dataclass(frozen=True, slots=True)
class Position:
    """``lift_motor to height at 60 %``, under a command."""

    output: Name
    target: Setpoint
    power: Setpoint


@dataclass(frozen=True, slots=True)
class LampLine:
    """``beacon on``, under a command."""

    output: Name
    state: str


# --- the lines of a routine ------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class RoutineHead:
    """``routine first_lamp "The first lamp"``"""

    name: Name
    title: str


@dataclass(frozen=True, slots=True)
class RobotUse:
    """``robot moth``, in a routine"""

    name: Name


@dataclass(frozen=True, slots=True)
class TasksHead:
    """``tasks posts "Tasks at the posts"``, in a file of tasks"""

    name: Name
    title: str


@dataclass(frozen=True, slots=True)
class TasksUse:
    """``tasks from posts``, in a routine"""

    name: Name


@dataclass(frozen=True, slots=True)
class Limit:
    """``limit 30 s``"""

    value: Quantity


@dataclass(frozen=True, slots=True)
class Setting:
    """``setting cruise = 40 %``"""

    name: Name
    value: Quantity


@dataclass(frozen=True, slots=True)
class SettingTable:
    """``setting first_drive by place``, with a row for each value under it"""

    name: Name
    choice: Name


@dataclass(frozen=True, slots=True)
class TableRow:
    """``near 12 in``, under a setting"""

    value: Name
    amount: Quantity


@dataclass(frozen=True, slots=True)
class ChoiceValue:
    """``blue mirrors``, in a choice"""

    name: Name
    mirrors: bool


@dataclass(frozen=True, slots=True)
class ChoiceLine:
    """``choose alliance: red, blue mirrors``"""

    name: Name
    values: tuple[ChoiceValue, ...]


@dataclass(frozen=True, slots=True)
class RangeChoiceLine:
    """``choose delay: 0 s to 10 s, normally 0 s``"""

    name: Name
    span: Span
    normal: Quantity


@dataclass(frozen=True, slots=True)
class NumberMemory:
    """``memory far = 60 cm``"""

    name: Name
    first: Quantity


@dataclass(frozen=True, slots=True)
class WordMemory:
    """``memory side: middle, left, right, seen by post_mark``"""

    name: Name
    words: tuple[Name, ...]
    seen_by: Name | None


@dataclass(frozen=True, slots=True)
class CounterLine:
    """``counter shots: 0 to 3, normally 3``"""

    name: Name
    low: Name
    high: Name
    normal: Name


@dataclass(frozen=True, slots=True)
class Remember:
    """``remember drive travelled as far``, in a step"""

    value: Value
    memory: Name


@dataclass(frozen=True, slots=True)
class CountLine:
    """``count shots down``, ``up`` or ``from 3``, in a step; `start` is the 3, else None."""

    counter: Name
    way: str
    start: Name | None


@dataclass(frozen=True, slots=True)
class MatchExit:
    """``at 26 s of match, go to Dock``"""

    value: Value
    target: Name


@dataclass(frozen=True, slots=True)
class Told:
    """``arm to 1200 ticks``, in a requirement; without numbers it is the command with any."""

    mechanism: Name
    command: Name
    arguments: tuple[Value, ...]
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class InStep:
    """``in Approach``, in a requirement"""

    step: Name
    place: Place = field(compare=False)


Happening: TypeAlias = Told | InStep


@dataclass(frozen=True, slots=True)
class FinishedBy:
    """``require finished by 29 s``"""

    by: Value


@dataclass(frozen=True, slots=True)
class NeverWhile:
    """``require never arm to 1200 ticks while drive forward``"""

    one: Happening
    other: Happening


@dataclass(frozen=True, slots=True)
class OnlyAfter:
    """``require roller drop only after claw close``"""

    later: Happening
    earlier: Happening


@dataclass(frozen=True, slots=True)
class LeadsTo:
    """``require claw close leads to arm to within 2 s``"""

    cause: Happening
    effect: Happening
    within: Value


@dataclass(frozen=True, slots=True)
class Start:
    """``start Wait``"""

    name: Name


@dataclass(frozen=True, slots=True)
class StepHead:
    """``step Approach "drive to the post"``"""

    name: Name
    title: str


@dataclass(frozen=True, slots=True)
class FinishHead:
    """``finish Parked "on the quay"``"""

    name: Name
    title: str


@dataclass(frozen=True, slots=True)
class GroupHead:
    """``group Cycle "tins, one after the other"``"""

    name: Name
    title: str


@dataclass(frozen=True, slots=True)
class TogetherHead:
    """``together Carry "drive while the arm rises"``"""

    name: Name
    title: str


@dataclass(frozen=True, slots=True)
class LaneHead:
    """``lane wheels``, under `together`"""

    name: Name


@dataclass(frozen=True, slots=True)
class TaskHead:
    """``task place(height ticks) ends placed, stuck``"""

    name: Name
    parameters: tuple[Parameter, ...]
    ends: tuple[Name, ...]


@dataclass(frozen=True, slots=True)
class Call:
    """``do place 1200 ticks, 3 times``"""

    task: Name
    arguments: tuple[Value, ...]
    times: Name | None


@dataclass(frozen=True, slots=True)
class Whenever:
    """``whenever arm_floor pressed, arm zero``"""

    condition: Condition
    mechanism: Name
    command: Name
    arguments: tuple[Value, ...]


@dataclass(frozen=True, slots=True)
class Given:
    """A command given in a step: ``keep drive forward 40 %``"""

    keep: bool
    mechanism: Name
    command: Name
    arguments: tuple[Value, ...]


@dataclass(frozen=True, slots=True)
class Count:
    """``at most 2 times, then Dock``"""

    most: Name
    then: Name


@dataclass(frozen=True, slots=True)
class Target:
    """``go to Grip``, perhaps counted."""

    step: Name
    count: Count | None


@dataclass(frozen=True, slots=True)
class Expect:
    """``expect 0.8 s to 1.4 s, 19 of 20 runs``; the numbers of runs are None if left out."""

    span: Span
    hits: Name | None = None
    runs: Name | None = None


@dataclass(frozen=True, slots=True)
class When:
    """``when bumper pressed, expect 0.8 s to 1.4 s, go to Grip``"""

    condition: Condition
    target: Target
    expect: Expect | None = None


@dataclass(frozen=True, slots=True)
class Ended:
    """``when task ends placed, go to Next``"""

    outcome: Name
    target: Target


@dataclass(frozen=True, slots=True)
class After:
    """``after 2.5 s, go to BackOff``"""

    value: Value
    target: Target


# --- the lines of a scenario -----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class ScenarioHead:
    """``scenario good_run "the bumper speaks"``"""

    name: Name
    title: str


@dataclass(frozen=True, slots=True)
class Chosen:
    """``choose alliance blue``, in a scenario"""

    choice: Name
    value: Name | Quantity


@dataclass(frozen=True, slots=True)
class EveryPass:
    """``pass 20 ms``, in a scenario"""

    value: Quantity


@dataclass(frozen=True, slots=True)
class NotDone:
    """``not arm done``, in a scenario"""

    mechanism: Name
    word: Name
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class NumberFact:
    """``range_front is 7 cm``"""

    subject: Subject
    value: Value
    place: Place = field(compare=False)


Fact: TypeAlias = State | Sees | NotDone | NumberFact | Unreadable


@dataclass(frozen=True, slots=True)
class Cue:
    """``at 0.9 s, bumper pressed`` or, with a step, ``in Raise, after 1.2 s, arm done``."""

    step: Name | None
    at: Quantity
    fact: Fact


@dataclass(frozen=True, slots=True)
class Ramp:
    """``from 0 s to 2 s, range_front goes from 100 cm to 6 cm``, perhaps with ``in Approach,``."""

    step: Name | None
    start: Quantity
    end: Quantity
    subject: Subject
    low: Value
    high: Value
    place: Place = field(compare=False)


@dataclass(frozen=True, slots=True)
class MustVisit:
    """``must visit Approach, Raise, Lit``"""

    steps: tuple[Name, ...]


@dataclass(frozen=True, slots=True)
class MustFinish:
    """``must finish in Lit by 12 s``"""

    finish: Name | None
    by: Quantity | None


@dataclass(frozen=True, slots=True)
class MustBeCutOff:
    """``must be cut off``"""


@dataclass(frozen=True, slots=True)
class MustGive:
    """``must give arm to 1200 ticks``, or ``must not give``; without numbers it is with any."""

    negated: bool
    mechanism: Name
    command: Name
    arguments: tuple[Quantity, ...] = ()


@dataclass(frozen=True, slots=True)
class Broken:
    """A line that could not be read, kept word for word."""

    text: str


Statement: TypeAlias = (
    RobotHead | PassTime | HubHead | Camera | MechanismHead | Device | Uses | CommandHead
    | ReadingLine | Power | Position | LampLine
    | RoutineHead | RobotUse | TasksHead | TasksUse | Limit | Setting | MatchExit | Start
    | StepHead | FinishHead
    | Given | When | Ended | After | GroupHead | TogetherHead | LaneHead
    | TaskHead | Call | Whenever
    | SettingTable | TableRow | ChoiceLine | RangeChoiceLine | Chosen
    | NumberMemory | WordMemory | CounterLine | Remember | CountLine
    | ScenarioHead | EveryPass | Cue | Ramp | MustVisit | MustFinish | MustBeCutOff | MustGive
    | FinishedBy | NeverWhile | OnlyAfter | LeadsTo
    | Broken
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Line:
    """A statement, the lines indented under it and the comments that belong to it.

    `salvaged` is true where the statement was rebuilt from a line that could not be read whole:
    its name stands, nothing else on it can be trusted.
    """

    statement: Statement
    place: Place = field(compare=False)
    under: tuple[Line, ...] = ()
    salvaged: bool = False
    lead: tuple[str, ...] = field(default=(), compare=False)
    """The comment lines above it, without indentation; an empty string is a blank line."""
    trail: str = field(default="", compare=False)
    """The comment behind it on its line."""


@dataclass(frozen=True, slots=True)
class File:
    """A whole robot file or routine."""

    source: Source = field(compare=False)
    lines: tuple[Line, ...]
    tail: tuple[str, ...] = field(default=(), compare=False)
    """The comment lines after the last statement."""
