"""Memories, counters, lanes and choices asked as if they were sensors, by the plan's own names."""

from __future__ import annotations

import re
from collections.abc import Sequence

from planner.checks.habits.habit import NAME, Habit

_STEP = ("step_line",)
_ASKING = ("step_line", "group_line", "together_line", "file_line")
_IS = r"(?:\bis\s+equal\s+to\b|\bequals\b|\bis\b|={1,3}|\bsees\b)"
_BARE = r"(?<=[\s(])(?<!^remember )(?<!^memory )"
_DONE = r"(?:done|finished|ready|through)\b"


def of_memories(memories: Sequence[str]) -> tuple[Habit, ...]:
    """``when side is left`` and ``drive forward memory far``, with the plan's memories."""
    if not memories:
        return ()
    name = _any_of(memories)
    return (
        Habit(
            rf"(?P<front>(?:[<>]=?|\bof|[+*-]|\babove|\bbelow)\s*|^(?:keep\s+)?(?!when\b|whenever\b|after\b)"
            rf"{NAME}\s+{NAME}\s+)memory\s+(?={name}\b)",
            r"\g<front>",
            "where a number stands, a memory is named without `memory`",
            "It reads `drive forward slow`; `memory slow` is for asking.",
            rules=_ASKING,
        ),
        *_asked("memory", name, "side", "left"),
        Habit(
            rf"^(setting\s+{NAME})\s*=\s*(?P<here>{name})\b.*$",
            None,
            "`{seen}` is a memory, and a setting never changes in the match",
            "Wherever the number is wanted, write the memory or a sum with it, such as "
            "`far + 5 cm`. `setting height by side`, with rows under it, goes by a memory of "
            "words.",
            rules=("file_line",),
        ),
    )


def of_choices(choices: Sequence[str]) -> tuple[Habit, ...]:
    """``when park is quay``, with what can be chosen."""
    return _asked("choice", _any_of(choices), "park", "quay") if choices else ()


def _asked(word: str, name: str, of: str, answer: str) -> tuple[Habit, ...]:
    """What is kept under a name is asked with a word in front, and with `is`."""
    of_choice = "what was chosen is asked with `choice`"
    told = of_choice if word == "choice" else "what a memory holds is asked with `memory`"
    return (
        Habit(
            rf"{_BARE}(?:{word}\s+)?\b(?P<here>{name})\s*"
            rf"(?:!=|≠|\bis\s+not\b|\bisn't\b)\s*(?P<answer>{NAME})",
            rf"not {word} \g<here> is \g<answer>",
            told,
            f"It reads `not {word} {of} is {answer}`.",
            rules=_ASKING,
        ),
        Habit(
            rf"{_BARE}(?:{word}\s+)?\b(?P<here>{name})\s*{_IS}\s*(?=[A-Za-z_])",
            rf"{word} \g<here> is ",
            told,
            f"It reads `{word} {of} is {answer}`.",
            rules=_ASKING,
        ),
    )


