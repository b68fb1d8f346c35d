"""Writing whole files."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from planner.shell.files import write_all, write_whole
from planner.shell.trouble import Trouble


def test_a_link_keeps_leading_to_its_file(tmp_path: Path) -> None:
    """Writing to a link changes the file that it leads to, not the link."""
    (tmp_path / "real").mkdir()
    (tmp_path / "link.svg").symlink_to(tmp_path / "real" / "x.svg")
    write_whole(tmp_path / "link.svg", b"new")
    assert b"new" == (tmp_path / "real" / "x.svg").read_bytes()
    assert (tmp_path / "link.svg").is_symlink()


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such permission bits")
def test_permissions_stay(tmp_path: Path) -> None:
    """A file that others may not read stays so when it is written anew."""
    path = tmp_path / "x.svg"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write_whole(path, b"new")
    assert (b"new", 0o640) == (path.read_bytes(), path.stat().st_mode & 0o777)


def test_what_cannot_be_put_back_is_kept_and_named(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """If even the way back fails, the old content is not thrown away and the line says where."""
    one, two = tmp_path / "one", tmp_path / "two"
    one.write_bytes(b"old")
    replace = Path.replace

    def fail(self: Path, target: Path) -> Path:
        if self.name.startswith(".one") and self.name.endswith("new"):
            return replace(self, target)
        raise OSError(5, "Input/output error")

    monkeypatch.setattr(Path, "replace", fail)
    with pytest.raises(Trouble, match="one could not be put back from") as caught:
        write_all({one: b"new", two: b"new"})
    kept = Path(str(caught.value).rpartition(" from ")[2].rstrip("."))
    assert b"old" == kept.read_bytes()


def test_an_interruption_leaves_everything(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C between two files leaves neither."""
    replace = Path.replace

    def interrupt(self: Path, target: Path) -> Path:
        if self.name.startswith(".two"):
            raise KeyboardInterrupt
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", interrupt)
    with pytest.raises(KeyboardInterrupt):
        write_all({tmp_path / "a" / "one": b"1", tmp_path / "a" / "two": b"2"})
    assert [] == os.listdir(tmp_path)


def test_somebody_elses_file_is_not_taken_for_a_temporary_one(tmp_path: Path) -> None:
    """A file that happens to have the temporary name stays, and the write fails cleanly."""
    mine = tmp_path / f".x.svg.{os.getpid()}.new"
    mine.write_bytes(b"mine")
    with pytest.raises(Trouble, match="is there already"):
        write_whole(tmp_path / "x.svg", b"new")
    assert ([mine.name], b"mine") == (os.listdir(tmp_path), mine.read_bytes())
