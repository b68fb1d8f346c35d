"""A line that cannot be read, and what was probably meant."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from lark import UnexpectedInput

from planner.checks.habits import HABITS, Habit
from planner.checks.habits.habit import HIDDEN, NUMBER, UNIT
from planner.checks.habits.own_names import OwnHabits
from planner.checks.plan_names import (
    HOME,
    NAMELESS,
    NEXT,
    declared,
    home,
    next_step,
    undeclared,
)
from planner.checks.spelling import with_names, with_units
from planner.findings import Slip, nearest
from planner.model import Robot
from planner.model.robot import STATES, SensorKind
from planner.text import Place
from planner.tree.announced import names_led_to
from planner.tree.language import ROBOT, ROUTINE, Language
from planner.tree.rows import split_comment

_QUOTES = '"“”„‟«»″'
_NUMBER = re.compile(rf"{NUMBER}\s*{UNIT}?")
_TITLE = re.compile(f"(?<=[{_QUOTES}])[^{_QUOTES}]*(?=[{_QUOTES}])")


# A block has commands as a step does, and headings as a group does; a lane has headings alone.
_LIKE = {"together_line": ("step_line", "group_line"), "lane_line": ("group_line",)}
_WITH_COMMANDS = ("step_line", "finish_line", "together_line")


@dataclass(frozen=True, slots=True)
class Repair:
    """What is wrong with a line out of habit, and how it reads when that is put right."""

    habits: tuple[Habit, ...]
    """The leftmost in the line first."""
    seen: str
    """What the line has where the first habit shows."""
    place: Place
    lines: tuple[str, ...]
    """Lines that can be read, to put in its place; empty where none were found."""
    emptied: bool = False
    """True where nothing is left of the line: it can be deleted."""


class Repairs:
    """Repairs the unreadable lines of one case; what they have in common is made once."""

    def __init__(self, robot: Robot) -> None:
        self.robot = robot
        self.habits = OwnHabits(robot)

    def repair(self, slip: Slip) -> Repair | None:
        """What was probably meant by the line of a slip; None where no habit is recognised."""
        return _repaired(_Line(slip, self.robot, self.habits), slip)


def _repaired(line: _Line, slip: Slip) -> Repair | None:
    used = line.needed(line.used())
    if not used:
        return None
    lines = line.mended(used)
    emptied = not split_comment(line.after(used))[0].strip()
    ordered = sorted(used, key=line.prominence)
    match = ordered[0].found_in(line.masked)
    if match is None:
        # It shows only once another habit is put right, so all of the line is meant.
        start = line.offset + 1
        place = replace(slip.place, column=start, end_column=start + len(line.code))
        return Repair(tuple(ordered), line.code, place, lines, emptied)
    place = line.place_of(match)
    return Repair(tuple(ordered), place.words, place, lines, emptied)


class _Line:
    """The line of a slip while habits are tried on it."""

    def __init__(self, slip: Slip, robot: Robot, own: OwnHabits) -> None:
        self.robot = robot
        self.language: Language = ROBOT if slip.facts.get("file") == "robot" else ROUTINE
        self.rule = slip.facts.get("rule", "step_line")
        self.places = {self.rule, *_LIKE.get(self.rule, ())}
        code, self.comment = split_comment(slip.place.line_text)
        self.offset = len(code) - len(code.lstrip(" \t"))
        self.code = code.strip(" \t")
        self.titles: list[str] = []
        self.masked = self._mask()
        self.place = slip.place
        self.habits = own.around(HABITS, slip.place, heading=bool(slip.facts.get("heading")))

    def _mask(self) -> str:
        """The code with its titles hidden letter by letter, so that columns stay true."""
        if self.code.count('"') % 2:
            return self.code
        masked = self.code
        # What stands between two quotes is by turns inside of a title and outside.
        for match in list(_TITLE.finditer(self.code))[::2]:
            if not _NUMBER.fullmatch(match.group()):
                self.titles.append(match.group())
                hidden = HIDDEN * len(match.group())
                masked = masked[: match.start()] + hidden + masked[match.end() :]
        return masked

    def used(self) -> list[Habit]:
        """The habits that the line shows, or shows once others are put right.

        Ends as soon as the line can be read, so that no later habit meddles with it.
        """
        found, text = [], self.masked
        for habit in self.habits:
            if not self._applies(habit) or not habit.found_in(text):
                continue
            after = habit.mended(text)
            if after != text or habit.instead is None:
                found.append(habit)
                text = after
                if self._reads(found):
                    break
        return found

    def needed(self, habits: list[Habit]) -> list[Habit]:
        """Of `habits`, those without which the line still could not be read.

        Where not even all of them make it readable, the one that says most is kept: one that no
        rewording puts right, or else all.
        """
        if not self._reads(habits):
            return self._beyond_mending() or habits
        kept = list(habits)
        for habit in habits:
            fewer = [other for other in kept if other is not habit]
            if fewer and self._reads(fewer):
                kept = fewer
        return kept

    def _beyond_mending(self) -> list[Habit]:
        """The first habit of the line as it stands that no rewording puts right."""
        return [
            habit
            for habit in self.habits
            if habit.instead is None and self._applies(habit) and habit.found_in(self.masked)
        ][:1]

    def _applies(self, habit: Habit) -> bool:
        return not habit.rules or not self.places.isdisjoint(habit.rules)

    def after(self, habits: Sequence[Habit]) -> str:
        """The line with `habits` put right, titles shown again."""
        text = self.masked
        for habit in habits:
            text = habit.mended(text)
        titles = iter(self.titles)
        shown = re.sub(f"{HIDDEN}+", lambda hidden: next(titles, hidden.group()), self._own(text))
        return self._respelt(answered(re.sub(r"(?<=\S)  +(?!#)", " ", shown), self.robot).strip())

    def _respelt(self, text: str) -> str:
        """A changed line with its units put in and its names spelt as they are declared."""
        if text == self.code or self.language is ROBOT:
            return text
        lines = (with_units(line, self.robot) for line in text.split("\n"))
        return "\n".join(with_names(line, self.place, self.robot) for line in lines)

    def _own(self, text: str) -> str:
        """The line with the plan's own steps where a pattern has put made-up ones."""
        if text == self.masked:
            return text
        text = re.sub(rf"^(step|finish) {NAMELESS}\b", self._named, text)
        known = names_led_to(self.place.source)
        for made_up, own in ((NEXT, next_step), (HOME, home)):
            if made_up not in known and made_up in text:
                text = re.sub(rf"\b{made_up}\b", own(self.place), text)
        return text

    def _named(self, head: re.Match[str]) -> str:
        """A heading that has only a title, with the one name that no heading declares."""
        missing = undeclared(self.place)
        return f"{head.group(1)} {missing[0]}" if len(missing) == 1 else head.group()

    def mended(self, habits: Sequence[Habit]) -> tuple[str, ...]:
        """The lines that the line becomes; empty where they cannot be read."""
        lines = self._whole(self.after(habits))
        return tuple(lines) if lines else ()

    def prominence(self, habit: Habit) -> tuple[bool, int]:
        """A key that sorts the habit to be named first to the front: the leftmost in the line."""
        match = habit.found_in(self.masked)
        return (habit.minor, match.start(_shown(match)) if match else len(self.masked))

    def place_of(self, match: re.Match[str]) -> Place:
        """Where in the source a match in the line is, without the white space around it."""
        text = match.group(_shown(match))
        front = len(text) - len(text.lstrip(" \t"))
        start = self.offset + match.start(_shown(match)) + front + 1
        width = max(1, len(text.strip(" \t")))
        return Place(self.place.source, self.place.line, start, start + width)

    def _reads(self, habits: Sequence[Habit]) -> bool:
        return self._whole(self.after(habits)) is not None

    def _whole(self, text: str) -> list[str] | None:
        """The lines of a mended text; None where one cannot be read.

        A line that only ends too early is tried with the line below it in the file put behind.
        """
        lines = [line.strip() for line in text.split("\n")]
        if all(self._can_be_read(line) for line in lines):
            return [line for line in lines if line]
        below = split_comment(self.place.source.line(self.place.line + 1))[0].strip()
        joined = f"{lines[0].rstrip(',')}, {below}"
        if len(lines) == 1 and below.startswith("go to ") and self._can_be_read(joined):
            return [joined]
        return None

    def _can_be_read(self, line: str) -> bool:
        code = split_comment(line)[0]
        if not code.strip():
            return True
        if not readable(code, self.language, self.rule) or _foreign(code, self.robot):
            return False
        return self.rule not in _WITH_COMMANDS or _given(code, self.robot)


