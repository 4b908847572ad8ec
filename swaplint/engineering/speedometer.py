"""What a speedometer shows after tyres, axle ratio or sender have changed.

A speedometer counts turns of a shaft (or a wheel) and was calibrated for the old gearing. Distances scale
with the rolling radius, turns of a sender ahead of the axle with the reduction between sender and wheel.

The band is that of UN Regulation 39: the speed shown is never less than the true speed V2, and at the test
speeds 0 ≤ V1 - V2 ≤ 0.1·V2 + 4 km/h. Other places have other rules; ask the authority. The odometer and,
where there is one, the tachograph need their own calibration.
"""

from __future__ import annotations

import math
from typing import Final

from swaplint.engineering.guards import ImpossibleInput, not_negative, positive

R39_TEST_SPEEDS: Final = (40 / 3.6, 80 / 3.6, 120 / 3.6)
"""Test speeds for fast vehicles, m/s (UN R39, from memory; slower vehicles are tested at lower speeds)."""

US_SHARE: Final = 0.1
"""How far V1/V2 may be from 1, either way: 8 km/h at 80 km/h (US 49 CFR 393.82, buses and trucks)."""

_R39_SHARE: Final = 0.1
_R39_ALLOWANCE: Final = 4 / 3.6


def indicated_ratio(
    reduction_before: float,
    radius_before: float,
    reduction_after: float,
    radius_after: float,
    ratio_before: float = 1.0,
) -> float:
    """Return indicated over true speed, V1/V2, after a change.

    `reduction_before` and `reduction_after` are everything between the sender and the wheel: the axle ratio
    for a sender on the transfer output or propshaft, transfer times axle for one on the gearbox output, 1
    for a sender at the wheel. Radii are rolling radii in m. `ratio_before` is V1/V2 before the change, 1 if
    the speedometer then read true. All above zero, else `ImpossibleInput`.

    V1/V2 = (i_after·r_before)/(i_before·r_after)·ratio_before: a shorter axle ratio turns the sender
    faster, a larger tyre slower for the same road speed. Kinematics of a rolling wheel.

    >>> round(indicated_ratio(1.0, 0.350, 1.0, 0.350 * 1.05), 4)
    0.9524
    """
    turns_before = positive("reduction before", reduction_before) / positive("radius before", radius_before)
    turns_after = positive("reduction after", reduction_after) / positive("radius after", radius_after)
    return turns_after / turns_before * positive("ratio before", ratio_before)


def r39_band(true_speed: float) -> tuple[float, float]:
    """Return the lowest and the highest speed that may be shown at a true speed, all in m/s.

    V2 and 1.1·V2 + 4 km/h (UN R39). True speed 0 or more, else `ImpossibleInput`.

    >>> [round(speed * 3.6, 1) for speed in r39_band(80 / 3.6)]
    [80.0, 92.0]
    """
    not_negative("true speed", true_speed)
    return true_speed, true_speed * (1.0 + _R39_SHARE) + _R39_ALLOWANCE


def largest_r39_ratio(highest_speed: float) -> float:
    """Return the largest V1/V2 that stays in the band of UN R39 up to `highest_speed` (true speed, m/s).

    The fixed 4 km/h weigh less the faster the vehicle goes, so the highest speed decides. Above zero, else
    `ImpossibleInput`. The smallest lawful ratio is 1 at every speed.

    >>> round(largest_r39_ratio(120 / 3.6), 4)
    1.1333
    """
    return r39_band(positive("highest speed", highest_speed))[1] / highest_speed


def correction_factor(ratio: float, aim: float = 1.0) -> float:
    """Return the factor c on the indicated speed that turns V1/V2 = `ratio` into `aim`: c = aim/ratio.

    `aim` is 1 or more (`ImpossibleInput` below: a speedometer must not be set to read low). Aiming some 2 %
    high covers the spread of the rolling radius (common practice). A setting in pulses per kilometre is
    multiplied by 1/c, because the instrument divides by it.

    >>> round(correction_factor(0.8, aim=1.02), 4)
    1.275
    """
    if positive("aim", aim) < 1.0:
        raise ImpossibleInput(f"a speedometer must not be set to read low, so the aim must not be {aim:g}")
    return aim / positive("ratio", ratio)


def driven_gear_teeth(teeth: int, correction: float) -> int:
    """Return the tooth count of a mechanical drive's driven gear that gives the correction or slightly more.

    The driven gear turns the cable, so its teeth divide: N = N_old/c, rounded down so that the speedometer
    does not read lower than asked. `teeth` is the present count (1 or more), `correction` above zero, else
    `ImpossibleInput`; `ImpossibleInput` too if less than one tooth would be left. Whether the gear exists
    and meshes is for the gearbox parts list.

    >>> driven_gear_teeth(20, 1.25)
    16
    """
    if teeth < 1:
        raise ImpossibleInput(f"a gear has at least one tooth, not {teeth}")
    # The small allowance keeps 20/1.25 at 16 when rounding in the division lands just below it.
    new = math.floor(teeth / positive("correction", correction) * (1.0 + 1e-12))
    if new < 1:
        raise ImpossibleInput(f"a correction of {correction:g} leaves no tooth on the driven gear")
    return new
