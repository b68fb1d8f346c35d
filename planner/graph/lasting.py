"""What commands still hold when a later step is reached."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from planner.graph.owners import is_incomplete, rules_around
from planner.graph.unfold import Exit, Plan
from planner.graph.walks import Ways, played, reached, ways
from planner.model.condition import Done, leaves
from planner.model.memory import Number
from planner.model.robot import OutputKind, ParameterUse, Setpoint, SetPower
from planner.model.routine import Given, Rule, Step, WhenExit
from planner.model.units import Amount


@dataclass(frozen=True, slots=True)
class LeftOn:
    """A command still in force in a finish, with nothing said to its mechanism on the way."""

    step: str
    given: Given
    way: tuple[str, ...]
    """From the step to the finish, a shortest one; long ones have their middle left out."""
    left_out: int
    """How many steps of the way are left out before its last."""
    rule: bool = False
    """Whether a side rule gives it."""


MOST_SHOWN = 8
"""How many steps of a way are spelt out."""


def last_given(step: Step) -> Mapping[str, Given]:
    """By mechanism, the command of a step that is sent: the last one (M7)."""
    return {given.mechanism.name: given for given in step.commands}


def left_on(plan: Plan) -> Iterator[LeftOn]:
    """The `runs` commands that some way carries into a finish.

    They are those of steps given with `keep`, and those of the routine's side rules. An incomplete
    step may have told the mechanism something, so no way goes through it; nor through a step in
    which a side rule may tell it something.
    """
    kept = [
        (name, given, None)
        for name, given in _given_by_steps(plan)
        if given.keep and given.command.runs
    ]
    ruled = [
        (name, rule.given, rule)
        for rule in plan.routine.rules
        if rule.given.command.runs
        for name in plan.steps
    ]
    yield from _carried(plan, [*kept, *ruled])


def powered_on(plan: Plan) -> Iterator[LeftOn]:
    """The `holds` commands that turn something at a power, and that some way carries into a finish.

    A finish switches off only what `runs` (M10).
    """
    held = [
        (name, given, None)
        for name, given in _given_by_steps(plan)
        if not given.command.runs and turned_by(given)
    ]
    ruled = [
        (name, rule.given, rule)
        for name, step in plan.routine.steps.items()
        if not step.is_finish
        for rule in rules_around(plan.routine, name)
        if not rule.given.command.runs and turned_by(rule.given)
    ]
    yield from _carried(plan, [*held, *ruled])


def turned_by(given: Given) -> str:
    """The motor that a command turns at a power other than 0; empty where there is none.

    A place to run to is no power: there the motor holds still.
    """
    # What is worked out on the way may be any power.
    return next((motor for motor, power in _powers(given) if power is None or power), "")


def turning(given: Given) -> dict[str, Fraction]:
    """By motor that a command turns, its power in %; what is worked out on the way is left out."""
    return {motor: power for motor, power in _powers(given) if power}


def _powers(given: Given) -> Iterator[tuple[str, Fraction | None]]:
    """The motors that a command turns at a power, in %; None where that is worked out later."""
    for action in given.command.actions:
        if not isinstance(action, SetPower) or action.output.kind not in _TURNING:
            continue
        number: Number | Setpoint = action.value
        sign = 1
        if isinstance(number, ParameterUse):
            names = [parameter.name for parameter in given.command.parameters]
            sign = -1 if number.negated else 1
            number = given.arguments[names.index(number.parameter.name)]
        power = sign * number.base if isinstance(number, Amount) else None
        yield action.output.name, power


def kept_moving(plan: Plan, moves: Iterable[Given]) -> dict[str, list[Given]]:
    """By step, the commands among `moves` given with `keep` earlier that may be in force there."""
    graph = ways(plan)
    found: dict[str, list[Given]] = {}
    wanted = {given.number for given in moves}
    by_mechanism: dict[str, list[tuple[str, Given]]] = {}
    for name, given in _given_by_steps(plan):
        if given.number in wanted and given.keep and given.command.runs:
            by_mechanism.setdefault(given.mechanism.name, []).append((name, given))
    for mechanism, sources in by_mechanism.items():
        silent = _silent(plan, mechanism)
        inside = graph.subgraph({*silent, *(name for name, _ in sources)})
        first = dict(reversed(sources))
        # What comes to a step from several places is told for the first of them in the text.
        for name, given in first.items():
            seen = {name}
            waiting = deque([name])
            while waiting:
                for after in inside[waiting.popleft()]:
                    if after in silent and after not in seen and not _has(found, after, mechanism):
                        seen.add(after)
                        found.setdefault(after, []).append(given)
                        waiting.append(after)
    return found


def never_told(plan: Plan, mechanism: str) -> set[str]:
    """The steps where a mechanism cannot be done: no command that reports done is the last it got.

    A run may come there with another command in force, or with none at all. A `runs` command that
    was switched off before it was done never will be (M7): it counts after its step only where an
    exit asks whether it is done, or where it was given with `keep`.
    """
    graph = ways(plan)
    told, deaf, cut = [], set(), []
    for name, step in plan.routine.steps.items():
        given = last_given(step).get(mechanism)
        if is_incomplete(plan.routine, name) or _rule_reports(plan, name, mechanism):
            told.append(name)
        elif given and given.command.reports_done:
            told.append(name)
            if given.command.runs and not given.keep:
                cut += [
                    (name, exit_.target)
                    for exit_ in plan.exits[name]
                    if not asks_done(exit_, mechanism)
                ]
        elif given:
            deaf.add(name)
    told += _told_by_other_lanes(plan, told, deaf)
    # The command in force goes on through steps that say nothing to the mechanism.
    rest = _without(graph, deaf)
    asking = {
        (exit_.source, exit_.target) for exit_ in plan.all_exits() if asks_done(exit_, mechanism)
    }
    rest.remove_edges_from(edge for edge in cut if edge not in asking and rest.has_edge(*edge))
    return set(graph) - reached(rest, told)


def _told_by_other_lanes(plan: Plan, told: list[str], deaf: set[str]) -> list[str]:
    """The steps of lanes beside one that gives a command, while it may be in force (M8)."""
    speaking: dict[str, set[str]] = {}
    for name in told:
        lane = plan.routine.lane_around(name)
        if lane:
            speaking.setdefault(lane.inside, set()).add(lane.name)
    return [
        name
        for name in plan.outer
        if name not in deaf
        and (lane := plan.routine.lane_around(name))
        and speaking.get(lane.inside, set()) - {lane.name}
    ]


def asks_done(exit_: Exit, mechanism: str) -> bool:
    """Whether an exit waits for a mechanism to be done."""
    if not isinstance(exit_.written, WhenExit):
        return False
    return any(
        isinstance(leaf, Done) and leaf.mechanism.name == mechanism
        for leaf in leaves(exit_.written.condition)
    )


_TURNING = (OutputKind.MOTOR, OutputKind.CONTINUOUS_SERVO)


def _given_by_steps(plan: Plan) -> Iterator[tuple[str, Given]]:
    """The last command to each mechanism of the steps that were read whole."""
    for name, step in plan.routine.steps.items():
        if not step.is_finish and not is_incomplete(plan.routine, name):
            yield from ((name, given) for given in last_given(step).values())


def _rule_reports(plan: Plan, step: str, mechanism: str) -> bool:
    return any(
        rule.given.mechanism.name == mechanism and rule.given.command.reports_done
        for rule in rules_around(plan.routine, step)
    )


def _has(found: Mapping[str, list[Given]], step: str, mechanism: str) -> bool:
    return any(given.mechanism.name == mechanism for given in found.get(step, ()))


def _carried(plan: Plan, sources: list[tuple[str, Given, Rule | None]]) -> Iterator[LeftOn]:
    """Those of some commands that a silent way carries into a finish; rules' once each."""
    if not sources:
        return
    graph = ways(plan)
    playable = played(plan, graph)
    told: set[int] = set()
    to_finish: dict[tuple[str, int], dict[str, _Hop]] = {}
    for step, given, rule in sources:
        number = rule.number if rule else 0
        if number in told or (rule and (step not in playable or plan.step(step).is_finish)):
            continue
        others = (other for other in rules_around(plan.routine, step) if other is not rule)
        # One rule may be there to end what another has begun. A step's own command needs no rule
        # to go on, and no run need make a rule speak.
        if rule and any(other.given.mechanism.name == given.mechanism.name for other in others):
            continue
        key = (given.mechanism.name, number)
        if key not in to_finish:
            to_finish[key] = _ways_to_finish(plan, graph, given.mechanism.name, rule)
        found = to_finish[key]
        through = min(
            (target for target in graph[step] if target in found),
            key=lambda target: found[target].distance,
            default=None,
        )
        if through is not None:
            way, left_out = _spelt_out(step, through, found)
            told.update([number] if rule else [])
            yield LeftOn(step, given, way, left_out, rule is not None)