def _shown(match: re.Match[str]) -> str | int:
    """The group that a habit points at: ``here``, or all of the match."""
    named = "here" in match.re.groupindex and match.group("here") is not None
    return "here" if named else 0


def readable(code: str, language: Language, rule: str) -> bool:
    """Whether a line can be read by a start rule."""
    try:
        language.read(code, rule)
    except UnexpectedInput:
        return False
    return True


def reads_as(slip: Slip, code: str) -> bool:
    """Whether a line could be read in the place of the one a slip is about."""
    language = ROBOT if slip.facts.get("file") == "robot" else ROUTINE
    return readable(code, language, slip.facts["rule"])


def with_first_word(slip: Slip) -> str:
    """The line with its first word changed to the nearest one that would fit, if that reads."""
    code = split_comment(slip.place.line_text)[0].strip()
    word = slip.facts.get("first_word", "")
    for near in nearest(word, slip.known):
        mended = near + code[len(word) :]
        if reads_as(slip, mended):
            return mended
    return ""


def answered(code: str, robot: Robot) -> str:
    """A condition with `sees` and the states of sensors put in as each sensor wants them."""

    for sensor in robot.sensors.values():
        if f"{sensor.name} " not in code:
            continue
        if sensor.kind in STATES:
            yes, no = STATES[sensor.kind]
            code = re.sub(rf"\b{sensor.name} [Tt]rue\b", f"{sensor.name} {yes}", code)
            code = re.sub(rf"\b{sensor.name} [Ff]alse\b", f"{sensor.name} {no}", code)
        if sensor.kind in (SensorKind.COLOUR, SensorKind.CAMERA):
            seen = "|".join(sensor.values)
            code = re.sub(rf"\b{sensor.name} (?=(?:{seen})\b)", f"{sensor.name} sees ", code)
    return code