def of_counters(counters: Sequence[str]) -> tuple[Habit, ...]:
    """``when shots is 0``, ``count shots - 1`` and ``shots--``, with the plan's counters."""
    if not counters:
        return ()
    name = _any_of(counters)
    return (
        Habit(
            rf"(?:[<>]=?|\bof|[+*-])\s*(?P<here>counter\s+{name}\b)",
            None,
            "`{seen}` has no unit, and here stands a number with one",
            "A counter is asked by itself: `counter shots is 0`, `counter shots > 0`.",
            rules=_ASKING,
        ),
        Habit(
            rf"(?<=[\s(])(?<!\bcount )(?<!^counter )(?:counter\s+)?\b(?P<here>{name})\s*"
            rf"(?P<sign>{_IS}|[<>]=?)\s*(?P<number>\d+)(?![\w.%])",
            _counter_asked,
            "what a counter stands at is asked with `counter`",
            "It reads `counter shots is 0`; `<`, `<=`, `>` and `>=` compare it.",
            rules=_ASKING,
        ),
        Habit(
            rf"^(?:count\s+)?(?P<name>{name})\s*(?P<way>[-+])\s*(?:=\s*)?(?:1|(?P=way))$",
            _counted,
            "a counter is counted with `down` and `up`",
            "It goes one further each time its step is entered: `count shots down`.",
            rules=_STEP,
        ),
        Habit(
            rf"^(?:count\s+)?(?P<name>{name})\s*=\s*(?:{name})\s*(?P<way>[-+])\s*1$",
            _counted,
            "a counter is counted with `down` and `up`",
            "It goes one further each time its step is entered: `count shots down`.",
            rules=_STEP,
        ),
        Habit(
            rf"^(?:count\s+)?(?:{name})\s*[-+]\s*=?\s*\d+$",
            None,
            "a counter goes by one each time",
            "`count shots down` takes away one, and `count shots from 3` sets it.",
            rules=_STEP,
        ),
        Habit(
            rf"^(?:set\s+)?(?P<name>{name})\s*(?:=|:=|\bto\b)\s*(?P<number>\d+)$",
            r"count \g<name> from \g<number>",
            "a counter is set with `count` and `from`",
            "It reads `count shots from 3`.",
            rules=_STEP,
        ),
        Habit(
            rf"^(?:(?:increase|increment)\s+(?P<up>{name})|"
            rf"(?:decrease|decrement)\s+(?P<down>{name}))(?:\s+by\s+(?:1|one))?$",
            _counted_in_words,
            "a counter is counted with `count`",
            "It reads `count shots down`.",
            rules=_STEP,
        ),
    )


def _counter_asked(asked: re.Match[str]) -> str:
    sign = asked.group("sign")
    return (
        f"counter {asked.group('here')} {sign if sign[0] in '<>' else 'is'} {asked.group('number')}"
    )


def _counted(line: re.Match[str]) -> str:
    return f"count {line.group('name')} {'up' if line.group('way') == '+' else 'down'}"


def _counted_in_words(line: re.Match[str]) -> str:
    up = line.group("up")
    return f"count {up} up" if up else f"count {line.group('down')} down"


def of_lanes(lanes: Sequence[str]) -> tuple[Habit, ...]:
    """``when lanes are done`` and ``wheels in Drive``, with the plan's lanes."""
    if not lanes:
        return ()
    name = _any_of(lanes)
    return (
        Habit(
            rf"\b(?:(?:all|both|every|each)\s+(?:of\s+)?(?:the\s+)?(?:lanes?\s+)?|(?:the\s+)?lanes\s+)"
            rf"(?:(?:is|are|all)\s+)*{_DONE}",
            "all lanes done",
            "whether the lanes are done is asked with `all lanes done`",
            "`any lane done` asks for one of them, `lane wheels done` for this one.",
            rules=_ASKING,
        ),
        Habit(
            rf"\b(?:lane\s+)?(?P<here>{name})\s+(?:is\s+)?{_DONE}",
            r"lane \g<here> done",
            "what a lane has done is asked with `lane` and its name",
            "It reads `lane wheels done`.",
            rules=_ASKING,
        ),
        Habit(
            rf"\b(?:lane\s+)?(?P<here>{name})\s+(?:is\s+)?(?:in|at)\s+(?=[A-Za-z_])",
            r"lane \g<here> in ",
            "where a lane is, is asked with `lane` and its name",
            "It reads `lane wheels in Drive`.",
            rules=_ASKING,
        ),
    )


def of_lane() -> tuple[Habit, ...]:
    """``when arm done, end`` in the step of a lane."""
    return (
        Habit(
            r"^(?P<front>(?:when|after|at)\b.*?)(?:\s*[,:]\s*|\s+then\s+)(?:go\s*to\s+)?(?:the\s+)?"
            r"(?P<here>done|ends?|finish|finished|stop|(?:end|finish)\s+(?:of\s+)?(?:the\s+)?lane)$",
            r"\g<front>, go to done",
            "a lane comes to its end with `go to done`",
            "There it waits for the other lanes.",
            rules=_STEP,
        ),
    )


def _any_of(names: Sequence[str]) -> str:
    return f"(?:{'|'.join(names)})"
