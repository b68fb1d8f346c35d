"""The checksum tells a file that nobody touched from one that somebody did."""

from __future__ import annotations

from functools import lru_cache

from hypothesis import given
from hypothesis import strategies as st
from java.java_tools import HERE, exported

from planner.java import is_sealed


@lru_cache
def _files() -> dict[str, str]:
    return exported((HERE / "table_top.routine").read_text(encoding="utf-8"), "org.mothclub")


def test_every_exported_file_is_sealed() -> None:
    """What an export gives is sealed, also after an editor has changed all line ends."""
    assert dict.fromkeys(_files(), True) == {
        path: is_sealed(text) and is_sealed(text.replace("\n", "\r\n"))
        for path, text in _files().items()
    }


@given(data=st.data())
def test_a_change_breaks_the_seal(data: st.DataObject) -> None:
    """One character more, less or other breaks the seal, wherever it stands."""
    text = data.draw(st.sampled_from(list(_files().values())))
    # Half of the places are in the header, where the checksum itself stands.
    last = data.draw(st.sampled_from([120, len(text) - 1]))
    place = data.draw(st.integers(0, last))
    char = data.draw(st.one_of(st.characters(), st.sampled_from("0123456789abcdefABCDEF \n*")))
    changed = {
        text[:place] + text[place + 1 :],
        text[:place] + char + text[place:],
        text[:place] + char + text[place + 1 :],
    }
    # A carriage return before a line end is a line end of another kind, which is no change.
    really = {other for other in changed if other.replace("\r\n", "\n") != text}

    assert set() == {other for other in really if is_sealed(other)}


@given(st.text())
def test_other_texts_are_not_sealed(text: str) -> None:
    """A text that no export gave is not sealed, and none makes trouble."""
    assert not is_sealed(text)
    assert not is_sealed(next(iter(_files().values())) + text + "x")
