"""The wheel holds all it needs, and works outside of the checkout."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from hatchling.builders.wheel import WheelBuilder
from house import ROOT, files

RUN = "from planner.shell.main import run; run()"


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built here without any network, and unpacked into a folder of its own."""
    folder = tmp_path_factory.mktemp("wheel")
    (wheel,) = WheelBuilder(str(ROOT)).build(directory=str(folder), versions=["standard"])
    target = folder / "target"
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(target)
    return target


def run(unpacked: Path, folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """Python with the unpacked wheel in front of the checkout."""
    environment = {**os.environ, "PYTHONPATH": str(unpacked)}
    return subprocess.run(
        [sys.executable, *arguments],
        cwd=folder, env=environment, capture_output=True, encoding="utf-8", check=False,
    )  # fmt: skip


def test_wheel_holds_every_file(unpacked: Path) -> None:
    """Each file of the package, and each grammar, is in the wheel; nothing else of the tree is."""
    kept = [path.relative_to(ROOT).parts for path in files()]
    expected = {"/".join(parts) for parts in kept if parts[0] == "planner"}
    expected |= {"planner/" + "/".join(parts) for parts in kept if parts[0] == "grammar"}
    found = {p.relative_to(unpacked).as_posix() for p in unpacked.rglob("*") if p.is_file()}
    assert expected == {name for name in found if ".dist-info/" not in name}


def test_wheel_works_outside_of_the_checkout(unpacked: Path, tmp_path: Path) -> None:
    """The command line of the wheel checks the demo routine, from a folder with a space in it."""
    plans = tmp_path / "our plans"
    plans.mkdir()
    for name in ("moth.bot", "first_lamp.routine"):
        shutil.copy(ROOT / "routines" / name, plans)
    where = run(unpacked, plans, "-c", "import planner; print(planner.__file__)")
    assert str(unpacked / "planner" / "__init__.py") == where.stdout.strip()
    ran = run(unpacked, plans, "-c", RUN, "check", "first_lamp.routine")
    assert (0, "") == (ran.returncode, ran.stderr)
