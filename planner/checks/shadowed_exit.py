"""What it finds
    An exit that others always come before: whatever makes it true makes an earlier exit of the
    same step, or of a group around it, true as well; or another exit has ended the step long
    before it has been held for its time. Or the time limit has.

Why it matters on the field
    The first true exit is taken, so this one never is. Most often the narrower condition belongs
    above the wider one.

Example
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 20 cm, go to Creep
      when range_front < 8 cm, go to Lit
      after 3 s, go to GiveUp
    step Creep
      drive forward 20 %
      when bumper pressed, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when range_front < 8 cm, go to Lit
      when range_front < 20 cm, go to Creep
      after 3 s, go to GiveUp
    step Creep
      drive forward 20 %
      when bumper pressed, go to Lit
      after 2 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.checks.advice import some
from planner.checks.case import Case, Found
from planner.checks.limits import limit_is_known
from planner.checks.truth import is_settled
from planner.findings import Related
from planner.graph.atoms import Asking, Assumed, looks_at
from planner.graph.owners import Owner, asked_around, owners
from planner.graph.possible import LATEST_US, together
from planner.graph.visits import ends_visit, remembers, within_visit
from planner.model.condition import All, Any, Condition, Held, Looks, Once, Steady, parts
from planner.model.meaning import meaning
from planner.model.routine import AfterExit, Group, Routine, WhenExit
from planner.model.spoken import spoken_condition
from planner.model.units import seconds_text

MOST_COMPARED = 40
"""Of more exits in one place nothing is concluded: each is compared with each."""


@dataclass(frozen=True, slots=True)
class _Asked:
    """An exit where it is asked: in a step or group, or in a group around it."""

    when: WhenExit
    owner: str

    @property
    def asking(self) -> Asking:
        return Asking(self.when.condition, self.owner)


@dataclass(frozen=True, slots=True)
class _Place:
    """A step or group with all that is asked before its exits, and in order with them."""

    owner: Owner
    around: tuple[Group, ...]
    exits: tuple[_Asked, ...]
    assumed: Assumed

    @property
    def names(self) -> tuple[str, ...]:
        """What is asked for, outermost first."""
        return (*(group.name for group in self.around), self.owner.name)

    def covered(self, one: Asking, others: list[_Asked]) -> bool:
        """Whether some other exit is true whenever this is."""
        asked = [other.asking for other in others]
        return together([one], asked, self.names, self.assumed).never


def find(case: Case) -> Iterator[Found]:
    """The `when` exits that cannot be taken, of steps and of groups."""
    if case.plan is None:
        return
    routine = case.plan.routine
    limit_us = routine.limit_us if limit_is_known(case) else None
    for owner in owners(routine):
        if not owner.whens:
            continue
        place = _place(routine, owner, limit_us)
        for asked in place.exits:
            if asked.owner != owner.name:
                continue
            found = _too_long(place, asked.when) or _shadowed(place, asked) or _left(place, asked)
            if found:
                yield found


def _place(routine: Routine, owner: Owner, limit_us: int | None) -> _Place:
    around = asked_around(routine, owner)
    asked = [
        *(_Asked(when, group.name) for group in around for when in group.whens[:MOST_COMPARED]),
        *(_Asked(when, owner.name) for when in owner.whens[:MOST_COMPARED]),
    ]
    # What is settled anyway has a finding of its own.
    exits = [one for one in asked if not is_settled(one.when.condition, one.owner, limit_us)]
    return _Place(owner, around, tuple(exits), Assumed(limit_us or LATEST_US))


def _shadowed(place: _Place, asked: _Asked) -> Found | None:
    earlier = _related(asked, place.exits[: place.exits.index(asked)])
    said = meaning(asked.when.condition)
    if not earlier or said is None:
        return None
    for other in earlier:
        same = other.owner == asked.owner and meaning(other.when.condition) == said
        if not place.covered(asked.asking, [other]):
            continue
        # Two exits for the very same thing are `twin-exits`.
        return None if same else _found(place, asked.when, other)
    if not place.covered(asked.asking, earlier):
        return None
    for other in tuple(earlier):
        rest = [kept for kept in earlier if kept is not other]
        if place.covered(asked.asking, rest):
            earlier = rest
    return _found_between(place, asked.when, earlier)


def _related(asked: _Asked, others: tuple[_Asked, ...]) -> list[_Asked]:
    """The exits that look at something that this one looks at; no other can stand for it."""
    own = looks_at(asked.asking)
    return [other for other in others if own & looks_at(other.asking)]


def _left(place: _Place, asked: _Asked) -> Found | None:
    """An exit whose time never comes, because what it waits for is enough for another."""
    if not remembers(asked.when.condition):
        return None
    others = [
        other
        for other in _related(asked, place.exits)
        if other is not asked and meaning(other.when.condition) is not None
    ]
    leaving = [other.asking for other in others]

    def ends(part: Condition) -> bool:
        return ends_visit(part, asked.owner, leaving, place.names, place.assumed)

    if not others:
        return None
    condition = within_visit(asked.when.condition, ends)
    if condition == asked.when.condition:
        return None
    earlier = [other for other in others if place.exits.index(other) < place.exits.index(asked)]
    if not place.covered(Asking(condition, asked.owner), earlier):
        return None
    remembered = next(
        part
        for part in parts(asked.when.condition)
        if isinstance(part, Held | Looks | Once) and ends(part.part)
    )
    taken = next(
        (other for other in others if place.covered(Asking(remembered.part, asked.owner), [other])),
        others[0],
    )
    return _found_left(place, asked.when, remembered.part, taken)


def _found(place: _Place, when: WhenExit, earlier: _Asked) -> Found:
    narrow, wide = spoken_condition(when.condition), spoken_condition(earlier.when.condition)
    other = earlier.when
    where = "" if earlier.owner == place.owner.name else f" of `{earlier.owner}`"
    if other.target == when.target and other.count == when.count:
        way_out = "Both lead to the same step: delete this line, or change what it waits for."
    elif where:
        way_out = "Change one of the two, or take the group's exit out and write it in its steps."
    else:
        way_out = "Write this line above the other, or change what one of them waits for."
    return Found(
        when.place,
        f"the exit for `{narrow}` in `{place.owner.name}` is never taken",
        f"Whenever it is true, `{wide}` is true as well, and that exit{where} is asked first.",
        way_out,
        steps=place.owner.steps,
        related=(Related(other.place, "this one is taken"),),
    )


def _found_between(place: _Place, when: WhenExit, earlier: list[_Asked]) -> Found:
    wide = some(spoken_condition(other.when.condition) for other in earlier)
    return Found(
        when.place,
        f"the exit for `{spoken_condition(when.condition)}` in `{place.owner.name}` is never taken",
        f"Whenever it is true, one of {wide} is true as well, and they are asked first.",
        "Write this line above them, or change what one of them waits for.",
        steps=place.owner.steps,
        related=tuple(Related(other.when.place, "asked first") for other in earlier),
    )


def _found_left(place: _Place, when: WhenExit, part: Condition, taken: _Asked) -> Found:
    spoken = spoken_condition(when.condition)
    return Found(
        when.place,
        f"the exit for `{spoken}` in `{place.owner.name}` is never taken",
        f"As soon as `{spoken_condition(part)}` is true, another exit is taken; this one needs it "
        "for more than one look.",
        "Delete one of the two exits, or let the other one wait for something else.",
        steps=place.owner.steps,
        related=(Related(taken.when.place, "this one is taken"),),
    )


def _too_long(place: _Place, when: WhenExit) -> Found | None:
    needs_us = _needs_us(when.condition)
    afters = [*place.owner.afters, *(after for group in place.around for after in group.afters)]
    first = min(afters, key=lambda after: after.limit_us, default=None)
    if not needs_us or first is None or needs_us < first.limit_us:
        return None
    return _too_late(place.owner, when, first, needs_us)


def _too_late(owner: Owner, when: WhenExit, first: AfterExit, needs_us: int) -> Found:
    spoken, needs = spoken_condition(when.condition), seconds_text(needs_us)
    return Found(
        when.place,
        f"the exit for `{spoken}` in `{owner.name}` comes after its time limit",
        f"It needs more than {needs} from the first look on, and the limit of "
        f"{seconds_text(first.limit_us)} comes before that.",
        "Make the time in the condition shorter, or the limit longer.",
        steps=owner.steps,
        related=(Related(first.place, "this limit comes first"),),
    )


def _needs_us(condition: Condition) -> int:
    """How long a condition has to be watched at least before it can be true."""
    match condition:
        case Held(part, duration_us):
            return duration_us + _needs_us(part)
        case Steady():
            return condition.duration_us
        case All(parts):
            return max(map(_needs_us, parts))
        case Any(parts):
            return min(map(_needs_us, parts))
        case _:
            return 0
