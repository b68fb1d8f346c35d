"""What it finds
    An i2c address that no device can have: below 0x08 or above 0x77.

Why it matters on the field
    Those addresses are kept for the bus itself, so nothing answers there, and the op mode stops in
    `init`. Many data sheets give the address with one more bit behind it, which doubles it.

Example
    robot example
    hub main
      i2c 1 range_front distance address 0xA4

Instead
    robot example
    hub main
      i2c 1 range_front distance address 0x52
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found
from planner.checks.words import mended_line
from planner.model.devices import ADDRESSES


def find(case: Case) -> Iterator[Found]:
    """The addresses out of reach, and half of them where that is one."""
    for slip in case.slips_of("no-such-address"):
        address = int(slip.word, 16)
        half = f"0x{address // 2:02X}"
        halved = address % 2 == 0 and address // 2 in ADDRESSES
        yield Found(
            slip.place,
            f"no i2c device can have the address `{slip.word}`",
            "The addresses below 0x08 and above 0x77 are kept for the bus itself.",
            f"If the data sheet counts the bit for reading and writing in, the address is half of "
            f"that, `{half}`:"
            if halved
            else "Look it up in the sensor's data sheet, or leave it to the factory: then write no "
            "address.",
            paste=(mended_line(slip.place, half),) if halved else (),
        )
