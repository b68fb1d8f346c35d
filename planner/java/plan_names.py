"""The names of a plan class's own members, none of them given twice.

They say what they are: ``backOffToApproachTimes`` counts, ``approachBumperHeld`` remembers. The
same plan always gives the same names.
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.graph import Exit, Plan
from planner.graph.owners import Owner
from planner.java.chosen_names import chosen_fields
from planner.java.memory_names import memory_fields, memory_methods
from planner.java.naming import class_name, distinct, member_name, names_in
from planner.java.plan_parts import Key, Parts, asking, conditions, looks_of
from planner.model.condition import (
    Condition,
    CounterCompare,
    Held,
    LaneIn,
    LanesDone,
    Looks,
    MemoryCompare,
    MemoryIs,
    Once,
    Steady,
    leaves,
    parts,
)
from planner.model.memory import Memory
from planner.model.robot import Mechanism, Reading, Sensor
from planner.model.routine import AfterExit, Routine, Rule, WhenExit

# Fields of the template, and parameters and variables of its methods, which would hide a field.
_OWN_FIELDS = names_in(
    "before cutOff entered matchStarted moves now nowNanos number off parts pass reason screen "
    "seen step stepStarted turnedRound why"
)

# Of a plan with lanes beside those.
_LANE_FIELDS = names_in("lane lanes lanesGoOn left movesOfPass noLanes told")

_MEMORIES = {Held: "held", Once: "once", Looks: "looks", Steady: "steady"}


class PlanNames:
    """Every method and field that a plan class has beside the fixed ones of its template."""

    def __init__(self, plan: Plan, plan_parts: Parts, own_methods: frozenset[str]) -> None:
        taken = {*own_methods, *(asked.method for asked in plan_parts.asked.values())}
        methods = dict(_methods(plan.routine, plan_parts))
        methods |= dict(memory_methods(plan.routine))
        fields = dict(_fields(plan, plan_parts)) | dict(memory_fields(plan.routine))
        self._methods = distinct(methods, member_name, "again", taken)
        own_fields = _OWN_FIELDS | _LANE_FIELDS if plan.begins else _OWN_FIELDS
        self._fields = distinct(fields, member_name, "again", own_fields)
        self._routine = plan.routine

    def enter(self, step: str) -> str:
        """The method that enters a step."""
        return self._methods["enter", step]

    def ask(self, step: str) -> str:
        """The method that asks a step's exits."""
        return self._methods["in", step]

    def start(self, group: str) -> str:
        """The method that starts a group that was not active."""
        return self._methods["start", group]

    def left(self, group: str) -> str:
        """The method that asks a group's exits."""
        return self._methods["left", group]

    def leave(self, group: str) -> str:
        """The method that leaves a group and those within it."""
        return self._methods["leave", group]

    def leave_for(self, step: str) -> str:
        """The method that leaves whatever groups are not around a step."""
        return self._methods["leave_for", step]

    def lane(self, group: str) -> str:
        """The field that says where a lane is."""
        return self._fields["lane", group]

    def lanes(self, block: str) -> str:
        """The field that holds all lanes of a block."""
        return self._fields["lanes", block]

    def ask_lane(self, group: str) -> str:
        """The method that asks the step of a lane."""
        return self._methods["ask lane", group]

    def follow(self, owner: Owner) -> str:
        """The method that asks the side rules of a step, a group or the routine."""
        return self._methods[("follow", *_key(owner))]

    def since(self, owner: Owner, key: Key) -> str:
        """The method that gives what a reading has changed by since an owner began."""
        return self._methods[("since", *_visit(self._routine, owner), *key)]

    def end(self, mechanism: str) -> str:
        """The method that ends what a mechanism ran for a step or group that is left."""
        return self._methods["end", mechanism]

    def switch_off(self, mechanism: str) -> str:
        """The method that ends what runs, in a finish."""
        return self._methods["switch_off", mechanism]

    def choice(self, name: str) -> str:
        """The field and parameter of something that is chosen before the start."""
        return self._fields["choice", name]

    def setting(self, name: str, unit: str) -> str:
        """The field of a setting or range whose value goes by what is chosen, in a unit."""
        return self._fields["setting", name, unit]

    def value(self, key: Key) -> str:
        """The field that holds a reading's value."""
        return self._fields[("value", *key)]

    def asked_in(self, key: Key) -> str:
        """The field that holds the pass in which a reading was asked last."""
        return self._fields[("asked in", *key)]

    def at_entry(self, owner: Owner, key: Key) -> str:
        """The field that holds a reading's value when a step or group was entered."""
        return self._fields[("at entry", *_visit(self._routine, owner), *key)]

    def active(self, group: str) -> str:
        """The field that says whether the plan is in a group."""
        return self._fields["active", group]

    def started(self, group: str) -> str:
        """The field that holds when a group was entered."""
        return self._fields["started", group]

    def runs_for(self, mechanism: str) -> str:
        """The field that says what a mechanism runs for."""
        return self._fields["runs for", mechanism]

    def due(self, mechanism: str) -> str:
        """The field that holds what a side rule has told a mechanism in this pass."""
        return self._fields["due", mechanism]

    def times(self, counter: str) -> str:
        """The field of a counter."""
        return self._fields["times", counter]

    def taken(self, owner: Owner, number: int) -> str:
        """The field that says whether an owner's match-clock exit of that number is behind us."""
        return self._fields["taken", owner.name, str(number)]

    def was_true(self, rule: Rule) -> str:
        """The field that says whether a side rule was true in the pass before."""
        return self._fields["was true", str(rule.number)]

    def remembered(self, memory: Memory) -> str:
        """The field of a memory or counter of the plan."""
        return self._fields["remembered", memory.name]

    def remember(self, owner: Owner) -> str:
        """The method that remembers what is to be when a step or group is left."""
        return self._methods[("remember", *_key(owner))]

    def row(self, table: str, unit: str) -> str:
        """The method that gives a setting that goes by a memory, in a unit."""
        return self._methods["row", table, unit]

    def seen(self, memory: str, sensor: str) -> str:
        """The method that gives what a sensor answers as one of a memory's words."""
        return self._methods["seen", memory, sensor]

    def due_number(self, mechanism: str, command: str, parameter: str) -> str:
        """The field of a number with which a side rule has given a command in this pass."""
        return self._fields["due number", mechanism, command, parameter]

    def memory(self, condition: Condition) -> str:
        """The field that remembers for a condition on several passes, by its identity."""
        return self._fields["memory", str(id(condition))]


