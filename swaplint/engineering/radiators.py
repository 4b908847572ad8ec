"""The conductance of a radiator at flows other than those of its maker's tests.

A maker states a few points: air flow, coolant flow, and how much heat passes. Between and beyond them the overall
conductance UA changes with both flows, so an effectiveness read at one air flow must not be used at another.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, NamedTuple

from swaplint.engineering.curves import interpolate
from swaplint.engineering.guards import ImpossibleInput, positive, within_range
from swaplint.engineering.heat_exchangers import LOUVRED_FIN_EXPONENT, TURBULENT_TUBE_EXPONENT, ua_at_flow

AIR_SIDE_SHARE: Final = 0.8
"""Share of a finned radiator's thermal resistance that lies on the air side (common practice: 0.7 to 0.9)."""


class RadiatorTest(NamedTuple):
    """One tested point: mass flow of air in kg/s, volume flow of coolant in m³/s, conductance in W/K."""

    air_flow: float
    coolant_flow: float
    ua: float


CORE_DEPTH: Final = (0.016, 0.060)
CORE_FINS: Final = (10.0, 18.0)
CORE_AIR_SPEED: Final = (2.0, 8.0)
"""Metres, fins in an inch, and m/s at the face, for which the conductance of a core is known."""


def core_conductance(face: float, depth: float, fins_per_inch: float, air_speed: float) -> float:
    """Return the conductance UA, W/K, of a brazed aluminium core with louvred fins and turbulent coolant.

    UA = 4.4 kW/(m²·K) · face · (depth/32 mm)^0.80 · (fins per inch/14)^0.83 · (air speed/4 m/s)^0.41, a fit within 6 %
    to the louvred-fin correlation of Chang and Wang (1997; read second-hand) with fins 6 to 12 mm high. Within some
    30 % of a real core, for nobody sees the louvres. Slow, laminar coolant takes off a quarter.

    Args:
        face: area that the air meets, m².
        depth: of the core, m.
        fins_per_inch: number of fins in an inch.
        air_speed: of the air at the face, m/s.

    Raises:
        ImpossibleInput: an argument that is not positive.
        OutsideRange: depth, fins or speed outside what the fit was made for.

    >>> round(core_conductance(0.24, 0.032, 14.0, 4.0))
    1056
    """
    positive("face", face)
    within_range("depth", depth, *CORE_DEPTH, "the fit ends there", "mm")
    within_range("fins per inch", fins_per_inch, *CORE_FINS, "the fit ends there")
    within_range("air speed", air_speed, *CORE_AIR_SPEED, "the fit ends there", "m/s")
    found: float = 4400.0 * face * (depth / 0.032) ** 0.80 * (fins_per_inch / 14.0) ** 0.83 * (air_speed / 4.0) ** 0.41
    return found


def conductance(tests: Sequence[RadiatorTest], air_flow: float, coolant_flow: float) -> float:
    """Return the conductance UA in W/K of a radiator at given flows, from its tested points.

    Between two tests UA and the coolant flow that goes with it are read by straight lines over the air flow. Outside
    them, and for less coolant than in the tests, UA falls with the power laws of the two films (`ua_at_flow`); more
    air or coolant than tested is not counted: both choices are on the cautious side.

    Args:
        tests: one point or more; no two with the same air flow.
        air_flow: mass flow of air through the core, kg/s, greater than zero.
        coolant_flow: volume flow of coolant, m³/s, greater than zero.

    Raises:
        ImpossibleInput: no tests, two with the same air flow, or a flow or conductance that is not positive.
        OutsideRange: less than a fifth of the tested flow of air or coolant.

    Source: resistances in series and power-law films, Kays & London, as in `ua_at_flow`; which way to err is common
    practice.

    >>> tests = [RadiatorTest(1.0, 0.002, 1500.0), RadiatorTest(2.0, 0.002, 2200.0)]
    >>> conductance(tests, 1.5, 0.002), conductance(tests, 3.0, 0.004)
    (1850.0, 2200.0)
    """
    positive("air flow", air_flow)
    positive("coolant flow", coolant_flow)
    if not tests:
        raise ImpossibleInput("a radiator needs at least one tested point")
    points = sorted(tests)
    for point in points:
        positive("air flow of a test", point.air_flow)
        positive("coolant flow of a test", point.coolant_flow)
        positive("conductance of a test", point.ua)
    nearest = min(max(air_flow, points[0].air_flow), points[-1].air_flow)
    if len(points) == 1:
        tested = points[0]
    else:
        tested = RadiatorTest(
            nearest,
            interpolate([(p.air_flow, p.coolant_flow) for p in points], nearest),
            interpolate([(p.air_flow, p.ua) for p in points], nearest),
        )
    return ua_at_flow(
        tested.ua,
        min(1.0, air_flow / tested.air_flow),
        min(1.0, coolant_flow / tested.coolant_flow),
        LOUVRED_FIN_EXPONENT,
        TURBULENT_TUBE_EXPONENT,
        AIR_SIDE_SHARE,
    )