_NO_COMMANDS = ("when", "after", "at", "do", "whenever", "remember", "count", "lane")


def _given(code: str, robot: Robot) -> bool:
    """Whether a line is an exit, or begins with something near the name of a mechanism."""
    words = [word for word in code.split() if word != "keep"]
    if not robot.mechanisms or words[0] in _NO_COMMANDS:
        return True
    return words[0] in robot.mechanisms or bool(nearest(words[0], robot.mechanisms))


# Words that open a line in other languages. A line with one of them in front has the form of a
# command, `if bumper pressed`, unless the robot has a mechanism of that name.
_FOREIGN_WORDS = frozenset(
    {
        *("if", "else", "elif", "while", "until", "till", "once", "whenever", "on", "upon", "for"),
        *("when", "after", "then", "otherwise", "wait", "sleep", "delay", "pause", "timeout"),
        *("go", "goto", "jump", "next", "switch", "transition", "continue", "break", "return"),
        *("set", "let", "var", "int", "double", "float", "boolean", "case", "repeat", "loop"),
        *("parallel", "simultaneously", "simultaneous", "concurrently", "thread", "branch"),
        *("increase", "increment", "decrease", "decrement"),
        *("end", "exit", "do", "and", "or", "not", "at", "step", "finish", "start"),
    }
)


_CALLS = frozenset({"call", "run", "perform", "execute", "use"})


def foreign_line(slip: Slip, robot: Robot) -> bool:
    """Whether a name that is no mechanism is really the first word of another language's line."""
    code = split_comment(slip.place.line_text)[0]
    starts = code[: slip.place.column - 1].strip() in ("", "keep")
    words = code[slip.place.column - 1 :].split()
    tasks = declared(slip.place, "task")
    if starts and tasks and (words[0] in tasks or (words[0] in _CALLS and words[1] in tasks)):
        return True
    return starts and _foreign(code[slip.place.column - 1 :], robot)


def _foreign(code: str, robot: Robot) -> bool:
    words = code.split()
    word = words[0] if words else ""
    return (
        word.casefold() in _FOREIGN_WORDS
        and word not in robot.mechanisms
        and not (word in ROUTINE_WORDS and len(words) > 1)
    )


ROUTINE_WORDS = frozenset(
    word
    for language in (ROUTINE, ROBOT)
    for shapes in language.shapes.values()
    for word in shapes
    if word
)
