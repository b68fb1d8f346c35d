"""What a plan remembers and counts while it runs, as Java fields and statements (M13, M14)."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from planner.java.choices_code import TYPES, ChoiceWriter, ValueCode
from planner.java.naming import class_name, constant_name, distinct
from planner.java.plan_names import PlanNames
from planner.java.robot_names import RobotNames, unit_words
from planner.java.settings_code import Settings
from planner.java.wording import comment, double, string
from planner.model.condition import MemoryIs, Source
from planner.model.memory import (
    Counter,
    Counting,
    Looked,
    Memory,
    Number,
    NumberMemory,
    Part,
    Remember,
    Table,
    WordMemory,
)
from planner.model.robot import STATES, Sensor, SensorKind
from planner.model.routine import Routine
from planner.model.units import Amount, Unit

Look = Callable[[Source], str]
"""The expression that gives a reading as a step sees it."""
Statement = tuple[str, str]
"""A line of the plan, for a comment, and the statement that it becomes."""


@dataclass(frozen=True, slots=True)
class MemoryField:
    """A memory or a counter: its field, what it is at the start, and how it is shown."""

    java_type: str
    name: str
    first: str
    comment: str
    label: str
    """Its name, a literal."""
    method: str
    """The method of the screen that shows it."""
    more: str = ""
    """What this method is handed behind the number."""
    unit: str = ""
    words: tuple[ValueCode, ...] = ()
    """The constants of its type, where it holds one of some words."""

    @property
    def heading(self) -> str:
        """Its name with its unit, a literal."""
        return f'{self.label[:-1]} [{self.unit}]"' if self.unit else self.label


@dataclass(frozen=True, slots=True)
class Row:
    """A word, as a constant or as a test, and what it stands for."""

    when: str
    then: str


@dataclass(frozen=True, slots=True)
class TableCode:
    """A setting that goes by a memory: a method that gives its number."""

    method: str
    comment: str
    field: str
    rows: tuple[Row, ...]
    """By constant of the memory's type; the last one holds for all that is left."""


@dataclass(frozen=True, slots=True)
class SeenCode:
    """A sensor's answer as one of a memory's words: a method that gives it."""

    method: str
    sensor: str
    java_type: str
    field: str
    seen: str
    """The type of the answer; empty where it is a plain yes or no."""
    look: str
    rows: tuple[Row, ...]


