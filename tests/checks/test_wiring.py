"""The wiring of a robot: which ports there are, and what clashes.

The numbers of ports, the odd wire of a touch sensor and the two hubs of a robot are common
practice, no source.
"""

from __future__ import annotations

import pytest
from demo import check_text, names_of

PORTS = {"motor": 4, "encoder": 4, "servo": 6, "digital": 8, "analog": 4, "i2c": 4}
KINDS = {"digital": " switch", "i2c": " distance"}


def robot(*lines: str, uses: str = "") -> str:
    """A robot file with one hub, and a mechanism that uses its outputs."""
    mechanism = f"mechanism all\n  uses {uses}\n" if uses else ""
    return "robot example\nhub main\n" + "".join(f"  {line}\n" for line in lines) + mechanism


def plugged(kind: str, port: int) -> str:
    """A robot with one device."""
    uses = "it" if kind in ("motor", "servo") else ""
    return robot(f"{kind} {port} it{KINDS.get(kind, '')}", uses=uses)


@pytest.mark.parametrize("kind", PORTS)
def test_every_port_of_a_hub_can_be_used(kind: str) -> None:
    """Nothing is said about a device on a port that a hub has."""
    found = [names_of(check_text(plugged(kind, port))) for port in range(PORTS[kind])]
    assert [[]] * PORTS[kind] == found


@pytest.mark.parametrize("kind", PORTS)
def test_the_port_after_the_last_is_none(kind: str) -> None:
    """The first number that no port has is found, and the message says which there are."""
    (found,) = check_text(plugged(kind, PORTS[kind]))
    assert ("no-such-port", str(PORTS[kind])) == (found.check, found.place.words)
    assert f"0 to {PORTS[kind] - 1}" in found.way_out


@pytest.mark.parametrize("channel", range(8))
def test_a_touch_sensor_needs_an_odd_channel(channel: int) -> None:
    """The usual touch sensor reads only the odd wire of its plug; a switch reads either."""
    touch = names_of(check_text(robot(f"digital {channel} it touch")))
    assert ["touch-on-even-channel"] * (channel % 2 == 0) == touch
    assert [] == names_of(check_text(robot(f"digital {channel} it switch")))


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        (("encoder 0 left", "encoder 0 right"), ["port-used-twice"]),
        (("analog 1 left", "analog 1 right"), ["port-used-twice"]),
        (("digital 1 left switch", "digital 1 right beam"), ["port-used-twice"]),
        (("encoder 0 left", "analog 0 right"), []),
        (("i2c 1 left distance", "i2c 1 right distance"), ["address-used-twice"]),
        (("i2c 1 left distance", "i2c 2 right distance"), []),
        (("i2c 1 left distance", "i2c 1 right heading"), []),
        (("i2c 1 left distance address 0x29", "i2c 1 right distance"), []),
        (("i2c 1 left distance address 0x29", "i2c 1 right distance address 0x2A"), []),
        (
            ("i2c 1 left distance address 0x2a", "i2c 1 right heading address 0x2A"),
            ["address-used-twice"],
        ),
        (("encoder 0 arm", "encoder 1 Arm"), ["lookalike-names"]),
        (("encoder 0 arm_up", "encoder 1 armUp"), ["lookalike-names"]),
        (("encoder 0 arm_up", "encoder 1 arm_down"), []),
    ],
)
def test_what_clashes(lines: tuple[str, ...], expected: list[str]) -> None:
    """Two devices clash on one port, at one address and under names that look the same."""
    assert expected == names_of(check_text(robot(*lines)))


def test_the_encoder_of_a_motor_has_its_number() -> None:
    """A motor and the encoder of the same number are one thing, not two."""
    assert [] == names_of(
        check_text(robot("motor 0 wheels", "encoder 0 ticks_seen", uses="wheels"))
    )


def test_a_port_of_another_hub_is_another_port() -> None:
    """Two hubs have their ports twice."""
    text = robot("encoder 0 left") + "hub second\n  encoder 0 right\n"
    assert [] == names_of(check_text(text))


def test_a_third_hub_is_too_many() -> None:
    """A robot carries at most two hubs."""
    text = "robot example\nhub one\nhub two\n"
    assert [] == names_of(check_text(text))
    assert ["too-many-hubs"] == names_of(check_text(text + "hub three\n"))


def test_hubs_of_one_name_make_up_no_clashes() -> None:
    """Where two hubs have one name, nobody can tell whose port is whose."""
    text = robot("encoder 0 left") + "hub main\n  encoder 0 right\n"
    assert ["name-used-twice"] == names_of(check_text(text))


def test_a_free_port_is_offered() -> None:
    """The way out of a clash names ports that nothing is plugged into."""
    (found,) = check_text(robot("encoder 0 left", "encoder 0 right", "encoder 2 arm"))
    assert "Free are `1` and `3`." in found.way_out
    assert ("encoder 1 right",) == found.paste
