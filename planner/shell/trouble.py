"""What cannot be gone on from, as one line and exit status 2."""

from __future__ import annotations

import errno
from typing import IO, Any

import click

from planner.shell.terminal import warn

_REASONS = {
    errno.ENOENT: "there is no such file",
    errno.EACCES: "this account has no permission",
    errno.EPERM: "this account has no permission",
    errno.EISDIR: "it is a folder",
    errno.ENOTDIR: "a part of its path is a file, not a folder",
    errno.EEXIST: "something of that name is there already",
    errno.ELOOP: "it is a link that leads in a circle",
    errno.ENAMETOOLONG: "its name is too long",
    errno.ENOSPC: "the disk is full",
    errno.EROFS: "the disk cannot be written to",
}

# Windows: ERROR_SHARING_VIOLATION and ERROR_LOCK_VIOLATION.
# Source: Microsoft, "System Error Codes (0-499)".
_IN_USE = (32, 33)


class Trouble(click.ClickException):
    """Ends the command with one line on standard error."""

    exit_code = 2

    def show(self, file: IO[Any] | None = None) -> None:
        """Prints the line."""
        del file
        warn(self.message)


def reason(error: OSError | ValueError) -> str:
    """Why a file could not be had, in words that follow "could not read NAME: "."""
    if isinstance(error, OSError):
        if getattr(error, "winerror", None) in _IN_USE:
            return "another program has it open"
        known = _REASONS.get(error.errno or 0)
        return known or error.strerror or str(error)
    return "no file can have that name"