class MemoryWriter:
    """Names what is remembered, and remembers which methods that takes."""

    def __init__(
        self,
        routine: Routine,
        own: PlanNames,
        names: RobotNames,
        choices: ChoiceWriter,
        settings: Settings,
        plan_type: str,
    ) -> None:
        self.routine = routine
        self.own = own
        self.names = names
        self.settings = settings
        words = [m for m in routine.memories.values() if isinstance(m, WordMemory)]
        taken = {*TYPES, plan_type, *choices.types}
        taken |= {camera.sees for camera in names.cameras.values()}
        self._types = distinct({m.name: m.name for m in words}, class_name, "Memory", taken)
        self._constants = {
            m.name: distinct({word: word for word in m.words}, constant_name, "WORD") for m in words
        }
        self.tables: dict[str, TableCode] = {}
        """The settings by a memory that were used, by method."""
        self.seen: dict[str, SeenCode] = {}
        """The answers that were taken in, by method."""

    # Fields.

    def fields(self) -> Iterator[MemoryField]:
        """The memories and counters, in the order of the routine."""
        return map(self._field, self.routine.memories.values())

    def _field(self, memory: Memory) -> MemoryField:
        name = self.own.remembered(memory)
        match memory:
            case NumberMemory(first=first, unit=unit):
                line = comment(f"memory {memory.name} = {first}")
                value = double(first.in_unit(unit))
                label, more = string(f"memory {memory.name}"), f", {string(unit.name)}"
                return MemoryField("double", name, value, line, label, "number", more, unit.name)
            case Counter(low=low, high=high, normal=normal):
                line = comment(f"counter {memory.name}: {low} to {high}, normally {normal}")
                label = string(f"counter {memory.name}")
                return MemoryField("int", name, str(normal), line, label, "count")
            case WordMemory():
                return self._word_field(memory, name)

    def _word_field(self, memory: WordMemory, name: str) -> MemoryField:
        seen = f", seen by {memory.seen_by.name}" if memory.seen_by else ""
        line = comment(f"memory {memory.name}: {', '.join(memory.words)}{seen}")
        java_type, constants = self._types[memory.name], self._constants[memory.name]
        return MemoryField(
            java_type,
            name,
            f"{java_type}.{constants[memory.first]}",
            line,
            string(f"memory {memory.name}"),
            "word",
            words=tuple(ValueCode(constants[word], string(word)) for word in memory.words),
        )

    # What is asked.

    def holds(self, condition: MemoryIs, wanted: bool) -> str:
        """The test that a memory holds a word, or that it does not."""
        field = self.own.remembered(condition.memory)
        word = self._word(condition.memory, condition.value)
        return f"{field} {'==' if wanted else '!='} {word}"

    def _word(self, memory: WordMemory, word: str) -> str:
        return f"{self._types[memory.name]}.{self._constants[memory.name][word]}"

    # Numbers that are worked out.

    def number(self, number: Number, unit: Unit, look: Look | None = None) -> str:
        """A number of the plan in a unit; `look` where readings may stand in it."""
        if isinstance(number, Amount):
            return self.settings.amount(number, unit)
        parts = [self._part(part, unit, look) for part in number.parts]
        if number.fixed.chosen:
            # What goes by a choice may be a sum of its own.
            fixed = self.settings.amount(number.fixed, unit)
            return _summed([*parts, f"({fixed})" if " " in fixed else fixed])
        rest = number.fixed.in_unit(unit)
        literal = f"{'-' if rest < 0 else ''}{double(abs(rest))}"
        if rest > 0 and parts[0].startswith("-"):
            return _summed([literal, *parts])
        return _summed([*parts, literal] if rest else parts)

    def _part(self, part: Part, unit: Unit, look: Look | None) -> str:
        value, own = self._looked(part.of, unit, look)
        factor = part.factor * own.size / unit.size
        many = value if abs(factor) == 1 else f"{double(abs(factor))} * {value}"
        return f"-{many}" if factor < 0 else many

    def _looked(self, of: Looked, unit: Unit, look: Look | None) -> tuple[str, Unit]:
        """What a part of a number is taken from, and the unit in which that is."""
        match of:
            case Table():
                return f"{self._table(of, unit)}()", unit
            case NumberMemory():
                return self.own.remembered(of), of.unit
        assert look is not None, "readings stand in what is remembered alone"
        assert of.unit is not None, "the resolver reckons with numbers only"
        return look(of), of.unit

    def _table(self, table: Table, unit: Unit) -> str:
        """The method of a setting that goes by a memory."""
        method = self.own.row(table.name, unit_words(unit))
        if method not in self.tables:
            memory, constants = table.memory, self._constants[table.memory.name]
            rows = tuple(
                Row(constants[word], self.settings.amount(table.rows[word], unit))
                for word in memory.words
            )
            said = ", ".join(f"{word} {row}" for word, row in table.rows.items())
            line = comment(f"setting {table.name} by {memory.name}: {said}")
            self.tables[method] = TableCode(method, line, self.own.remembered(memory), rows)
        return method

    # What is remembered and counted.

    def remembers(self, lines: Iterable[Remember], look: Look) -> Iterator[Statement]:
        """What a step or group remembers when it is left, in the order written."""
        for line in lines:
            yield comment(line.place.words), self._remember(line, look)

    def _remember(self, line: Remember, look: Look) -> str:
        memory, value = line.memory, line.value
        field = self.own.remembered(memory)
        if isinstance(memory, WordMemory):
            if isinstance(value, str):
                return f"{field} = {self._word(memory, value)};"
            assert isinstance(value, Sensor), "the resolver remembers words and answers as words"
            return f"{field} = {self._seen(memory, value, look)}();"
        assert not isinstance(value, Sensor | str), "the resolver remembers numbers as numbers"
        number = self.number(value, memory.unit, look)
        # What cannot be had leaves the memory as it is.
        return f"{field} = {f'Numbers.known({number}, {field})' if line.readings else number};"

    def seen_before_start(self, look: Look) -> Iterator[Statement]:
        """What is taken in from cameras until the start."""
        for memory in self.routine.memories.values():
            if isinstance(memory, WordMemory) and memory.seen_by:
                seen = self._seen(memory, memory.seen_by, look)
                line = f"memory {memory.name}, seen by {memory.seen_by.name}"
                yield comment(line), f"{self.own.remembered(memory)} = {seen}();"

    def _seen(self, memory: WordMemory, sensor: Sensor, look: Look) -> str:
        """The method that gives a sensor's answer as one of the words."""
        method = self.own.seen(memory.name, sensor.name)
        seen, answers = self._answers(sensor, look(sensor))
        words = [word for word in memory.words if word in sensor.values]
        rows = tuple(Row(answers(word), self._word(memory, word)) for word in words)
        self.seen[method] = SeenCode(
            method,
            comment(sensor.name),
            self._types[memory.name],
            self.own.remembered(memory),
            seen,
            look(sensor),
            rows,
        )
        return method

    def _answers(self, sensor: Sensor, look: str) -> tuple[str, Callable[[str], str]]:
        """The type of a sensor's answer, and the test for each word."""
        if sensor.kind in STATES:
            low = STATES[sensor.kind][0]
            return "", lambda word: look if word == low else f"!{look}"
        if sensor.kind is SensorKind.COLOUR:
            return "Colour", lambda word: f"seen == Colour.{word.upper()}"
        camera = self.names.cameras[sensor.name]
        return camera.sees, lambda word: f"seen == {camera.sees}.{camera.values[word]}"

    def counts(self, lines: Iterable[Counting]) -> Iterator[Statement]:
        """What a step counts when it is entered, in the order written."""
        for line in lines:
            field, low, high = (
                self.own.remembered(line.counter),
                line.counter.low,
                line.counter.high,
            )
            if line.to is not None:
                number = str(line.to)
            elif line.by < 0:
                number = f"Math.max({low}, {field} - {-line.by})"
            else:
                number = f"Math.min({high}, {field} + {line.by})"
            yield comment(line.place.words), f"{field} = {number};"


def _summed(parts: list[str]) -> str:
    """All of it added up: ``60.0 - farCm``."""
    first, *others = parts
    more = (f" - {one[1:]}" if one.startswith("-") else f" + {one}" for one in others)
    return "".join([first, *more])
