"""Bad input ends in findings, or in one clear line and status 2; never in a traceback."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from command import FAULT, Ran, moth_folder, planner

from planner.shell.trouble import reason

HEAD = "routine odd\nrobot moth\nlimit 30 s\nstart Approach\n"
STEP = (
    "step Approach{}\n"
    "  drive forward 40 %\n"
    "  when bumper pressed, go to Lit\n"
    "  after 3 s, go to GiveUp\n"
    "finish Lit\n"
    "finish GiveUp\n"
)
PLAN = HEAD + STEP.format("")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the demo robot, to stand in."""
    monkeypatch.chdir(moth_folder(tmp_path / "my plans"))
    return tmp_path / "my plans"


def _checked(data: bytes | str, name: str = "odd.routine") -> Ran:
    """The short report on a file of that content; an answer in every case, and no fault."""
    Path(name).write_bytes(data.encode() if isinstance(data, str) else data)
    ran = planner("check", name, "--format", "short")
    assert FAULT not in ran.err
    assert "Traceback" not in ran.err + ran.out
    return ran


def _one_line(ran: Ran, words: str) -> None:
    """One line to standard error but for the closing one, nothing else, and status 2."""
    line, *closing = ran.err.splitlines()
    assert (2, "") == (ran.status, ran.out)
    assert ["Nothing was checked: 1 file could not be read."] == closing
    assert words in line


# Files that are no text.


def test_an_empty_file(here: Path) -> None:
    """An empty routine lacks its lines, and that is what is found."""
    assert here.is_dir()
    ran = _checked("")
    assert (1, True) == (ran.status, ran.out.startswith("odd.routine:1:1: error "))


def test_an_empty_robot_file(here: Path) -> None:
    """An empty robot file lacks its first line."""
    assert here.is_dir()
    assert 1 == _checked("", "odd.bot").status


@pytest.mark.parametrize("name", ["odd.routine", "odd.bot"])
@pytest.mark.parametrize(
    ("data", "words"),
    [
        (bytes(range(256)) * 40, "not UTF-8"),
        (b"routine odd\n\0\n", "a zero byte"),
        (PLAN.encode("utf-16-le"), "a zero byte"),
        (HEAD.encode() + 'step A "café"\n'.encode("latin-1"), "line 5 holds a byte"),
        (b"\xff\xfe\x00", "not UTF-16"),
        (b"\xff\xd8\xff\xe0\x00\x10JFIF", "not UTF-8"),
    ],
)
def test_what_is_no_text(here: Path, name: str, data: bytes, words: str) -> None:
    """A photograph, a save in the wrong encoding, zero bytes: one line that says why."""
    assert here.is_dir()
    _one_line(_checked(data, name), words)


@pytest.mark.parametrize(
    "data",
    [
        PLAN.encode("utf-16"),
        PLAN.encode("utf-8-sig"),
        PLAN.replace("\n", "\r\n").encode(),
        PLAN.replace("\n", "\r").encode(),
        PLAN.replace("  ", "\t").encode(),
        PLAN.removesuffix("\n").encode(),
    ],
)
def test_every_editors_way_of_saving_is_read(here: Path, data: bytes) -> None:
    """Marks, line ends and tabs of any editor make no difference."""
    assert here.is_dir()
    plain = _checked(PLAN)
    assert (plain.status, plain.out.replace(":3:", ":2:")) == (
        _checked(data).status,
        _checked(data).out.replace(":3:", ":2:"),
    )


# Paths that are no file.


def test_a_folder_named_like_a_routine(here: Path) -> None:
    """A folder is a folder, whatever its name; one without plans says so."""
    (here / "odd.routine").mkdir()
    _one_line(planner("check", "odd.routine", "--format", "short"), "a folder without a plan")
    for command in (["draw"], ["export", "--into", "out", "--package", "a"]):
        ran = planner(command[0], "odd.routine", *command[1:])
        expected = "planner: could not read odd.routine: it is a folder\n"
        assert (2, expected) == (ran.status, ran.err)


def test_a_robot_file_that_is_a_folder(here: Path) -> None:
    """The routine that stands on it says which robot file could not be read."""
    (here / "moth.bot").unlink()
    (here / "moth.bot").mkdir()
    _one_line(_checked(PLAN), "its robot file moth.bot could not be read: it is a folder")


