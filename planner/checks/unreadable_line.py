"""What it finds
    A line that is not written in the language of plans: a word of Java or Python, a missing comma,
    a sign that a word processor has changed, or a slip of the finger.

Why it matters on the field
    The planner does not guess. It leaves such a line out, so the robot would not do what the line
    says: the step would have one exit less, or one command less.

Example
    start Approach
    step Approach
      drive forward 40 %
      if bumper == pressed: goto Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from planner.checks.case import Case, Found
from planner.checks.examples import example_for
from planner.checks.habits import Habit
from planner.checks.plan_names import kept
from planner.checks.repair import Repair, Repairs, foreign_line, reads_as, with_first_word
from planner.checks.words import in_words, mended_line, steps_of, whole_word
from planner.findings import Slip, nearest
from planner.text import Place
from planner.tree.language import ROBOT, ROUTINE
from planner.tree.rows import split_comment
from planner.tree.shapes import HEAD_OF

_WHY = "The planner leaves out a line that it cannot read, so the robot would not do it."
_START_ANEW = "`planner explain unreadable-line` says more."
_MOST_LESSONS = 3


def find(case: Case) -> Iterator[Found]:
    """The lines that could not be read, and those that only look like a command."""
    repairs = Repairs(case.robot)
    for group in _headless(case):
        yield _found(group[0], case, repairs) if len(group) == 1 else _without_head(group, case)
    for slip in case.slips_of("unknown-mechanism"):
        if foreign_line(slip, case.robot):
            yield _found(_as_line(slip, case), case, repairs)


def _headless(case: Case) -> Iterator[list[Slip]]:
    """The unreadable lines, those together that follow each other and lack one and the same head"""
    group: list[Slip] = []
    for slip in case.slips_of("unreadable-line"):
        head = _head_of(slip)
        if group and not (head and _head_of(group[-1]) == head and _follows(group[-1], slip)):
            yield group
            group = []
        group.append(slip)
    if group:
        yield group


def _head_of(slip: Slip) -> str:
    """The heading that a line stands under elsewhere, where its own place has no such lines."""
    language = ROBOT if slip.facts.get("file") == "robot" else ROUTINE
    word = slip.facts.get("first_word", "")
    misplaced = slip.facts.get("at_start") and word not in slip.known
    return HEAD_OF.get(language.belongs(word), "") if misplaced else ""


def _follows(above: Slip, slip: Slip) -> bool:
    between = slip.place.source.lines[above.place.line : slip.place.line - 1]
    return all(not split_comment(line)[0].strip() for line in between)


def _without_head(group: list[Slip], case: Case) -> Found:
    head = _head_of(group[0])
    first = replace(group[0], facts={**group[0].facts, "heading": "yes", "first_word": head})
    first = replace(first, known=(head,))
    return Found(
        group[0].place,
        f"these {len(group)} lines have no `{head}` line above them",
        _WHY,
        f"Lines like these stand under a `{head}` line, indented. Write it above them, or take "
        "away what is in front of it.",
        paste=example_for(first, case),
        steps=steps_of(first),
    )


def _as_line(slip: Slip, case: Case) -> Slip:
    """An unknown mechanism that is really the first word of another kind of line."""
    step = case.plan.routine.steps.get(slip.step) if case.plan else None
    rule = "finish_line" if step and step.is_finish else "step_line"
    known: tuple[str, ...] = ("when", "after", "keep")
    if step and step.is_block:
        rule, known = "together_line", (*known, "lane")
    facts = {"file": "routine", "rule": rule, "first_word": slip.word}
    return replace(slip, known=known, facts=facts)


def _found(slip: Slip, case: Case, repairs: Repairs) -> Found:
    if "because" in slip.facts:
        return _too_much(slip)
    word, heads_lines = slip.facts["first_word"], slip.facts.get("heading")
    if slip.facts["rule"] == "together_line" and heads_lines and word in case.robot.mechanisms:
        return _command_with_steps(slip, case)
    if slip.facts["file"] == "robot" and _nearly_expected(slip, whole_word(slip.place), least=5):
        return _plain(slip, case)
    mended = repairs.repair(slip)
    if mended and (mended.lines or mended.emptied or not with_first_word(slip)):
        return _from_habit(slip, mended, case)
    nearby = with_first_word(slip)
    return _misspelt(slip, nearby) if nearby else _plain(slip, case)


def _command_with_steps(slip: Slip, case: Case) -> Found:
    """A command of a block under which steps stand, whose `lane` line is missing."""
    below = slip.place.source.lines[slip.place.line :]
    first = (line.split()[0] for line in below if line.split())
    told = next((word for word in first if word in case.robot.mechanisms), "other")
    name = told if told not in kept(slip.place, "lane") else f"{told}_too"
    command = split_comment(slip.place.line_text)[0].strip()
    place = replace(slip.place, column=_start(slip), end_column=_start(slip) + len(command))
    return Found(
        place,
        f"`{command}` is a command, and below it stand steps",
        _WHY,
        f"The steps of a block stand under a `lane`. Write it between them, as in `lane {name}`.",
        paste=(command, f"lane {name}"),
        steps=steps_of(slip),
    )


def _from_habit(slip: Slip, mended: Repair, case: Case) -> Found:
    first = mended.habits[0]
    lessons = dict.fromkeys(habit.lesson for habit in mended.habits[:_MOST_LESSONS])
    further = [
        _sentence(habit, "") for habit in mended.habits[1:] if "{seen}" not in habit.headline
    ]
    also = [f"And {text}." for text in dict.fromkeys(further)][: _MOST_LESSONS - 1]
    no_line = mended.emptied or first.instead is None
    paste = mended.lines or first.paste or (() if no_line else example_for(slip, case))
    return Found(
        mended.place,
        _sentence(first, mended.seen),
        _WHY,
        " ".join([*list(lessons)[:1], *also]),
        paste=paste,
        steps=steps_of(slip),
    )


def _sentence(habit: Habit, seen: str) -> str:
    return habit.headline.replace("{seen}", seen)


def _misspelt(slip: Slip, line: str) -> Found:
    word = slip.facts["first_word"]
    right = line.split()[0]
    return Found(
        replace(slip.place, column=_start(slip), end_column=_start(slip) + len(word)),
        f"no line starts with `{word}`; did you mean `{right}`?",
        _WHY,
        "The first word says what kind of line it is, and is spelled exactly so.",
        paste=(line,),
        steps=steps_of(slip),
    )


def _plain(slip: Slip, case: Case) -> Found:
    """No habit is recognised: what was read, and what could have come next."""
    place = whole_word(slip.place)
    near = _nearly_expected(slip, place)
    if near:
        return Found(
            place,
            f"`{place.words}` makes no sense here; did you mean `{near}`?",
            _WHY,
            "The words of the language are spelled exactly so.",
            paste=(mended_line(place, near),),
            steps=steps_of(slip),
        )
    expected = [word for word in slip.facts.get("expected", "").split("\n") if word]
    before = place.line_text[_start(slip) - 1 : place.column - 1].strip()
    seen = place.words.strip()
    if not seen:
        headline = f"the line stops too early, after `{before}`" if before else "the line is empty"
    elif not before:
        headline = f"no line here starts with `{seen}`"
    else:
        headline = f"the line makes no sense from `{seen}` on"
    after = f" after `{before}`" if before else ""
    wanted = f"Here{after} comes {in_words(expected)}. " if expected else ""
    example = example_for(slip, case)
    shown = "Such a line looks like this:" if example else _START_ANEW
    return Found(
        place,
        headline,
        _WHY,
        f"{wanted}{shown}",
        paste=example,
        steps=steps_of(slip),
    )


def _nearly_expected(slip: Slip, place: Place, least: int = 1) -> str:
    """The word that could have stood here and is nearest to what does, if the line then reads."""
    if len(place.words) < least:
        return ""
    could = [word for word in re.findall(r"\w+", slip.facts.get("expected", "")) if word != "a"]
    fits = (
        near for near in nearest(place.words, could) if reads_as(slip, mended_line(place, near))
    )
    return next(fits, "")


def _too_much(slip: Slip) -> Found:
    return Found(
        slip.place,
        f"this line is too much to read: {slip.facts['because']}",
        _WHY,
        "Split it into several lines, several steps or several groups.",
        steps=steps_of(slip),
    )


def _start(slip: Slip) -> int:
    text = slip.place.line_text
    return len(text) - len(text.lstrip()) + 1
