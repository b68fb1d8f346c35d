"""A run as a storyboard: when, which step, what was seen, why it was left, what was sent."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction

from planner.graph import Plan
from planner.graph.run import (
    Commanded,
    Entered,
    Event,
    Finished,
    Left,
    LimitReached,
    Stopped,
    SwitchedOff,
)
from planner.graph.unfold import Exit
from planner.model.units import Unit, decimal_text
from planner.rehearsal import Number, Readings
from planner.rehearsal.facts import readings_of_exit, spoken_fact, spoken_number
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
) -> str:
    """The run in lines, at a time on the match clock; `last` asks for the end of it alone.

    `seen` are the readings in each pass in which something happened, by its time.
    """
    rows = list(_rows(plan, events, seen))
    shown = rows if last is None else rows[-last:]
    return in_columns(_COLUMNS, _without_repeats(shown), screen)


def clock(at_us: int) -> str:
    """A time on the match clock, for a column: hundredths of a second, more where it has more."""
    whole, rest = divmod(at_us, 1_000_000)
    digits = f"{rest:06}"
    return f"{whole}.{digits[:2]}{digits[2:].rstrip('0')} s"


def reason(exit_: Exit) -> str:
    """Why an exit is taken, as it is written: ``bumper pressed``, ``after 4 s``."""
    # The line itself is shown, so that every statement a plan may hold is told in its own words.
    words = " ".join(exit_.place.words.split())
    front = words.partition(", go to ")[0]
    counted_out = ", for which the count has run out" if exit_.overflow else ""
    return front.removeprefix("when ") + counted_out


def facts(plan: Plan, exits: Iterable[Exit], readings: Readings) -> list[str]:
    """What the exits' conditions look at, and what that says, as a scenario would say it."""
    names = [name for exit_ in exits for name in readings_of_exit(exit_)]
    return [fact(plan, name, readings.get(name)) for name in dict.fromkeys(names)]


def fact(plan: Plan, reading: str, value: Number | str | bool | None) -> str:
    """One reading and what it says, a number to hundredths."""
    if value is not None and not isinstance(value, bool | str):
        value = round(Fraction(value), 2)
    return spoken_fact(plan.routine.robot, reading, value, _unit(plan, reading))


def number_text(value: Number, unit: Unit | None) -> str:
    """A number of a reading, to hundredths."""
    return spoken_number(round(Fraction(value), 2), unit)


def happened(event: Event) -> str:
    """An event in a few words."""
    match event:
        case Entered(_, step):
            return f"enters {step}"
        case Left(_, step, exit_):
            return f"leaves {step}: {reason(exit_)}"
        case Commanded(_, mechanism, command, arguments):
            numbers = ", ".join(_plain(amount.number, amount.unit) for amount in arguments)
            return f"{mechanism} {command} {numbers}".rstrip()
        case SwitchedOff(_, mechanism):
            return f"{mechanism} off"
        case Finished(_, step):
            return f"finished in {step}"
        case LimitReached(_, step, cut_off):
            return f"cut off in {step} by the limit" if cut_off else "the limit is reached"
        case Stopped(_, step):
            return f"stopped in {step} by the operator"


def _rows(
    plan: Plan, events: Sequence[Event], seen: Mapping[int, Readings]
) -> Iterator[tuple[str, str, str]]:
    sent: list[str] = []
    at = ""
    for event in events:
        if isinstance(event, Commanded | SwitchedOff):
            sent.append(happened(event))
            continue
        if sent:
            yield "", "sends", ", ".join(sent)
            sent = []
        at = clock(event.at_us)
        match event:
            case Entered(_, name):
                title = plan.step(name).title
                yield at, "in", sentence(f'{name} "{title}"' if title else name, "utf-8")
            case Left(at_us, name, exit_):
                said = facts(plan, plan.exits[name], seen.get(at_us, {}))
                if said:
                    yield at, "sees", ", ".join(said)
                yield at, "out", reason(exit_)
            case _:
                yield at, "end", happened(event)
    if sent:
        yield "", "sends", ", ".join(sent)


def _without_repeats(rows: Iterable[tuple[str, str, str]]) -> Iterator[tuple[str, str, str]]:
    """The rows with each time shown once."""
    before = ""
    for at, label, text in rows:
        yield "" if at == before else at, label, text
        before = at or before


def _plain(number: Fraction, unit: Unit) -> str:
    return f"{decimal_text(number)} {unit.name}"


def _unit(plan: Plan, reading: str) -> Unit | None:
    robot = plan.routine.robot
    if reading in robot.sensors:
        return robot.sensors[reading].unit
    mechanism, _, name = reading.partition(" ")
    own = robot.mechanisms.get(mechanism)
    return own.readings[name].unit if own and name in own.readings else None
