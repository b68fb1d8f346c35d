"""Op modes for one combination each, beside the one on which a gamepad chooses the same."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from java.java_tools import choices_routine

from planner.java.fixed_code import fixed_codes
from planner.model.choices import Choice, Variant, variants
from planner.model.units import Amount

GONE = "GoneFixed"
"""An op mode for a word that its plan does not have."""

# Each word of every choice is among them, and both ends of every range.
COMBINATIONS: tuple[Variant, ...] = tuple(variants(choices_routine().plan.routine.choices))[::5]
# More presses than the longest range has steps.
_PRESSES = 40


@dataclass(frozen=True)
class Pair:
    """Two scripts that come to one combination, and where in each the start is."""

    name: str
    fixed: list[str]
    by_gamepad: list[str]

    def started(self, said: list[str], script: list[str]) -> list[str]:
        """What was said from the start on."""
        return said[script.index("call start") :]


def pairs() -> list[Pair]:
    """A pair of scripts for each of `COMBINATIONS`."""
    routine = choices_routine().plan.routine
    codes = fixed_codes(routine, COMBINATIONS)
    return [_pair(code.type_name, one) for code, one in zip(codes, COMBINATIONS, strict=True)]


def gone(files: Mapping[str, str]) -> dict[str, str]:
    """One of these op modes as it would be left from a plan that could choose another word."""
    name = pairs()[0].name
    text = files[f"variants/opmodes/{name}.java"]
    assert '"alliance", "red"' in text
    text = text.replace('"alliance", "red"', '"alliance", "green"').replace(name, GONE)
    return {f"variants/opmodes/{GONE}.java": text}


def _pair(type_name: str, chosen: Variant) -> Pair:
    run = ["call start", "call loop", "call loop bumper=true", "call loop", "call stop"]
    ready = ["call init", "call init_loop"]
    idle = [f"call init_loop gamepad1.dpad_right={state}" for state in ("true", "false")]
    return Pair(
        type_name,
        [f"op mode variants.opmodes.{type_name}", *ready, *idle, *run],
        ["op mode variants.opmodes.ChoicesAuto", *ready, *_presses(chosen), *run],
    )


def _presses(chosen: Variant) -> Iterator[str]:
    for name, choice in choices_routine().plan.routine.choices.items():
        value = chosen[name]
        if isinstance(choice, Choice):
            yield from _pressed("right", choice.values.index(str(value)))
        else:
            assert isinstance(value, Amount)
            yield from _pressed("right" if value == choice.high else "left", _PRESSES)
        yield from _pressed("down", 1)


def _pressed(button: str, times: int) -> Iterator[str]:
    for _ in range(times):
        for state in ("true", "false"):
            yield f"call init_loop gamepad1.dpad_{button}={state}"
