"""What is chosen before a run by hand, as a student types it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from planner.findings import nearest
from planner.model.choices import AnyChoice, Choice, RangeChoice, Variant, normal_variant
from planner.model.units import Amount
from planner.rehearsal.handles import keys_for
from planner.rehearsal.orders import LONGEST, amount_typed


@dataclass(frozen=True, slots=True)
class Offer:
    """A choice, and the letter that stands for its name; empty where they have run out."""

    choice: AnyChoice
    key: str

    @property
    def name(self) -> str:
        """As the plan calls it."""
        return self.choice.name

    @property
    def reach(self) -> str:
        """What can be chosen, in words."""
        if isinstance(self.choice, RangeChoice):
            return f"{self.choice.low} to {self.choice.high}"
        return ", ".join(self.choice.values)

    @property
    def way(self) -> str:
        """What can be typed to choose."""
        front = self.key or self.name
        if isinstance(self.choice, RangeChoice):
            low, high = self.choice.low, self.choice.high
            return f"`{self.name}` is {low} to {high}: type `{front} {high}`"
        return f"`{self.name}` is {', '.join(f'`{word}`' for word in self.choice.values)}"


class Choosing:
    """The choices of a routine and what is chosen so far, at first as where nobody chooses."""

    def __init__(self, choices: Mapping[str, AnyChoice]) -> None:
        keys = keys_for(list(choices))
        self.offers = tuple(
            Offer(choice, key) for choice, key in zip(choices.values(), keys, strict=True)
        )
        self.chosen: dict[str, str | Amount] = normal_variant(choices)

    def choose(self, text: str) -> str:
        """Chooses as a line says; what to type instead, in one sentence, where that is unclear."""
        words = text.split()
        if words[:1] == ["choose"]:
            words = words[1:]
        if len(text) > LONGEST or not words:
            return "type what you choose, such as " + self._example()
        offer = self._named(words[0])
        if offer is None:
            return self._word_alone(words)
        value = self._next(offer) if len(words) == 1 else _value(offer.choice, words[1:])
        if value is None:
            return offer.way
        self.chosen[offer.name] = value
        return ""

    def phrases(self) -> Iterator[str]:
        """What can be typed, for a line editor to complete."""
        for offer in self.offers:
            words = offer.choice.values if isinstance(offer.choice, Choice) else ("",)
            yield from (f"{offer.name} {word}" for word in words)
        yield "quit"

    def _named(self, word: str) -> Offer | None:
        by_key = {offer.key: offer for offer in self.offers if offer.key}
        by_name = {offer.name: offer for offer in self.offers}
        return by_name.get(word) or by_key.get(word)

    def _word_alone(self, words: list[str]) -> str:
        """A word of one choice alone says which choice is meant."""
        having = [offer for offer in self.offers if _value(offer.choice, words) is not None]
        # A number could be any of them.
        worded = [offer for offer in having if isinstance(offer.choice, Choice)]
        if len(worded) == 1 and len(words) == 1:
            self.chosen[worded[0].name] = words[0]
            return ""
        known = [offer.name for offer in self.offers]
        for offer in self.offers:
            known += offer.choice.values if isinstance(offer.choice, Choice) else ()
        near = nearest(words[0], known, most=1)
        hint = f"did you mean `{near[0]}`?" if near else f"type {self._example()}"
        return f"there is nothing called `{words[0]}` to choose; {hint}"

    def _next(self, offer: Offer) -> str | None:
        """What a name or key alone does: the next of several words."""
        if not isinstance(offer.choice, Choice):
            return None
        values = offer.choice.values
        now = self.chosen[offer.name]
        return values[(values.index(str(now)) + 1) % len(values)]

    def _example(self) -> str:
        offer = self.offers[-1]
        return f"`{offer.name} {offer.choice.ends[-1]}`"


def combination(choices: Mapping[str, AnyChoice], text: str) -> tuple[dict[str, str | Amount], str]:
    """What a text such as ``alliance blue, delay 2 s`` chooses, and what is wrong with it.

    What is wrong is one sentence without its full stop, empty where nothing is.
    """
    chosen: dict[str, str | Amount] = {}
    for part in text.split(","):
        name, *value = part.removeprefix("choose ").split() or [""]
        wrong = _wrong(choices, name, value, chosen)
        if wrong:
            return {}, wrong
        found = _value(choices[name], value)
        assert found is not None, "what is not wrong can be chosen"
        chosen[name] = found
    return chosen, ""


def named_in(text: str) -> tuple[str, ...]:
    """The names of the choices that such a text speaks of."""
    return tuple(
        part.removeprefix("choose ").split()[0] for part in text.split(",") if part.split()
    )


def _wrong(
    choices: Mapping[str, AnyChoice], name: str, value: list[str], chosen: Mapping[str, object]
) -> str:
    if not name:
        return f"say what is chosen, such as `{_example(choices)}`"
    if name not in choices:
        return f"there is no `{name[:LONGEST]}` to choose; {_instead(choices, name)}"
    if name in chosen:
        return f"`{name}` is chosen twice"
    choice = choices[name]
    if _value(choice, value) is not None:
        return ""
    said = f"`{' '.join(value)[:LONGEST]}`" if value else "left open"
    if isinstance(choice, RangeChoice):
        return f"`{name}` cannot be {said}: it goes from {choice.low} to {choice.high}"
    return f"`{name}` cannot be {said}: it is {_one_of(choice)}"


def _instead(choices: Mapping[str, AnyChoice], name: str) -> str:
    """What was perhaps meant by a name that no choice has."""
    for choice in choices.values():
        if isinstance(choice, Choice) and name in choice.values:
            return f"write `{choice.name} {name}`"
    near = nearest(name[:LONGEST], choices, most=1)
    return f"did you mean `{near[0]}`?" if near else f"write for example `{_example(choices)}`"


def _example(choices: Mapping[str, AnyChoice]) -> str:
    return spoken_choices(normal_variant(choices))


def _one_of(choice: Choice) -> str:
    *most, last = (f"`{word}`" for word in choice.values)
    return f"{', '.join(most)} or {last}" if most else last


def spoken_choices(chosen: Variant) -> str:
    """What was chosen, in words: ``alliance blue, delay 2 s``."""
    return ", ".join(f"{name} {value}" for name, value in chosen.items())


def _value(choice: AnyChoice, words: list[str]) -> str | Amount | None:
    """What those words choose; None where it cannot be chosen."""
    if isinstance(choice, Choice):
        return words[0] if len(words) == 1 and words[0] in choice.values else None
    amount = amount_typed(" ".join(words), choice.low.unit)
    inside = amount is not None and choice.low.base <= amount.base <= choice.high.base
    return amount if inside else None
