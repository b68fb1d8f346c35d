"""What is told after an export: what became of each file, and what is left for the team."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from planner.java import Lacking, OldName, Rename, Unwritten
from planner.report import counted
from planner.shell.project import Fate


@dataclass(frozen=True, slots=True)
class Outcome:
    """What becomes of one file, and what the team has to do in it."""

    fate: Fate
    unwritten: tuple[Unwritten, ...] = ()
    lacking: tuple[Lacking, ...] = ()
    old_names: tuple[OldName, ...] = ()


@dataclass(frozen=True, slots=True)
class News:
    """What an export has met beside its own files."""

    routines: int
    """How many were exported."""
    renamed: tuple[Rename, ...]
    gone: Mapping[str, Sequence[Path]]
    """Routines exported earlier whose plans are not there any more, with what was made of them."""
    behind: Sequence[str]
    """Routines exported earlier for a robot that has changed since."""
    left_over: Sequence[Path]
    """Files that the plans of this export became earlier, and do not now."""


_Files = list[tuple[Path, Outcome]]


def told(outcomes: Mapping[Path, Outcome], news: News) -> str:
    """All of it as text, files in the order of their paths."""
    parts = _parts(sorted(outcomes.items()), news)
    return "\n".join("".join(f"{line}\n" for line in part) for part in parts if part)


def differences(outcomes: Mapping[Path, Outcome], behind: Sequence[str]) -> str:
    """Where the project differs from its plans, as text; empty where it does not.

    What a person changed is no difference, as long as it has what the plans need. `behind` are
    other routines exported earlier, for a robot that has changed since.
    """
    rows = []
    for path, outcome in sorted(outcomes.items()):
        what = _DIFFERENT.get(outcome.fate, "lacks code" if outcome.lacking else "")
        rows += [f"{what:<10}  {path}"] if what else []
    rows += [f"{_DIFFERENT[Fate.UPDATED]:<10}  what {name} became" for name in behind]
    if not rows:
        return ""
    rows += ["The project differs from its plans: export them again."]
    return "".join(f"{row}\n" for row in rows)


_DIFFERENT = {Fate.NEW: "missing", Fate.UPDATED: "behind"}


def agreed(outcomes: Mapping[Path, Outcome]) -> str:
    """The line that says that there are none."""
    left = sum(outcome.fate is Fate.LEFT for outcome in outcomes.values())
    but = f", but for what a person changed in {left} of them" if left else ""
    return f"The project is what its plans say: {counted(len(outcomes), 'file')}{but}.\n"


def _parts(files: _Files, news: News) -> Iterator[list[str]]:
    yield [f"{outcome.fate.value:<9}  {path}" for path, outcome in files]
    if any(outcome.fate is Fate.LEFT for _, outcome in files):
        yield [
            "What was left holds changes that a person made. To get it written anew, rename or "
            "delete",
            "the file, export again, and copy over the changes you still want.",
        ]
    yield list(_renamed(files, news.renamed))
    for path, outcome in files:
        if outcome.lacking:
            yield list(_lacking(path, outcome))
    for name, made in news.gone.items():
        yield list(_gone(name, made))
    yield list(_left_over(news.left_over))
    yield list(_behind(news.behind))
    plan, use = ("this plan", "this plan does not use") if news.routines == 1 else _SEVERAL
    yield _unwritten(files, True, f"yours to write before {plan} can work:")
    yield _unwritten(files, False, f"yours to write too, though {use} {{it}}:")


_SEVERAL = ("these plans", "none of these plans uses")


def _renamed(files: _Files, renamed: Sequence[Rename]) -> Iterator[str]:
    if renamed:
        yield "Renamed since the last export, as far as the plans' text tells:"
    for rename in renamed:
        before, after = rename.before, rename.after
        old = dict(zip(before.java, after.java, strict=False))
        java = ", ".join(f"{a} is {b}" for a, b in old.items() if a != b)
        within = f", in Java {java}" if java else ""
        yield f"  {after.what} {before.spoken} is now {after.spoken}{within}"
    if any(rename.after.is_device for rename in renamed):
        yield "A device has its new name in the configuration on the robot's controller too."
    rows = [
        f"  {path}{', '.join(f':{old.line} {old.name}' for old in outcome.old_names)}"
        for path, outcome in files
        if outcome.old_names
    ]
    if rows:
        yield "Old names that still stand in files which a person changed, to be looked at:"
        yield from rows


def _gone(name: str, made: Sequence[Path]) -> Iterator[str]:
    yield f"{name} was exported here and is not among the plans any more. Nothing was deleted:"
    yield from (f"  {path}" for path in made)
    yield "Its op mode can still be started on the robot until you delete these files."


def _left_over(paths: Sequence[Path]) -> Iterator[str]:
    if paths:
        yield "Of earlier exports, and part of these plans no more. Nothing was deleted:"
        yield from (f"  {path}" for path in paths)
    if any(path.parent.name == "opmodes" for path in paths):
        yield "An op mode among them can still be started on the robot until you delete its file."


def _behind(names: Sequence[str]) -> Iterator[str]:
    if names:
        verb, it = ("was", "it") if len(names) == 1 else ("were", "them")
        yield f"The robot has changed since {', '.join(names)} {verb} exported: export {it} again."


def _lacking(path: Path, outcome: Outcome) -> Iterator[str]:
    yield f"{path} lacks code that other files call, as far as its text can tell."
    yield "The project will not compile until it is there:"
    if outcome.old_names:
        yield "where only a name is new, change that name there; otherwise paste."
    for part in outcome.lacking:
        yield f"  to paste into {part.owner}:"
        yield ""
        yield from part.code.splitlines()


def _unwritten(files: _Files, wanted: bool, words: str) -> list[str]:
    rows = []
    count = 0
    for path, outcome in files:
        places = [place for place in outcome.unwritten if place.wanted is wanted]
        count += len(places)
        if places:
            listed = ", ".join(f":{place.line} {place.name}" for place in places)
            rows.append(f"  {path}{listed}")
    if not rows:
        return []
    verb, it = ("is", "it") if count == 1 else ("are", "them")
    return [f"{counted(count, 'place')} {verb} {words.format(it=it)}", *rows]
