"""What it finds
    Something remembered that is used as what it is not: a word as a number, a number as a
    word, a counter as a memory.

Why it matters on the field
    The plan would compare what cannot be compared, and the exit would never be taken.

Example
    memory side: left, right
    start Look
    step Look
      remember post_mark as side
      when post_mark sees left, go to Place
      when post_mark sees middle, go to GiveUp
      when post_mark sees right, go to Place
      after 1.5 s, go to Place
    step Place
      arm to side
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    memory side: left, right
    setting height by side
      left 600 ticks
      right 1200 ticks
    start Look
    step Look
      remember post_mark as side
      when post_mark sees left, go to Place
      when post_mark sees middle, go to GiveUp
      when post_mark sees right, go to Place
      after 1.5 s, go to Place
    step Place
      arm to height
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import in_words, listed, steps_of
from planner.findings import Slip


def find(case: Case) -> Iterator[Found]:
    """Memories, counters and answers that are taken for something else."""
    for slip in case.slips_of("wrong-memory"):
        headline, way_out = _told(slip)
        yield Found(
            slip.place,
            headline,
            "A memory holds either a number or one of its words, and a counter a whole number.",
            way_out,
            steps=steps_of(slip),
        )


def _told(slip: Slip) -> tuple[str, str]:
    word, first = slip.word, slip.facts.get("first", "")
    name = slip.facts.get("memory", word)
    match slip.facts["kind"]:
        case "word-as-number":
            return (
                f"`{word}` remembers a word, and here stands a number",
                f"Give each word its number, with `setting height by {word}` and a row for each "
                "word under it, and write `height` here.",
            )
        case "counter-as-number":
            return (
                f"the counter `{word}` has no unit, and here stands a number with one",
                f"A counter is asked in conditions: `counter {word} is {first}`.",
            )
        case "answer-as-number":
            return (
                f"`{word}` answers with a word, and here stands a number",
                "Ask it in a condition, or remember it in a memory of words.",
            )
        case "word-compared":
            return (
                f"`{name}` remembers a word, which is no more or less than another",
                f"It is asked with `memory {name} is {first}`.",
            )
        case "number-as-word":
            return (
                f"`{name}` remembers a number, not a word",
                f"It is asked with `<`, `<=`, `>` or `>=`: `memory {name} < ...`.",
            )
        case "counter-as-memory":
            return (
                f"`{name}` is a counter, not a memory",
                f"It is asked with `counter {name} is 0` and changed with `count {name} down`, "
                f"`up` or `from 3`.",
            )
        case "memory-as-counter":
            return (
                f"`{name}` is no counter",
                "What is counted is declared with `counter shots: 0 to 3, normally 3`; a memory is "
                f"asked with `memory {name}` and told with `remember ... as {name}`.",
            )
        case "setting-as-memory":
            return (
                f"`{name}` never changes in the match: it is no memory",
                "What is remembered is declared with `memory NAME = 60 cm` or `memory NAME: no, "
                "yes`.",
            )
        case "table-by-number":
            return (
                f"`{word}` holds a number, so no setting can have a row for each value of it",
                f"A setting goes by a memory of words, or by a choice. To work a number out of "
                f"`{word}`, write a sum: `{word} + 5 cm`, `0.5 * {word}`.",
            )
        case _:
            return _told_of_words(slip)


def _told_of_words(slip: Slip) -> tuple[str, str]:
    word = slip.word
    match slip.facts["kind"]:
        case "one-word":
            return (
                f"`{word}` has one word alone, so it can never change",
                f"Give it at least two words, the first is its value at the start: "
                f"`memory {word}: no, yes`.",
            )
        case "answers-none":
            return (
                f"`{word}` gives none of the words that are remembered there",
                f"It answers {listed(slip.known)}. Give the memory those words.",
            )
        case _:
            words = f" It remembers {in_words([f'`{w}`' for w in slip.known])}." * bool(slip.known)
            return (
                f"`{word}` is no word that could be remembered there",
                f"Name one of the memory's words, or a sensor that answers with them.{words}",
            )