def plan_type(routine: Routine) -> str:
    """The name of a plan's class."""
    return f"{routine_type(routine)}Plan"


def routine_type(routine: Routine) -> str:
    """A routine's name as the beginning of class names."""
    return class_name(routine.name, "Routine")


def _key(owner: Owner) -> Key:
    return ("group" if owner.is_group else "step", owner.name)


def _visit(routine: Routine, owner: Owner) -> Key:
    """Steps share what is remembered since entry, as only one of them is active in each lane."""
    if owner.is_group or not owner.name:
        return _key(owner)
    lane = routine.lane_around(owner.name)
    return ("lane", lane.name) if lane else ("step", "any")


def _methods(routine: Routine, plan_parts: Parts) -> Iterator[tuple[Key, str]]:
    for step in routine.steps:
        yield ("enter", step), f"enter_{step}"
        yield ("in", step), f"in_{step}"
        yield ("leave_for", step), f"leave_groups_for_{step}"
    for group in routine.groups:
        yield ("start", group), f"start_{group}"
        yield ("left", group), f"took_exit_of_{group}"
        yield ("leave", group), f"leave_{group}"
    for lane in (group.name for group in routine.groups.values() if group.lane):
        yield ("ask lane", lane), f"ask_{lane}"
    for mechanism in routine.robot.mechanisms:
        yield ("end", mechanism), f"end_{mechanism}"
        yield ("switch_off", mechanism), f"switch_off_{mechanism}"
    for owner in asking(routine):
        yield ("follow", *_key(owner)), f"follow_rules_of_{owner.name or 'routine'}"
    for owner in asking(routine):
        for asked in plan_parts.asked.values():
            if asked.from_step_start:
                name = f"{asked.method}_since_{_begun(routine, owner)}"
                yield ("since", *_visit(routine, owner), *asked.key), name


