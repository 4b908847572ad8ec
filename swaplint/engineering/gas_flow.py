"""Air and exhaust gas in ducts, filters and exhausts: viscosity, velocity, pressure loss, charge temperature.

Exhaust gas is taken as dry air of the same temperature and pressure: its density is `atmosphere.air_density`.
Burnt gas of a lean diesel or a stoichiometric petrol engine has 28.5 to 29 kg/kmol, within 2 % of air
(Heywood).

Sources: White, Fluid Mechanics, chapters 6 and 9 (isothermal duct flow); Lemmon and Jacobsen 2004
(viscosity); Idelchik, Handbook of Hydraulic Resistance, diagram 6-1 (bends). From memory unless said
otherwise.
"""

from __future__ import annotations

import math

from swaplint.engineering.atmosphere import air_density
from swaplint.engineering.constants import R_DRY_AIR
from swaplint.engineering.guards import OutsideRange, not_negative, positive, share, within_range
from swaplint.engineering.pipes import (
    ROUGHNESS_DRAWN_TUBE,
    flow_area,
    friction_factor,
    pressure_loss,
)
from swaplint.engineering.roots import settled

HEAT_RATIO_AIR = 1.4
"""Ratio of heat capacities of cold air; about 1.35 in exhaust gas at 500 to 700 °C (Incropera, from memory)."""

MACH_LIMIT = 0.7
"""Mach number above which duct flow is refused: isothermal flow chokes at 1/√1.4 = 0.845 (White)."""


class Choked(OutsideRange):
    """The gas runs so near to the speed of sound that no more of it goes through: the duct is far too narrow."""


def air_viscosity(temperature: float) -> float:
    """Dynamic viscosity [Pa·s] of dry air, or of exhaust gas taken as air; `temperature` K, 200 to 2000.

    Dilute-gas equation of Lemmon and Jacobsen 2004, ± 1 %. (Sutherland's simpler formula falls 3 % short at
    550 °C.) Pressure below 2 MPa does not matter.

    >>> round(air_viscosity(550.0 + 273.15) * 1e6, 1)
    38.1
    """
    reduced = math.log(_gas_temperature(temperature) / 103.3)
    terms = (0.431, -0.4623, 0.08406, 0.005341, -0.00331)
    collision = math.exp(sum(term * reduced**power for power, term in enumerate(terms)))
    return 0.0266958e-6 * math.sqrt(28.9586 * temperature) / (0.36**2 * collision)


def _gas_temperature(temperature: float) -> float:
    positive("temperature", temperature)
    return within_range("temperature", temperature, 200.0, 2000.0, "the gas is described in that range", "°C")


def duct_velocity(mass_flow: float, bore: float, density: float) -> float:
    """Mean gas velocity [m/s]: ṁ/(ρ·A); `mass_flow` kg/s, `bore` m, `density` kg/m³.

    >>> round(duct_velocity(0.150, 0.060, 0.428825), 1)
    123.7
    """
    return not_negative("mass flow", mass_flow) / (positive("density", density) * flow_area(bore))


def mach_number(velocity: float, temperature: float, heat_ratio: float = HEAT_RATIO_AIR) -> float:
    """Mach number v/√(γ·R·T) of a gas flow; `velocity` m/s, `temperature` K, `heat_ratio` 1 to 1.67.

    Below 0.3 the density along a duct changes by less than 5 %, and incompressible formulas hold (White).

    >>> round(mach_number(100.0, 288.15), 3)
    0.294
    """
    within_range("heat ratio", heat_ratio, 1.0, 5.0 / 3.0, "kinetic theory of gases")
    sound = math.sqrt(heat_ratio * R_DRY_AIR * _gas_temperature(temperature))
    return not_negative("velocity", velocity) / sound


def bend_loss_coefficient(radius_ratio: float, angle: float = math.pi / 2) -> float:
    """Loss coefficient K of a smooth bend beyond the friction of its own length, high Reynolds number.

    Idelchik, diagram 6-1: A·B with B = 0.21/√(R/D), or 0.21/(R/D)^2.5 below R/D = 1, and A = 0.9·sin(angle)
    up to 70°, 1 at 90°, 0.7 + 0.35·angle/90° from 100°, straight lines between. `radius_ratio` R/D of the
    centreline, 0.5 to 10; `angle` [rad] of the bend, 0 to π. Count the centreline of the bend in the length
    of the duct. Handbooks scatter by a factor of 1.5.

    >>> round(bend_loss_coefficient(1.5), 3)
    0.171
    """
    positive("radius ratio", radius_ratio)
    within_range("radius ratio", radius_ratio, 0.5, 10.0, "Idelchik's diagram 6-1")
    within_range("bend angle", angle, 0.0, math.pi, "Idelchik's diagram 6-1", "°")
    curvature = 0.21 / (math.sqrt(radius_ratio) if radius_ratio >= 1.0 else radius_ratio**2.5)
    return _angle_share(math.degrees(angle)) * curvature


