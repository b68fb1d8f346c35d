"""What is in a team's project before an export, and what becomes of it."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import Enum
from pathlib import Path, PurePosixPath

from planner.java import (
    MANIFEST,
    NOTHING,
    Manifest,
    NotAManifestError,
    Rename,
    in_order,
    is_for_one_combination,
    is_sealed,
    made_from,
    manifest_text,
    read_manifest,
    renames,
    taken_away_first,
    together,
)
from planner.java.named import Named
from planner.shell.files import cut_off_content, forget_what_was_cut_off, write_all
from planner.shell.trouble import Trouble, reason
from planner.text import NotTextError, decode


@dataclass(frozen=True, slots=True)
class _Planned:
    """What is to be written of a project: its files in order, those that go first, its manifest."""

    written: dict[Path, bytes]
    away: list[Path]
    manifest: dict[Path, bytes]


class Fate(Enum):
    """What becomes of a file."""

    NEW = "new"
    UPDATED = "updated"
    UNCHANGED = "unchanged"
    LEFT = "left"


@dataclass(frozen=True, slots=True)
class Found:
    """What is in a file's place before the export."""

    data: bytes | None
    """None where nothing is."""
    text: str | None
    """None where nothing is, or no text."""


class Project:
    """The folder of one package, with all that an export has for it."""

    def __init__(
        self,
        into: Path,
        package: str,
        sources: Mapping[str, str],
        now: Manifest,
        new_names: Iterable[tuple[str, str]] = (),
    ) -> None:
        """`sources` are the files by path below `into`, `new_names` the old and new file names of
        plans. Raises `Trouble`; writes nothing."""
        self._prefix = package.replace(".", "/")
        self.folder = _inside(into, self._prefix)
        self.sources = sources
        self.now = now
        self.paths = {name: _inside(into, name) for name in sources}
        self.found = {name: _found(path) for name, path in self.paths.items()}
        self.fates = {name: _fate(text, self.found[name]) for name, text in sources.items()}
        self.manifest = _inside(into, f"{self._prefix}/{MANIFEST}")
        self.before, self._manifest_found = _manifest(self.manifest)
        for old, new in new_names:
            if old not in self.before.plans:
                raise Trouble(f"{old} was not exported here, so nothing was written")
            if new not in now.plans:
                raise Trouble(f"{new} is no plan of this export, so nothing was written")
            self.before = self.before.renamed(old, new)
        for name, path in self.paths.items():
            made = self.before.files.get(self._short(name))
            _stop_at_others(path, sources[name], self.found[name], made.made_from if made else "")
        self.after = together(self.before, now, self.is_there)

    def is_there(self, path: str) -> bool:
        """Whether a file of an earlier export is there, by its path below the package's folder, or
        is to come back because an export was cut off while it was away."""
        there = self.folder.joinpath(*PurePosixPath(path).parts)
        return there.is_file() or cut_off_content(there) is not None

    @property
    def manifest_fate(self) -> Fate:
        """What becomes of the manifest; it holds nothing of a person's."""
        if self._manifest_found is None:
            return Fate.NEW
        same = self._manifest_found == manifest_text(self.after)
        return Fate.UNCHANGED if same else Fate.UPDATED

    @property
    def changed(self) -> list[str]:
        """The files that are to be written."""
        return [name for name, fate in self.fates.items() if fate in (Fate.NEW, Fate.UPDATED)]

    def renamed(self) -> tuple[Rename, ...]:
        """What has another name than when it was last exported here."""
        both = [name for name in self.now.plans if name in self.before.plans]
        return renames(_names(self.before, both), _names(self.now, both))

    def names(self) -> tuple[Named, ...]:
        """All that has a name in the plans of this export."""
        return _names(self.now, self.now.plans)

    def left_over(self) -> list[Path]:
        """Files of earlier exports that these plans do not become any more."""
        return [
            self.folder / path
            for path, made in self.after.files.items()
            if made.made_from in self.now.plans and path not in self.now.files
        ]

    def made_of(self, plan: str) -> list[Path]:
        """The files that are there from the earlier export of a plan."""
        files = self.after.files.items()
        return [self.folder / path for path, made in files if made.made_from == plan]

    def others(self) -> list[str]:
        """The routines that were exported here before and are not now."""
        plans = self.after.plans.items()
        return [name for name, one in plans if name not in self.now.plans and one.robot != name]

    def is_behind(self, plan: str) -> bool:
        """Whether a plan's robot has changed in the Java since the plan was exported."""
        one = self.after.plans[plan]
        robot = self.now.plans.get(one.robot)
        return robot is not None and robot.mechanisms != one.mechanisms

    def planned(self, beside: bool = False) -> _Planned:
        """What is to be written; `beside` where what its files call may change as well."""
        short = {name: self._short(name) for name in self.sources}
        own = set(short.values())
        data = {path: (self.paths[name], self._data(name)) for name, path in short.items()}
        data |= self._left_standing()
        back = [path for path in data if path not in own and not data[path][0].is_file()]
        changed = [short[name] for name in self.changed]
        there = [short[n] for n in self.changed if self.fates[n] is Fate.UPDATED]
        as_exported = [short[n] for n, fate in self.fates.items() if fate is Fate.UNCHANGED]
        as_exported += [path for path in data if path not in own and path not in back]
        several = beside or len(changed) > 1
        away = taken_away_first(there, as_exported, beside) if several else []
        written = dict(data[path] for path in in_order({*changed, *away, *back}))
        is_new = self.manifest_fate is not Fate.UNCHANGED
        manifest = {self.manifest: manifest_text(self.after).encode()} if is_new else {}
        forget_what_was_cut_off([*(path for path, _ in data.values()), self.manifest])
        return _Planned(written, [data[path][0] for path in away], manifest)

    def _left_standing(self) -> dict[str, tuple[Path, bytes]]:
        """The op modes for one combination that are there as exported and not asked for any more:
        they stand on the routine's own op mode all the same. By path below the package's folder."""
        standing = {}
        for path in self.left_over():
            name = path.relative_to(self.folder).as_posix()
            if is_for_one_combination(name):
                data = cut_off_content(path) or _found(path).data or b""
                if _is_as_exported(data):
                    standing[name] = (path, data)
        return standing

    def _data(self, name: str) -> bytes:
        data = self.found[name].data
        keep = self.fates[name] is Fate.UNCHANGED and data is not None
        return data if keep and data is not None else self.sources[name].encode()

    def _short(self, name: str) -> str:
        """A file's path below the folder of the package."""
        return name.removeprefix(f"{self._prefix}/")