def _begun(routine: Routine, owner: Owner) -> str:
    """What a reading counts from, in the words of a name."""
    if owner.is_group:
        return owner.name
    lane = routine.lane_around(owner.name) if owner.name else None
    return f"entry_in_{lane.name}" if lane else "entry" if owner.name else "start"


def _fields(plan: Plan, plan_parts: Parts) -> Iterator[tuple[Key, str]]:
    routine = plan.routine
    yield from chosen_fields(routine)
    for asked in plan_parts.asked.values():
        yield ("value", *asked.key), asked.method
        yield ("asked in", *asked.key), f"{asked.method}_asked_in_pass"
    for mechanism in routine.robot.mechanisms:
        yield ("runs for", mechanism), f"{mechanism}_runs_for"
        yield ("due", mechanism), f"{mechanism}_due"
    for name in routine.groups:
        yield ("active", name), f"in_{name}"
        yield ("started", name), f"{name}_started"
    for group in routine.groups.values():
        if group.lane:
            yield ("lane", group.name), group.name
        if group.is_block:
            yield ("lanes", group.name), f"{group.name}_lanes"
    for exit_ in plan.all_exits():
        if exit_.most is not None:
            yield ("times", exit_.counter), f"{_counted(exit_)}_times"
    for owner in asking(routine):
        yield from _of_owner(routine, owner, plan_parts)


def _counted(exit_: Exit) -> str:
    """What a counter counts, in the words of a name: a shared one has a name already."""
    shared = exit_.written.count if isinstance(exit_.written, WhenExit | AfterExit) else None
    if shared and shared.counter:
        return shared.counter.replace(" ", "_")
    return f"{exit_.group or exit_.source}_to_{exit_.target}"


def _of_owner(routine: Routine, owner: Owner, plan_parts: Parts) -> Iterator[tuple[Key, str]]:
    name = owner.name or "routine"
    for asked in plan_parts.asked.values():
        words = f"{asked.method}_at_{_begun(routine, owner)}"
        yield ("at entry", *_visit(routine, owner), *asked.key), words
    for number, match_exit in enumerate(owner.match_exits):
        group = f"{owner.name}_" if owner.name else ""
        yield ("taken", owner.name, str(number)), f"{group}match_exit_to_{match_exit.target}_taken"
    for rule in owner.rules:
        yield ("was true", str(rule.number)), f"{name}_{_looked_at(rule.condition)}_rule_was_true"
    for condition in conditions(owner):
        for part in parts(condition):
            if type(part) in _MEMORIES:
                words = f"{name}_{_looked_at(part)}_{_MEMORIES[type(part)]}"
                yield ("memory", str(id(part))), words


def _looked_at(condition: Condition) -> str:
    """What a condition looks at, in the words of a name: the first, and whether there are more."""
    looks = (_name(look) for look in looks_of(condition))
    names = list(dict.fromkeys((*looks, *_held_in(condition))))
    if not names:
        lanes = (isinstance(leaf, LanesDone | LaneIn) for leaf in leaves(condition))
        return "lanes" if any(lanes) else "match"
    return names[0] if len(names) == 1 else f"{names[0]}_and_more"


def _held_in(condition: Condition) -> Iterator[str]:
    """The memories and counters that a condition asks."""
    for leaf in leaves(condition):
        match leaf:
            case MemoryIs(memory):
                yield memory.name
            case MemoryCompare(memory):
                yield memory.name
            case CounterCompare(counter):
                yield counter.name


def _name(look: Sensor | Reading | Mechanism) -> str:
    match look:
        case Sensor():
            return look.name
        case Reading():
            return f"{look.mechanism}_{look.name}"
        case Mechanism():
            return f"{look.name}_done"
