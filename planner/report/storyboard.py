"""A run as a storyboard: when, which step, what was seen, why it was left, what was sent."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from planner.graph import Plan
from planner.graph.run import (
    Commanded,
    Counted,
    Entered,
    Event,
    Finished,
    Left,
    LimitReached,
    Remembered,
    Stopped,
    SwitchedOff,
)
from planner.graph.unfold import Exit
from planner.model.choices import Variant, normal_variant
from planner.model.routine import Rule, step_in_words
from planner.model.spoken import spoken_condition
from planner.model.units import Unit, decimal_text
from planner.rehearsal import Number, Readings
from planner.rehearsal.choosing import spoken_choices
from planner.rehearsal.facts import fact, readings_of, readings_of_exit, reason, spoken_number
from planner.report.columns import Column, in_columns
from planner.report.prose import sentence
from planner.report.screen import Screen

_COLUMNS = (Column(9, right=True), Column(5), Column())


def storyboard(
    plan: Plan,
    events: Sequence[Event],
    seen: Mapping[int, Readings],
    screen: Screen,
    last: int | None = None,
    chosen: Variant | None = None,
) -> str:
    """The run in lines, at a time on the match clock; `last` asks for the end of it alone.

    In front stands what was `chosen`, with what holds where nobody chose.
    `seen` are the readings in each pass in which something happened, by its time.
    """
    rows = list(_rows(plan, events, seen))
    shown = rows if last is None else rows[-last:]
    choices = plan.routine.choices
    if choices:
        told = spoken_choices({**normal_variant(choices), **(chosen or {})})
        shown.insert(0, ("", "with", told))
    return in_columns(_COLUMNS, _without_repeats(shown), screen)


def clock(at_us: int) -> str:
    """A time on the match clock, for a column: hundredths of a second, more where it has more."""
    whole, rest = divmod(at_us, 1_000_000)
    digits = f"{rest:06}"
    return f"{whole}.{digits[:2]}{digits[2:].rstrip('0')} s"


def facts(plan: Plan, exits: Iterable[Exit], readings: Readings) -> list[str]:
    """What the exits' conditions look at, and what that says, as a scenario would say it."""
    names = [name for exit_ in exits for name in readings_of_exit(exit_)]
    return [fact(plan, name, readings.get(name)) for name in dict.fromkeys(names)]


def number_text(value: Number, unit: Unit | None) -> str:
    """A number of a reading, to hundredths."""
    return spoken_number(round(Fraction(value), 2), unit)


def happened(event: Event) -> str:
    """An event in a few words."""
    match event:
        case Entered(_, step):
            return f"enters {step_in_words(step)}"
        case Left(_, step, exit_):
            return f"leaves {step}: {reason(exit_)}"
        case Commanded():
            by = f" (whenever {spoken_condition(event.rule.condition)})" if event.rule else ""
            return as_sent(event) + by
        case SwitchedOff(_, mechanism):
            return f"{mechanism} off"
        case Remembered(_, memory, value):
            said = value if isinstance(value, str) else number_text(value.number, value.unit)
            return f"memory {memory} is {said}"
        case Counted(_, counter, number):
            return f"counter {counter} is {number}"
        case Finished(_, step):
            return f"finished in {step}"
        case LimitReached(_, step, cut_off):
            return f"cut off in {step} by the limit" if cut_off else "the limit is reached"
        case Stopped(_, step):
            return f"stopped in {step} by the operator"


def as_sent(event: Commanded) -> str:
    """A command in a few words, whoever gave it."""
    numbers = ", ".join(_plain(amount.number, amount.unit) for amount in event.arguments)
    return f"{event.mechanism} {event.command} {numbers}".rstrip()


def _rows(
    plan: Plan, events: Sequence[Event], seen: Mapping[int, Readings]
) -> Iterator[tuple[str, str, str]]:
    sent: list[str] = []
    at = ""
    for event in events:
        if isinstance(event, SwitchedOff) or (isinstance(event, Commanded) and not event.rule):
            sent.append(happened(event))
            continue
        if sent:
            yield "", "sends", ", ".join(sent)
            sent = []
        if isinstance(event, Commanded) and event.rule:
            yield from _by_rule(plan, event, event.rule, seen)
            continue
        at = clock(event.at_us)
        match event:
            case Entered(_, name):
                title = plan.step(name).title
                shown = step_in_words(name)
                yield at, "in", sentence(f'{shown} "{title}"' if title else shown, "utf-8")
            case Left(at_us, name, exit_):
                said = facts(plan, plan.asked_of(name), seen.get(at_us, {}))
                if said:
                    yield at, "sees", ", ".join(said)
                # While lanes run, several steps are active.
                whose = f"{name}: " if name in plan.outer or name in plan.begins else ""
                yield at, "out", whose + reason(exit_)
            case Remembered() | Counted():
                yield at, "notes", happened(event)
            case _:
                yield at, "end", happened(event)
    if sent:
        yield "", "sends", ", ".join(sent)


def _by_rule(
    plan: Plan, event: Commanded, rule: Rule, seen: Mapping[int, Readings]
) -> Iterator[tuple[str, str, str]]:
    """What a side rule saw and sent; the step goes on."""
    at = clock(event.at_us)
    names = dict.fromkeys(readings_of(rule.condition))
    said = [fact(plan, name, seen.get(event.at_us, {}).get(name)) for name in names]
    if said:
        yield at, "sees", ", ".join(said)
    yield at, "rule", f"whenever {spoken_condition(rule.condition)}, {as_sent(event)}"


def _without_repeats(rows: Iterable[tuple[str, str, str]]) -> Iterator[tuple[str, str, str]]:
    """The rows with each time shown once."""
    before = ""
    for at, label, text in rows:
        yield "" if at == before else at, label, text
        before = at or before


def _plain(number: Fraction, unit: Unit) -> str:
    return f"{decimal_text(number)} {unit.name}"
