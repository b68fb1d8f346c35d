"""What was exported last, as a file of its own in the export's folder.

The format is JSON of our own, version 1. It is made of nothing but the plans, so the same plans
give the same bytes, on every computer and in whatever order they are exported::

    {
      "format": "planner export",
      "version": 1,
      "files": {PATH: {"made from": FILE, "sha256": DIGEST}, ...},
      "plans": {FILE: {"robot": FILE, "mechanisms": DIGEST, "names": [NAMED, ...]}, ...}
    }

PATH is below the folder of the package, with slashes. The digest of a file is the SHA-256 of its
text as exported, as UTF-8 with ``\\n`` line ends, whatever a person has made of it since. ``made
from`` is the file name of the plan or robot file, empty for what is the same for every team. A
plan's ``mechanisms`` is the SHA-256 of the lines ``DIGEST PATH``, in the order of the paths, of all
files made from its robot file; a robot file is its own ``robot``. A NAMED is what a name stands
for: ``{"what", "owner", "name", "java", "like"}``, see `planner.java.named`.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from typing import Any

from planner.graph import Plan
from planner.java.named import Named, names_in_robot, names_in_routine
from planner.java.seal import file_name, made_from

MANIFEST = "planner.json"
"""The file's name in the folder of the package."""

_FORMAT = "planner export"
_VERSION = 1


class NotAManifestError(ValueError):
    """A text is no manifest of this version; the message says why, to follow its name and "is"."""


@dataclass(frozen=True, slots=True)
class Made:
    """A file as it was exported."""

    made_from: str
    checksum: str


@dataclass(frozen=True, slots=True)
class Recorded:
    """A plan or robot file as it was exported."""

    robot: str
    """The file name of its robot; its own for a robot file."""
    mechanisms: str
    """The checksum of all that was made from the robot file."""
    names: tuple[Named, ...]


@dataclass(frozen=True, slots=True)
class Manifest:
    """What was exported into one package."""

    files: Mapping[str, Made]
    """By path below the folder of the package."""
    plans: Mapping[str, Recorded]
    """Routines and robot files by file name."""

    def renamed(self, old: str, new: str) -> Manifest:
        """The same where the file of a plan or robot has been given another name."""
        files = {
            path: Made(new, made.checksum) if made.made_from == old else made
            for path, made in self.files.items()
        }
        plans = {
            new if name == old else name: replace(one, robot=new) if one.robot == old else one
            for name, one in self.plans.items()
        }
        return Manifest(files, plans)

    def joined(self, other: Manifest) -> Manifest:
        """This and what another export adds to it or says anew."""
        return Manifest({**self.files, **other.files}, {**self.plans, **other.plans})


NOTHING = Manifest({}, {})


def manifest_of(plan: Plan, files: Mapping[str, str], package: str) -> Manifest:
    """The manifest of the export of one plan into a package."""
    routine, robot = file_name(plan.routine.place), file_name(plan.routine.robot.place)
    folder = package.replace(".", "/") + "/"
    made = {
        path.removeprefix(folder): Made(made_from(text), _digest(text))
        for path, text in sorted(files.items())
    }
    lines = [f"{one.checksum} {path}\n" for path, one in made.items() if one.made_from == robot]
    mechanisms = _digest("".join(lines))
    plans = {
        robot: Recorded(robot, mechanisms, names_in_robot(plan.routine.robot)),
        routine: Recorded(robot, mechanisms, names_in_routine(plan)),
    }
    return Manifest(made, plans)


def together(before: Manifest, now: Manifest, is_there: Callable[[str], bool]) -> Manifest:
    """The manifest after an export: what is not there any more is forgotten."""
    files = {path: made for path, made in before.files.items() if is_there(path)}
    sources = {made.made_from for made in files.values()}
    plans = {name: one for name, one in before.plans.items() if name in sources}
    return Manifest(files, plans).joined(now)


def manifest_text(manifest: Manifest) -> str:
    """The manifest as its file holds it, with ``\\n`` line ends."""
    files = {
        path: {"made from": made.made_from, "sha256": made.checksum}
        for path, made in manifest.files.items()
    }
    plans = {
        name: {
            "robot": one.robot,
            "mechanisms": one.mechanisms,
            "names": [asdict(named) for named in one.names],
        }
        for name, one in manifest.plans.items()
    }
    whole = {"format": _FORMAT, "version": _VERSION, "files": files, "plans": plans}
    return json.dumps(whole, indent=1, sort_keys=True) + "\n"


def read_manifest(text: str) -> Manifest:
    """The manifest of a text. Raises `NotAManifestError`."""
    try:
        whole = json.loads(text)
    except json.JSONDecodeError as error:
        raise NotAManifestError(f"no JSON from line {error.lineno} on") from None
    except (ValueError, RecursionError):
        raise NotAManifestError("no JSON that can be read") from None
    if not isinstance(whole, dict) or whole.get("format") != _FORMAT:
        raise NotAManifestError("another program's")
    if whole.get("version") != _VERSION:
        raise NotAManifestError("written by another version of this tool")
    try:
        files = {_name(path): _made(made) for path, made in whole["files"].items()}
        plans = {_name(name): _recorded(one) for name, one in whole["plans"].items()}
    except (AttributeError, KeyError, TypeError):
        raise NotAManifestError("not whole") from None
    return Manifest(files, plans)


def _made(written: Any) -> Made:
    return Made(_name(written["made from"]), _name(written["sha256"]))


def _recorded(written: Any) -> Recorded:
    names = tuple(
        Named(
            _name(one["what"]),
            _name(one["owner"]),
            _name(one["name"]),
            tuple(map(_name, one["java"])),
            tuple(map(_text, one["like"])),
        )
        for one in written["names"]
    )
    return Recorded(_name(written["robot"]), _name(written["mechanisms"]), names)


def _name(written: Any) -> str:
    # What is told to a user must not move the cursor.
    if not _text(written).isprintable():
        raise TypeError
    return _text(written)


def _text(written: Any) -> str:
    if not isinstance(written, str):
        raise TypeError
    return written


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()
