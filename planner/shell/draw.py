"""`planner draw`: a routine's picture."""

from __future__ import annotations

from pathlib import Path

import click

from planner import pipeline
from planner.pipeline import Checked
from planner.report import as_text, tally
from planner.shell.drawing import FORMATS, Engine, Format, render
from planner.shell.files import write_whole
from planner.shell.robots import one_routine
from planner.shell.terminal import say, screen
from planner.shell.trouble import Trouble

_FORMATS: dict[str, Format] = {f".{format_}": format_ for format_ in FORMATS}


@click.command()
@click.argument("routine", type=Path)
@click.option(
    "-o",
    "--output",
    type=Path,
    help="Where to write it; the ending says what: .svg, .png or .dot. "
    "Left out, an SVG is written beside the routine.",
)
@click.option(
    "--engine",
    type=click.Choice(["own", "system"]),
    default="own",
    show_default=True,
    help="Which program lays it out: the one installed with planner, which draws the same on "
    "every machine, or this machine's own dot.",
)
@click.pass_context
def draw(ctx: click.Context, routine: Path, output: Path | None, engine: Engine) -> None:
    """Draw ROUTINE's steps and exits.

    Findings are marked on the step they belong to, so a plan with errors is drawn as well.

    \b
    Examples:
      planner draw lantern.routine
      planner draw lantern.routine -o pit/lantern.png
    """
    if output is not None and output.suffix.lower() not in _FORMATS:
        raise Trouble(f"{output}: the name of a picture ends in .svg, .png or .dot")
    checked = one_routine(routine)
    if not checked.plan.routine.steps:
        say(as_text(checked.findings, screen()))
        say(f"Nothing was drawn: {routine} has no step.\n")
        ctx.exit(1)
    target = output or routine.with_suffix(".svg")
    format_ = _FORMATS[target.suffix.lower()]
    write_whole(target, render(pipeline.draw(checked), format_, engine))
    say(f"Drew {target}{_marked(checked, routine)}.\n")


def _marked(checked: Checked, routine: Path) -> str:
    found = tally(checked.findings)
    return f" with {found} marked; to read them: planner check {routine}" if found else ""
