"""Where the resolver writes down what it could not make sense of."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from itertools import pairwise

from planner.findings import Slip, nearest
from planner.text import Place
from planner.tree import nodes as n

_WORD = re.compile(r"[A-Za-z_][A-Za-z0-9_]*")


class Ledger:
    """Collects slips, and remembers the step they are in.

    A name that stands in a line which could not be read may have been declared there; not knowing
    it is no second slip, but what it was used in is `troubled` all the same.
    """

    def __init__(self, broken_words: frozenset[str]) -> None:
        self.slips: list[Slip] = []
        self.broken_words = broken_words
        self.step = ""
        self.troubled = False
        self.used: set[str] = set()
        """The names of settings that some value was looked up under."""
        self.remembered: set[str] = set()
        """The names of memories and counters that some line changes."""
        self._told: set[tuple[str, Place, str]] = set()

    def add(
        self,
        check: str,
        place: Place,
        word: str,
        known: Iterable[str] = (),
        other: Place | None = None,
        **facts: str,
    ) -> None:
        """Writes a slip down."""
        self.troubled = True
        # The steps of a task are resolved for each of its calls; their slips are told once.
        if (check, place, word) not in self._told:
            self._told.add((check, place, word))
            self.slips.append(Slip(check, place, word, tuple(known), facts, self.step, other))

    def unknown(self, check: str, name: n.Name, known: Iterable[str], **facts: str) -> None:
        """Writes down a name that nothing declares."""
        self.troubled = True
        if name.text not in self.broken_words:
            self.add(check, name.place, name.text, known, None, **facts)

    @contextmanager
    def inside(self, step: str) -> Iterator[None]:
        """Within it, slips belong to `step`, and `troubled` tells whether there was one."""
        self.step, self.troubled = step, False
        yield
        self.step = ""


def broken_words(lines: Iterable[n.Line]) -> frozenset[str]:
    """Every word of the lines that could not be read, and of such lines under them.

    Two words that stand side by side count as one as well: ``left wheels`` is `left_wheels`.
    """
    words: set[str] = set()
    for line in lines:
        if line.salvaged:
            found = _WORD.findall(line.place.words)
            words.update(found)
            for first, second in pairwise(found):
                words.update((first + second, f"{first}_{second}"))
        words |= broken_words(line.under)
    return frozenset(words)


MOST_MATCH_EXITS = 50
"""How many exits by the match clock a routine or group may have: each is one of every step."""


def room_for_match_exit(ledger: Ledger, number: int, place: Place) -> bool:
    """Whether a routine or group may have so many exits by the match clock; if not, a slip."""
    if number <= MOST_MATCH_EXITS:
        return True
    because = f"a routine or group may have {MOST_MATCH_EXITS} exits by the match clock"
    ledger.troubled = True
    # Those that follow are of the same fault.
    if not ledger.slips or ledger.slips[-1].facts.get("because") != because:
        ledger.add("unreadable-line", place, "", because=because)
    return False


def words_under(line: n.Line) -> frozenset[str]:
    """Every word of the lines under a line."""
    words = set(_WORD.findall(" ".join(part.place.words for part in line.under)))
    return frozenset(words.union(*(words_under(part) for part in line.under)))


def perhaps_there(lines: Iterable[n.Line], word: str) -> bool:
    """Whether a line that could not be read may be the one that begins with `word`."""
    first = (line.place.words.split(None, 1)[0] for line in lines if line.salvaged)
    return any(word in nearest(begun, (word,)) for begun in first)


def declare(
    ledger: Ledger,
    name: n.Name,
    taken: Mapping[str, Place],
    what: str,
    reserved: frozenset[str] | None = None,
) -> bool:
    """Whether a name is still free. One that is taken is a slip, and so is one that is reserved;
    the latter is declared all the same, so that its uses are no further slips."""
    if name.text in taken:
        ledger.add("name-used-twice", name.place, name.text, other=taken[name.text], what=what)
        return False
    if name.text in (RESERVED if reserved is None else reserved):
        ledger.add("reserved-word", name.place, name.text, what=what)
    return True


# The words that begin a line of a plan, and the ones that conditions are made of. A device,
# mechanism or setting of that name could not be told from them.
RESERVED = frozenset(
    {
        *("routine", "robot", "limit", "setting", "at", "start", "step", "finish"),
        *("when", "after", "keep", "go", "to", "and", "or", "not", "for", "within", "of"),
        *("sees", "done", "match", "once", "group", "task", "do", "whenever", "scenario", "choice"),
        *("require", "never", "while", "only", "leads", "in", "together", "lane"),
        *("memory", "counter", "remember", "count", "as"),
    }
)

# A reading stands behind its mechanism's name, where the words that ask for something follow.
RESERVED_FOR_READINGS = frozenset(
    {"within", "stays", "sees", "is", "goes", "unreadable", "done", "for", "and", "or"}
)

NOT_RESERVED: frozenset[str] = frozenset()
"""For names that stand only where nothing else can, such as the words of a choice."""
