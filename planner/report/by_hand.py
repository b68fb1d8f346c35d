"""The screen of a run by hand: what the plan does, what it waits for, and what can be set."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.graph.run import Commanded, Event, Left, LimitReached
from planner.model.memory import NumberMemory
from planner.model.routine import Group, Step, step_in_words
from planner.model.units import seconds_text
from planner.rehearsal import Asked, Number
from planner.rehearsal.choosing import spoken_choices
from planner.rehearsal.facts import reason
from planner.rehearsal.handles import Handle
from planner.rehearsal.session import PASS_US, Session
from planner.report.columns import Cell, Column, in_columns
from planner.report.prose import sentence
from planner.report.screen import Role, Screen
from planner.report.storyboard import as_sent, clock, happened, number_text

_LABEL = Column(8)
_TWO_COLUMNS = 72
"""From that width on there is room for two sensors side by side."""
_LATEST = 6
"""How many of the latest events are shown."""


def help_page(handles: Sequence[Handle], screen: Screen) -> str:
    """All that can be typed, with the keys of this plan's own sensors."""
    rows: list[tuple[Cell, Cell]] = [
        ("Enter", "lets time pass until something happens"),
        ("1.5 s", f"lets that much time pass, in passes of {PASS_US // 1000} ms"),
        *_setting_rows(handles),
        ("back", "goes back to before the last thing you typed"),
        ("sensors", "shows every sensor of the robot, not only what the plan waits for"),
        ("save good_run", "keeps the run so far as a scenario for planner rehearse to play"),
        ("help", "shows this page"),
        ("quit", "ends the run; so does Ctrl-D"),
    ]
    truths = (
        "What a step waits for is true or false. `not yet` is true, but not for long enough. "
        "`unknown` is what cannot be read: no exit is taken for it."
    )
    page = in_columns((Column(15), Column()), rows, screen)
    return page + "\n" + in_columns((Column(),), [(truths,)], screen)


def _setting_rows(handles: Sequence[Handle]) -> Iterator[tuple[Cell, Cell]]:
    """How to set one reading of each kind."""
    words = next((handle for handle in handles if handle.words), None)
    number = next((handle for handle in handles if handle.unit), None)
    done = next((handle for handle in handles if handle.is_done), None)
    if words:
        yield words.key, f"sets {words.reading} to its other or its next answer"
        yield f"{words.key} {words.words[0]}", "sets it to that; its whole name does as well"
    if number and number.unit:
        yield f"{number.key} 7 {number.unit.name}", f"sets {number.reading}, in any unit that fits"
        yield f"{number.key} unreadable", "unplugs it"
    if done:
        yield done.reading, "reports done, as the robot's own code would"
        yield f"not {done.reading}", "takes that back"


def by_hand_screen(
    session: Session, handles: Sequence[Handle], screen: Screen, all_sensors: bool = False
) -> str:
    """The whole screen, without the line to type on; with `all_sensors` the unused ones too."""
    blocks = [
        _head(session, screen),
        _rules(session, screen),
        in_columns((_LABEL, Column()), _steps(session), screen),
        _waits(session, screen),
        _sensors(session, handles, screen, all_sensors),
        in_columns((_LABEL, Column()), _latest(session), screen),
    ]
    return "".join(blocks)


def _head(session: Session, screen: Screen) -> str:
    routine = session.plan.routine
    limit = seconds_text(routine.limit_us)
    time = f"match clock {clock(session.now_us)} of {limit}"
    name = sentence(f'{routine.name} "{routine.title}"' if routine.title else routine.name, "utf-8")
    columns = (Column(), Column(len(time), right=True))
    return in_columns(columns, [((Role.FILE, name), time)], screen) + "\n"


def _rules(session: Session, screen: Screen) -> str:
    """What was chosen, and the requirements that the run has broken."""
    rows: list[tuple[Cell, Cell]] = []
    if session.choices:
        rows.append((_label("Chosen"), spoken_choices(session.choices)))
    for number, broken in enumerate(session.broken()):
        words = " ".join(broken.requirement.place.words.split())
        told = sentence(f"{words}: {broken.seen}", "utf-8")
        rows.append((_label("" if number else "Broken"), (Role.FAILED, told)))
    return in_columns((_LABEL, Column()), rows, screen) if rows else ""


def _steps(session: Session) -> Iterator[tuple[Cell, Cell]]:
    """The active steps, and what every mechanism follows now."""
    plan = session.plan
    for active in session.machine.active():
        step, outer = plan.step(active.step), plan.outer.get(active.step, frozenset())
        for group, since_us in session.around(active.step):
            # What is around all lanes is shown with the block, and that as a step.
            if group.name not in outer and group.name != active.step:
                yield _label("In"), f"{_named(group)}, for {clock(since_us)}"
        lane = plan.routine.lane_around(active.step)
        front = f"{lane.lane}: " if lane else ""
        name = "done" if step.ends_lane else _named(step)
        since = clock(session.now_us - active.entered_us)
        yield _label("Lane" if lane else "Step"), f"{front}{name}, for {since}"
    now = session.told().values()
    runs = [as_sent(one) for one in now if _runs(session, one)]
    holds = [as_sent(one) for one in now if not _runs(session, one)]
    yield _label("Runs"), ", ".join(runs) or "nothing"
    if holds:
        yield _label("Holds"), ", ".join(holds)
    knows = list(_knows(session))
    if knows:
        yield _label("Knows"), ", ".join(knows)


