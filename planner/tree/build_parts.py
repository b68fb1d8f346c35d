"""From Lark's tree of one line to the numbers and conditions in it."""

from __future__ import annotations

from typing import Any

from lark import Token, Transformer, v_args

from planner.text import Place, Source
from planner.tree import nodes as n


@v_args(inline=True)
class PartBuilder(Transformer[Token, Any]):
    """Builds the names, numbers and conditions of a line, by methods named after the grammar's
    rules.

    Children that the grammar marks as optional arrive as None when they were left out.
    """

    def __init__(self, source: Source) -> None:
        super().__init__()
        self._source = source
        self._number = 0
        self._end = 0

    def build(self, tree: Any, number: int, end_column: int) -> n.Statement:
        """The statement of `tree`, which was read from line `number` ending at `end_column`."""
        self._number, self._end = number, end_column
        statement: n.Statement = self.transform(tree)
        return statement

    def _place(self, token: Token) -> Place:
        return Place(self._source, self._number, token.column or 1, token.end_column or self._end)

    def _name(self, token: Token) -> n.Name:
        return n.Name(str(token), self._place(token))

    # Terminals.
    def NAME(self, token: Token) -> n.Name:
        return self._name(token)

    def TITLE(self, token: Token) -> str:
        return str(token)[1:-1]

    UNIT = NUMBER = ADDRESS = NAME

    # Values.
    def quantity(self, number: n.Name, unit: n.Name | None) -> n.Quantity:
        place = number.place if unit is None else number.place.through(unit.place)
        return n.Quantity(number.text, unit.text if unit else None, place)

    def name_value(self, minus: Token | None, name: n.Name) -> n.NameValue:
        place = self._place(minus).through(name.place) if minus else name.place
        return n.NameValue(name, minus is not None, place)

    def reading_value(self, mechanism: n.Name, reading: n.Name) -> n.ReadingValue:
        return n.ReadingValue(mechanism, reading, mechanism.place.through(reading.place))

    def times(self, factor: n.Name, atom: n.Atom) -> tuple[n.Name, n.Atom]:
        return factor, atom

    def total(self, *parts: Any) -> n.Value:
        """A number that stands alone is that number, not a sum of one."""
        if len(parts) == 1 and not isinstance(parts[0], tuple):
            alone: n.Atom = parts[0]
            return alone
        signs = (False, *(token.type == "MINUS" for token in parts[1::2]))
        terms = tuple(_term(sign, part) for sign, part in zip(signs, parts[::2], strict=True))
        return n.Sum(terms, _first_place(parts[0]).through(terms[-1].atom.place))

    def span(self, low: n.Quantity, high: n.Quantity) -> n.Span:
        return n.Span(low, high)

    def names(self, *names: n.Name) -> tuple[n.Name, ...]:
        return names

    # Conditions.
    def subject(self, first: n.Name, second: n.Name | None) -> n.Subject:
        return n.Subject(first, second)

    def comparison(self, subject: n.Subject, operator: Token, value: n.Value) -> n.Comparison:
        place = subject.first.place.through(value.place)
        return n.Comparison(subject, str(operator), value, place)

    def band(self, subject: n.Subject, tolerance: n.Value, centre: n.Value) -> n.Band:
        return n.Band(subject, tolerance, centre, subject.first.place.through(centre.place))

    def state(self, subject: n.Name, state: n.Name) -> n.State:
        return n.State(subject, state, subject.place.through(state.place))

    def sees(self, subject: n.Name, value: n.Name) -> n.Sees:
        return n.Sees(subject, value, subject.place.through(value.place))

    def negated(self, part: n.Condition) -> n.Negated:
        return n.Negated(part, part.place)

    def held(self, part: n.Condition, duration: n.Value | None) -> n.Condition:
        if duration is None:
            return part
        return n.HeldFor(part, duration, part.place.through(duration.place))

    def once(self, part: n.Condition) -> n.Once:
        return n.Once(part, part.place)

    def looks(self, part: n.Condition, least: n.Name, looks: n.Name) -> n.InLooks:
        return n.InLooks(part, least, looks, part.place.through(looks.place))

    def stays(self, subject: n.Subject, tolerance: n.Value, duration: n.Value) -> n.Stays:
        return n.Stays(subject, tolerance, duration, subject.first.place.through(duration.place))

    def unreadable(self, subject: n.Subject) -> n.Unreadable:
        last = subject.second or subject.first
        return n.Unreadable(subject, subject.first.place.through(last.place))

    def match_clock(self, operator: Token, value: n.Value) -> n.MatchClock:
        return n.MatchClock(str(operator), value, self._place(operator).through(value.place))

    def both(self, *parts: n.Condition) -> n.Condition:
        return _joined(n.Both, parts)

    def either(self, *parts: n.Condition) -> n.Condition:
        return _joined(n.Either, parts)

    def lanes_done(self, first: Token, done: Token) -> n.LanesDone:
        return n.LanesDone(first.type == "ALL_LANES", self._place(first).through(self._place(done)))

    def lane_done(self, word: Token, lane: n.Name, done: Token) -> n.LaneDone:
        return n.LaneDone(lane, self._place(word).through(self._place(done)))

    def lane_in(self, word: Token, lane: n.Name, _in: Token, step: n.Name) -> n.LaneIn:
        return n.LaneIn(lane, step, self._place(word).through(step.place))

    def choice_is(self, choice: n.Name, value: n.Name) -> n.ChoiceIs:
        return n.ChoiceIs(choice, value, choice.place.through(value.place))

    def memory_is(self, memory: n.Name, value: n.Name) -> n.MemoryIs:
        return n.MemoryIs(memory, value, memory.place.through(value.place))

    def memory_compared(self, memory: n.Name, operator: Token, value: n.Value) -> n.MemoryCompared:
        place = memory.place.through(value.place)
        return n.MemoryCompared(memory, str(operator), value, place)

    def counter_is(self, counter: n.Name, number: n.Name) -> n.CounterCompared:
        return n.CounterCompared(counter, "is", number, counter.place.through(number.place))

    def counter_compared(
        self, counter: n.Name, operator: Token, number: n.Name
    ) -> n.CounterCompared:
        place = counter.place.through(number.place)
        return n.CounterCompared(counter, str(operator), number, place)


def _term(negated: bool, part: n.Atom | tuple[n.Name, n.Atom]) -> n.Term:
    if isinstance(part, tuple):
        return n.Term(negated, part[0].text, part[1])
    return n.Term(negated, None, part)


def _first_place(part: n.Atom | tuple[n.Name, n.Atom]) -> Place:
    return part[0].place if isinstance(part, tuple) else part.place


def _joined(kind: type[n.Both] | type[n.Either], parts: tuple[n.Condition, ...]) -> n.Condition:
    """One part stands for itself; parts of the same kind are taken in, as `and` and `or` allow."""
    if len(parts) == 1:
        return parts[0]
    flat: list[n.Condition] = []
    for part in parts:
        flat.extend(part.parts if isinstance(part, kind) else (part,))
    return kind(tuple(flat), parts[0].place.through(parts[-1].place))
