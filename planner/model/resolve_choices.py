"""From the lines that declare choices to the choices, and from tables to the numbers chosen."""

from __future__ import annotations

from math import prod

from planner.model.choices import MOST_VARIANTS, AnyChoice, Choice, Chosen, RangeChoice
from planner.model.ledger import NOT_RESERVED, Ledger, declare
from planner.model.units import Amount
from planner.model.values import bounds_of, fits, plain_amount
from planner.text import Place
from planner.tree import nodes as n


def choices_of(ledger: Ledger, lines: tuple[n.Line, ...]) -> dict[str, AnyChoice]:
    """The choices that some lines declare; what makes no sense in them is a slip."""
    found: dict[str, AnyChoice] = {}
    taken: dict[str, Place] = {}
    for line in lines:
        head = line.statement
        if not isinstance(head, n.ChoiceLine | n.RangeChoiceLine):
            continue
        if not declare(ledger, head.name, taken, "choice"):
            continue
        taken[head.name.text] = head.name.place
        made = _choice(ledger, head) if isinstance(head, n.ChoiceLine) else _range(ledger, head)
        if made is None:
            # Its uses are no second slip.
            ledger.broken_words |= {head.name.text}
        else:
            found[made.name] = made
    if prod(len(choice.ends) for choice in found.values()) > MOST_VARIANTS:
        last = list(found.values())[-1]
        ledger.add("too-many-variants", last.place, last.name)
    return found


def table_amount(
    ledger: Ledger, line: n.Line, head: n.SettingTable, chosen: Chosen
) -> tuple[Amount | None, dict[str, Amount]]:
    """The number of a setting whose value goes by a choice, and those of all its rows.

    None and a slip where there is none.
    """
    choice = chosen.choices.get(head.choice.text)
    if not isinstance(choice, Choice):
        words = [other.name for other in chosen.choices.values() if isinstance(other, Choice)]
        ledger.unknown("unknown-choice", head.choice, words)
        return None, {}
    rows = table_rows(ledger, line, head, choice.values)
    return rows.get(str(chosen.value(choice.name))), rows


def table_rows(
    ledger: Ledger, line: n.Line, head: n.SettingTable, values: tuple[str, ...]
) -> dict[str, Amount]:
    """The numbers under a setting that goes by something with those values; what makes no sense in
    them, and a value without one, is a slip."""
    rows: dict[str, Amount] = {}
    taken: dict[str, Place] = {}
    broken = line.salvaged or any(under.salvaged for under in line.under)
    for under in line.under:
        row = under.statement
        if not isinstance(row, n.TableRow) or not declare(
            ledger, row.value, taken, "value", NOT_RESERVED
        ):
            continue
        taken[row.value.text] = row.value.place
        if row.value.text not in values:
            ledger.unknown("unknown-value", row.value, values, choice=head.choice.text)
        dimension = next(iter(rows.values())).dimension if rows else None
        amount = plain_amount(ledger, row.amount, dimension, f"`{head.name.text}`")
        if amount:
            rows[row.value.text] = amount
    missing = [value for value in values if value not in taken]
    if missing and not broken:
        name = head.name
        ledger.add(
            "value-without-row",
            name.place,
            missing[0],
            missing,
            setting=name.text,
            choice=head.choice.text,
        )
    return rows


def _choice(ledger: Ledger, written: n.ChoiceLine) -> Choice | None:
    taken: dict[str, Place] = {}
    for value in written.values:
        if declare(ledger, value.name, taken, "value", NOT_RESERVED):
            taken[value.name.text] = value.name.place
    if len(taken) < 2:
        ledger.add("choice-of-one", written.name.place, written.name.text)
        return None
    mirroring = frozenset(value.name.text for value in written.values if value.mirrors)
    return Choice(written.name.text, tuple(taken), mirroring, written.name.place)


def _range(ledger: Ledger, written: n.RangeChoiceLine) -> RangeChoice | None:
    whose = f"`{written.name.text}`"
    bounds = bounds_of(ledger, written.span, None, whose)
    dimension = bounds.low.dimension if bounds else None
    normal = plain_amount(ledger, written.normal, dimension, whose)
    if bounds is None or normal is None:
        return None
    if not fits(ledger, bounds.high, bounds.low.dimension, whose, written.span.high.place):
        return None
    if not bounds.low.base <= normal.base <= bounds.high.base:
        low, high = str(bounds.low), str(bounds.high)
        ledger.add("choice-out-of-range", written.normal.place, str(normal), low=low, high=high)
        return None
    return RangeChoice(written.name.text, bounds.low, bounds.high, normal, written.name.place)
