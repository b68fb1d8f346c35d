"""A plan and its robot to Java files, as texts."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from functools import lru_cache
from importlib.resources import files
from typing import Any

from jinja2 import Environment, PackageLoader, StrictUndefined

from planner.graph import Plan
from planner.java.fixed_code import fixed_codes
from planner.java.limits import check_exportable
from planner.java.mechanism_code import mechanism_code
from planner.java.naming import checked_package
from planner.java.op_mode_code import auto_code, sensor_check_code
from planner.java.plan_code import plan_code
from planner.java.robot_names import names_of, with_loose
from planner.java.scenario_code import test_code
from planner.java.seal import SAME_FOR_ALL, UNSEALED, file_name, sealed
from planner.java.wiring_code import expected_of, imports_of
from planner.java.wording import comment, string
from planner.model.choices import Variant
from planner.model.robot import SensorKind
from planner.model.scenario import Scenario

_OURS = "To change it, change that file and export again. What a person changed here is left alone."
_FIXED = "Every export writes it anew. What a person changed here is left alone."
_YOURS = "Yours to finish: once you have changed it, no export touches it again."

# What the driver station can start has the cautions in full.
_STARTED = ("Auto", "Fixed", "SensorCheck")


def export(plan: Plan, package: str, fixed: Iterable[Variant] = ()) -> dict[str, str]:
    """The Java files of a plan: whole texts by POSIX path, package folders included.

    For each combination of its choices in `fixed` there is an op mode that lets nobody choose.

    All lines end in ``\\n``, and the same plan always gives the same files. What depends on the
    robot alone is the same for all routines of that robot.

    Raises `CannotExport` for a package name Java does not take, for a plan with errors in it or
    too large for a class, and for what Java cannot do yet.
    """
    checked_package(package)
    check_exportable(plan)
    folder = package.replace(".", "/")
    written = sorted(_Exporter(plan, package).files(tuple(fixed)))
    return {f"{folder}/{path}": sealed(text) for path, text in written}


def export_tests(plan: Plan, scenarios: tuple[Scenario, ...], package: str) -> dict[str, str]:
    """The scenarios of a plan as JUnit 4 tests of its class, for the folder of a team's tests.

    The rest is as for `export`, whose files they stand on; without scenarios there is no file.
    """
    checked_package(package)
    check_exportable(plan)
    if not scenarios:
        return {}
    folder = package.replace(".", "/")
    written = sorted(_Exporter(plan, package).tests(scenarios))
    return {f"{folder}/{path}": sealed(text) for path, text in written}


class _Exporter:
    def __init__(self, plan: Plan, package: str) -> None:
        self.package = package
        self.plan = plan
        self.robot = plan.routine.robot
        self.names = names_of(self.robot)
        self.environment = _environment()
        self.routine_file = file_name(plan.routine.place)
        self.robot_file = file_name(self.robot.place)

    def files(self, fixed: Iterable[Variant]) -> Iterator[tuple[str, str]]:
        """Path under the package's folder, and text with its checksum still open."""
        code = plan_code(self.plan, self.names)
        mechanisms = {
            name: mechanism_code(self.robot, self.names, mechanism)
            for name, mechanism in with_loose(self.robot).items()
        }
        auto = auto_code(self.plan.routine, code, self.names, mechanisms)
        check = sensor_check_code(self.robot, self.names, mechanisms)
        of_routine, of_robot = self.routine_file, self.robot_file
        yield f"plans/{code.type_name}.java", self._text("Plan", of_routine, _OURS, plan=code)
        for mechanism in mechanisms.values():
            text = self._text("Mechanism", of_robot, _YOURS, mechanism=mechanism)
            yield f"mechanisms/{mechanism.type_name}.java", text
        yield f"opmodes/{auto.type_name}.java", self._text("Auto", of_routine, _YOURS, auto=auto)
        for one in fixed_codes(self.plan.routine, fixed):
            yield f"opmodes/{one.type_name}.java", self._text("Fixed", of_routine, _OURS, fixed=one)
        expected = expected_of(self.robot, self.names)
        values = {"devices": expected, "imports": imports_of(expected)}
        yield CONFIGURATION, self._text("Configuration", of_robot, _OURS, **values)
        yield "opmodes/SensorCheck.java", self._text("SensorCheck", of_robot, _OURS, check=check)
        yield from self._cameras()
        yield from self._support()

    def tests(self, scenarios: tuple[Scenario, ...]) -> Iterator[tuple[str, str]]:
        """The same for the tests of the plan."""
        code = plan_code(self.plan, self.names)
        test = test_code(self.plan, code, self.names, scenarios)
        text = self._text("PlanTest", self.routine_file, _OURS, test=test)
        yield f"plans/{test.type_name}.java", text
        for name in TEST_SUPPORT:
            yield f"plans/{name}", self._fixed(f"tests/{name}", _FIXED)

    def _text(self, template: str, source: str, about: str, **values: Any) -> str:
        body = self.environment.get_template(f"{template}.java.j2")
        header = self._header(source, about, template in _STARTED)
        return header + body.render(package=self.package, source=source, **values)

    def _header(self, source: str, about: str, runs: bool = False) -> str:
        header = self.environment.get_template("header.j2")
        return header.render(unsealed=UNSEALED, source=source, about=about, runs=runs)

    def _cameras(self) -> Iterator[tuple[str, str]]:
        for camera, names in self.names.cameras.items():
            values = [(names.values[v], string(v)) for v in self.robot.sensors[camera].values]
            given = {"camera": comment(camera), "names": names, "values": values}
            yield f"plans/{names.sees}.java", self._text("Sees", self.robot_file, _OURS, **given)
            text = self._text("Camera", self.robot_file, _YOURS, **given)
            yield f"mechanisms/{names.camera}.java", text

    def _support(self) -> Iterator[tuple[str, str]]:
        """The fixed files: they are Java as they stand, but for the name of the package."""
        colours = any(s.kind is SensorKind.COLOUR for s in self.robot.sensors.values())
        for path in SUPPORT if not colours else (*SUPPORT, *COLOUR_SUPPORT):
            about = _YOURS if path in _TUNABLE else _FIXED
            yield path, self._fixed(path, about)

    def _fixed(self, path: str, about: str) -> str:
        fixed = files("planner.java").joinpath("support", path).read_text(encoding="utf-8")
        text = self._header(SAME_FOR_ALL, about) + fixed
        for room in ("plans", "mechanisms", "opmodes"):
            text = text.replace(f"\npackage {room};", f"\npackage {self.package}.{room};")
            text = text.replace(f"\nimport {room}.", f"\nimport {self.package}.{room}.")
        return text


@lru_cache
def _environment() -> Environment:
    """The templates, compiled once."""
    return Environment(
        loader=PackageLoader("planner.java", "templates"),
        undefined=StrictUndefined,
        autoescape=False,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )


CONFIGURATION = "opmodes/Configuration.java"
SUPPORT = (
    "mechanisms/Percent.java",
    "opmodes/Choices.java",
    "opmodes/LogFile.java",
    "opmodes/Readings.java",
    "opmodes/Safely.java",
    "opmodes/TryOut.java",
    "opmodes/Wiring.java",
    "opmodes/Words.java",
    "plans/Held.java",
    "plans/Looks.java",
    "plans/Moves.java",
    "plans/Numbers.java",
    "plans/Once.java",
    "plans/RunLog.java",
    "plans/Steady.java",
    "plans/Times.java",
    "plans/Watched.java",
)
TEST_SUPPORT = ("PlayedPass.java", "Rehearsal.java", "Requirement.java")
COLOUR_SUPPORT = ("mechanisms/ColourSorter.java", "plans/Colour.java")
_TUNABLE = ("mechanisms/ColourSorter.java",)
