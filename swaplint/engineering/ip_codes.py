"""Degrees of protection of electrical equipment on road vehicles: the IP code of ISO 20653.

`IP6K9K`: the first numeral says what keeps dust out (`5` or `5K` protected, `6` or `6K` tight), the second how water
may come. The numerals 7 and 8 (immersion), and 9 (high-pressure jets), are tests of their own: none of them says
anything about the others. From memory, as are the letters; equipment with several codes states all of them.
"""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import NamedTuple

from .guards import ImpossibleInput

_CODE = re.compile(r"IP\s?([0-6]K?|X)([0-9]K?|X)[A-D]?", re.IGNORECASE)

IMMERSION = 7
PRESSURE_WASH = 9


class Protection(NamedTuple):
    """What a code says: numerals for dust and water, 0 where it says nothing (X)."""

    dust: int
    water: int


def read_code(code: str) -> Protection:
    """The numerals of an IP code. Raises `ImpossibleInput` for what is none.

    >>> read_code("IP6K9K"), read_code("IPX7")
    (Protection(dust=6, water=9), Protection(dust=0, water=7))
    """
    match = _CODE.fullmatch(code.strip())
    if match is None:
        raise ImpossibleInput(f"{code!r:.20} is not an IP code; one looks like IP6K9K or IP67")
    dust, water = (0 if digit.upper() == "X" else int(digit[0]) for digit in match.groups())
    return Protection(dust, water)


def keeps_out(codes: Collection[str], *, dust: int, water: int) -> bool:
    """Whether equipment with these codes meets a degree for dust and one for water.

    Up to 6 a higher numeral for water covers the lower ones. Immersion (7, 8) and high-pressure jets (9) are covered
    only by their own test; 7 or above is taken to keep rain and spray (up to 4) out.

    >>> keeps_out(["IP67"], dust=6, water=9), keeps_out(["IP67", "IP6K9K"], dust=6, water=9)
    (False, True)
    """
    if not 0 <= dust <= 6 or not 0 <= water <= 9:
        raise ImpossibleInput(f"dust {dust} and water {water} are not numerals of an IP code")
    read = [read_code(code) for code in codes]
    return any(p.dust >= dust for p in read) and any(_water(p.water, water) for p in read)


def _water(tested: int, wanted: int) -> bool:
    if wanted <= 4:
        return tested >= wanted
    if wanted <= 6:
        return wanted <= tested <= 6 or tested == PRESSURE_WASH
    if wanted < PRESSURE_WASH:
        return wanted <= tested < PRESSURE_WASH
    return tested == PRESSURE_WASH
