"""A second interpreter of blocks of lanes, written apart from the first, to be compared with it.

It knows a block as plain data and shares no code with the planner. A lane is a dict from the name
of a step to its exits in the order written, the first step first; an exit is a tuple (kind, what,
target). "done" is the end of a lane, and a target that stands in no lane leaves the block:

- ("when", (sensor, value), target): the sensor gives that value
- ("after", limit_us, target): of a step, or of the block
- ("all", None, target) and ("any", None, target): lanes that are done
- ("lane", (number, step), target): that lane is in that step, or "done"
"""

from __future__ import annotations

from typing import Any

EXIT = tuple[str, Any, str]
LANE = dict[str, list[EXIT]]


def lane_moves(
    own: list[EXIT], lanes: list[LANE], trace: list[tuple[int, dict[str, str]]]
) -> list[tuple[int, str]]:
    """Each step entered, with the time: the block as "Block", the end of lane 0 as "done 0"."""
    start = trace[0][0]
    where = [next(iter(lane)) for lane in lanes]
    since = [start for _ in lanes]
    trail = [(start, "Block"), *((start, step) for step in where)]
    for now, seen in trace[1:]:
        before = list(where)
        out = _first(own, now - start, seen, before)
        if out:
            return [*trail, (now, out)]
        for number, lane in enumerate(lanes):
            if before[number] == "done":
                continue
            to = _first(lane[before[number]], now - since[number], seen, before)
            if to is None:
                continue
            if to != "done" and to not in lane:
                return [*trail, (now, to)]
            where[number], since[number] = to, now
            trail.append((now, f"done {number}" if to == "done" else to))
    return trail


def _first(exits: list[EXIT], clock: int, seen: dict[str, str], lanes: list[str]) -> str | None:
    """Where the first true exit leads: `after` exits come last, the shortest first."""
    timed = sorted((e for e in exits if e[0] == "after"), key=lambda e: e[1])
    for kind, what, target in [e for e in exits if e[0] != "after"] + timed:
        if kind == "when" and seen[what[0]] == what[1]:
            return target
        if kind == "after" and clock >= what:
            return target
        if kind == "all" and set(lanes) == {"done"}:
            return target
        if kind == "any" and "done" in lanes:
            return target
        if kind == "lane" and lanes[what[0]] == what[1]:
            return target
    return None
