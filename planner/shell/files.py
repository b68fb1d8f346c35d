"""Reading plans, and writing files so that no one ever sees half of one."""

from __future__ import annotations

import errno
import os
import re
import stat
from collections.abc import Iterable, Mapping
from contextlib import suppress
from pathlib import Path

from planner.report import Unread
from planner.shell.trouble import Trouble, reason
from planner.text import NotTextError, Source, decode

_LARGEST = 16 * 1024 * 1024


class UnreadError(Exception):
    """A file could not be read; `unread` says which and why."""

    def __init__(self, unread: Unread) -> None:
        super().__init__(f"could not read {unread.name}: {unread.reason}")
        self.unread = unread


def read_source(path: Path) -> Source:
    """A plan's text under the path as given. Raises `UnreadError`."""
    return source_of(path, read_data(path))


def source_of(path: Path, data: bytes) -> Source:
    """A plan's text from the bytes of its file. Raises `UnreadError`."""
    try:
        return Source(str(path), decode(data))
    except NotTextError as error:
        raise UnreadError(Unread(str(path), str(error))) from None


def read_data(path: Path) -> bytes:
    """The bytes of a file that may be a plan. Raises `UnreadError`."""
    try:
        about = path.stat()
        if stat.S_ISDIR(about.st_mode):
            why = "it is a folder"
        elif not stat.S_ISREG(about.st_mode):
            why = "it is a device, not a file"
        elif about.st_size > _LARGEST:
            why = f"it is larger than {_LARGEST // 1024 // 1024} MB, so it is no plan"
        else:
            return path.read_bytes()
    except (OSError, ValueError) as error:
        why = reason(error)
    raise UnreadError(Unread(str(path), why))


def write_whole(path: Path, data: bytes) -> None:
    """Writes one file whole or not at all. Raises `Trouble`."""
    write_all({path: data})


def write_all(contents: Mapping[Path, bytes], away_first: Iterable[Path] = ()) -> None:
    """Writes all files or none, making the folders they need. Raises `Trouble`.

    Everything goes to the disk under a temporary name first, and so does a copy of each file that
    is to be replaced. What is left then is only renaming, in the order of `contents`, and that is
    undone if it fails half way. Of the files that are there already, those of `away_first` are
    taken away before the first is renamed: what is there half way makes sense without them.
    """
    work = _Writing()
    path = Path()
    try:
        for path, data in contents.items():
            work.prepare(path, data)
        for path in away_first:
            work.take_away(path)
        for path in contents:
            work.put_in_place(path)
    except (OSError, ValueError) as error:
        left = work.undo() or "Nothing was changed."
        raise Trouble(f"could not write {path}: {reason(error)}. {left}") from None
    except BaseException:
        work.undo()
        raise
    work.forget()


_TEMPORARY = re.compile(r"\.(.+)\.[0-9]+\.(new|old)")


def cut_off_content(path: Path) -> bytes | None:
    """What was to be in a file that is away because a `write_all` was killed; None where it is
    there, or was never to be."""
    if os.path.lexists(path):
        return None
    with suppress(OSError):
        for name in os.listdir(path.parent):
            found = _TEMPORARY.fullmatch(name)
            if found and found.groups() == (path.name, "new"):
                return (path.parent / name).read_bytes()
    return None


def forget_what_was_cut_off(paths: Iterable[Path]) -> None:
    """Takes away what a `write_all` of these files left beside them when it was killed."""
    by_folder: dict[Path, set[str]] = {}
    for path in paths:
        by_folder.setdefault(path.parent, set()).add(path.name)
    for folder, names in by_folder.items():
        with suppress(OSError):
            for name in os.listdir(folder):
                found = _TEMPORARY.fullmatch(name)
                if found and found[1] in names:
                    (folder / name).unlink()


class _Writing:
    """What was done so far, so that it can be undone."""

    def __init__(self) -> None:
        self.folders: list[Path] = []
        self.temporaries: list[Path] = []
        self.targets: dict[Path, Path] = {}
        self.fresh: dict[Path, Path] = {}
        self.old: dict[Path, Path] = {}
        self.touched: dict[Path, None] = {}

    def prepare(self, path: Path, data: bytes) -> None:
        """Puts the new content, and a copy of the old one, beside the file."""
        self._make_folder(path.parent)
        # Where the path is a link, the file that it leads to is the one to replace.
        target = self.targets[path] = Path(os.path.realpath(path))
        if target.is_dir():
            raise IsADirectoryError(errno.EISDIR, "")
        self.fresh[path] = self._beside(target, "new", data)
        if target.exists():
            self.old[path] = self._beside(target, "old", target.read_bytes())
            for copy in (self.fresh[path], self.old[path]):
                copy.chmod(stat.S_IMODE(target.stat().st_mode))

    def take_away(self, path: Path) -> None:
        """Removes the old content, of which there is a copy."""
        if path in self.old:
            self.targets[path].unlink()
            self.touched[path] = None

    def put_in_place(self, path: Path) -> None:
        """Renames the new content to the file's own name."""
        self.fresh[path].replace(self.targets[path])
        self.touched[path] = None

    def undo(self) -> str:
        """Leaves everything as it was found; says where that could not be done."""
        lost = []
        for path in self.touched:
            try:
                if path in self.old:
                    self.old[path].replace(self.targets[path])
                else:
                    self.targets[path].unlink()
            except OSError:
                kept = self.old.get(path)
                lost.append(f"{path} could not be put back" + (f" from {kept}" if kept else ""))
                self.temporaries = [copy for copy in self.temporaries if copy != kept]
        self.forget()
        for folder in reversed(self.folders):
            with suppress(OSError):
                folder.rmdir()
        return "".join(f"{what}. " for what in lost).strip()

    def forget(self) -> None:
        """Takes the temporary files away."""
        for temporary in self.temporaries:
            with suppress(OSError):
                temporary.unlink()

    def _make_folder(self, folder: Path) -> None:
        missing = [part for part in (folder, *folder.parents) if not part.exists()]
        for part in reversed(missing):
            part.mkdir()
            self.folders.append(part)

    def _beside(self, target: Path, mark: str, data: bytes) -> Path:
        temporary = target.with_name(f".{target.name}.{os.getpid()}.{mark}")
        with temporary.open("xb") as file:
            self.temporaries.append(temporary)
            file.write(data)
        return temporary
