"""Op modes that are for one combination of choices each."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from java.fixed import COMBINATIONS, Pair, pairs
from java.java_tools import choices_routine, exported, plan_of
from java.playing import Bench

from planner.java import export
from planner.java.fixed_code import fixed_codes
from planner.model.choices import Variant, normal_variant, variants
from planner.model.units import UNITS, Amount
from planner.rehearsal.choosing import combination

PAIRS = pairs()
ROUTINE = """routine either "{title}"
robot beetle
limit 20 s
choose alliance: red, blue
choose wait: {words}
choose delay: 0 s to 5 s, normally 0 s
start A
step A
  after delay, go to B
finish B
"""


def routine(title: str = "Either side", words: str = "yes, no") -> str:
    """A routine with two choices of words and a range."""
    return ROUTINE.format(title=title, words=words)


def op_modes(text: str, *chosen: str) -> dict[str, str]:
    """The op modes for combinations by class name, each with its name on the driver station."""
    plan = plan_of(text)
    variants_ = [combination(plan.routine.choices, one)[0] for one in chosen]
    files = export(plan, "team", variants_)
    return {
        Path(path).stem: re.findall(r'@Autonomous\(name = "(.*)", group', java)[0]
        for path, java in files.items()
        if path.endswith("Fixed.java")
    }


@pytest.mark.parametrize("pair", PAIRS, ids=lambda pair: pair.name)
def test_it_plays_as_what_was_chosen(pair: Pair, bench: Bench) -> None:
    """From the start on, it does and shows what the routine's op mode does once a gamepad has
    chosen the same; that nobody can choose otherwise is part of it."""
    fixed, by_gamepad = bench.fixed[pair.name]
    chosen = pair.started(fixed, pair.fixed)
    assert chosen == pair.started(by_gamepad, pair.by_gamepad)
    assert "[chosen: alliance " in chosen[1]


def test_every_word_and_both_ends_are_played() -> None:
    """The combinations that are played have every word and both ends of every range."""
    choices = choices_routine().plan.routine.choices
    there = {(name, str(value)) for one in COMBINATIONS for name, value in one.items()}
    assert there == {(name, str(end)) for name, choice in choices.items() for end in choice.ends}


def test_names_say_what_it_does() -> None:
    """The name on the driver station says the combination, a bare answer with its choice; the
    class name says the same."""
    assert {
        "EitherBlueWaitNoFixed": "Either side: blue, wait no",
        "EitherRedWaitYesDelay2Point5SecondsFixed": "Either side: red, wait yes, delay 2.5 s",
    } == op_modes(routine(), "alliance blue, wait no, delay 0 s", "alliance red, delay 2500 ms")


def test_the_same_twice_is_one() -> None:
    """A combination that is asked for twice, in whatever units and order, is one op mode."""
    twice = ("delay 2 s, alliance blue", "alliance blue, delay 2000 ms, wait yes")
    assert ["EitherBlueWaitYesDelay2SecondsFixed"] == list(op_modes(routine(), *twice))


def test_a_long_title_hides_no_combination() -> None:
    """However long a title is, the list of the driver station tells combinations apart."""
    names = op_modes(routine(title="long " * 60), "alliance red", "alliance blue").values()
    assert {": red, wait yes", ": blue, wait yes"} == {name[60:] for name in names}


def test_class_names_stay_apart_and_stay_as_they_are() -> None:
    """Words that are alike in Java make names of their own, whatever else is asked for."""
    text = routine(words="red_blue, blue, Blue").replace("red, blue\n", "blue_red, blue\n", 1)
    plan = plan_of(text)
    normal = normal_variant(plan.routine.choices)
    whole = [{**one, "delay": normal["delay"]} for one in variants(plan.routine.choices)][::2]
    types = [code.type_name for code in fixed_codes(plan.routine, whole)]
    assert 6 == len({name.casefold() for name in types})
    alone: list[str] = [next(fixed_codes(plan.routine, [one])).type_name for one in whole]
    assert types == alone


def test_numbers_in_another_unit() -> None:
    """A number is settled in the unit of its choice: ten inches are 0.254 m, by the international
    inch of 1959."""
    chosen: Variant = {"way": Amount(Fraction(10), UNITS["in"])}
    java = export(choices_routine().plan, "team", [chosen])
    (fixed,) = (text for path, text in java.items() if path.endswith("Fixed.java"))
    assert '        fix("way", 0.254);\n' in fixed


def test_others_are_exported_as_without() -> None:
    """What is asked for adds files and changes none."""
    text = routine()
    plan = plan_of(text)
    more = export(plan, "team", [{"alliance": "blue"}])
    assert exported(text, "team") == {p: t for p, t in more.items() if "Fixed" not in p}


def test_one_of_a_word_that_is_gone_holds_still(bench: Bench) -> None:
    """An op mode that is left from an earlier plan says so, and nothing moves."""
    said = bench.gone
    trouble = (
        "[This op mode is for alliance green, which the plan does not have any more. Delete it, or "
        "export it anew.] | [So the robot holds still. Put it right and press init again.]"
    )
    assert ["ok", trouble, trouble, "-", trouble, "-"] == said
