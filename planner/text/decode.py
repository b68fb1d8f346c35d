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


def encode(text: str, like: bytes) -> bytes:
    """A text as bytes in the encoding, with the mark and the line ends that `like` has.

    Where `like` has line ends of several kinds, the kind that it has most of; ``\\n`` where none.
    Raises `NotTextError` where `like` is no text.
    """
    if like.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        encoding = "utf-16-le" if like.startswith(codecs.BOM_UTF16_LE) else "utf-16-be"
        mark, before = like[:2], _decoded(like, "utf-16", "UTF-16")
    else:
        encoding = "utf-8"
        mark = codecs.BOM_UTF8 if like.startswith(codecs.BOM_UTF8) else b""
        before = _decoded(like, "utf-8-sig", "UTF-8")
    return mark + text.replace("\n", _line_end(before)).encode(encoding)


def _line_end(text: str) -> str:
    windows = text.count("\r\n")
    ends = {"\n": text.count("\n") - windows, "\r\n": windows, "\r": text.count("\r") - windows}
    return max(ends, key=lambda end: ends[end])
