"""American wire gauge: the area of each size.

ASTM B258 fixes 4/0 at 0.4600 in and 36 at 0.0050 in, with 39 equal steps of ratio between, so that the
diameter of size n is 0.127 mm x 92^((36 - n)/39), where 1/0 counts as 0, 2/0 as -1, down to 4/0 as -3. The
area is that of the solid round wire; stranded cable sold under the same number may hold less copper: its
data sheet gives the mm².
"""

from __future__ import annotations

import math
from functools import lru_cache

RANGE = "4/0 to 1/0, then 1 to 40"
_NAMES = ["4/0", "3/0", "2/0", "1/0", *(str(size) for size in range(1, 41))]
_OTHER_NAMES = {"0": "1/0", "00": "2/0", "000": "3/0", "0000": "4/0"}


@lru_cache(maxsize=1)
def _areas() -> dict[str, float]:
    return {name: math.pi / 4.0 * (0.127e-3 * 92.0 ** ((36 - size) / 39)) ** 2 for size, name in enumerate(_NAMES, -3)}


def area_of(size: str) -> float | None:
    """Return the area in m² of a size as it is written, or None if there is no such size.

    >>> round(area_of("2/0") * 1e6, 2)
    67.43
    >>> area_of("00") == area_of("2/0")
    True
    """
    return _areas().get(_OTHER_NAMES.get(size, size))


def name_of(area: float) -> str | None:
    """Return the size that has exactly this area (in m²), or None.

    >>> name_of(area_of("10")), name_of(35e-6)
    ('10 AWG', None)
    """
    for name, size in _areas().items():
        if abs(area - size) <= 1e-9 * size:
            return f"{name} AWG"
    return None