def _angle_share(degrees: float) -> float:
    at_70, at_100 = 0.9 * math.sin(math.radians(70.0)), 0.7 + 0.35 * 100.0 / 90.0
    if degrees <= 70.0:
        return 0.9 * math.sin(math.radians(degrees))
    if degrees <= 90.0:
        return at_70 + (degrees - 70.0) / 20.0 * (1.0 - at_70)
    if degrees <= 100.0:
        return 1.0 + (degrees - 90.0) / 10.0 * (at_100 - 1.0)
    return 0.7 + 0.35 * degrees / 90.0


def drop_to_outlet(
    *,
    mass_flow: float,
    bore: float,
    length: float,
    temperature: float,
    outlet_pressure: float,
    roughness: float = ROUGHNESS_DRAWN_TUBE,
    loss_coefficient: float = 0.0,
) -> float:
    """Static pressure drop [Pa] along a gas duct whose outlet pressure is known: an exhaust, say.

    Isothermal flow with friction: p1² - p2² = (ṁ/A)²·R·T·(f·L/D + ΣK + 2·ln(p1/p2)) (White, chapter 9),
    solved for the inlet pressure p1. `mass_flow` kg/s; `bore`, `length`, `roughness` m; mean gas
    `temperature` K; `outlet_pressure` absolute, Pa; `loss_coefficient` ΣK of bends and fittings, spread along
    the duct. An outlet into the open needs no coefficient: the gas leaves at ambient static pressure. Outlet
    Mach number up to 0.7; above, `Choked`. Several ducts and devices in a row are taken from the tail
    pipe upstream, each inlet pressure being the next outlet pressure.

    >>> drop = drop_to_outlet(mass_flow=0.15, bore=0.060, length=3.0, temperature=823.15,
    ...                       outlet_pressure=101325.0, roughness=46e-6)
    >>> round(drop / 1e3, 2)
    3.75
    """
    friction, scale = _duct_terms(mass_flow, bore, length, temperature, roughness, loss_coefficient)
    positive("outlet pressure", outlet_pressure)
    _check_mach(scale, outlet_pressure)

    def nearer(inlet: float) -> float:
        return math.sqrt(outlet_pressure**2 + _difference_of_squares(inlet, outlet_pressure, friction, scale))

    return settled(outlet_pressure, nearer) - outlet_pressure


def drop_from_inlet(
    *,
    mass_flow: float,
    bore: float,
    length: float,
    temperature: float,
    inlet_pressure: float,
    roughness: float = ROUGHNESS_DRAWN_TUBE,
    loss_coefficient: float = 0.0,
) -> float:
    """Static pressure drop [Pa] along a gas duct whose inlet pressure is known: an intake or a charge pipe.

    The same equation as `drop_to_outlet`, solved for the outlet pressure. `inlet_pressure` [Pa, absolute] is
    the static pressure in the duct at its beginning. Air drawn from the open also spends one velocity head on
    being set in motion, and the entry's loss: add 1 + K_entry to `loss_coefficient` where the restriction is
    measured against ambient. A duct that would pass Mach 0.7 before its end raises `Choked`.

    >>> drop = drop_from_inlet(mass_flow=0.190, bore=0.102, length=1.9, temperature=298.15,
    ...                        inlet_pressure=101325.0, loss_coefficient=0.6)
    >>> round(drop)
    211
    """
    friction, scale = _duct_terms(mass_flow, bore, length, temperature, roughness, loss_coefficient)
    positive("inlet pressure", inlet_pressure)
    _check_mach(scale, inlet_pressure)
    if scale == 0.0:
        return 0.0
    least = math.sqrt(scale / HEAT_RATIO_AIR) / MACH_LIMIT
    if inlet_pressure**2 - least**2 < _difference_of_squares(inlet_pressure, least, friction, scale):
        raise Choked(f"the gas would pass Mach {MACH_LIMIT} before the end of the duct")

    def nearer(outlet: float) -> float:
        return math.sqrt(inlet_pressure**2 - _difference_of_squares(inlet_pressure, outlet, friction, scale))

    return inlet_pressure - settled(inlet_pressure, nearer)


def _duct_terms(
    mass_flow: float,
    bore: float,
    length: float,
    temperature: float,
    roughness: float,
    loss_coefficient: float,
) -> tuple[float, float]:
    """Total loss coefficient f·L/D + ΣK, and (ṁ/A)²·R·T [Pa²]."""
    not_negative("length", length)
    not_negative("loss coefficient", loss_coefficient)
    not_negative("roughness", roughness)
    mass_flux = not_negative("mass flow", mass_flow) / flow_area(bore)
    viscosity = air_viscosity(temperature)
    if mass_flux == 0.0:
        return loss_coefficient, 0.0
    factor = friction_factor(mass_flux * bore / viscosity, roughness / bore)
    return factor * length / bore + loss_coefficient, mass_flux**2 * R_DRY_AIR * temperature


def _difference_of_squares(inlet: float, outlet: float, friction: float, scale: float) -> float:
    """p1² - p2² [Pa²]: put in again with the pressure that it gives, it leaves at most 1.4·Mach² of an error."""
    return scale * (friction + 2.0 * math.log(inlet / outlet))