def write_together(plans: Project, *tests: Project) -> None:
    """Writes what is to be written of all of them, all or nothing. Raises `Trouble`.

    The tests stand on the plans: those that change go before the first plan does, and come back
    after the last.
    """
    of_tests = [project.planned(beside=bool(plans.changed)) for project in tests]
    planned = [plans.planned(), *of_tests]
    written = {path: data for one in planned for path, data in one.written.items()}
    # Last, so that an export that is cut off is told of as if it had not been.
    written |= {path: data for one in planned for path, data in one.manifest.items()}
    write_all(written, [path for one in reversed(planned) for path in one.away])


def _names(manifest: Manifest, plans: Iterable[str]) -> tuple[Named, ...]:
    return tuple(named for plan in plans for named in manifest.plans[plan].names)


def _inside(into: Path, path: str) -> Path:
    """The file's place under `into`. Raises `Trouble` where a link or a name leads out of it."""
    target = into.joinpath(*PurePosixPath(path).parts)
    root, whole = Path(os.path.realpath(into)), Path(os.path.realpath(target))
    if root not in whole.parents:
        raise Trouble(f"{target} leads out of {into}, so nothing was written")
    return target


def _found(path: Path) -> Found:
    data = b""
    try:
        data = path.read_bytes()
        return Found(data, decode(data))
    except FileNotFoundError:
        return Found(None, None)
    except NotTextError:
        return Found(data, None)
    except (OSError, ValueError) as error:
        raise Trouble(f"could not read {path}: {reason(error)}. Nothing was written.") from None


def _is_as_exported(data: bytes) -> bool:
    try:
        return is_sealed(decode(data))
    except NotTextError:
        return False


def _manifest(path: Path) -> tuple[Manifest, str | None]:
    """The last export's manifest, and its text; None where there is no such file."""
    found = _found(path)
    if found.data is None:
        return NOTHING, None
    try:
        return read_manifest(found.text or ""), found.text
    except NotAManifestError as error:
        raise Trouble(
            f"{path} is {error}, so nothing was written. It says what was exported last. If nobody "
            "needs it, delete it and export all your routines again; then new names cannot be told "
            "from new things this once."
        ) from None


def _stop_at_others(path: Path, text: str, found: Found, recorded: str) -> None:
    """Raises `Trouble` where a file was made from another plan, which it would be lost to.

    `recorded` is what it was made from by the manifest: that of a file which a person changed
    still names its plan as it was called then.
    """
    before, now = made_from(found.text or ""), made_from(text)
    if before and now and now not in (before, recorded):
        raise Trouble(
            f"{path} was made from {before}, and what {now} becomes has the same name in Java, so "
            f"nothing was written. If it is the same file under a new name, add --renamed {before} "
            f"{now}. Otherwise rename one of them, or export {now} into another --package."
        )


def _fate(text: str, found: Found) -> Fate:
    if found.data is None:
        return Fate.NEW
    if found.text is None:
        return Fate.LEFT
    if found.text == text:
        return Fate.UNCHANGED
    return Fate.UPDATED if is_sealed(found.text) else Fate.LEFT
