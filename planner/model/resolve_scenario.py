"""From the lines of a scenario to the scenario, names resolved."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from planner.findings import Slip
from planner.model.choices import Choice, Chosen, RangeChoice
from planner.model.condition import Answers, Done, Unresolved
from planner.model.ledger import Ledger, broken_words, declare, perhaps_there
from planner.model.resolve_commands import CommandResolver
from planner.model.resolve_condition import ConditionResolver
from planner.model.robot import STATES, Robot
from planner.model.routine import Routine
from planner.model.scenario import (
    DEFAULT_PASS_US,
    Cue,
    Demand,
    MustBeCutOff,
    MustFinish,
    MustGive,
    MustVisit,
    Ramp,
    Scenario,
)
from planner.model.units import Amount, Dimension
from planner.model.values import plain_amount, time_us
from planner.text import Place
from planner.tree import Parsed
from planner.tree import nodes as n


def resolve_scenarios(
    parsed: Parsed, routine: Routine
) -> tuple[tuple[Scenario, ...], tuple[Slip, ...]]:
    """The scenarios of a file of their own, for a routine that is already resolved, and the slips.

    The parser's own slips are not repeated. Lines that belong in a routine are slips here.
    """
    ledger = Ledger(broken_words(parsed.file.lines) | routine.robot.broken_words)
    chosen = Chosen(routine.choices)
    conditions = ConditionResolver(ledger, routine.robot, routine.settings, chosen)
    # The steps of a task go by their own names, and by that of the step that does the task.
    steps = {
        part: step.is_finish
        for step in routine.steps.values()
        for part in step.path
        if not step.ends_lane
    }
    resolver = ScenarioResolver(ledger, routine.robot, conditions, steps)
    scenarios = tuple(resolver.resolve_all(parsed.file.lines))
    lines = parsed.file.lines
    if not any(isinstance(line.statement, n.RoutineHead) for line in lines) and not perhaps_there(
        lines, "routine"
    ):
        top = Place(parsed.file.source, 1, 1, 2)
        ledger.add("missing-line", top, "routine", example=f"routine {routine.name}")
    for line in parsed.file.lines:
        match line.statement:
            case n.RoutineHead(name):
                if name.text != routine.name:
                    ledger.add("scenarios-of-another", name.place, name.text, routine=routine.name)
            case n.ScenarioHead() | n.Broken():
                pass
            case _:
                ledger.add("line-in-scenarios", line.place, line.place.words.split()[0])
    return scenarios, tuple(ledger.slips)


class ScenarioResolver:
    """Resolves scenarios against one routine's robot, settings and steps.

    `steps` says of each name whether it is a finish.
    """

    def __init__(
        self,
        ledger: Ledger,
        robot: Robot,
        conditions: ConditionResolver,
        steps: Mapping[str, bool],
    ) -> None:
        self.ledger = ledger
        self.robot = robot
        self.conditions = conditions
        self.steps = steps
        # What is sent is told as the robot gets it, whichever way a choice turns the plan.
        as_sent = Chosen(conditions.chosen.choices)
        self.commands = CommandResolver(ledger, robot, conditions.names, as_sent)

    def resolve_all(self, lines: Iterable[n.Line]) -> Iterator[Scenario]:
        """The scenarios among some lines; a name that is taken is a slip."""
        taken: dict[str, Place] = {}
        for line in lines:
            head = line.statement
            if isinstance(head, n.ScenarioHead) and declare(
                self.ledger, head.name, taken, "scenario"
            ):
                taken[head.name.text] = head.name.place
                with self.ledger.inside(""):
                    yield self.resolve(line, head)

    def resolve(self, line: n.Line, head: n.ScenarioHead) -> Scenario:
        """The scenario of a line and the lines under it; what makes no sense is a slip."""
        pass_us = DEFAULT_PASS_US
        choices: dict[str, str | Amount] = {}
        cues: list[Cue] = []
        ramps: list[Ramp] = []
        demands: list[Demand] = []
        for under in line.under:
            match under.statement:
                case n.Chosen(choice, value):
                    choices.update(self._chosen(choice, value))
                case n.EveryPass(value):
                    pass_us = self._time(value, "a pass", least=1) or pass_us
                case n.Cue() as cue:
                    cues.extend(self._cue(cue, under.place))
                case n.Ramp() as ramp:
                    ramps.extend(self._ramp(ramp, under.place))
                case n.MustVisit() | n.MustFinish() | n.MustBeCutOff() | n.MustGive() as demand:
                    demands.extend(self._demand(demand, under.place))
                case _:
                    pass
        return Scenario(
            head.name.text,
            head.title,
            pass_us,
            tuple(cues),
            tuple(ramps),
            tuple(demands),
            head.name.place,
            incomplete=self.ledger.troubled or any(part.salvaged for part in (line, *line.under)),
            choices=choices,
        )

    def _time(self, value: n.Quantity, whose: str, least: int = 0) -> int | None:
        amount = plain_amount(self.ledger, value, Dimension.TIME, whose)
        return time_us(self.ledger, amount, value.place, least)

    def _step(self, name: n.Name | None) -> str | None:
        """The step's name, empty where none is written; None and a slip where it is unknown."""
        if name is None:
            return ""
        if name.text in self.steps:
            return name.text
        self.ledger.unknown("unknown-step", name, self.steps, where="scenario")
        return None

    def _chosen(self, name: n.Name, value: n.Name | n.Quantity) -> dict[str, str | Amount]:
        """What a scenario chooses; nothing and a slip where it cannot be chosen."""
        choices = self.conditions.chosen.choices
        choice = choices.get(name.text)
        if choice is None:
            self.ledger.unknown("unknown-choice", name, choices)
        elif isinstance(choice, Choice) and isinstance(value, n.Name):
            if value.text in choice.values:
                return {choice.name: value.text}
            self.ledger.unknown("unknown-value", value, choice.values, choice=choice.name)
        elif isinstance(choice, RangeChoice) and isinstance(value, n.Quantity):
            low, high = choice.low, choice.high
            amount = plain_amount(self.ledger, value, low.dimension, f"`{choice.name}`")
            if amount and low.base <= amount.base <= high.base:
                return {choice.name: amount}
            if amount:
                self.ledger.add(
                    "choice-out-of-range", value.place, str(amount), low=str(low), high=str(high)
                )
        else:
            known = choice.ends if isinstance(choice, Choice) else (str(choice.normal),)
            place = value.place
            self.ledger.add("unknown-value", place, place.words, known, choice=choice.name)
        return {}

    # What the sensors do.

    def _cue(self, written: n.Cue, place: Place) -> list[Cue]:
        step = self._step(written.step)
        at_us = self._time(written.at, "the moment")
        said = self._fact(written.fact)
        if step is None or at_us is None or said is None:
            return []
        reading, value = said
        return [Cue(step, at_us, reading, value, place)]

    def _fact(self, fact: n.Fact) -> tuple[str, Amount | str | bool | None] | None:
        """The reading a fact is about and its value; None where it makes no sense."""
        match fact:
            case n.State() | n.Sees():
                return self._answer(fact)
            case n.NotDone(mechanism, word, place):
                return self._not_done(n.State(mechanism, word, place))
            case n.NumberFact(subject, n.NameValue(word), place) if self._is_answer(subject):
                self._spoken_with_is(subject.first, word, place)
                return None
            case n.NumberFact(subject, value, place):
                source = self.conditions.source(subject, place)
                amount = self.conditions.amount(value, source, subject)
                return (source.spoken, amount) if source and amount else None
            case n.Unreadable(subject, place):
                source = self.conditions.any_source(subject, place)
                return (source.spoken, None) if source else None

    def _is_answer(self, subject: n.Subject) -> bool:
        """Whether a fact is about something that answers with a word, and no number."""
        sensor = self.robot.sensors.get(subject.first.text)
        worded = sensor is not None and sensor.unit is None
        return subject.second is None and (worded or subject.first.text in self.robot.mechanisms)

    def _spoken_with_is(self, subject: n.Name, word: n.Name, place: Place) -> None:
        """``bumper is pressed``: numbers are said with `is`, and answers without."""
        if not isinstance(self.conditions.resolve(n.State(subject, word, place)), Unresolved):
            known = [f"{subject.text} {word.text}"]
            words = place.words
            self.ledger.add("wrong-question", place, words, known, sensor=subject.text, kind="is")

    def _answer(self, fact: n.State | n.Sees) -> tuple[str, str | bool] | None:
        match self.conditions.resolve(fact):
            case Answers(sensor, value):
                return (sensor.name, value)
            case Done(mechanism):
                return (f"{mechanism.name} done", True)
            case _:
                return None

    def _not_done(self, written: n.State) -> tuple[str, bool] | None:
        """`not` goes with `done` alone: a sensor has a word of its own for the other state."""
        said = self._answer(written)
        if said is None or said[1] is True:
            return (said[0], False) if said else None
        sensor = self.robot.sensors[said[0]]
        other = [value for value in sensor.values if value != said[1]]
        known = [f"{sensor.name} {value}" for value in other if sensor.kind in STATES]
        words = f"not {written.place.words}"
        self.ledger.add(
            "wrong-question", written.place, words, known, sensor=sensor.name, kind="not"
        )
        return None

    def _ramp(self, written: n.Ramp, place: Place) -> list[Ramp]:
        step = self._step(written.step)
        start_us = self._time(written.start, "the moment")
        end_us = self._time(written.end, "the moment")
        source = self.conditions.source(written.subject, written.place)
        low = self.conditions.amount(written.low, source, written.subject)
        high = self.conditions.amount(written.high, source, written.subject)
        if start_us is not None and end_us is not None and start_us >= end_us:
            span = written.start.place.through(written.end.place)
            low_text, _, high_text = span.words.partition(" to ")
            self.ledger.add("span-backwards", span, span.words, low=low_text, high=high_text)
            return []
        if step is None or start_us is None or end_us is None or not (source and low and high):
            return []
        return [Ramp(step, start_us, end_us, source.spoken, low, high, place)]

    # What must be seen.

    def _demand(
        self, written: n.MustVisit | n.MustFinish | n.MustBeCutOff | n.MustGive, place: Place
    ) -> list[Demand]:
        match written:
            case n.MustVisit(names):
                steps = [self._step(name) for name in names]
                whole = tuple(step for step in steps if step)
                return [MustVisit(whole, place)] if len(whole) == len(steps) else []
            case n.MustFinish(name, by):
                by_us = self._time(by, "the moment") if by else None
                finish = self._finish(name) if name else None
                return [MustFinish(finish, by_us, place)] if finish or not name else []
            case n.MustBeCutOff():
                return [MustBeCutOff(place)]
            case n.MustGive():
                return self._give(written, place)

    def _finish(self, name: n.Name) -> str | None:
        if self.steps.get(name.text) is False:
            finishes = [step for step, is_finish in self.steps.items() if is_finish]
            self.ledger.add("not-a-finish", name.place, name.text, finishes)
            return None
        return self._step(name)

    def _give(self, written: n.MustGive, place: Place) -> list[Demand]:
        found = self.commands.command(written.mechanism, written.command)
        if found is None:
            return []
        owner, command = found
        numbers = None
        if written.arguments:
            told = written.mechanism.place.through(written.arguments[-1].place)
            numbers = self.commands.numbers(written.arguments, owner, command, told)
            if numbers is None:
                return []
        return [MustGive(owner.name, command.name, written.negated, place, numbers)]
