"""Groups of steps as frames around their cards, with a tab that holds their common exits."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.graph import Exit, Plan
from planner.model.routine import Group
from planner.pictures import markup
from planner.pictures.lettering import LINE, mixed_height, tied, width, wrapped
from planner.pictures.palette import CARD_EDGE, QUIET_INK, TAB
from planner.pictures.rows import PAD, Rows, rows_markup, rows_of
from planner.pictures.wording import noted, spoken_rule
from planner.text import Place

_LINE = 1
"""How thick a frame is, in points."""
_SPACE = 4
INSET = _LINE + _SPACE
"""Points between a frame's outside and what it holds."""
TAB_PORT = "tab"
"""The port at the head of an outermost frame."""
_CONTINUED = "(continued)"
_COMMON = "from any step of it:"
_UNSURE = 4
"""Points by which text may be wider than foreseen without widening a frame, whose sides are to meet
those around the next card."""
_DASH, _DASH_GAP = 6, 4
"""Of the line between two lanes, in points."""
_COLUMNS = 5
"""Of the table that a frame is made of: line, space, what it holds, space, line."""


@dataclass(frozen=True, slots=True)
class Tab:
    """What a frame says at its head, in lines that fit."""

    name: tuple[str, ...]
    title: tuple[str, ...]
    does: tuple[str, ...]
    common: Rows

    @property
    def height(self) -> int:
        """In points."""
        head = mixed_height(len(self.name) + len(self.title)) + 2 * PAD
        does = LINE * len(self.does) + 2 * PAD if self.does else 0
        caption = LINE + 2 * PAD if self.common.rows else 0
        return head + does + caption + self.common.height


@dataclass(frozen=True, slots=True)
class Frame:
    """The part of a group's frame that goes around one card."""

    room: int
    """How wide it is, in points."""
    tab: Tab | None
    """What stands above the card, where the frame begins."""
    closes: bool
    is_lane: bool = False
    """Whether it is a lane: in UML's manner a region of the frame around it, which a dashed line
    divides from the next one. It has no sides of its own."""

    @property
    def height(self) -> int:
        """How much higher it makes the card, in points."""
        if self.is_lane:
            return _LINE + 2 * _SPACE + self.tab.height if self.tab else 0
        return (INSET + self.tab.height if self.tab else 0) + INSET * self.closes


def frames_of(
    plan: Plan, columns: Sequence[Sequence[str]], numbers: Mapping[str, int], room: int
) -> dict[str, tuple[Frame, ...]]:
    """The frames around each card, outermost first, where a column is `room` points wide.

    A group that goes on in the next column has a frame there too, whose tab says so.
    """
    begun: set[str] = set()
    found = {}
    for names in columns:
        around = [[group.name for group in plan.routine.groups_around(name)] for name in names]
        for at, name in enumerate(names):
            before = around[at - 1] if at else []
            after = around[at + 1] if at + 1 < len(names) else []
            frames = []
            depth = 0
            for group in around[at]:
                is_lane = bool(plan.routine.groups[group].lane)
                wide = room - 2 * INSET * depth
                opens = group not in before
                # A lane has the whole room inside of the frame around it, and no sides to keep off.
                inner = wide + 2 * INSET if is_lane else wide
                tab = _tab(plan, group, group in begun, numbers, inner) if opens else None
                frames.append(Frame(wide, tab, group not in after, is_lane))
                begun.add(group)
                depth += not is_lane
            found[name] = tuple(frames)
    return found


def common_exits(plan: Plan, group: str) -> tuple[Exit, ...]:
    """A group's exits, each once, though the graph has them at every step of it."""
    found: dict[tuple[int, Place, bool], Exit] = {}
    for name in plan.routine.steps:
        for way in plan.exits[name]:
            if way.group == group:
                found.setdefault((way.number, way.place, way.overflow), way)
    return tuple(found[key] for key in sorted(found, key=lambda key: key[0]))


def group_name(group: Group, continued: bool = False) -> str:
    """What a group goes by in a picture."""
    name = f"lane {group.lane}" if group.lane else group.name
    return f"{name} {_CONTINUED}" if continued else name