def _check_mach(scale: float, pressure: float) -> None:
    mach = math.sqrt(scale / HEAT_RATIO_AIR) / pressure
    if mach > MACH_LIMIT:
        raise Choked(f"Mach {mach:.2f} in the duct: above {MACH_LIMIT} the formula does not hold")


def vent_pressure_drop(
    *,
    flow: float,
    bore: float,
    length: float,
    temperature: float = 288.15,
    pressure: float = 101325.0,
    roughness: float = ROUGHNESS_DRAWN_TUBE,
    loss_coefficient: float = 1.5,
) -> float:
    """Pressure drop [Pa] of slow air through a vent pipe (Darcy-Weisbach, see `pipes.pressure_loss`).

    `flow` m³/s at the stated `temperature` [K] and absolute `pressure` [Pa]; `bore`, `length`, `roughness` m.
    `loss_coefficient` is 1.5 for a plain pipe: sharp entry 0.5 and exit 1.0 (White); add bends, valve and
    filter. Mach number up to 0.3: above, `OutsideRange`.

    >>> round(vent_pressure_drop(flow=130 / 3.6e6, bore=0.006, length=1.0), 1)
    21.9
    """
    density = air_density(pressure, temperature)
    velocity = not_negative("flow", flow) / flow_area(bore)
    within_range("Mach number", mach_number(velocity, temperature), 0.0, 0.3, "denser formula needed above")
    return pressure_loss(
        flow=flow,
        bore=bore,
        length=length,
        density=density,
        kinematic_viscosity=air_viscosity(temperature) / density,
        roughness=roughness,
        loss_coefficient=loss_coefficient,
    )


def device_drop(
    drop_tested: float,
    *,
    mass_flow_tested: float,
    density_tested: float,
    mass_flow: float,
    density: float,
) -> float:
    """Pressure drop [Pa] of a silencer, pre-cleaner, valve or cooler at another flow, from one test point.

    Turbulent flow: the drop goes with ρ·v², that is with ṁ²/ρ (White, similarity at high Reynolds number).
    Mass flows kg/s, densities kg/m³ at the device's inlet. Reliable to about a third or three times the
    tested flow.

    >>> device_drop(4e3, mass_flow_tested=0.1, density_tested=1.2, mass_flow=0.2, density=0.6)
    32000.0
    """
    flow_ratio = not_negative("mass flow", mass_flow) / positive("tested mass flow", mass_flow_tested)
    density_ratio = positive("tested density", density_tested) / positive("density", density)
    return not_negative("tested drop", drop_tested) * flow_ratio**2 * density_ratio


def substrate_drop(
    drop_tested: float,
    *,
    mass_flow_tested: float,
    density_tested: float,
    temperature_tested: float,
    mass_flow: float,
    density: float,
    temperature: float,
) -> float:
    """Pressure drop [Pa] of a porous wall or fine channels (paper, catalyst, soot filter) at another flow.

    Laminar flow through pores: the drop goes with μ·v, that is with μ·ṁ/ρ (Darcy's law). Mass flows kg/s,
    densities kg/m³, temperatures K of the gas in the device. Entry and exit losses, which go with the square
    of the flow, are left out: above the tested flow the true drop is higher, so that `device_drop` is the
    safe side there.

    >>> round(substrate_drop(5e3, mass_flow_tested=0.1, density_tested=0.6, temperature_tested=600.0,
    ...                      mass_flow=0.2, density=0.6, temperature=600.0))
    10000
    """
    flow_ratio = not_negative("mass flow", mass_flow) / positive("tested mass flow", mass_flow_tested)
    density_ratio = positive("tested density", density_tested) / positive("density", density)
    viscosity_ratio = air_viscosity(temperature) / air_viscosity(temperature_tested)
    return not_negative("tested drop", drop_tested) * flow_ratio * density_ratio * viscosity_ratio


def compressor_outlet_temperature(
    inlet_temperature: float,
    pressure_ratio: float,
    efficiency: float,
    heat_ratio: float = HEAT_RATIO_AIR,
) -> float:
    """Temperature [K] of the air behind a compressor: T1·(1 + (π^((γ-1)/γ) - 1)/η) (Heywood; Saravanamuttoo).

    `inlet_temperature` K; `pressure_ratio` total to total, 1 or more; `efficiency` isentropic, above 0 to 1.

    >>> round(compressor_outlet_temperature(288.0, 4.0, 0.85) - 288.0, 1)
    164.7
    """
    _gas_temperature(inlet_temperature)
    within_range("pressure ratio", pressure_ratio, 1.0, 10.0, "a compressor of constant heat capacity")
    positive("efficiency", share("efficiency", efficiency))
    within_range("heat ratio", heat_ratio, 1.0, 5.0 / 3.0, "kinetic theory of gases")
    isentropic_rise = math.pow(pressure_ratio, (heat_ratio - 1.0) / heat_ratio) - 1.0
    return inlet_temperature * (1.0 + isentropic_rise / efficiency)