@dataclass(frozen=True, slots=True)
class _Hop:
    following: str
    """Empty where the step is a finish."""
    finish: str
    distance: int


def _silent(plan: Plan, mechanism: str, but: Rule | None = None) -> set[str]:
    """The steps in which a mechanism is told nothing, neither by them nor by a rule but `but`."""
    speaking = {
        name
        for name in plan.routine.steps
        if but
        and any(
            rule is not but and rule.given.mechanism.name == mechanism
            for rule in rules_around(plan.routine, name)
        )
    }
    return {
        name
        for name, step in plan.routine.steps.items()
        if not is_incomplete(plan.routine, name)
        and mechanism not in last_given(step)
        # A finish is entered, and rules are not followed any more.
        and (step.is_finish or name not in speaking)
    }


def _ways_to_finish(plan: Plan, graph: Ways, mechanism: str, but: Rule | None) -> dict[str, _Hop]:
    """By step, the shortest way to a finish past steps that tell the mechanism nothing."""
    silent = _silent(plan, mechanism, but)
    hops = {
        name: _Hop("", name, 0)
        for name, step in plan.routine.steps.items()
        if step.is_finish and name in silent
    }
    waiting = deque(hops)
    while waiting:
        name = waiting.popleft()
        for before in graph.predecessors(name):
            if before in silent and before not in hops:
                hops[before] = _Hop(name, hops[name].finish, hops[name].distance + 1)
                waiting.append(before)
    return hops


def _spelt_out(step: str, through: str, hops: dict[str, _Hop]) -> tuple[tuple[str, ...], int]:
    way = [step, through]
    while hops[way[-1]].following and len(way) < MOST_SHOWN:
        way.append(hops[way[-1]].following)
    left_out = max(0, hops[way[-1]].distance - 1)
    if hops[way[-1]].distance:
        way.append(hops[through].finish)
    return tuple(way), left_out


def _without(graph: Ways, steps: Iterable[str]) -> Ways:
    """The graph without the edges into some of its steps."""
    left_out = set(steps)
    rest: Ways = type(graph)()
    rest.add_nodes_from(graph)
    rest.add_edges_from(edge for edge in graph.edges if edge[1] not in left_out)
    return rest
