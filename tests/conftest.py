"""Options and fixtures that all tests share."""

from __future__ import annotations

import os
from collections.abc import Callable, Generator
from pathlib import Path
from typing import Any, TypeVar

import pytest
from demo import check_text as demo_check_text
from demo import moth_robot
from hypothesis import HealthCheck, settings

from planner.findings import Finding
from planner.model import Robot

_Report = TypeVar("_Report", pytest.TestReport, pytest.CollectReport)

GOLDEN = Path(__file__).parent / "golden"

# Never a timed test: no deadline. The ordinary run draws the same examples on every machine.
_UNTIMED: dict[str, Any] = {"deadline": None, "suppress_health_check": [HealthCheck.too_slow]}
settings.register_profile("short", max_examples=40, derandomize=True, **_UNTIMED)
settings.register_profile("long", max_examples=3000, **_UNTIMED)
settings.load_profile("short")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Adds the option that writes the golden files again."""
    parser.addoption(
        "--regenerate", action="store_true", help="write the files in tests/golden again"
    )


@pytest.fixture
def golden(request: pytest.FixtureRequest) -> Callable[[str, str], None]:
    """Compares a text with the file of that path in tests/golden; bytes that are text only."""
    regenerate = bool(request.config.getoption("--regenerate"))

    def compare(path: str, actual: str) -> None:
        file = GOLDEN / path
        if regenerate:
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(actual, encoding="utf-8", newline="\n")
            return
        if not file.is_file():
            pytest.fail(f"{path} is not in tests/golden; `python -m pytest --regenerate` writes it")
        assert file.read_text(encoding="utf-8") == actual

    return compare


@pytest.fixture(scope="session")
def moth() -> Robot:
    """The demo team's robot."""
    return moth_robot().robot


@pytest.fixture(scope="session")
def check_text() -> Callable[..., tuple[Finding, ...]]:
    """`check_text(text, robot_text=None)`: all findings of a text; see `demo.check_text`."""
    return demo_check_text


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """In CI a skipped test fails."""
    report = yield
    return _unskipped(report)


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """In CI a skipped test module fails."""
    report = yield
    return _unskipped(report)


def _unskipped(report: _Report) -> _Report:
    if os.environ.get("CI") and report.outcome == "skipped" and not hasattr(report, "wasxfail"):
        report.outcome = "failed"
        report.longrepr = f"In CI nothing may be skipped, and this was: {report.longrepr}"
    return report
