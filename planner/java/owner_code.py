"""What stands under a step, a group or the routine as Java: exits, side rules, memories."""

from __future__ import annotations

from planner.graph import Exit, ExitKind, Plan
from planner.graph.owners import Owner
from planner.java.choices_code import ChoiceWriter
from planner.java.command_code import Commands
from planner.java.condition_code import ConditionWriter, Words
from planner.java.errors import CannotExport
from planner.java.lanes_code import NO_ORDER, Lanes
from planner.java.leaving_code import Leaving
from planner.java.memory_code import Look, MemoryWriter
from planner.java.naming import constant_name, distinct
from planner.java.plan_names import PlanNames, plan_type
from planner.java.plan_parts import (
    Key,
    Parts,
    asking,
    done_key,
    looked_at,
    sensor_key,
    since_keys,
    source_key,
)
from planner.java.printed_exit import ExitCode, MatchCode
from planner.java.printed_plan import (
    EnteredCode,
    OrderCode,
    Remembered,
    RuleCode,
    RulesCode,
    SinceCode,
)
from planner.java.remember_code import Remembering
from planner.java.robot_names import RobotNames
from planner.java.running_code import Running
from planner.java.settings_code import Settings
from planner.java.wording import comment, count, string
from planner.model.condition import Answers, Source
from planner.model.robot import Reading, SensorKind
from planner.model.routine import AfterExit, MatchExit, Rule, WhenExit
from planner.model.spoken import spoken_condition
from planner.model.units import seconds_text


