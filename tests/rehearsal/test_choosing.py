"""What is chosen before a run by hand: keys, words, numbers, and slips."""

from __future__ import annotations

import pytest
from demo import check

from planner.model.choices import normal_variant
from planner.rehearsal.choosing import Choosing, spoken_choices

PLAN = """choose alliance: red, blue mirrors
choose park: quay, stay
choose delay: 0 s to 5 s, normally 0.5 s
start Wait
step Wait
  after delay, go to Lit
finish Lit
"""


def choosing() -> Choosing:
    """The choices of a plan, before anybody has chosen."""
    return Choosing(check(PLAN).plan.routine.choices)


@pytest.mark.parametrize(
    ("lines", "chosen"),
    [
        ([], "alliance red, park quay, delay 0.5 s"),
        (["a"], "alliance blue, park quay, delay 0.5 s"),
        (["a", "alliance"], "alliance red, park quay, delay 0.5 s"),
        (["a blue", "p stay"], "alliance blue, park stay, delay 0.5 s"),
        (["choose alliance blue"], "alliance blue, park quay, delay 0.5 s"),
        (["stay"], "alliance red, park stay, delay 0.5 s"),
        (["d 2"], "alliance red, park quay, delay 2 s"),
        (["delay 1500 ms"], "alliance red, park quay, delay 1500 ms"),
        (["d 0 s", "d 5 s"], "alliance red, park quay, delay 5 s"),
    ],
)
def test_what_is_chosen(lines: list[str], chosen: str) -> None:
    """A key goes on to the next word, a word or number is chosen by its name, key or itself."""
    table = choosing()
    assert [""] * len(lines) == [table.choose(line) for line in lines]
    assert chosen == spoken_choices(table.chosen)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("d 6 s", "`delay` is 0 s to 5 s: type `d 5 s`"),
        ("d", "`delay` is 0 s to 5 s: type `d 5 s`"),
        ("delay 2 cm", "`delay` is 0 s to 5 s: type `d 5 s`"),
        ("a green", "`alliance` is `red`, `blue`"),
        ("alliance red blue", "`alliance` is `red`, `blue`"),
        ("blu", "there is nothing called `blu` to choose; did you mean `blue`?"),
        ("allience blue", "there is nothing called `allience` to choose; did you mean `alliance`?"),
        ("2 s", "there is nothing called `2` to choose; type `delay 5 s`"),
        ("choose", "type what you choose, such as `delay 5 s`"),
        ("x" * 300, "type what you choose, such as `delay 5 s`"),
    ],
)
def test_slips(line: str, said: str) -> None:
    """What cannot be chosen is answered in one sentence, and nothing is chosen."""
    table = choosing()
    assert said == table.choose(line)
    assert normal_variant(check(PLAN).plan.routine.choices) == table.chosen
