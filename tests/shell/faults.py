"""Disks that are full or must not be written to: real where this machine lets us, else fakes."""

from __future__ import annotations

import errno
import os
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest


@contextmanager
def small_disk(folder: Path, kilobytes: int) -> Iterator[bool]:
    """Makes the folder a disk of that size; gives whether it could."""
    mounted = _mount("-t", "tmpfs", "-o", f"size={kilobytes}k", "planner-test", str(folder))
    try:
        yield mounted
    finally:
        if mounted:
            subprocess.run(["umount", str(folder)], check=True)


def resize(folder: Path, kilobytes: int) -> None:
    """Gives a small disk another size."""
    assert _mount("-o", f"remount,size={kilobytes}k", str(folder))


@contextmanager
def read_only(folder: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Nothing in the folder can be written, for as long as this lasts.

    What binds an ordinary account does not bind root, so for root the folder becomes a disk that
    is mounted so; where not even root may mount, writing is made to fail as such a disk does.
    """
    if hasattr(os, "geteuid") and os.geteuid() != 0:
        folders = [folder, *(path for path in folder.rglob("*") if path.is_dir())]
        for path in folders:
            path.chmod(0o555)
        try:
            yield
        finally:
            for path in folders:
                path.chmod(0o755)
    elif _mount("--bind", str(folder), str(folder)):
        try:
            assert _mount("-o", "remount,bind,ro", str(folder))
            yield
        finally:
            subprocess.run(["umount", str(folder)], check=True)
    else:
        with monkeypatch.context() as patch:
            patch.setattr(Path, "open", _refused(Path.open))
            patch.setattr(Path, "mkdir", _refused(Path.mkdir))
            yield


def _mount(*arguments: str) -> bool:
    try:
        done = subprocess.run(["mount", *arguments], capture_output=True, check=False)
    except OSError:
        return False
    return done.returncode == 0


def _refused(method: object) -> object:
    def refuse(self: Path, mode: object = "r", *more: object, **others: object) -> object:
        if mode == "r" or "r" in str(mode):
            return method(self, mode, *more, **others)  # type: ignore[operator]
        raise OSError(errno.EROFS, os.strerror(errno.EROFS))

    return refuse
