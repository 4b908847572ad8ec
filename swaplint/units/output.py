"""Numbers for output: out of SI into the unit of the trade, and as people read them."""

from __future__ import annotations

import functools

from swaplint.units import KINDS, show, to_unit
from swaplint.units.value import Value


def shown(value: float, kind: str = "", unit: str = "", *, digits: int = 4) -> str:
    """A number as people read it. `kind` and `unit` are needed only where it was not read from a field or a quantity.

    >>> shown(0.125, "grade", "%")
    '12.5 %'
    >>> shown(4.8800001)
    '4.88'
    """
    if isinstance(value, Value) and not kind:
        kind, unit = value.kind, value.unit
    if kind:
        return _shown(float(value), kind, unit, digits)
    return f"{value:.{digits}g}" if abs(value) < 10**digits else f"{value:.0f}"


@functools.lru_cache(maxsize=8192)
def _shown(value: float, kind: str, unit: str, digits: int) -> str:
    return show(value, unit, KINDS[kind], digits=digits)


def in_unit(value: float, kind: str, unit: str) -> float:
    """An SI value in the unit that it is shown in; a pure number as it is.

    >>> in_unit(0.125, "grade", "%")
    12.5
    """
    return plain_number(to_unit(value, unit, KINDS[kind]) if kind else value)


def plain_number(value: float) -> float:
    """A number without the last digits that arithmetic leaves: twelve significant ones are enough.

    >>> plain_number(0.1 + 0.2)
    0.3
    """
    return float(f"{value:.12g}")