def _knows(session: Session) -> Iterator[str]:
    """What memories and counters hold."""
    for name, value in session.machine.state.remembered.items():
        memory = session.plan.routine.memories[name]
        if isinstance(memory, NumberMemory) and not isinstance(value, str):
            yield f"{name} {number_text(value, memory.unit)}"
        else:
            yield f"{name} {value}"


def _named(part: Step | Group) -> str:
    title = f' "{part.title}"' if part.title else ""
    return sentence(part.name + title, "utf-8")


def _runs(session: Session, told: Commanded) -> bool:
    mechanism = session.plan.routine.robot.mechanisms[told.mechanism]
    return mechanism.commands[told.command].runs


def _waits(session: Session, screen: Screen) -> str:
    """Every exit in the order it is asked: what for, how that stands, and where it leads."""
    end = session.end
    if end is not None:
        return in_columns((_LABEL, Column()), [(_label("Over"), _end(end))], screen)
    rows: list[tuple[Cell, ...]] = []
    several = len(session.machine.active()) > 1
    for asked in session.asked():
        whose = f"{asked.exit.source}: " if several else ""
        label = _label("Waits" if not rows else "")
        rows.append((label, whose + reason(asked.exit), _stands(session, asked), _leads(asked)))
    targets = max((len(str(row[3])) for row in rows), default=0)
    columns = (_LABEL, Column(), Column(12), Column(min(24, max(8, targets))))
    return in_columns(columns, rows, screen) if rows else ""


def _end(end: Event) -> str:
    if isinstance(end, LimitReached):
        return f"{happened(end)}: this run failed; type back, save NAME or quit"
    return f"{happened(end)}; type back, save NAME or quit"


def _stands(session: Session, asked: Asked) -> Cell:
    """Whether an exit is true, or the time it still has."""
    if asked.due_us is not None:
        return f"{clock(max(0, asked.due_us - session.now_us))} left"
    if asked.truth > 0:
        return Role.PASSED, "true"
    if asked.truth == 0:
        return Role.WARNING, "unknown"
    return "not yet" if asked.in_time else "false"


def _leads(asked: Asked) -> str:
    times, target = asked.times_left, asked.exit.target
    return f"to {target if target == step_in_words(target) else 'done'}" + (
        f" ({times} more)" if times is not None else ""
    )


def _sensors(session: Session, handles: Sequence[Handle], screen: Screen, all_sensors: bool) -> str:
    """Keys, names and values in two columns, those the plan waits for or all of them."""
    shown = [handle for handle in handles if handle.used or all_sensors]
    cells: list[tuple[Cell, Cell, Cell]] = [
        (handle.key, handle.reading, _value(session, handle)) for handle in shown
    ]
    names = min(20, max((len(handle.reading) for handle in shown), default=1))
    if screen.width < _TWO_COLUMNS:
        rows = [(_label("" if number else "Sensors"), *cell) for number, cell in enumerate(cells)]
        return in_columns((_LABEL, Column(1), Column(names), Column()), rows, screen)
    half = (len(cells) + 1) // 2
    empty: tuple[Cell, Cell, Cell] = ("", "", "")
    pairs = zip(cells[:half], [*cells[half:], empty], strict=False)
    wide = [
        (_label("" if number else "Sensors"), *left, *right)
        for number, (left, right) in enumerate(pairs)
    ]
    reading = (Column(1), Column(names), Column())
    return in_columns((_LABEL, *reading, *reading), wide, screen)


def _value(session: Session, handle: Handle) -> str:
    value: Number | str | bool | None = session.world.shown(handle.reading)
    if value is None:
        return "unreadable"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return value
    return number_text(value, handle.unit)


def _latest(session: Session) -> Iterator[tuple[Cell, Cell]]:
    """What happened last, each pass on a line: in the latest move, or else before it."""
    before = [event for event in session.events if event.at_us == session.events[-1].at_us]
    by_time: dict[int, list[str]] = {}
    for event in session.latest or before:
        # A step that is left is told by the exit that it was left by.
        text = f"out: {reason(event.exit)}" if isinstance(event, Left) else happened(event)
        by_time.setdefault(event.at_us, []).append(text)
    for number, (at_us, said) in enumerate(list(by_time.items())[-_LATEST:]):
        yield _label("Latest" if number == 0 else ""), f"{clock(at_us)}  {', '.join(said)}"


def _label(text: str) -> Cell:
    return Role.LABEL, text
