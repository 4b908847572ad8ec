"""Alternator output, charge balance and voltage converters.

Speeds are rotational, rad/s; an output table is (rotor speed, current A) in rising order of speed, from the
alternator's data sheet (a performance curve after ISO 8854).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final, NamedTuple

from .guards import ImpossibleInput, OutsideRange, not_negative, positive, said, share

OutputTable = Sequence[tuple[float, float]]

HOT_OUTPUT_SHARE: Final = 0.85
"""Output of a hot alternator over that of its table, which is measured near 23 °C. Common practice."""

CONVERTER_EFFICIENCY: Final = 0.9
"""Efficiency of a switching converter. Common practice."""


class Load(NamedTuple):
    """A consumer: current, A, share of time that it is on, and voltage, V, if a converter feeds it."""

    current: float
    duty: float = 1.0
    voltage: float | None = None


def alternator_output(rotor_speed: float, table: OutputTable) -> float:
    """Output, A, of a cold alternator at a rotor speed, rad/s.

    Straight between the points of its table. Above the last point the last current: an alternator limits its
    own current, and the sheet promises no more. Below the first point 0 when the table starts at 0 A (the
    speed at which it begins to charge); when it starts higher the sheet is silent there: `OutsideRange`.

    >>> table = [(157.0, 0.0), (209.0, 32.0), (628.0, 80.0)]
    >>> alternator_output(183.0, table), alternator_output(700.0, table), alternator_output(100.0, table)
    (16.0, 80.0, 0.0)
    """
    _checked(table)
    not_negative("rotor speed", rotor_speed)
    first_speed, first_current = table[0]
    if rotor_speed < first_speed:
        if first_current == 0.0:
            return 0.0
        raise OutsideRange(
            f"an alternator speed of {said(rotor_speed, 'r/min')} is below the output table, which starts with "
            f"{first_current:g} A at {said(first_speed, 'r/min')}"
        )
    for (s0, i0), (s1, i1) in pairwise(table):
        if rotor_speed <= s1:
            return i0 + (i1 - i0) * (rotor_speed - s0) / (s1 - s0)
    return table[-1][1]


def average_current(loads: Sequence[Load]) -> float:
    """Average current, A, of loads on the vehicle's own voltage: Σ current·duty.

    >>> average_current([Load(10.0), Load(30.0, duty=0.5)])
    25.0
    """
    return sum(not_negative("load current", load.current) * share("duty", load.duty) for load in loads)


def charge_balance(
    engine_speed: float,
    ratio: float,
    table: OutputTable,
    demand: float,
    hot_share: float = HOT_OUTPUT_SHARE,
) -> float:
    """Charging current, A, over (positive) or short (negative) of a demand, A, at an engine speed, rad/s.

    Output at rotor speed = engine speed × pulley ratio, times `hot_share`, less the demand; the demand
    includes what the battery needs to recover. Errors as `alternator_output`. Belt slip is not in it.

    >>> round(charge_balance(78.5, 2.6, [(157.0, 0.0), (209.0, 32.0), (628.0, 80.0)], 44.0), 1)
    -19.4
    """
    rotor_speed = not_negative("engine speed", engine_speed) * positive("pulley ratio", ratio)
    hot = positive("hot share", share("hot share", hot_share))
    return alternator_output(rotor_speed, table) * hot - not_negative("demand", demand)


def balance_speed(ratio: float, table: OutputTable, demand: float, hot_share: float = HOT_OUTPUT_SHARE) -> float | None:
    """Lowest engine speed, rad/s, at which a hot alternator covers a demand, A; None if it never does.

    Solved on the straight lines of the table. A table that already covers the demand at its first point gives
    that point's speed: below it the sheet is silent.

    >>> speed = balance_speed(2.6, [(157.0, 0.0), (209.0, 32.0), (628.0, 80.0)], 44.0)
    >>> round(speed, 1) if speed else None
    146.7
    """
    _checked(table)
    needed = not_negative("demand", demand) / positive("hot share", share("hot share", hot_share))
    positive("pulley ratio", ratio)
    if needed <= table[0][1]:
        return table[0][0] / ratio if needed > 0.0 else 0.0
    for (s0, i0), (s1, i1) in pairwise(table):
        if i0 < needed <= i1:
            return (s0 + (s1 - s0) * (needed - i0) / (i1 - i0)) / ratio
    return None


def converter_power(loads: Sequence[Load], efficiency: float = CONVERTER_EFFICIENCY) -> float:
    """Input power, W, of a converter that feeds loads of another voltage at once: Σ I·U / efficiency.

    Duty is left out: the converter must feed all that can be on together. Every load needs its voltage.

    >>> round(converter_power([Load(5.0, voltage=12.0), Load(2.5, voltage=12.0)]), 6)
    100.0
    """
    total = 0.0
    for load in loads:
        if load.voltage is None:
            raise ImpossibleInput("a load behind a converter needs its voltage")
        total += not_negative("load current", load.current) * positive("load voltage", load.voltage)
    return total / positive("efficiency", share("efficiency", efficiency))


def _checked(table: OutputTable) -> None:
    if not table:
        raise ImpossibleInput("the alternator's output table is empty")
    for speed, current in table:
        not_negative("rotor speed in the output table", speed)
        not_negative("current in the output table", current)
    if any(s1 <= s0 for (s0, _), (s1, _) in pairwise(table)):
        raise ImpossibleInput("the alternator's output table must rise in speed")
