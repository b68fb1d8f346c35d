"""Of slips made on purpose in sound plans, how many are found; judged by rehearsal.

What the columns say: `changed` go another way in some run, `breaks` break a guarantee (some run is
cut off outside of a finish, or carries a running motor into one), `found` of them earn an error or
a warning. `sound` change nothing that any run shows; `false` of them earn something, `errors` an
error.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache

import pytest
from conftest import GOLDEN
from gallery.examples import NAMES
from quality.seeded_faults import Judged, judged, row_read, table

SNAPSHOT = "quality/seeded_faults.txt"
SUBSET = ("first_tin", "marked_post")
"""The routines that are judged again in the ordinary run."""


@lru_cache
def rows_of(routine: str) -> tuple[Judged, ...]:
    """The slips made in one routine, judged."""
    return tuple(judged(routine))


def snapshot() -> list[Judged]:
    """The rows of the table as it was last written."""
    text = (GOLDEN / SNAPSHOT).read_text(encoding="utf-8")
    _, _, rows = text.partition("\n\n")
    return [row_read(line) for line in rows.splitlines()]


def test_the_table(golden: Callable[[str, str], None], request: pytest.FixtureRequest) -> None:
    """Every slip made in the routines of the subset is judged and found as the table says; with
    --regenerate, those of all routines, and the table is written again."""
    if request.config.getoption("--regenerate"):
        every = [row for name in NAMES for row in rows_of(name)]
        golden(SNAPSHOT, f"{table(every)}\n" + "".join(f"{row.row}\n" for row in every))
    for name in SUBSET:
        expected = [row.row for row in snapshot() if row.routine == name]
        assert expected == [row.row for row in rows_of(name)]


def test_the_counts_are_those_of_the_rows() -> None:
    """The table above the rows counts them, and is not written by hand."""
    text = (GOLDEN / SNAPSHOT).read_text(encoding="utf-8")
    assert text.partition("\n\n")[0] + "\n" == table(snapshot())


def test_all_that_breaks_a_guarantee_is_found() -> None:
    """A slip that can lose a match earns an error or a warning."""
    assert [] == [row.row for row in snapshot() if row.breaks and not row.checks]


def test_no_sound_plan_earns_an_error() -> None:
    """A slip that no run shows earns no error; where one does, the check is wrong, or the runs
    have missed what it sees."""
    errors = [r.row for r in snapshot() if r.is_sound and any(c.endswith("!") for c in r.checks)]
    assert [] == errors
