"""Bytes to text, and places in it."""

from __future__ import annotations

import pytest

from planner.text import NotTextError, Place, Source, decode


@pytest.mark.parametrize(
    ("data", "text"),
    [
        (b"", ""),
        (b"robot moth\n", "robot moth\n"),
        (b"\xef\xbb\xbfrobot moth\r\nhub main\r\n", "robot moth\nhub main\n"),
        (b"robot moth\rhub main\r", "robot moth\nhub main\n"),
        ("\N{BUTTERFLY}\n".encode(), "\N{BUTTERFLY}\n"),
        ('step A "k\xe4se"\r\n'.encode("utf-16"), 'step A "k\xe4se"\n'),
        (b"\xfe\xff" + "robot moth\n".encode("utf-16-be"), "robot moth\n"),
        (b"\xff\xfe" + "robot moth\n".encode("utf-16-le"), "robot moth\n"),
    ],
)
def test_any_editor(data: bytes, text: str) -> None:
    """UTF-8 and UTF-16 text, with a mark and any line ends, becomes the same text."""
    assert text == decode(data)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"robot\0moth", "zero byte"),
        (b"robot moth\nhub \xff\n", "line 2"),
        (b"\x89PNG\r\n\x1a\n", "line 1"),
        (b"\xff\xfea", "UTF-16"),
    ],
)
def test_no_text(data: bytes, words: str) -> None:
    """What is no text is refused in one line that says why."""
    with pytest.raises(NotTextError) as refused:
        decode(data)
    message = str(refused.value)
    assert words in message
    assert 1 == len(message.splitlines())


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("", ()),
        ("\n", ("",)),
        ("a", ("a",)),
        ("a\n", ("a",)),
        ("a\n\nb", ("a", "", "b")),
        ("a\x0cb\u2028c\n", ("a\x0cb\u2028c",)),
    ],
)
def test_lines(text: str, lines: tuple[str, ...]) -> None:
    """Lines end where an editor ends them, at line feeds alone."""
    assert lines == Source("x", text).lines


def test_line_past_the_end() -> None:
    """Asking for a line that is not there gives an empty one."""
    source = Source("x", "a\nb\n")
    assert ["", "a", "b", ""] == [source.line(number) for number in (0, 1, 2, 3)]


def test_place() -> None:
    """A place knows its words, counted from 1, the end one past the last."""
    source = Source("x", "start Grip\n")
    first, second = Place(source, 1, 1, 6), Place(source, 1, 7, 11)
    assert ("start", "Grip") == (first.words, second.words)
    assert "start Grip" == first.through(second).words
    assert "start Grip" == first.line_text
    assert sorted([second, first], key=lambda place: place.order) == [first, second]


@pytest.mark.parametrize(
    ("name", "file"),
    [
        ("moth.bot", ("moth", "bot")),
        ("plans/day one/moth.bot", ("moth", "bot")),
        ("C:\\plans\\moth.v2.bot", ("moth.v2", "bot")),
        ("plans/moth", ("moth", "")),
        ("a robot file", ("a robot file", "")),
    ],
)
def test_file(name: str, file: tuple[str, str]) -> None:
    """A source knows its file's name and ending, whatever the system."""
    assert file == Source(name, "").file
