"""Bytes from any editor to one kind of text."""

from __future__ import annotations

import codecs


class NotTextError(ValueError):
    """The bytes are no text this project reads; the message says why, in one line."""


def decode(data: bytes) -> str:
    """Text of `data` with ``\\n`` line ends and no byte order mark.

    UTF-8 is read with or without a mark, UTF-16 only with one (some Windows editors write it).
    Raises `NotTextError` for anything else.
    """
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        text = _decoded(data, "utf-16", "UTF-16")
    else:
        text = _decoded(data, "utf-8-sig", "UTF-8")
    if "\0" in text:
        raise NotTextError("it holds a zero byte, so it is no text file")
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _decoded(data: bytes, encoding: str, spoken: str) -> str:
    try:
        return data.decode(encoding)
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise NotTextError(
            f"line {line} holds a byte that is not {spoken}; save the file as UTF-8 in your editor"
        ) from None
