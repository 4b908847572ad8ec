"""Where each formula ends, as its source says: at both ends it still answers, just beyond them it refuses."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from swaplint.engineering import (
    atmosphere,
    batteries,
    conductors,
    coolant,
    exhausts,
    gas_flow,
    heat_exchangers,
    liquids,
    radiators,
    tanks,
    vacuum,
    vibration,
)
from swaplint.engineering.guards import ImpossibleInput, OutsideRange

Formula = Callable[[float], Any]
ZERO = 273.15
AIR = gas_flow.HEAT_RATIO_AIR


def scaled(ratio: float) -> float:
    return heat_exchangers.ua_at_flow(1000.0, ratio, 1.0, 0.8, 0.4, 0.5)


def core(depth: float = 0.03, fins: float = 14.0, speed: float = 5.0) -> float:
    return radiators.core_conductance(0.3, depth, fins, speed)


def bent(radius: float = 2.0, angle: float = math.pi / 2) -> float:
    return gas_flow.bend_loss_coefficient(radius, angle)


def pressed(ratio: float = 2.0, heat_ratio: float = AIR) -> float:
    return gas_flow.compressor_outlet_temperature(300.0, ratio, 0.7, heat_ratio)


RANGES: list[tuple[str, Formula, float, float]] = [
    ("altitude, -2 to 11 km", atmosphere.geopotential_altitude, -2000.0, 11000.0),
    ("the same, of the temperature", atmosphere.standard_temperature, -2000.0, 11000.0),
    ("volts at rest", batteries.state_of_charge, 12.0, 13.0),
    ("4/0 to 36 AWG", lambda n: conductors.awg_diameter(int(n)), -3, 36),
    ("copper from -60 to 200 °C", conductors.temperature_factor, 213.15, 473.15),
    ("water to its critical point", coolant.water_saturation_temperature, 611.213, 22.064e6),
    ("the same, in kelvin", coolant.water_saturation_pressure, ZERO, 647.096),
    ("coolant from 0 to 160 °C", lambda t: coolant.vapour_pressure(t, 0.5), ZERO, ZERO + 160),
    ("from 20 to 400 kPa", lambda p: coolant.boiling_point(p, 0.5), 20e3, 400e3),
    ("-30 °F to 250 °F", lambda t: coolant.density(0.5, t), 238.706, 394.261),
    ("0 to 120 °C", lambda t: coolant.specific_heat(0.5, t), ZERO, ZERO + 120),
    ("0 to 100 °C", lambda t: coolant.kinematic_viscosity(0.5, t), ZERO, ZERO + 100),
    ("water to 60 % glycol", lambda share: coolant.density(share, 300.0), 0.0, 0.6),
    ("a bend's radius", lambda ratio: bent(radius=ratio), 0.5, 10.0),
    ("a bend's angle", lambda angle: bent(angle=angle), 0.0, math.pi),
    ("air from 200 to 2000 K", gas_flow.air_viscosity, 200.0, 2000.0),
    ("heat ratio of a gas, 1 to 5/3", lambda ratio: gas_flow.mach_number(100.0, 300.0, ratio), 1.0, 5.0 / 3.0),
    ("the same, of a compressor", lambda ratio: pressed(heat_ratio=ratio), 1.0, 5.0 / 3.0),
    ("fuel that is left in a tank", lambda left: tanks.share_of_settled_rise(left, 13.3, 5e-3, 2000.0), 0.0, 1.0),
    ("ten times the pressure", lambda ratio: pressed(ratio=ratio), 1.0, 10.0),
    ("five times the flow of the test, or a fifth", scaled, 0.2, 5.0),
    ("density of fuels", liquids.thermal_expansion_15c, 653.0, 1075.0),
    ("-40 to 95 °C", lambda t: liquids.density_at(t, 750.0), 233.0, ZERO + 95),
    ("petrol's vapour", lambda reid: liquids.petrol_vapour_pressure(300.0, reid), 30e3, 110e3),
    ("petrol in store, -20 to 80 °C", lambda t: liquids.petrol_vapour_pressure(t, 60e3), 253.15, 353.15),
    ("none to pure ethanol", liquids.ethanol_volume_factor, 0.0, 1.0),
    ("25 K beyond the two points", lambda t: liquids.walther_viscosity(t, (313.15, 1e-4), (373.15, 1.1e-5)),
     313.15 - 25, 373.15 + 25),
    ("cores of 16 to 60 mm", lambda depth: core(depth=depth), 0.016, 0.060),
    ("of 10 to 18 fins per inch", lambda fins: core(fins=fins), 10.0, 18.0),
    ("in air of 2 to 8 m/s", lambda speed: core(speed=speed), 2.0, 8.0),
]  # fmt: skip


@pytest.mark.parametrize(("formula", "low", "high"), [row[1:] for row in RANGES], ids=[row[0] for row in RANGES])
def test_as_far_as_its_source_goes(formula: Formula, low: float, high: float) -> None:
    for end in (low, high):
        assert math.isfinite(formula(end))
    beyond = 1.0 if isinstance(low, int) else (high - low) * 1e-4
    for outside in (low - beyond, high + beyond):
        with pytest.raises((OutsideRange, ImpossibleInput)):
            formula(outside)


def test_where_only_one_end_is_the_formulas_own() -> None:
    effectiveness, crossing = heat_exchangers.effectiveness, heat_exchangers.FlowArrangement.CROSSFLOW_UNMIXED
    assert effectiveness(100.0, 0.5, crossing) > 0.9
    with pytest.raises(OutsideRange):
        effectiveness(100.1, 0.5, crossing)
    # a gauge read to half a millimetre is too coarse for less than 3 mm
    assert vibration.stiffness_between_readings(600.0, 0.003) == pytest.approx(2e5)
    with pytest.raises(OutsideRange, match="below 3 mm"):
        vibration.stiffness_between_readings(600.0, 0.00299)
    # 100 K a metre over 6.5 m leave 250 of 900 K, and no straight line holds below
    assert exhausts.gas_temperature_after(900.0, 100.0, 6.5) == pytest.approx(250.0)
    with pytest.raises(OutsideRange):
        exhausts.gas_temperature_after(900.0, 100.0, 6.51)
    booster = {"depression": 70e3, "ambient_pressure": 100e3, "volume": 5e-3, "swept_volume": 1e-3}
    assert vacuum.depression_after(1000, **booster) >= 0.0
    with pytest.raises(OutsideRange):
        vacuum.depression_after(1001, **booster)