def group_does(group: Group) -> list[str]:
    """What a group does beside its steps: a task, side rules, what it counts and remembers."""
    where = f", from {group.task_file}" if group.task_file else ""
    task = [f"does {group.task}{where}"] if group.task else []
    return [*task, *map(spoken_rule, group.rules), *noted(group)]


def _tab(plan: Plan, name: str, continued: bool, numbers: Mapping[str, int], wide: int) -> Tab:
    group = plan.routine.groups[name]
    room = wide - 2 * INSET - 2 * PAD - _UNSURE
    exits = () if continued else common_exits(plan, name)
    does = [] if continued else group_does(group)
    return Tab(
        wrapped(group_name(group, continued), room, 3, bold=True),
        () if continued else wrapped(group.title, room, 3),
        tuple(line for text in does for line in wrapped(tied(text), room, 4)),
        rows_of(exits, numbers, wide - 2 * INSET),
    )


def framed(inner: str, frames: Sequence[Frame]) -> str:
    """A card's markup in its frames; each has ports at its lower and upper ends."""
    depth = sum(not frame.is_lane for frame in frames)
    for frame in reversed(frames):
        if frame.is_lane:
            inner = _in_lane(inner, frame)
        else:
            depth -= 1
            inner = _around(inner, frame, depth)
    return inner


def _in_lane(inner: str, frame: Frame) -> str:
    """A card with a dashed line and the name of its lane above it, where the lane begins."""
    if frame.tab is None:
        return inner
    room = frame.room
    dashes = [
        markup.cell("", WIDTH=wide, HEIGHT=_LINE, FIXEDSIZE="TRUE", BGCOLOR=colour)
        for _ in range(room // (_DASH + _DASH_GAP))
        for wide, colour in ((_DASH, CARD_EDGE), (_DASH_GAP, None))
    ]
    line = markup.cell(markup.table(markup.row(*dashes)), ALIGN="LEFT")
    held = [_gap(), line, _gap(), _tab_markup(frame.tab, room, None), markup.cell(inner)]
    return markup.table(*map(markup.row, held))


def sides_of(depth: int) -> tuple[str, str]:
    """The ports of the two sides of a frame so deep within others."""
    return f"left{depth}", f"right{depth}"


def _around(inner: str, frame: Frame, depth: int) -> str:
    # Lines are cells, so that what joins them from card to card runs through their middles.
    across = markup.cell("", COLSPAN=_COLUMNS, HEIGHT=_LINE, BGCOLOR=CARD_EDGE)
    left, right = (
        markup.cell("", PORT=port, WIDTH=_LINE, BGCOLOR=CARD_EDGE) for port in sides_of(depth)
    )
    space = markup.cell("", WIDTH=_SPACE)
    held = []
    if frame.tab:
        port = TAB_PORT if depth == 0 else None
        held += [_tab_markup(frame.tab, frame.room - 2 * INSET, port), _gap()]
    held.append(markup.cell(inner))
    if frame.closes:
        held.append(_gap())
    middle = markup.cell(markup.table(*map(markup.row, held)))
    rows = [markup.row(left, space, middle, space, right)]
    if frame.tab:
        rows.insert(0, markup.row(across))
    if frame.closes:
        rows.append(markup.row(across))
    return markup.table(*rows)


def _gap() -> str:
    return markup.cell("", HEIGHT=_SPACE)


def _tab_markup(tab: Tab, room: int, port: str | None) -> str:
    names = [markup.bold(markup.escaped(line)) for line in tab.name]
    titles = [markup.escaped(line) for line in tab.title]
    widest = max(
        *(width(line, bold=True) for line in tab.name),
        *(width(line) for line in tab.title),
        0,
    )
    head = markup.cell(markup.lines([*names, *titles]), CELLPADDING=PAD, BGCOLOR=TAB, PORT=port)
    spare = markup.cell("", WIDTH=max(0, round(room - widest - 2 * PAD - _UNSURE)))
    blocks = [markup.cell(markup.table(markup.row(head, spare)))]
    if tab.does:
        blocks.append(markup.cell(markup.lines(map(markup.escaped, tab.does)), CELLPADDING=PAD))
    if tab.common.rows:
        blocks.append(markup.cell(markup.font(_COMMON, QUIET_INK), CELLPADDING=PAD))
    blocks += rows_markup(tab.common, ports=False)
    return markup.cell(markup.table(*map(markup.row, blocks)))
