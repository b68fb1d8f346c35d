"""What stops an export."""

from __future__ import annotations


class CannotExport(ValueError):  # noqa: N818 - it reads as what it says
    """The plan or the package name cannot become Java; the message says why, in one line."""
