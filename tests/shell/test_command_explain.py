"""`planner explain`, help and version."""

from __future__ import annotations

import pytest
from command import planner

from planner import __version__
from planner.checks.table import CHECKS

COMMANDS = ("new", "check", "format", "rehearse", "times", "faults", "draw", "export", "explain")


@pytest.mark.parametrize("name", [check.name for check in CHECKS])
def test_every_check_is_explained(name: str) -> None:
    """Each check has its page, and every report names it the way this command takes it."""
    ran = planner("explain", name)
    assert (0, True) == (ran.status, ran.out.startswith(f"{name} ("))


def test_underscores_and_capitals_are_let_through() -> None:
    """Who types the name a little differently gets the page."""
    assert planner("explain", "unknown-step") == planner("explain", "Unknown_Step")


def test_all_checks_are_listed() -> None:
    """Without a name all checks are listed."""
    ran = planner("explain")
    heads = [row.split()[0] for row in ran.out.splitlines() if not row.startswith(" ")]
    assert [check.name for check in CHECKS] == heads


def test_a_near_name_is_offered() -> None:
    """A slip of the finger is answered with the name that was meant."""
    ran = planner("explain", "unknwon-step")
    expected = "planner: there is no check `unknwon-step`. Did you mean `unknown-step`?\n"
    assert (2, expected) == (ran.status, ran.err)


def test_an_odd_name_is_answered_in_one_line() -> None:
    """Anything else ends in one line that says where to look."""
    ran = planner("explain", "\x1b[2J" + "x" * 10_000)
    assert (2, 1) == (ran.status, ran.err.count("\n"))
    assert ran.err.endswith("To list them all: planner explain\n")
    assert "\x1b" not in ran.err


def test_version() -> None:
    """The version is the package's."""
    assert (0, f"planner {__version__}\n") == (
        planner("--version").status,
        planner("--version").out,
    )


@pytest.mark.parametrize("words", [[], *([command] for command in COMMANDS)])
@pytest.mark.parametrize("option", ["-h", "--help"])
def test_help_shows_an_example(words: list[str], option: str) -> None:
    """The help of the program and of each command shows at least one line to copy."""
    ran = planner(*words, option)
    assert (0, True) == (ran.status, f"\n    planner {' '.join(words)}" in ran.out)


def test_the_help_lists_every_command() -> None:
    """No command is hidden."""
    out = planner("--help").out
    assert list(COMMANDS) == [
        row.split()[0] for row in out.partition("Commands:\n")[2].splitlines()
    ]


@pytest.mark.parametrize("words", [["frob"], ["check"], ["check", "--frob"], ["draw"], ["export"]])
def test_bad_usage_is_status_2(words: list[str]) -> None:
    """A command line that is not understood ends with status 2 and shows how it goes."""
    ran = planner(*words)
    assert (2, True) == (ran.status, ran.err.startswith("Usage: "))


def test_a_slip_in_a_command_is_answered_with_its_name() -> None:
    """Who mistypes a command is told which one is near."""
    expected = "No such command 'chekc'. Did you mean 'check'?\n"
    assert planner("chekc").err.endswith(expected)


def test_an_odd_command_is_no_fault() -> None:
    """Anything else in a command's place is bad usage as well."""
    assert 2 == planner("\x00" * 5000).status


def test_the_language_is_explained() -> None:
    """The reference of the language is at hand where only the program is installed."""
    assert planner("explain", "language").out.startswith("# The language: reference and meaning\n")
