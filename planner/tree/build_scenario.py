"""From Lark's tree of one line of a scenario to the nodes of `nodes`."""

from __future__ import annotations

from typing import Any

from lark import Token, Transformer, v_args

from planner.tree import nodes as n


@v_args(inline=True)
class ScenarioBuilder(Transformer[Token, Any]):
    """The part of `LineBuilder` for scenarios; the methods are named after the grammar's rules."""

    def scenario(self, name: n.Name, title: str | None) -> n.ScenarioHead:
        return n.ScenarioHead(name, title or "")

    def every_pass(self, value: n.Quantity) -> n.EveryPass:
        return n.EveryPass(value)

    def cue(self, *parts: Any) -> n.Cue:
        *step, at, fact = parts
        return n.Cue(step[0] if step else None, at, fact)

    def ramp(
        self,
        step: n.Name | None,
        start: n.Quantity,
        end: n.Quantity,
        subject: n.Subject,
        low: n.Value,
        high: n.Value,
    ) -> n.Ramp:
        place = subject.first.place.through(high.place)
        return n.Ramp(step, start, end, subject, low, high, place)

    def not_done(self, mechanism: n.Name, word: n.Name) -> n.NotDone:
        return n.NotDone(mechanism, word, mechanism.place.through(word.place))

    def number_fact(self, subject: n.Subject, value: n.Value) -> n.NumberFact:
        return n.NumberFact(subject, value, subject.first.place.through(value.place))

    def must_visit(self, steps: tuple[n.Name, ...]) -> n.MustVisit:
        return n.MustVisit(steps)

    def must_finish(self, finish: n.Name | None, by: n.Quantity | None) -> n.MustFinish:
        return n.MustFinish(finish, by)

    def must_be_cut_off(self) -> n.MustBeCutOff:
        return n.MustBeCutOff()

    def must_give(
        self,
        negated: Token | None,
        mechanism: n.Name,
        command: n.Name,
        *arguments: n.Quantity | None,
    ) -> n.MustGive:
        values = tuple(a for a in arguments if a is not None)
        return n.MustGive(negated is not None, mechanism, command, values)
