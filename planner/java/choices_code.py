"""What is chosen before the start, as Java: enums, what a plan is made with, and what follows."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from planner.java.chosen_names import TIME
from planner.java.naming import class_name, constant_name, distinct, names_in
from planner.java.plan_names import PlanNames
from planner.java.robot_names import RobotNames, unit_words
from planner.java.wording import comment, double, string
from planner.java.wording import time as java_time
from planner.model.choices import AnyChoice, Choice, RangeChoice
from planner.model.condition import ChoiceIs
from planner.model.routine import Routine
from planner.model.units import Amount, Dimension, Shares, Unit

TURNED_ROUND = "turnedRound"

# Types that a plan class has, imports, or shares a package with.
TYPES = names_in(
    "Colour Double Held Lane Looks Math Moves Numbers Object Once Order Override Parts RunLog "
    "RunsFor Screen Steady Step String Times Told Watched"
)


@dataclass(frozen=True, slots=True)
class ValueCode:
    """A word that can be chosen, as a constant."""

    constant: str
    word: str
    """A literal."""


@dataclass(frozen=True, slots=True)
class ChoiceCode:
    """Something that is chosen before the start, and the parameter that a plan is made with."""

    name: str
    java_type: str
    parameter: str
    values: tuple[ValueCode, ...]
    """Of words; empty for a range."""
    normal: str
    line: str
    """What can be chosen, for a comment."""
    unit: str = ""
    """A literal; of a range, as the rest."""
    low: str = ""
    high: str = ""
    is_time: bool = False
    numbers: tuple[str, str, str, str] = ("", "", "", "")
    """In the unit: low, high, by how much one press of a button changes it, and normal."""
    nanos: str = ""
    """How many nanoseconds its unit has, of a time."""


@dataclass(frozen=True, slots=True)
class ChosenField:
    """A field that is set once, when the plan is made, by what was chosen."""

    java_type: str
    name: str
    value: str
    comment: str
    is_parameter: bool = False
    """Whether the plan is made with a parameter of that name."""


class ChoiceWriter:
    """Names what follows from what was chosen, and remembers which fields that takes."""

    def __init__(
        self, routine: Routine, own: PlanNames, names: RobotNames, plan_type: str = ""
    ) -> None:
        self.routine = routine
        self.own = own
        self.choices: Mapping[str, AnyChoice] = routine.choices
        words = [choice for choice in self.choices.values() if isinstance(choice, Choice)]
        taken = {*TYPES, plan_type, *(camera.sees for camera in names.cameras.values())}
        self._types = distinct({c.name: c.name for c in words}, class_name, "Choice", taken)
        self._constants = {
            c.name: distinct({value: value for value in c.values}, constant_name, "VALUE")
            for c in words
        }
        self.types = frozenset(self._types.values())
        """The types of the choices of words."""
        self.mirrors = any(choice.mirroring for choice in words)
        """Whether some choice turns the plan round."""
        self._used: dict[str, ChosenField] = {}
        self._asked: dict[str, None] = {}

    # What a plan asks.

    def asks(self, condition: ChoiceIs, wanted: bool) -> str:
        """The test of a condition on what was chosen."""
        self._asked[condition.choice] = None
        field = self.own.choice(condition.choice)
        constant = f"{self._types[condition.choice]}.{self._value(condition)}"
        return f"{field} {'==' if wanted else '!='} {constant}"

    def mirrored(self, number: str) -> str:
        """A number that changes its sign where the plan is turned round."""
        if not self.mirrors:
            return number
        self._used[TURNED_ROUND] = self._turned_round()
        return f"mirrored({number})"

    @property
    def is_mirrored(self) -> bool:
        """Whether anything that was written so far changes its sign."""
        return TURNED_ROUND in self._used

    def amount(self, amount: Amount, unit: Unit) -> str:
        """A number that goes by what is chosen, in a unit."""
        parts = [
            _times(self._amount_of(name, unit), share, double(abs(share)))
            for name, share in amount.chosen
        ]
        rest = amount.base - self._chosen_base(amount.chosen)
        return _summed(parts, rest, double(abs(rest) / unit.size))

    def time(self, microseconds: int, chosen: Shares) -> str:
        """A time that goes by what is chosen, in nanoseconds."""
        parts = []
        for name, share in chosen:
            over = f" / {share.denominator}" if share.denominator != 1 else ""
            value = _times(self._time_of(name), share, str(abs(share.numerator)))
            parts.append(f"{value}{over}")
        rest = microseconds - self._chosen_base(chosen)
        return _summed(parts, rest, java_time(int(abs(rest))))

    def _chosen_base(self, chosen: Shares) -> Fraction:
        """What goes by the choices, as it is where nobody chooses."""
        settings = self.routine.settings
        return sum((settings[name].amount.base * share for name, share in chosen), Fraction(0))

    def _amount_of(self, name: str, unit: Unit) -> str:
        choice = self.choices.get(name)
        if isinstance(choice, RangeChoice):
            return self._of_range(choice, unit)
        rows = {word: double(row.in_unit(unit)) for word, row in self._rows(name).items()}
        return self._of_rows(name, unit_words(unit), "double", rows)

    def _time_of(self, name: str) -> str:
        choice = self.choices.get(name)
        if isinstance(choice, RangeChoice):
            return self._range_field(choice)
        rows = {word: java_time(_us(row)) for word, row in self._rows(name).items()}
        return self._of_rows(name, TIME, "long", rows)

    # What is printed.

    def codes(self) -> tuple[ChoiceCode, ...]:
        """The choices, in the order of the routine."""
        return tuple(
            self._words(choice) if isinstance(choice, Choice) else self._range(choice)
            for choice in self.choices.values()
        )

    def fields(self) -> Iterator[ChosenField]:
        """The fields that were used, in an order in which each can be set."""
        for name in self.choices:
            if name in self._asked:
                field = self.own.choice(name)
                yield ChosenField(self._types[name], field, field, "", True)
        yield from sorted(self._used.values(), key=lambda field: self._position(field.name))

    def _position(self, field: str) -> int:
        first = [TURNED_ROUND, *(self.own.choice(name) for name in self.choices)]
        return first.index(field) if field in first else len(first)

    def _words(self, choice: Choice) -> ChoiceCode:
        constants, java_type = self._constants[choice.name], self._types[choice.name]
        mirroring = [word for word in choice.values if word in choice.mirroring]
        turns = f"; {' and '.join(mirroring)} turns the plan round" if mirroring else ""
        return ChoiceCode(
            choice.name,
            java_type,
            self.own.choice(choice.name),
            tuple(ValueCode(constants[word], string(word)) for word in choice.values),
            f"{java_type}.{constants[choice.values[0]]}",
            comment(f"{' or '.join(choice.values)}{turns}"),
        )

    def _range(self, choice: RangeChoice) -> ChoiceCode:
        unit, is_time = choice.low.unit, choice.low.dimension is Dimension.TIME
        amounts = (choice.low, choice.high, choice.normal)
        low, high, normal = (self._literal(amount, unit) for amount in amounts)
        in_unit = [amount.in_unit(unit) for amount in amounts]
        counted = ", in nanoseconds" if is_time else f", in {unit_words(unit).replace('_', ' ')}"
        return ChoiceCode(
            choice.name,
            "long" if is_time else "double",
            self.own.choice(choice.name),
            (),
            normal,
            comment(f"from {choice.low} to {choice.high}{counted}"),
            string(unit.name),
            low,
            high,
            is_time,
            (
                double(in_unit[0]),
                double(in_unit[1]),
                double(step_of(in_unit[0], in_unit[1])),
                double(in_unit[2]),
            ),
            _nanos_of(unit) if is_time else "",
        )

    def _literal(self, amount: Amount, unit: Unit) -> str:
        if amount.dimension is Dimension.TIME:
            return java_time(_us(amount))
        return double(amount.in_unit(unit))

    # Fields.

    def _value(self, condition: ChoiceIs) -> str:
        return self._constants[condition.choice][condition.value]

    def _turned_round(self) -> ChosenField:
        tests = [
            f"{self.own.choice(name)} == {self._types[name]}.{self._constants[name][word]}"
            for name, choice in self.choices.items()
            if isinstance(choice, Choice)
            for word in choice.values
            if word in choice.mirroring
        ]
        # Two words that mirror turn it round twice, and each choice has but one word at a time.
        line = "Whether the plan is turned round; two words that mirror turn it round twice."
        return ChosenField("boolean", TURNED_ROUND, " ^ ".join(tests), line)

    def _rows(self, name: str) -> Mapping[str, Amount]:
        return self.routine.settings[name].rows

    def _of_rows(self, name: str, unit: str, java_type: str, rows: dict[str, str]) -> str:
        """The field of a setting whose value goes by a choice."""
        field = self.own.setting(name, unit)
        setting = self.routine.settings[name]
        kind, parameter = self._types[setting.choice], self.own.choice(setting.choice)
        *first, last = self.choices_of(setting.choice)
        constants = self._constants[setting.choice]
        tests = [f"{parameter} == {kind}.{constants[word]} ? {rows[word]} : " for word in first]
        said = ", ".join(f"{word} {row}" for word, row in setting.rows.items())
        line = comment(f"setting {name} by {setting.choice}: {said}")
        self._used[field] = ChosenField(java_type, field, f"{''.join(tests)}{rows[last]}", line)
        return field

    def choices_of(self, name: str) -> tuple[str, ...]:
        """The words of a choice."""
        choice = self.choices[name]
        assert isinstance(choice, Choice), "only words have rows"
        return choice.values

    def _range_field(self, choice: RangeChoice) -> str:
        """The field that holds what was chosen of a range, never outside of it."""
        java_type, field = self._range(choice).java_type, self.own.choice(choice.name)
        line = comment(f"choose {choice.name}: {choice.low} to {choice.high}")
        value = self._in_range(choice)
        self._used[field] = ChosenField(java_type, field, value, line, True)
        return field

    def _in_range(self, choice: RangeChoice) -> str:
        code = self._range(choice)
        return f"Math.max({code.low}, Math.min({code.high}, {code.parameter}))"

    def _of_range(self, choice: RangeChoice, unit: Unit) -> str:
        own = choice.low.unit
        if own.dimension is Dimension.TIME:
            value = f"{self._in_range(choice)} / {_nanos_of(unit)}"
        elif own == unit:
            return self._range_field(choice)
        else:
            value = f"Numbers.scaled({self._in_range(choice)}, {double(own.size / unit.size)})"
        in_unit = self.own.setting(choice.name, unit_words(unit))
        line = comment(f"choose {choice.name}: {choice.low} to {choice.high}, in {unit.name}")
        self._used[in_unit] = ChosenField("double", in_unit, value, line)
        return in_unit


def _times(value: str, share: Fraction, factor: str) -> str:
    """A value so many times, with its sign: ``-reachCm``, ``2.0 * reachCm``."""
    many = value if abs(share) == 1 else f"{factor} * {value}"
    return f"-{many}" if share < 0 else many


def _summed(parts: list[str], rest: Fraction, number: str) -> str:
    """All of it added up, the number that is the same in all variants last."""
    signed = [*parts, *([f"-{number}"] if rest < 0 else [number] if rest else [])]
    first, *others = signed
    more = (f" - {one[1:]}" if one.startswith("-") else f" + {one}" for one in others)
    return "".join([first, *more])


def _nanos_of(unit: Unit) -> str:
    """How many nanoseconds a unit of time has: a one and zeros."""
    return f"1e{len(str(int(unit.size * 1000))) - 1}"


def _us(amount: Amount) -> int:
    return int(amount.base)


def step_of(low: Fraction, high: Fraction) -> Fraction:
    """A round step that goes through a range in ten to twenty-five presses of a button."""
    if low == high:
        return Fraction(1)
    wanted, step = (high - low) / 10, Fraction(1)
    while step > wanted:
        step /= 10
    while step * 10 <= wanted:
        step *= 10
    return max(step * times for times in (1, 2, 5) if step * times <= wanted)
