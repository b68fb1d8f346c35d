"""Whether two conditions say the same."""

from __future__ import annotations

from collections.abc import Hashable

from planner.model.condition import (
    All,
    Answers,
    Any,
    ChoiceIs,
    Compare,
    Condition,
    CounterCompare,
    Done,
    Fixed,
    Held,
    LaneIn,
    LanesDone,
    Looks,
    MatchClock,
    MemoryCompare,
    MemoryIs,
    Not,
    Once,
    Reckoned,
    Steady,
    Unreadable,
    Unresolved,
    Within,
    leaves,
)


def meaning(condition: Condition) -> Hashable:
    """A value that is equal for conditions built alike from equal parts; None where one is unknown.

    10 cm and 100 mm are equal, and so are a setting and the number it stands for.
    """
    if any(isinstance(leaf, Unresolved) for leaf in leaves(condition)):
        return None
    return _meaning(condition)


def _meaning(condition: Condition) -> Hashable:
    match condition:
        case Compare(source, operator, threshold):
            return (source.spoken, operator, threshold.base)
        case Within(source, tolerance, centre):
            return (source.spoken, "within", tolerance.base, centre.base)
        case Answers(sensor, value):
            return (sensor.name, "answers", value)
        case Done(mechanism):
            return (mechanism.name, "done")
        case Steady(source, tolerance, duration_us):
            return (source.spoken, "stays", tolerance.base, duration_us)
        case Unreadable(source):
            return (source.spoken, "unreadable")
        case MatchClock(operator, at_us):
            return ("match", operator, at_us)
        case ChoiceIs(choice, value):
            return (choice, "is", value)
        case Fixed(asked, holds):
            return ("fixed", holds, _meaning(asked))
        case LanesDone(lanes, every):
            return ("lanes", every or len(lanes) < 2, lanes)
        case LaneIn(lane, step):
            return ("lane", lane, step)
        case Reckoned(source, operator, number, tolerance):
            return (source.spoken, operator, number, tolerance)
        case MemoryIs(memory, value):
            return ("memory", memory.name, value)
        case MemoryCompare(memory, operator, number):
            return ("memory", memory.name, operator, number)
        case CounterCompare(counter, operator, times):
            return ("counter", counter.name, operator, times)
        case Not(part):
            return ("not", _meaning(part))
        case Once(part):
            return ("once", _meaning(part))
        case Looks(part, least, looks):
            return ("looks", least, looks, _meaning(part))
        case Held(part, duration_us):
            return ("held", duration_us, _meaning(part))
        case All(parts):
            return ("and", *map(_meaning, parts))
        case Any(parts):
            return ("or", *map(_meaning, parts))
        case Unresolved():
            return None
