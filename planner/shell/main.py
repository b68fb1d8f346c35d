"""The entry point: finds the command, and turns whatever goes wrong into one line."""

from __future__ import annotations

import gc
import importlib
import os
import sys
from typing import Any

import click

from planner import __version__
from planner.findings import nearest
from planner.shell.terminal import guard_encoding, let_go_of_output, warn

_COMMANDS = ("new", "check", "format", "rehearse", "times", "faults", "draw", "export", "explain")


class _Commands(click.Group):
    """Loads a command's module when it is asked for, so that no command waits for the others."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """In the order a team needs them."""
        del ctx
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name."""
        del ctx
        if cmd_name not in _COMMANDS:
            return None
        module = importlib.import_module(f"planner.shell.{cmd_name}")
        command: click.Command = getattr(module, cmd_name)
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that the first word names; a slip is answered with the name meant."""
        try:
            return super().resolve_command(ctx, args)
        except click.UsageError as error:
            near = nearest(args[0][:60], _COMMANDS, most=1)
            if not near:
                raise
            message = f"{error.message} Did you mean '{near[0]}'?"
            raise click.UsageError(message, ctx) from None

    def invoke(self, ctx: click.Context) -> Any:
        """Runs the command; Ctrl-C ends it without a word."""
        try:
            return super().invoke(ctx)
        except KeyboardInterrupt:
            ctx.exit(130)

    def main(self, *args: Any, **extra: Any) -> Any:
        """The whole program. An exception that reaches this place is a fault of the tool."""
        guard_encoding()
        try:
            try:
                return super().main(*args, **extra)
            finally:
                # What is still in the buffer may meet a full disk, and is told of like the rest.
                sys.stdout.flush()
        except BrokenPipeError:
            # Whoever read the output has seen enough.
            let_go_of_output()
            sys.exit(1)
        except OSError as error:
            # A full disk under the output; files have their own messages.
            let_go_of_output()
            warn(f"could not go on: {error.strerror or error}")
        except Exception as error:
            if os.environ.get("PLANNER_TRACE"):
                raise
            warn(
                f"this is a fault of the tool itself, not of your plan ({_named(error)}). "
                "Please report it with the plan that shows it; with PLANNER_TRACE=1 in the "
                "environment the tool also prints where it happened."
            )
        sys.exit(2)


def _named(error: Exception) -> str:
    text = " ".join(str(error).split())
    return f"{type(error).__name__}: {text[:200]}" if text else type(error).__name__


@click.group(
    cls=_Commands,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 90},
)
@click.version_option(__version__, message="planner %(version)s")
def main() -> None:
    """Plan, verify and export the autonomous routine of a school robotics team's robot.

    \b
    Example, from nothing to a checked plan, a first run by hand and a picture:
      planner new lantern
      planner check lantern.routine
      planner rehearse lantern.routine --by-hand
      planner draw lantern.routine

    Exit status: 0 clean, 1 errors found in a plan, 2 something could not be read or written, or
    the command was not understood, 3 not all could be settled.

    Robots start without warning: the event's rules and the team's adult mentor come first.
    """


def run() -> None:
    """The program as it is installed."""
    # Looking for garbage takes a tenth of a short run, and finds next to none, while modules load
    # as well as when the interpreter ends.
    gc.disable()
    try:
        main(prog_name="planner")
    finally:
        gc.freeze()
