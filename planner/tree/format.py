"""From tree back to text, in the canonical layout."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from planner.tree import nodes as n

INDENT = "  "


def format_file(file: n.File) -> str:
    """The text of a tree in the canonical layout: two spaces a level, single spaces between words.

    Comments and blank lines stay (several blank lines become one), and so do lines that could not
    be read. Reading the result gives an equal tree.
    """
    text = "\n".join(_squeezed(_lines(file.lines, 0), file.tail))
    return text.strip("\n") + "\n" if text.strip("\n") else ""


def comments_of(file: n.File) -> Iterator[str]:
    """Every comment of a file, in the order of the text."""
    yield from _comments(file.lines)
    yield from filter(None, file.tail)


def _comments(lines: Iterable[n.Line]) -> Iterator[str]:
    for line in lines:
        yield from filter(None, (*line.lead, line.trail))
        yield from _comments(line.under)


def format_statement(statement: n.Statement) -> str:
    """One line, without indentation and comment."""
    match statement:
        case n.RobotHead(name, title):
            return _titled("robot", name, title)
        case n.PassTime(span):
            return f"pass {format_span(span)}"
        case n.HubHead(name):
            return f"hub {name.text}"
        case n.Camera(name, values):
            return f"camera {name.text} sees {_names(values)}"
        case n.MechanismHead(name, title):
            return _titled("mechanism", name, title)
        case n.Device():
            return _device(statement)
        case n.Uses(names):
            return f"uses {_names(names)}"
        case n.CommandHead():
            return _command(statement)
        case n.ReadingLine():
            return _reading(statement)
        case n.Power(output, value):
            return f"{output.text} at {format_value(value)}"
        case n.Position(output, target, power):
            return f"{output.text} to {format_value(target)} at {format_value(power)}"
        case n.LampLine(output, state):
            return f"{output.text} {state}"
        case n.Broken(text):
            return text
        case _:
            return _routine_statement(statement)


def _routine_statement(statement: n.Statement) -> str:
    match statement:
        case n.RoutineHead(name, title):
            return _titled("routine", name, title)
        case n.RobotUse(name):
            return f"robot {name.text}"
        case n.TasksHead(name, title):
            return _titled("tasks", name, title)
        case n.TasksUse(name):
            return f"tasks from {name.text}"
        case n.Limit(value):
            return f"limit {format_value(value)}"
        case n.Setting(name, value):
            return f"setting {name.text} = {format_value(value)}"
        case n.SettingTable(name, choice):
            return f"setting {name.text} by {choice.text}"
        case n.TableRow(value, amount):
            return f"{value.text} {format_value(amount)}"
        case n.ChoiceLine(name, values):
            listed = (f"{v.name.text}{' mirrors' if v.mirrors else ''}" for v in values)
            return f"choose {name.text}: {', '.join(listed)}"
        case n.RangeChoiceLine(name, span, normal):
            reach = f"{format_span(span)}, normally {format_value(normal)}"
            return f"choose {name.text}: {reach}"
        case n.NumberMemory(name, first):
            return f"memory {name.text} = {format_value(first)}"
        case n.WordMemory(name, words, seen_by):
            seen = f", seen by {seen_by.text}" if seen_by else ""
            return f"memory {name.text}: {_names(words)}{seen}"
        case n.CounterLine(name, low, high, normal):
            return f"counter {name.text}: {low.text} to {high.text}, normally {normal.text}"
        case n.Remember(value, memory):
            return f"remember {format_value(value)} as {memory.text}"
        case n.CountLine(counter, way, start):
            return f"count {counter.text} {way}{f' {start.text}' if start else ''}"
        case n.MatchExit(value, target):
            return f"at {format_value(value)} of match, go to {target.text}"
        case n.FinishedBy() | n.NeverWhile() | n.OnlyAfter() | n.LeadsTo():
            return f"require {_requirement(statement)}"
        case n.Start(name):
            return f"start {name.text}"
        case n.StepHead(name, title):
            return _titled("step", name, title)
        case n.FinishHead(name, title):
            return _titled("finish", name, title)
        case n.GroupHead(name, title):
            return _titled("group", name, title)
        case n.TogetherHead(name, title):
            return _titled("together", name, title)
        case n.LaneHead(name):
            return f"lane {name.text}"
        case n.TaskHead(name, parameters, ends):
            return f"task {name.text}{_parameters(parameters)} ends {_names(ends)}"
        case n.Call(task, arguments, times):
            again = f", {times.text} times" if times else ""
            return f"do {_told(task.text, arguments)}{again}"
        case n.Whenever(condition, mechanism, command, arguments):
            told = _told(f"{mechanism.text} {command.text}", arguments)
            return f"whenever {format_condition(condition)}, {told}"
        case n.Given(keep, mechanism, command, arguments):
            return ("keep " if keep else "") + _told(f"{mechanism.text} {command.text}", arguments)
        case n.When(condition, target, expect):
            expected = _expected(expect) if expect else ""
            return f"when {format_condition(condition)}{expected}, {format_target(target)}"
        case n.Ended(outcome, target):
            return f"when task ends {outcome.text}, {format_target(target)}"
        case n.After(value, target):
            return f"after {format_value(value)}, {format_target(target)}"
        case _:
            return _scenario_statement(statement)


def _expected(expect: n.Expect) -> str:
    runs = f", {expect.hits.text} of {expect.runs.text} runs" if expect.hits and expect.runs else ""
    low, high = format_value(expect.span.low), format_value(expect.span.high)
    return f", expect {low} to {high}{runs}"


def _scenario_statement(statement: n.Statement) -> str:
    match statement:
        case n.ScenarioHead(name, title):
            return _titled("scenario", name, title)
        case n.Chosen(choice, value):
            given = value.text if isinstance(value, n.Name) else format_value(value)
            return f"choose {choice.text} {given}"
        case n.EveryPass(value):
            return f"pass {format_value(value)}"
        case n.Cue(step, at, fact):
            front = f"in {step.text}, after" if step else "at"
            return f"{front} {format_value(at)}, {_fact(fact)}"
        case n.Ramp(step, start, end, subject, low, high):
            front = f"in {step.text}, " if step else ""
            span = f"from {format_value(start)} to {format_value(end)}"
            way = f"goes from {format_value(low)} to {format_value(high)}"
            return f"{front}{span}, {_subject(subject)} {way}"
        case n.MustVisit(steps):
            return f"must visit {_names(steps)}"
        case n.MustFinish(finish, by):
            where = f" in {finish.text}" if finish else ""
            return f"must finish{where}{f' by {format_value(by)}' if by else ''}"
        case n.MustBeCutOff():
            return "must be cut off"
        case n.MustGive(negated, mechanism, command, arguments):
            told = _told(f"{mechanism.text} {command.text}", arguments)
            return f"must {'not ' if negated else ''}give {told}"
        case _:
            raise AssertionError(f"no layout for {type(statement).__name__}")


def _requirement(statement: n.FinishedBy | n.NeverWhile | n.OnlyAfter | n.LeadsTo) -> str:
    match statement:
        case n.FinishedBy(by):
            return f"finished by {format_value(by)}"
        case n.NeverWhile(one, other):
            return f"never {_happening(one)} while {_happening(other)}"
        case n.OnlyAfter(later, earlier):
            return f"{_happening(later)} only after {_happening(earlier)}"
        case n.LeadsTo(cause, effect, within):
            front = f"{_happening(cause)} leads to {_happening(effect)}"
            return f"{front} within {format_value(within)}"


def _happening(happening: n.Happening) -> str:
    if isinstance(happening, n.InStep):
        return f"in {happening.step.text}"
    return _told(f"{happening.mechanism.text} {happening.command.text}", happening.arguments)


# What needs parentheses in front of `for`, with a time or a number of looks.
_LOOSER = (n.HeldFor, n.InLooks, n.Negated, n.Once, n.Both, n.Either)


def format_condition(condition: n.Condition) -> str:
    """A condition with no more parentheses than its meaning needs."""
    match condition:
        case n.Comparison(subject, operator, value):
            return f"{_subject(subject)} {operator} {format_value(value)}"
        case n.Band(subject, tolerance, centre):
            reach = f"{format_value(tolerance)} of {format_value(centre)}"
            return f"{_subject(subject)} within {reach}"
        case n.State(subject, state):
            return f"{subject.text} {state.text}"
        case n.Sees(subject, value):
            return f"{subject.text} sees {value.text}"
        case n.Unreadable(subject):
            return f"{_subject(subject)} unreadable"
        case n.Stays(subject, tolerance, duration):
            reach = f"{format_value(tolerance)} for {format_value(duration)}"
            return f"{_subject(subject)} stays within {reach}"
        case n.MatchClock(operator, value):
            return f"match {operator} {format_value(value)}"
        case n.Negated(part):
            return f"not {_wrapped(part, n.Negated, n.Both, n.Either)}"
        case n.ChoiceIs(choice, value):
            return f"choice {choice.text} is {value.text}"
        case n.LanesDone(every):
            return "all lanes done" if every else "any lane done"
        case n.LaneDone(lane):
            return f"lane {lane.text} done"
        case n.LaneIn(lane, step):
            return f"lane {lane.text} in {step.text}"
        case n.MemoryIs(memory, value):
            return f"memory {memory.text} is {value.text}"
        case n.MemoryCompared(memory, operator, value):
            return f"memory {memory.text} {operator} {format_value(value)}"
        case n.CounterCompared(counter, operator, number):
            return f"counter {counter.text} {operator} {number.text}"
        case n.Once(part):
            return f"once {_wrapped(part, n.Negated, n.Once, n.Both, n.Either)}"
        case n.HeldFor(part, duration):
            return f"{_wrapped(part, *_LOOSER)} for {format_value(duration)}"
        case n.InLooks(part, least, looks):
            return f"{_wrapped(part, *_LOOSER)} for {least.text} of {looks.text} looks"
        case n.Both(parts):
            return " and ".join(_wrapped(part, n.Both, n.Either) for part in parts)
        case n.Either(parts):
            return " or ".join(_wrapped(part, n.Either) for part in parts)


def _fact(fact: n.Fact) -> str:
    match fact:
        case n.NotDone(mechanism, word):
            return f"not {mechanism.text} {word.text}"
        case n.NumberFact(subject, value):
            return f"{_subject(subject)} is {format_value(value)}"
        case _:
            return format_condition(fact)


def format_target(target: n.Target) -> str:
    """Where an exit leads, with its count."""
    lead = f"go to {target.step.text}"
    if target.count is None:
        return lead
    times = "time" if target.count.most.text == "1" else "times"
    return f"{lead}, at most {target.count.most.text} {times}, then {target.count.then.text}"


def format_value(value: n.Value) -> str:
    """A number with its unit, the name that stands for it, or what it is added up from."""
    match value:
        case n.NameValue(name, negated):
            return f"{'-' if negated else ''}{name.text}"
        case n.ReadingValue(mechanism, reading):
            return f"{mechanism.text} {reading.text}"
        case n.Sum(terms):
            first, *rest = map(_term, terms)
            signs = (" - " if term.negated else " + " for term in terms[1:])
            return first + "".join(sign + term for sign, term in zip(signs, rest, strict=True))
        case n.Quantity(number, unit):
            return f"{number} {unit}" if unit else number


def _term(term: n.Term) -> str:
    """A part of a sum without the sign in front of it."""
    atom = format_value(term.atom)
    return f"{term.factor} * {atom}" if term.factor else atom


def format_span(span: n.Span) -> str:
    """From one number to another."""
    return f"{format_value(span.low)} to {format_value(span.high)}"


def _lines(lines: Iterable[n.Line], depth: int) -> Iterator[str]:
    front = INDENT * depth
    for line in lines:
        yield from (front + comment if comment else "" for comment in line.lead)
        # A line that could not be read whole stays word for word.
        text = line.place.words if line.salvaged else format_statement(line.statement)
        yield front + (f"{text}  {line.trail}" if line.trail else text)
        yield from _lines(line.under, depth + 1)


def _squeezed(lines: Iterable[str], tail: Iterable[str]) -> Iterator[str]:
    blank = False
    for line in (*lines, *tail):
        if line or not blank:
            yield line
        blank = not line


def _wrapped(part: n.Condition, *kinds: type) -> str:
    text = format_condition(part)
    return f"({text})" if isinstance(part, kinds) else text


def _subject(subject: n.Subject) -> str:
    return f"{subject.first.text} {subject.second.text}" if subject.second else subject.first.text


def _titled(word: str, name: n.Name, title: str) -> str:
    return f'{word} {name.text} "{title}"' if title else f"{word} {name.text}"


def _names(names: Iterable[n.Name]) -> str:
    return ", ".join(name.text for name in names)


def _device(device: n.Device) -> str:
    words = [device.port_kind, device.port.text, device.name.text]
    if device.kind != device.port_kind:
        words.append(device.kind)
    if device.values:
        words.append(_names(device.values))
    if device.span:
        words.append(format_span(device.span))
    words.extend(device.words)
    if device.address:
        words.append(f"address {device.address.text}")
    return " ".join(words)


def _command(command: n.CommandHead) -> str:
    front = f"command {command.name.text}{_parameters(command.parameters)} {command.lasts}"
    return f"{front}, reports done" if command.reports_done else front


def _parameters(parameters: tuple[n.Parameter, ...]) -> str:
    inside = ", ".join(
        f"{p.name.text} {p.unit.text}{' mirrors' if p.mirrors else ''}" for p in parameters
    )
    return f"({inside})" if inside else ""


def _told(front: str, arguments: Iterable[n.Value]) -> str:
    return f"{front} {', '.join(map(format_value, arguments))}".rstrip()


def _reading(reading: n.ReadingLine) -> str:
    words = ["reading", reading.name.text, reading.unit.text]
    if reading.span:
        words.append(format_span(reading.span))
    if reading.wraps:
        words.append("wraps")
    if reading.mirrors:
        words.append("mirrors")
    if reading.from_step_start:
        words.append("from step start")
    return " ".join(words)