def _without_permission(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path.chmod(0)
    if not os.access(path, os.R_OK):
        return
    # An administrator may read everything, and Windows knows no such bit.
    read = Path.read_bytes

    def refuse(self: Path) -> bytes:
        if self.name == path.name:
            raise PermissionError(13, "Permission denied")
        return read(self)

    monkeypatch.setattr(Path, "read_bytes", refuse)


@pytest.mark.parametrize("name", ["odd.routine", "moth.bot"])
def test_no_permission(here: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    """A file that may not be read ends in one line, be it the routine or its robot file."""
    (here / "odd.routine").write_text(PLAN, encoding="utf-8")
    _without_permission(here / name, monkeypatch)
    ran = planner("check", "odd.routine", "--format", "short")
    _one_line(ran, "this account has no permission")
    assert name in ran.err


def test_a_folder_that_may_not_be_read(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder that cannot be looked into is one line, and the rest of the walk goes on."""
    moth_folder(here / "shut")
    scan = os.scandir

    def refuse(path: str) -> Iterator[os.DirEntry[str]]:
        if Path(path).name == "shut":
            raise PermissionError(13, "Permission denied", str(path))
        return scan(path)

    monkeypatch.setattr(os, "scandir", refuse)
    ran = planner("check", ".", "--format", "short")
    assert 2 == ran.status
    assert "shut: this account has no permission" in ran.err.splitlines()[0]
    assert "Checked 1 robot file: " in ran.err
    _one_line(planner("check", "shut", "--format", "short"), "no permission")


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such names")
def test_a_name_that_is_no_text(here: Path) -> None:
    """A file name of stray bytes and line ends is shown on one line, in plain characters."""
    name = os.fsdecode(b"a\xff\nb.routine")
    (here / name).write_text("routine a\n", encoding="utf-8")
    for format_ in ("short", "json", "text"):
        ran = planner("check", name, "--format", format_)
        assert (1, False) == (ran.status, FAULT in ran.err)
    out = planner("check", name, "--format", "short").out
    assert all(row.startswith("a<U+DCFF><U+000A>b.routine:1:") for row in out.splitlines())


@pytest.mark.parametrize(("number", "words"), [(32, "another program has it open"), (5, "no perm")])
def test_a_picture_that_is_open_in_a_viewer(number: int, words: str) -> None:
    """Windows lets nobody replace a file that another program has open; the line says so."""
    error = PermissionError(13, "localised words")
    error.winerror = number  # type: ignore[attr-defined, unused-ignore]
    assert words in reason(error)


@pytest.mark.parametrize("target", ["nowhere", "odd.routine"])
def test_a_link_to_nowhere(here: Path, target: str) -> None:
    """A link that leads nowhere, or to itself, ends in one line."""
    (here / "odd.routine").symlink_to(target)
    ran = planner("check", "odd.routine", "--format", "short")
    words = "there is no such file" if target == "nowhere" else "leads in a circle"
    _one_line(ran, words)


@pytest.mark.parametrize(
    "name", ["nothing.routine", "x" * 300 + ".routine", "a\0b.routine", "é\x1b"]
)
def test_a_path_that_cannot_be(here: Path, name: str) -> None:
    """A path that is not there, or that no file can have, ends in one line of plain characters."""
    assert here.is_dir()
    ran = planner("check", name, "--format", "short")
    _one_line(ran, "could not read ")
    assert ran.err.replace("\n", "").isprintable()


@pytest.mark.parametrize("command", ["draw", "export"])
def test_the_other_commands_say_it_in_one_line(here: Path, command: str) -> None:
    """A routine that is not there is one line for every command."""
    more = ["--into", "out", "--package", "a"] if command == "export" else []
    ran = planner(command, "nothing.routine", *more)
    expected = "planner: could not read nothing.routine: there is no such file\n"
    assert (2, "", expected) == (ran.status, ran.out, ran.err)
    assert ["moth.bot"] == [path.name for path in here.iterdir()]


def test_a_file_that_is_too_large(here: Path) -> None:
    """A film that was renamed is not read into memory."""
    with (here / "odd.routine").open("wb") as file:
        file.truncate(17 * 1024 * 1024)
    _one_line(planner("check", "odd.routine", "--format", "short"), "larger than 16 MB")


def test_another_kind_of_file(here: Path) -> None:
    """A file of another ending is told which endings are read."""
    (here / "plan.txt").write_text(PLAN, encoding="utf-8")
    ran = planner("check", "plan.txt", "--format", "short")
    _one_line(ran, "a routine's name ends in .routine, a robot file's in .bot, ")


# Text that is out of all proportion.


def test_a_line_of_a_megabyte(here: Path) -> None:
    """One endless line is one finding, and what is printed about it fits a window."""
    assert here.is_dir()
    ran = _checked(PLAN + "x" * 1_000_000 + "\n")
    assert 1 == ran.status
    assert 300 > max(map(len, ran.out.splitlines()))


def test_a_title_of_a_megabyte(here: Path) -> None:
    """So is one endless title, and the full report fits a window as well."""
    assert here.is_dir()
    _checked(HEAD + STEP.format(f' "{"x" * 1_000_000}"'))
    ran = planner("check", "odd.routine")
    assert 100 > max(map(len, ran.out.splitlines()))


def test_a_hundred_thousand_lines(here: Path) -> None:
    """A long file is read to its end, and its last line's fault is found."""
    assert here.is_dir()
    ran = _checked(PLAN + "# nothing\n" * 100_000 + "nonsense here\n")
    assert (1, True) == (ran.status, ":100011:" in ran.out)


def test_three_thousand_wrong_lines(here: Path) -> None:
    """Every wrong line is told, however many there are; a name that is nowhere, once."""
    assert here.is_dir()
    ran = _checked(PLAN + "".join(f"nonsense{n} here\n" for n in range(3_000)))
    places = [line.partition(": ")[0].split(":")[1] for line in ran.out.splitlines()]
    assert 3_000 == len({int(place) for place in places if int(place) > 10})


@pytest.mark.parametrize(
    "text",
    [
        "".join(" " * depth + "step Deep\n" for depth in range(200)),
        "".join("\t" * depth + "when bumper pressed, go to Lit\n" for depth in range(200)),
        PLAN.replace("bumper pressed", "(" * 200 + "bumper pressed" + ")" * 200),
        PLAN.replace("bumper pressed", "not " * 200 + "bumper pressed"),
        PLAN.replace("bumper pressed", " and ".join(["bumper pressed"] * 200)),
        PLAN.replace("40 %", "9" * 900 + " %"),
        PLAN.replace("3 s", "0." + "0" * 900 + "1 s"),
    ],
)
def test_nesting_two_hundred_deep(here: Path, text: str) -> None:
    """Whatever is nested or repeated beyond all use is found fault with, and nothing falls over."""
    assert here.is_dir()
    ran = _checked(text)
    assert (True, False) == ("odd.routine:" in ran.out, ran.status == 2)
    assert 400 > max(map(len, ran.out.splitlines()))


# Text that means something to somebody else.

TITLES = [
    "it's",
    "back\\slash",
    "</svg><script>alert(1)</script>",
    "*/ int x; /*",
    "\\u002a/",
    "\\N \\G \\l {a|b}",
    "%n %s %d {} ${x} $name",
    "&amp; & < >",
    "שלום עולם",
    "\u202eegdod",
    "灯をともす 🤖",
    "zero\u200bwidth",
]


@pytest.mark.parametrize("title", TITLES)
def test_titles_are_only_titles(here: Path, title: str) -> None:
    """No title changes what is found, and none steers the screen."""
    assert here.is_dir()
    plain, titled = _checked(PLAN), _checked(HEAD + STEP.format(f' "{title}"'))
    assert plain.status == titled.status
    assert all(c.isprintable() or c == "\n" for c in planner("check", "odd.routine").out)


@pytest.mark.parametrize("command", ["draw", "export"])
@pytest.mark.parametrize("title", TITLES)
def test_titles_reach_the_files_only_escaped(here: Path, command: str, title: str) -> None:
    """A plan with any title is drawn and exported; the picture holds no tag of the title's."""
    (here / "odd.routine").write_text(HEAD + STEP.format(f' "{title}"'), encoding="utf-8")
    more = ["--into", "out", "--package", "a"] if command == "export" else ["-o", "out.svg"]
    ran = planner(command, "odd.routine", *more)
    assert (0, "") == (ran.status, ran.err)
    if command == "draw":
        assert "<script" not in (here / "out.svg").read_text(encoding="utf-8")


# Robots that are not where they should be.


@pytest.mark.parametrize(
    "robot", ["../moth", "/etc/moth", "moth.bot", "a/moth", "..\\moth", "C:moth"]
)
def test_a_robot_outside_of_the_folder(here: Path, robot: str) -> None:
    """A robot goes by its name; a path in its place is a finding, and no other file is read."""
    moth_folder(here.parent)
    ran = _checked(PLAN.replace("robot moth", f"robot {robot}"))
    assert (1, True) == (ran.status, "odd.routine:2:" in ran.out)
    assert "Checked 1 routine: " in ran.err


def test_a_robot_file_that_is_missing(here: Path) -> None:
    """A robot file that is nowhere is one finding at its name."""
    assert here.is_dir()
    ran = _checked(PLAN.replace("robot moth", "robot heron"))
    assert (1, True) == (ran.status, "odd.routine:2:7: error missing-robot: " in ran.out)


def test_a_missing_robot_file_offers_the_near_one(here: Path) -> None:
    """A slip in the robot's name is answered with the robot file that is there."""
    assert here.is_dir()
    _checked(PLAN.replace("robot moth", "robot mtoh"))
    assert "`moth`" in planner("check", "odd.routine").out


@pytest.mark.parametrize("line", ["robot moth", "robot odd", "include odd", "uses odd.bot"])
def test_a_robot_file_that_names_itself(here: Path, line: str) -> None:
    """A robot file cannot take in another, nor itself; the line is a finding."""
    text = (here / "moth.bot").read_text(encoding="utf-8")
    ran = _checked(text.replace("robot moth", "robot odd") + f"{line}\n", "odd.bot")
    assert (1, True) == (ran.status, f"odd.bot:{text.count(chr(10)) + 1}:" in ran.out)


def test_a_robot_file_saved_as_a_routine(here: Path) -> None:
    """Its lines are found fault with, one by one."""
    ran = _checked((here / "moth.bot").read_text(encoding="utf-8"), "odd.routine")
    assert (1, True) == (ran.status, "unreadable-line" in ran.out)


def test_a_routine_saved_as_a_robot_file(here: Path) -> None:
    """And the other way round."""
    assert here.is_dir()
    ran = _checked(PLAN, "odd.bot")
    assert (1, True) == (ran.status, "unreadable-line" in ran.out)


@pytest.mark.parametrize("command", ["draw", "export"])
def test_a_robot_file_where_a_routine_is_wanted(here: Path, command: str) -> None:
    """Drawing or exporting a robot file ends in one line that names the other kind."""
    assert here.is_dir()
    more = ["--into", "out", "--package", "a"] if command == "export" else []
    ran = planner(command, "moth.bot", *more)
    expected = "planner: moth.bot is a robot file; this command takes a routine (*.routine)\n"
    assert (2, expected) == (ran.status, ran.err)


# Output that cannot be written.


@pytest.mark.parametrize("target", ["out.svg", "out.png", "out.dot"])
def test_a_picture_where_a_folder_is(here: Path, target: str) -> None:
    """A folder in the picture's place stays, and nothing is left beside it."""
    (here / "odd.routine").write_text(PLAN, encoding="utf-8")
    (here / target).mkdir()
    ran = planner("draw", "odd.routine", "-o", target)
    expected = f"planner: could not write {target}: it is a folder. Nothing was changed.\n"
    assert (2, expected) == (ran.status, ran.err)
    assert sorted(["moth.bot", "odd.routine", target]) == sorted(os.listdir(here))


@pytest.mark.parametrize("target", ["out.pdf", "out", ".svg", "odd.routine"])
def test_a_picture_of_no_kind(here: Path, target: str) -> None:
    """An ending that is no picture's ends in one line before anything is read or written."""
    (here / "odd.routine").write_text(PLAN, encoding="utf-8")
    ran = planner("draw", "odd.routine", "-o", target)
    expected = f"planner: {target}: the name of a picture ends in .svg, .png or .dot\n"
    assert (2, expected) == (ran.status, ran.err)
    assert ["moth.bot", "odd.routine"] == sorted(os.listdir(here))
    assert PLAN == (here / "odd.routine").read_text(encoding="utf-8")
