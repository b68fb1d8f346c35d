"""The names of a plan class's own members, none of them given twice.

They say what they are: ``backOffToApproachTimes`` counts, ``approachBumperHeld`` remembers. The
same plan always gives the same names.
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.java.naming import distinct, member_name, names_in
from planner.java.plan_parts import Key, Parts, conditions, looks_of
from planner.model.condition import Condition, Held, Looks, Once, Steady, parts
from planner.model.robot import Mechanism, Reading, Sensor
from planner.model.routine import Routine, Step

_OWN_FIELDS = names_in("cutOff matchStarted now off parts pass step stepStarted why")

_MEMORIES = {Held: "held", Once: "once", Looks: "looks", Steady: "steady"}


class PlanNames:
    """Every method and field that a plan class has beside the fixed ones of its template."""

    def __init__(self, routine: Routine, plan_parts: Parts, own_methods: frozenset[str]) -> None:
        asked = plan_parts.asked.values()
        taken = {*own_methods, *(a.method for a in asked), *(a.look for a in asked)}
        self._methods = distinct(dict(_methods(routine)), member_name, "again", taken)
        self._fields = distinct(
            dict(_fields(routine, plan_parts)), member_name, "again", _OWN_FIELDS
        )

    def enter(self, step: str) -> str:
        """The method that enters a step."""
        return self._methods["enter", step]

    def ask(self, step: str) -> str:
        """The method that asks a step's exits."""
        return self._methods["in", step]

    def end(self, mechanism: str) -> str:
        """The method that ends what a step ran only for itself."""
        return self._methods["end", mechanism]

    def switch_off(self, mechanism: str) -> str:
        """The method that ends what runs, in a finish."""
        return self._methods["switch_off", mechanism]

    def value(self, key: Key) -> str:
        """The field that holds a reading's value."""
        return self._fields[("value", *key)]

    def asked_in(self, key: Key) -> str:
        """The field that holds the pass in which a reading was asked last."""
        return self._fields[("asked in", *key)]

    def at_entry(self, key: Key) -> str:
        """The field that holds a reading's value when the step was entered."""
        return self._fields[("at entry", *key)]

    def runs(self, mechanism: str) -> str:
        """The field that says whether a mechanism runs."""
        return self._fields["runs", mechanism]

    def kept(self, mechanism: str) -> str:
        """The field that says whether what a mechanism does was kept."""
        return self._fields["kept", mechanism]

    def times(self, step: str, number: int) -> str:
        """The field that counts the exit of that number among a step's own."""
        return self._fields["times", step, str(number)]

    def taken(self, number: int) -> str:
        """The field that says whether the match-clock exit of that number is behind us."""
        return self._fields["taken", str(number)]

    def memory(self, condition: Condition) -> str:
        """The field that remembers for a condition on several passes, by its identity."""
        return self._fields["memory", str(id(condition))]


def _methods(routine: Routine) -> Iterator[tuple[Key, str]]:
    for step in routine.steps:
        yield ("enter", step), f"enter_{step}"
        yield ("in", step), f"in_{step}"
    for mechanism in routine.robot.mechanisms:
        yield ("end", mechanism), f"end_{mechanism}"
        yield ("switch_off", mechanism), f"switch_off_{mechanism}"


def _fields(routine: Routine, plan_parts: Parts) -> Iterator[tuple[Key, str]]:
    for asked in plan_parts.asked.values():
        yield ("value", *asked.key), asked.method
        yield ("asked in", *asked.key), f"{asked.method}_asked_in_pass"
        yield ("at entry", *asked.key), f"{asked.method}_at_entry"
    for mechanism in routine.robot.mechanisms:
        yield ("runs", mechanism), f"{mechanism}_runs"
        yield ("kept", mechanism), f"{mechanism}_kept"
    for number, match_exit in enumerate(routine.match_exits):
        yield ("taken", str(number)), f"match_exit_to_{match_exit.target}_taken"
    for step in routine.steps.values():
        yield from _of_step(step)


def _of_step(step: Step) -> Iterator[tuple[Key, str]]:
    for number, exit_ in enumerate(step.exits):
        if exit_.count is not None:
            yield ("times", step.name, str(number)), f"{step.name}_to_{exit_.target}_times"
    for condition in conditions(step):
        for part in parts(condition):
            if type(part) in _MEMORIES:
                words = f"{step.name}_{_looked_at(part)}_{_MEMORIES[type(part)]}"
                yield ("memory", str(id(part))), words


def _looked_at(condition: Condition) -> str:
    """What a condition looks at, in the words of a name: the first, and whether there are more."""
    names = list(dict.fromkeys(_name(look) for look in looks_of(condition)))
    if not names:
        return "match"
    return names[0] if len(names) == 1 else f"{names[0]}_and_more"


def _name(look: Sensor | Reading | Mechanism) -> str:
    match look:
        case Sensor():
            return look.name
        case Reading():
            return f"{look.mechanism}_{look.name}"
        case Mechanism():
            return f"{look.name}_done"
