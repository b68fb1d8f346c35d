"""The addresses of an i2c bus.

Source: NXP UM10204, "I2C-bus specification and user manual", on reserved addresses: the seven-bit
addresses that begin with 0000 or with 1111 are kept for the bus. From memory.
"""

from __future__ import annotations

from demo import check_text, names_of

RESERVED_BITS = ("0000", "1111")


def test_reserved_addresses() -> None:
    """The addresses that the bus keeps for itself, and those of eight bits, are slips."""
    for address in range(0x100):
        bits = f"{address:07b}"
        kept = len(bits) > 7 or bits.startswith(RESERVED_BITS)
        line = f"i2c 1 range_front distance 2 cm to 200 cm address 0x{address:02X}"
        found = names_of(check_text(f"robot moth\nhub main\n  {line}\n"))
        assert (address, kept) == (address, "no-such-address" in found)
