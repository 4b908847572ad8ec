"""Standard numbers of SAE J1939 that gauges use: which parameter is sent in which group.

Parameters (suspect parameter numbers) and groups (parameter group numbers) are those of SAE J1939-71. The numbers were
compared with a public list of parameters; the standard itself was not open. Networks use many more: any other number
is taken as a spec or data sheet gives it.
"""

from __future__ import annotations

from typing import Final, NamedTuple


class Parameter(NamedTuple):
    """A standard parameter: its number, its name, the group that carries it, and who as a rule knows it."""

    number: int
    name: str
    group: int
    known_by: str = "engine"


_PARAMETERS = (
    Parameter(70, "parking brake", 65265, "vehicle"),
    Parameter(84, "road speed from the wheels", 65265, "vehicle"),
    Parameter(91, "accelerator pedal position", 61443),
    Parameter(92, "engine load", 61443),
    Parameter(94, "fuel delivery pressure", 65263),
    Parameter(96, "fuel level", 65276, "vehicle"),
    Parameter(97, "water in fuel", 65279),
    Parameter(98, "engine oil level", 65263),
    Parameter(100, "engine oil pressure", 65263),
    Parameter(102, "boost pressure", 65270),
    Parameter(105, "intake manifold temperature", 65270),
    Parameter(108, "barometric pressure", 65269),
    Parameter(110, "coolant temperature", 65262),
    Parameter(111, "coolant level", 65263),
    Parameter(158, "voltage at the key switch", 65271),
    Parameter(167, "charging voltage", 65271),
    Parameter(168, "battery voltage", 65271),
    Parameter(171, "outside air temperature", 65269, "vehicle"),
    Parameter(174, "fuel temperature", 65262),
    Parameter(175, "engine oil temperature", 65262),
    Parameter(177, "gearbox oil temperature", 65272, "gearbox"),
    Parameter(183, "fuel rate", 65266),
    Parameter(190, "engine speed", 61444),
    Parameter(191, "gearbox output speed", 61442, "gearbox"),
    Parameter(247, "engine hours", 65253),
    Parameter(513, "engine torque", 61444),
    Parameter(523, "gear in use", 61445, "gearbox"),
    Parameter(544, "reference torque", 65251),
)

PARAMETERS: Final[dict[int, Parameter]] = {parameter.number: parameter for parameter in _PARAMETERS}
"""The parameters by number. All of them agree with the public list."""

FAULTS: Final = 65226
"""Group of the active faults (SAE J1939-73, from memory)."""

PREFERRED_ADDRESSES: Final[dict[int, str]] = {
    0: "engine",
    1: "second engine",
    3: "gearbox",
    11: "brakes",
    23: "instrument cluster",
    33: "body controller",
    249: "off-board service tool",
    250: "off-board service tool",
}
"""Preferred addresses of SAE J1939-81, from memory."""

FREE_ADDRESSES: Final = range(128, 248)
"""Addresses that no standard device prefers in a road vehicle, and that self-configuring ones take.

SAE J1939-81, from memory.
"""


def parameter_name(number: int) -> str:
    """A parameter for a sentence: its name and number, or its number alone where it is none of these.

    >>> parameter_name(100), parameter_name(4711)
    ('engine oil pressure (100)', 'parameter 4711')
    """
    known = PARAMETERS.get(number)
    return f"{known.name} ({number})" if known else f"parameter {number}"


def free_address(taken: frozenset[int] | set[int]) -> int | None:
    """The lowest address that nobody uses and no standard device prefers; None where all are taken.

    >>> free_address({0, 23, 128})
    129
    """
    return next((address for address in FREE_ADDRESSES if address not in taken), None)
