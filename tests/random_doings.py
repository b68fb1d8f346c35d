"""What random plans tell, follow, remember and count beside the exits that they have."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import TypeVar

from random_plans import BUMPER, GATE, PLACE, TENTH_US, Draw

from planner.graph import Plan, unfold
from planner.model.condition import (
    All,
    Answers,
    Any,
    Compare,
    Condition,
    CounterCompare,
    Done,
    Held,
    Looks,
    MemoryCompare,
    MemoryIs,
    Not,
    Once,
    Reckoned,
    Source,
    Steady,
    Unreadable,
    Within,
)
from planner.model.memory import (
    Computed,
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
from planner.model.robot import Parameter, Sensor
from planner.model.routine import AfterExit, Given, Group, MatchExit, Routine, Rule, Step, WhenExit
from planner.model.units import UNITS, Amount, Unit

_Item = TypeVar("_Item")
_Exit = TypeVar("_Exit", WhenExit, AfterExit, MatchExit)
_SIGNS = ("<", "<=", ">", ">=")


def with_doings(plan: Plan, seed: int) -> Plan:
    """The plan under a name of its own, with lines of every kind; the same for the same seed.

    All numbers have few binary digits, so that sums of them are exact in whatever way they are
    added. What asks whether a wire can be read asks a range finder instead: in Java a wire always
    reads something.
    """
    return unfold(_Writer(plan.routine, Draw(seed)).routine(f"drawn_{seed}"))


class _Writer:
    def __init__(self, drawn: Routine, draw: Draw) -> None:
        self.drawn = drawn
        self.draw = draw
        robot = drawn.robot
        self.mechanisms = list(robot.mechanisms.values())
        self.mark, self.floor = robot.sensors["post_mark"], robot.sensors["floor_eye"]
        self.range, self.gyro = robot.sensors["range_front"], robot.sensors["gyro"]
        self.travelled = robot.mechanisms["drive"].readings["travelled"]
        self.arm = robot.mechanisms["arm"]
        cm, deg, ticks = UNITS["cm"], UNITS["deg"], UNITS["ticks"]
        self.numbers = [
            NumberMemory("far", self.amount(cm), PLACE),
            NumberMemory("near", self.amount(cm), PLACE),
            NumberMemory("ahead", self.amount(deg), PLACE),
            NumberMemory("height", self.amount(ticks), PLACE),
        ]
        words = ("middle", "left", "right")
        seen = draw.choice((self.mark, None))
        self.side = WordMemory("side", draw.choice((words, words[1:])), seen, PLACE)
        seen = draw.choice((self.floor, None, None))
        self.colour = WordMemory("colour", ("white", "red"), seen, PLACE)
        high = draw.randint(1, 3)
        self.counter = Counter("shots", 0, high, draw.randint(0, high), PLACE)
        self.tables = [
            Table("lift", self.side, {w: self.amount(ticks) for w in self.side.words}, PLACE),
            Table("way", self.colour, {w: self.amount(cm) for w in self.colour.words}, PLACE),
        ]

    def routine(self, name: str) -> Routine:
        """The whole routine."""
        memories: list[Memory] = [*self.numbers, self.side, self.colour, self.counter]
        return replace(
            self.drawn,
            name=name,
            steps={name: self.step(step) for name, step in self.drawn.steps.items()},
            groups={name: self.group(group) for name, group in self.drawn.groups.items()},
            rules=self.rules(0.2),
            memories={memory.name: memory for memory in memories},
            tables={table.name: table for table in self.tables},
        )

    def step(self, step: Step) -> Step:
        """A step with lines of every kind."""
        if step.ends_lane:
            return step
        commands = tuple(self.given() for _ in range(self.draw.choice((0, 1, 1, 2))))
        # The other lines of a block stand in the group of its name.
        if step.is_finish or step.name in self.drawn.groups:
            return replace(step, commands=commands)
        around = self.drawn.groups_around(step.name)
        return replace(
            step,
            commands=commands,
            whens=tuple(self.ending(self.when(one), around) for one in step.whens),
            afters=tuple(self.ending(self.after(one), around) for one in step.afters),
            rules=self.rules(0.2),
            counts=self.some(self.counting, 0.3),
            remembers=self.some(self.remember, 0.5),
        )

    def group(self, group: Group) -> Group:
        """The same for a group; only one that does a task remembers and counts, and a lane has no
        lines of its own."""
        if group.lane:
            return group
        around = (*self.around(group), group)
        group = replace(
            group,
            match_exits=tuple(self.ending(one, around) for one in group.match_exits),
            whens=tuple(self.ending(self.when(one), around) for one in group.whens),
            afters=tuple(self.ending(self.after(one), around) for one in group.afters),
            rules=self.rules(0.2),
        )
        if not group.task:
            return group
        remembers, counts = self.some(self.remember, 0.5), self.some(self.counting, 0.3)
        return replace(group, remembers=remembers, counts=counts)

    def around(self, group: Group) -> tuple[Group, ...]:
        """The groups that a group stands in, outermost first."""
        if not group.inside:
            return ()
        outer = self.drawn.groups[group.inside]
        return (*self.around(outer), outer)

    def ending(self, exit_: _Exit, around: tuple[Group, ...]) -> _Exit:
        """An exit that may end a task that it stands in, wherever it then leads."""
        tasks = ["", *(group.name for group in around if group.task)]
        count = None if isinstance(exit_, MatchExit) else exit_.count
        if isinstance(exit_, MatchExit) or count is None:
            return replace(exit_, restarts=self.draw.choice(tasks))
        count = replace(count, then_restarts=self.draw.choice(tasks))
        return replace(exit_, restarts=self.draw.choice(tasks), count=count)

    def some(self, make: Callable[[], _Item], share: float) -> tuple[_Item, ...]:
        """None, or one or two lines of a kind."""
        many = self.draw.choice((1, 1, 2)) if self.draw.random() < share else 0
        return tuple(make() for _ in range(many))

    # Lines.

    def rules(self, share: float) -> tuple[Rule, ...]:
        return self.some(
            lambda: Rule(self.condition(), replace(self.given(), keep=False), PLACE), share
        )

    def given(self) -> Given:
        mechanism = self.draw.choice(self.mechanisms)
        command = self.draw.choice(list(mechanism.commands.values()))
        numbers = tuple(self.argument(parameter) for parameter in command.parameters)
        return Given(mechanism, command, numbers, command.runs and self.draw.random() < 0.3, PLACE)

    def argument(self, parameter: Parameter) -> Number:
        return self.number(parameter.unit)

    def counting(self) -> Counting:
        by, to = self.draw.choice(((1, None), (-1, None), (-1, None), (0, self.counter.high)))
        return Counting(self.counter, by, to, PLACE)

    def remember(self) -> Remember:
        draw = self.draw
        if draw.random() < 0.6:
            memory = draw.choice(self.numbers)
            return Remember(memory, self.number(memory.unit, True), PLACE)
        words, sensor = draw.choice(((self.side, self.mark), (self.colour, self.floor)))
        value: Sensor | str = draw.choice((sensor, sensor, draw.choice(words.words)))
        return Remember(words, value, PLACE)

    def when(self, exit_: WhenExit) -> WhenExit:
        """An exit that waits for what it did, for something else too, or for that alone."""
        asked, more = self.readable(exit_.condition), self.condition()
        kinds: list[Condition] = [asked, asked, All((asked, more)), Any((asked, more)), more]
        return replace(exit_, condition=self.draw.choice(kinds), target=self.onward(exit_.target))

    def after(self, exit_: AfterExit) -> AfterExit:
        return replace(exit_, target=self.onward(exit_.target))

    def onward(self, target: str) -> str:
        """Where an exit leads, less often to a finish; what lanes lead to is left alone."""
        routine = self.drawn
        steps = [name for name, step in routine.steps.items() if not step.is_finish]
        lanes = any(group.is_block for group in routine.groups.values())
        if lanes or target in steps or self.draw.random() < 0.4:
            return target
        return self.draw.choice(steps)

    # Numbers.

    def amount(self, unit: Unit) -> Amount:
        return Amount(Fraction(self.draw.randrange(-160, 160), 2), unit)

    def number(self, unit: Unit, remembered: bool = False) -> Number:
        """A number, perhaps worked out; a factor in front of what is remembered again and again
        would take more and more digits."""
        draw = self.draw
        looked: list[Looked] = [*self.numbers, *self.tables]
        if remembered:
            looked += [self.travelled, self.range, self.gyro]
        fitting = [one for one in looked if one.unit and one.unit.dimension is unit.dimension]
        if not fitting or draw.random() < 0.3:
            return self.amount(unit)
        parts = {}
        for of in draw.sample(fitting, draw.randint(1, min(2, len(fitting)))):
            whole = (1, 1, -1)
            halves = (*whole, Fraction(1, 2), 2, Fraction(-3, 2))
            kept = remembered and isinstance(of, NumberMemory)
            parts[of] = Part(Fraction(draw.choice(whole if kept else halves)), of)
        fixed = draw.choice((Amount.zero(unit), self.amount(unit)))
        return Computed(fixed, tuple(parts.values()), "so much")

    # Conditions.

    def condition(self, depth: int = 1) -> Condition:
        leaf, draw = self.leaf(), self.draw
        if depth == 0 or draw.random() < 0.5:
            return leaf
        inner = self.condition(depth - 1)
        kinds: list[Callable[[], Condition]] = [
            lambda: Not(inner),
            lambda: All((inner, leaf)),
            lambda: Any((inner, leaf)),
            lambda: Held(inner, draw.choice((0, 1, 2)) * TENTH_US, PLACE),
            lambda: Once(inner, PLACE),
            lambda: Looks(inner, draw.randint(1, 2), draw.randint(2, 3), PLACE),
        ]
        return draw.choice(kinds)()

    def leaf(self) -> Condition:
        draw = self.draw
        sign, source = draw.choice(_SIGNS), draw.choice((self.travelled, self.range, self.gyro))
        unit = _unit(source)
        reach = Amount(Fraction(draw.randrange(1, 60), 2), unit)
        memory = draw.choice(self.numbers)
        words = draw.choice((self.side, self.colour))
        kinds: list[Callable[[], Condition]] = [
            lambda: MemoryIs(words, draw.choice(words.words), PLACE),
            lambda: MemoryCompare(memory, sign, self.number(memory.unit), PLACE),
            lambda: CounterCompare(
                self.counter, draw.choice((*_SIGNS, "is")), draw.randint(0, 2), PLACE
            ),
            lambda: Reckoned(source, sign, self.number(unit), None, PLACE),
            lambda: Reckoned(source, "within", self.number(unit), reach, PLACE),
            lambda: Compare(source, sign, self.amount(unit), PLACE),
            lambda: Within(source, reach, self.amount(unit), PLACE),
            lambda: Steady(source, reach, draw.choice((1, 2, 3)) * TENTH_US, PLACE),
            lambda: Answers(self.mark, draw.choice(self.mark.values), PLACE),
            lambda: Done(self.arm, PLACE),
            lambda: draw.choice((BUMPER, GATE)),
        ]
        return draw.choice(kinds)()

    def readable(self, condition: Condition) -> Condition:
        """The condition without questions that Java cannot ask."""
        match condition:
            case Unreadable():
                return Unreadable(self.range, PLACE)
            case Not(part):
                return Not(self.readable(part))
            case All(parts):
                return All(tuple(map(self.readable, parts)))
            case Any(parts):
                return Any(tuple(map(self.readable, parts)))
            case Held(part) | Once(part) | Looks(part):
                return replace(condition, part=self.readable(part))
            case _:
                return condition


def _unit(source: Source) -> Unit:
    assert source.unit is not None, "only numbers are compared"
    return source.unit
