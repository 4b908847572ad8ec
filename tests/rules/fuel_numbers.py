"""What the tests of the fuel pack share: field paths, and numbers worked out without the project."""

from __future__ import annotations

import math

from scipy.optimize import brentq  # type: ignore[import-untyped]

G = 9.80665

SUPPLY, RETURN, TANK, VENT = (f"plumbing.fuel.{part}" for part in ("supply", "return_line", "tank", "vent"))
PUMP, OLD_PUMP, FILTERS = (f"plumbing.fuel.{part}" for part in ("pump", "old_pump", "filters"))
CONVERSION, HIGH_PRESSURE = "plumbing.fuel.conversion", "plumbing.fuel.high_pressure"
ROUTES = "plumbing.fuel.routes"

FEED_PUMP = {
    "kind": "in-line-electric",
    "pressure": "35 kPa",
    "curve": [{"pressure": "0 kPa", "flow": "220 L/h"}, {"pressure": "40 kPa", "flow": "160 L/h"}],
    "curve_voltage": "13.5 V",
    "stops_with_engine": True,
}
FED = {PUMP: FEED_PUMP, "electrics.nominal_voltage": "12 V"}
"""The sound build with a small pump near the tank, which its engine maker allows."""


# -- worked out without the project ---------------------------------------------------------------------------------
def walther(temperature: float, cold: tuple[float, float], hot: tuple[float, float]) -> float:
    """ASTM D341 (from memory): kinematic viscosity, mm²/s, on the line through two (K, mm²/s) points."""

    def w(nu: float) -> float:
        return math.log10(math.log10(nu + 0.7 + math.exp(-1.47 - 1.84 * nu - 0.51 * nu**2)))

    slope = (w(cold[1]) - w(hot[1])) / (math.log10(cold[0]) - math.log10(hot[0]))
    wanted = w(cold[1]) + slope * (math.log10(temperature) - math.log10(cold[0]))
    return float(brentq(lambda nu: w(nu) - wanted, 0.3, 500.0))


def poiseuille(flow: float, bore: float, length: float, dynamic_viscosity: float) -> float:
    """Hagen-Poiseuille, laminar flow: Δp = 128·μ·L·Q/(π·D⁴)."""
    return 128.0 * dynamic_viscosity * length * flow / (math.pi * bore**4)


# The sound spec: 90 L/h through 10 mm, 3.8 m, ΣK 4.5, lift 0.3 m; diesel of 835 kg/m³, 2.8 mm²/s at 40 °C.
FLOW = 90 / 3.6e6
VELOCITY = FLOW / (math.pi / 4 * 0.010**2)  # 0.3183 m/s
NU_COLD = walther(258.15, (253.15, 16.0), (293.15, 4.4)) * 1e-6
# ASTM D1250: α = 594.5418/835² = 8.527e-4 1/K at 15 °C (table 54B, from memory), ρ = ρ15·exp(-αΔT(1 + 0.8αΔT))
ALPHA = 594.5418 / 835**2
RHO_WARM, RHO_COLD = (835 * math.exp(-ALPHA * t * (1 + 0.8 * ALPHA * t)) for t in (25.0, -30.0))


def supply_parts(nu: float, rho: float, filters: float) -> tuple[float, float, float, float]:
    """Friction, fittings, lift and filters of the sound spec's supply line, kPa."""
    assert VELOCITY * 0.010 / nu < 2000  # laminar
    friction = poiseuille(FLOW, 0.010, 3.8, rho * nu)
    return friction / 1e3, 4.5 * rho * VELOCITY**2 / 2e3, rho * G * 0.3 / 1e3, filters


WARM = supply_parts(2.8e-6, RHO_WARM, 2.0)
COLD = supply_parts(NU_COLD, RHO_COLD, 4.0)


# return: 60 L/h through 8 mm, 4 m, ΣK 4, lift -0.05 m, check valve 0.5 kPa
RETURN_FLOW = 60 / 3.6e6
RETURN_COLD = (
    poiseuille(RETURN_FLOW, 0.008, 4.0, RHO_COLD * NU_COLD)
    + 4 * RHO_COLD * (RETURN_FLOW / (math.pi / 4 * 0.008**2)) ** 2 / 2
    - RHO_COLD * G * 0.05
    + 500.0
) / 1e3