class OwnerWriter:
    """Writes what owners ask and what it leads to."""

    def __init__(
        self, plan: Plan, names: RobotNames, parts: Parts, own: PlanNames, constants: dict[str, str]
    ) -> None:
        self.plan = plan
        self.routine = plan.routine
        self.names = names
        self.parts = parts
        self.own = own
        self.constants = constants
        self.choices = ChoiceWriter(plan.routine, own, names, plan_type(plan.routine))
        self.settings = Settings(plan.routine, self.choices)
        class_of_plan = plan_type(plan.routine)
        self.memories = MemoryWriter(
            plan.routine, own, names, self.choices, self.settings, class_of_plan
        )
        self.lanes = Lanes(plan, own, constants)
        self.running = Running(plan, parts, own, self.lanes)
        self.remembering = Remembering(plan, own, self.memories, self.lanes, self.look)
        self.commands = Commands(parts, own, self.memories, self.choices, self.lanes.tells)
        self.leaving = Leaving(plan, own, self.lanes)
        self.orders = self._orders()

    # What is looked at.

    def writer(self, owner: Owner) -> ConditionWriter:
        """A writer of an owner's conditions."""
        words = Words(
            lambda source: f"{self._look(owner, source)}()",
            lambda source: self._seen(owner, source),
            lambda answers: f"{self.parts.asked[sensor_key(answers.sensor)].method}()",
            self._value,
            lambda done: f"{self.parts.asked[done_key(done.mechanism)].method}()",
            self.settings.amount,
            lambda time_us, chosen: self.settings.time(time_us, chosen=chosen),
            self.choices.asks,
            self.own.memory,
            self.memories.number,
            self.own.remembered,
            self.memories.holds,
            self.lanes.asks,
        )
        return ConditionWriter(words)

    def look(self, owner: Owner) -> Look:
        """How an owner sees a reading."""
        return lambda source: self._seen(owner, source)

    def _seen(self, owner: Owner, source: Source) -> str:
        look = f"{self._look(owner, source)}()"
        return self.choices.mirrored(look) if source.mirrors else look

    def _look(self, owner: Owner, source: Source) -> str:
        key = source_key(source)
        if isinstance(source, Reading) and source.from_step_start:
            return self.own.since(owner, key)
        return self.parts.asked[key].method

    def _value(self, answers: Answers) -> str:
        if answers.sensor.kind is SensorKind.COLOUR:
            return f"Colour.{answers.value.upper()}"
        camera = self.names.cameras[answers.sensor.name]
        return f"{camera.sees}.{camera.values[answers.value]}"

    def sinces(self, key: Key) -> tuple[SinceCode, ...]:
        """The ways in which a reading is looked at since something began, each once."""
        found = {}
        for owner in asking(self.routine):
            if key in since_keys(owner):
                began = owner.name if owner.is_group else "the step" if owner.name else "the plan"
                lane = None if owner.is_group else self.lanes.around(owner)
                if lane:
                    began = f"the step of lane {lane.lane}"
                method, at_entry = self.own.since(owner, key), self.own.at_entry(owner, key)
                found[method] = SinceCode(method, at_entry, f"{comment(began)} began")
        return tuple(found.values())

    def since_now(self, key: Key) -> str:
        """What a reading has changed by as the screen shows it: while lanes run, as the first of
        them sees it that asks for it."""
        asking_it = [owner for owner in asking(self.routine) if key in since_keys(owner)]
        by_block: dict[str, str] = {}
        for owner in asking_it:
            lane = self.lanes.around(owner)
            block = lane.inside if lane else ""
            by_block.setdefault(block, f"{self.own.since(owner, key)}()")
        shown = by_block.pop("", "") or by_block.popitem()[1]
        for block, since in by_block.items():
            shown = f"lanes == {self.own.lanes(block)} ? {since} : {shown}"
        return shown

    def remembered(self, owner: Owner) -> tuple[Remembered, ...]:
        """The readings whose value is kept when an owner is entered."""
        looks = [look for look in looked_at(owner) if isinstance(look, Reading)]
        keys = dict.fromkeys(source_key(look) for look in looks if look.from_step_start)
        return tuple(
            Remembered(self.own.at_entry(owner, key), self.parts.asked[key].method) for key in keys
        )

    def entered(
        self, owner: Owner, writer: ConditionWriter, rules: RulesCode | None
    ) -> EnteredCode:
        """What begins anew when an owner is entered."""
        memories = (*writer.memories, *(rules.memories if rules else ()))
        return EnteredCode(self.remembered(owner), memories, rules.rules if rules else ())

    # Side rules.

    def _orders(self) -> dict[Key, OrderCode]:
        """What side rules give, by mechanism and call."""
        given = {
            (rule.given.mechanism.name, self.commands.due_call(rule.given)): rule.given
            for owner in asking(self.routine)
            for rule in owner.rules
        }
        words = {key: f"{g.mechanism.name}_{g.command.name}" for key, g in given.items()}
        constants = distinct(words, constant_name, "AGAIN", (NO_ORDER,))
        return {
            (name, call): OrderCode(
                constants[name, call],
                self.own.due(name),
                call,
                tuple(field for field, _ in self.commands.due_numbers(told)),
            )
            for (name, call), told in given.items()
        }

    def rules(self, owner: Owner) -> RulesCode | None:
        """The side rules of an owner; None where it has none."""
        if not owner.rules:
            return None
        writer = self.writer(owner)
        rules = tuple(self._rule(owner, rule, writer) for rule in owner.rules)
        guard, whose = "", "the routine"
        if owner.is_group:
            guard, whose = self.own.active(owner.name), f"group {owner.name}"
        elif owner.name:
            guard, whose = self.lanes.is_in(owner.name), f"step {owner.name}"
        doc = f"The side rules of {comment(whose)}"
        return RulesCode(doc, self.own.follow(owner), guard, writer.memories, rules)

    def _rule(self, owner: Owner, rule: Rule, writer: ConditionWriter) -> RuleCode:
        order = self.orders[rule.given.mechanism.name, self.commands.due_call(rule.given)]
        return RuleCode(
            comment(rule.place.words),
            writer.true(rule.condition),
            self.own.was_true(rule),
            order.due,
            order.constant,
            tuple(self.running.of_rule(owner, rule.given)),
            self.commands.call(rule.given),
            self.commands.due_numbers(rule.given),
        )

    # Exits.

    def exits(self, owner: Owner, writer: ConditionWriter) -> tuple[ExitCode, ...]:
        """An owner's own exits in the order of the graph; the two edges of a count make one."""
        if not owner.steps:
            return ()
        group = owner.name if owner.is_group else ""
        edges = self.plan.exits[owner.steps[0]]
        own = [e for e in edges if e.group == group and e.kind is not ExitKind.MATCH]
        overflows = {exit_.written.number: exit_ for exit_ in own if exit_.overflow}
        return tuple(
            self._exit(owner, exit_, writer, overflows.get(exit_.written.number))
            for exit_ in own
            if not exit_.overflow
        )

    def _exit(
        self, owner: Owner, exit_: Exit, writer: ConditionWriter, overflow: Exit | None
    ) -> ExitCode:
        test, why = self._test(exit_, writer)
        ended = exit_.written.ended if not isinstance(exit_.written, MatchExit) else None
        lines = (exit_.place, *([ended] if ended else []))
        comments = tuple(comment(place.words) for place in lines)
        enter = self.own.enter(exit_.target)
        leave = (*self.remembering.statements(owner, exit_), *self.leaving.leave(exit_))
        if exit_.most is None or overflow is None:
            return ExitCode(comments, test, leave, enter, string(why))
        times = "once" if exit_.most == 1 else f"{exit_.most} times"
        return ExitCode(
            comments,
            test,
            leave,
            enter,
            string(why),
            self.own.times(exit_.counter),
            count(exit_.most),
            (*self.remembering.statements(owner, overflow), *self.leaving.leave(overflow)),
            self.own.enter(overflow.target),
            string(f"{why}, more than {times}"),
        )

    def _test(self, exit_: Exit, writer: ConditionWriter) -> tuple[str, str]:
        match exit_.written:
            case WhenExit(condition):
                return writer.true(condition), spoken_condition(condition)
            case AfterExit(limit_us) as written:
                limit = self.settings.time(limit_us, written.setting, written.chosen)
                why = f"after {_spoken(limit_us, written)}"
                clock = self._clock(exit_)
                return f"{clock} >= {limit}{self._first(exit_, written, limit)}", why
            case _:
                raise CannotExport(f"Java cannot take this exit yet: {exit_.place.words}")

    def _clock(self, exit_: Exit) -> str:
        """The clock that a time limit goes by."""
        if exit_.group:
            return f"now - {self.own.started(exit_.group)}"
        lane = self.lanes.of(exit_.source)
        return f"now - {lane}.started" if lane else "timeInStep()"

    def _first(self, exit_: Exit, written: AfterExit, limit: str) -> str:
        """The tests that no later time limit of the same owner comes before it (M4).

        Where a choice moves a limit, the order of the text is not always the order of the limits.
        """
        edges = self.plan.exits[exit_.source]
        beside = [e for e in edges if e.group == exit_.group and not e.overflow]
        afters = [e.written for e in beside if isinstance(e.written, AfterExit)]
        if not any(after.chosen for after in afters):
            return ""
        later = afters[[after is written for after in afters].index(True) + 1 :]
        return "".join(
            f" && {limit} {'<=' if _stands_before(written, other) else '<'} "
            f"{self.settings.time(other.limit_us, other.setting, other.chosen)}"
            for other in later
        )

    def matches(self, owner: Owner) -> tuple[MatchCode, ...]:
        """An owner's match-clock exits, earliest first."""
        return tuple(
            self._match(owner, number, exit_)
            for number, exit_ in enumerate(owner.match_exits)
            if not self.lanes.is_dead(owner, exit_)
        )

    def _match(self, owner: Owner, number: int, exit_: MatchExit) -> MatchCode:
        edge = _match_edge(owner, exit_, number)
        leave = self.leaving.leave(edge) if owner.is_group else self.leaving.leave_for(exit_.target)
        at = self.settings.time(exit_.at_us, exit_.setting, exit_.chosen)
        return MatchCode(
            comment(exit_.place.words),
            self.own.taken(owner, number),
            at,
            self.lanes.is_in(exit_.target),
            (*self.remembering.statements(owner, edge), *leave),
            self.own.enter(exit_.target),
            string(f"{_spoken(exit_.at_us, exit_)} of match"),
            self._untaken_first(owner, number, at),
            not owner.is_group or exit_.target in owner.steps,
        )

    def _untaken_first(self, owner: Owner, number: int, at: str) -> str:
        """The tests that no later match-clock exit of the owner is due and comes before (M4)."""
        exits = owner.match_exits
        if not any(exit_.chosen for exit_ in exits):
            return ""
        tests = []
        for later in range(number + 1, len(exits)):
            other = exits[later]
            if self.lanes.is_dead(owner, other):
                continue
            time = self.settings.time(other.at_us, other.setting, other.chosen)
            sign = "<=" if _stands_before(exits[number], other) else "<"
            taken = self.own.taken(owner, later)
            tests.append(f" && ({taken} || {at} {sign} {time})")
        return "".join(tests)


def _match_edge(owner: Owner, exit_: MatchExit, number: int) -> Exit:
    """An owner's match-clock exit as an edge from the first of its steps."""
    return Exit(
        owner.steps[0],
        exit_.target,
        ExitKind.MATCH,
        exit_,
        number,
        group=owner.name,
        restarts=exit_.restarts,
    )


def _spoken(time_us: int, written: AfterExit | MatchExit) -> str:
    """A time in words: by its name where a choice moves it."""
    if not written.chosen:
        return seconds_text(time_us)
    return written.setting or "the time that was chosen"


def spoken_exit(exit_: Exit) -> str:
    """What an exit waits for, in the words of the plan."""
    match exit_.written:
        case WhenExit(condition):
            return spoken_condition(condition)
        case AfterExit(limit_us) as after:
            return f"after {_spoken(limit_us, after)}"
        case MatchExit(at_us) as match_exit:
            return f"{_spoken(at_us, match_exit)} of match"


def _stands_before(one: AfterExit | MatchExit, other: AfterExit | MatchExit) -> bool:
    return (one.place.line, one.place.column) < (other.place.line, other.place.column)
