"""Numbers in sentences: values with the unit of the trade and sensible digits."""

from __future__ import annotations

from swaplint.units import KINDS, show
from swaplint.view import Value


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
        return show(float(value), unit, KINDS[kind], digits=digits)
    return f"{value:.{digits}g}" if abs(value) < 10**digits else f"{value:.0f}"
