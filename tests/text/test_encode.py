"""Text goes back to bytes the way it came."""

from __future__ import annotations

import pytest

from planner.text import NotTextError, decode, encode


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_there_and_back(encoding: str, end: str) -> None:
    """What was decoded and not changed is encoded to the very bytes."""
    data = end.join(["routine a", "", 'step A "灯"', ""]).encode(encoding)
    assert data == encode(decode(data), data)


def test_the_most_frequent_line_end_wins() -> None:
    """Of several kinds of line ends, the file gets the one it has most of."""
    assert b"x\r\ny\r\n" == encode("x\ny\n", b"a\r\nb\nc\r\n")
    assert b"x\n" == encode("x\n", b"no end")


def test_like_no_text() -> None:
    """Bytes that are no text have no way of writing text."""
    with pytest.raises(NotTextError):
        encode("x", b"\xff\xd8")
