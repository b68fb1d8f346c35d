"""What the tree may hold."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from house import ROOT, files, nothing_in, shown

TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml"}
FOLDERS = {"planner", "grammar", "tests", "routines"}
# Put together here, so that this file does not hold the words it looks for.
BANNED: dict[str, str] = {
    rf"\b({'TO' + 'DO'}|{'FIX' + 'ME'}|{'X' * 3}|{'HA' + 'CK'})\b": "is work left undone",
    rf"(?<![\w.])/({'wo' + 'rk'}|{'t' + 'mp'}|{'ro' + 'ot'}|{'ho' + 'me'})/\w": "is a local path",
    rf"\b{'py' + 'pi'}\.(org|python)|{'python' + 'hosted'}|{'npm' + 'js'}\.": "is a package index",
    rf"\.\./{'sha' + 'red'}\b": "is outside of the tree",
    rf"\bissue\s+#?\d|\b{'assis' + 'tant'}s?\b": "is not about the project",
}
SDK = re.compile("com[./]" + "qualcomm|org[./]" + "firstinspires", re.IGNORECASE)
# In exported Java such a comment tells the team what is theirs to write.
FOR_THE_TEAM = re.compile(r"""\s*(f?"(// )?|// |\* )""" + "TO" + "DO: ")
SDK_PLACES = ("planner/java/", "tests/java/", "tests/golden/java/")


def complaints(path: str, text: str) -> Iterator[str]:
    """The lines of a text that hold what the tree may not."""
    java_here = path.startswith(SDK_PLACES)
    for number, line in enumerate(text.splitlines(), start=1):
        for pattern, why in BANNED.items():
            found = re.search(pattern, line)
            if found and not (java_here and FOR_THE_TEAM.match(line)):
                yield f"{path}:{number}: `{found.group()}` {why}"
        found = SDK.search(line)
        if found and not java_here:
            yield f"{path}:{number}: `{found.group()}` belongs in Java, under planner/java"


def test_top_of_the_tree() -> None:
    """At the top lie three files, four folders and dot files, and nothing else."""
    tops = {path.relative_to(ROOT).parts[0] for path in files()}
    assert set() == {name for name in tops if not name.startswith(".")} - TOP - FOLDERS


def test_no_python_in_the_grammar() -> None:
    """The grammar is data: no Python lies beside it."""
    grammar = [path for path in files() if path.is_relative_to(ROOT / "grammar")]
    assert {".lark", ".md"} == {path.suffix for path in grammar}


def test_words_of_the_tree() -> None:
    """No text of the tree holds undone work, one machine's paths or a package index."""

    def all_complaints() -> Iterator[str]:
        for path in files():
            try:
                text = path.read_text(encoding="utf-8")
            except UnicodeDecodeError:
                continue  # a picture, or a file that is broken on purpose
            yield from complaints(shown(path), text)

    nothing_in(all_complaints())


@pytest.mark.parametrize(
    "line",
    [
        "# TO" + "DO: later",
        "see /t" + "mp/x",
        "fetch from https://py" + "pi.org/simple",
        "see ../sha" + "red/design.md",
        "asked for in issue" + " 12",
        "import com." + "qualcomm.robotcore.hardware.DcMotor;",
    ],
)
def test_a_banned_word_is_seen(line: str) -> None:
    """The judge of words sees each kind of them, and says where."""
    found = list(complaints("planner/graph/x.py", f"fine\n{line}\n"))
    assert 1 == len(found)
    assert found[0].startswith("planner/graph/x.py:2: ")
