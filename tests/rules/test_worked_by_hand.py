"""Small quantities of the packs, each with its working beside it, from the numbers of the sound spec."""

from __future__ import annotations

import math

import pytest
from told import edited

from swaplint.kit.trial import rule_base, value

RATED, PEAK = "engine.heat.rated", "engine.heat.peak_torque"
FAN, INLET = "plumbing.cooling.fan", "plumbing.intake.inlet"
BODY, BOX = "vehicle.aero.body", "vehicle.aero.height = 1.5 m; vehicle.aero.width = 1.8 m"
R, SEA = 287.05287, 101325.0
AIR_BY_FAN = SEA / (R * 313.15) * 0.15 * math.pi / 4 * 0.45**2 * math.pi * 0.45 * 1.25 / 60

WORKED = [
    # cooling: 7 kPa of the cooler and 2.5 of its pipes; 160 L/min at 3400 r/min; 15 % more length, 5 % more volume
    ("cooling.charge-drop", "", "", 7 + 2.5),
    ("cooling.coolant-flow", RATED, "", 160.0),
    ("cooling.coolant-flow", PEAK, "", 160 * 1400 / 3400),
    ("cooling.hose-velocity", "upper", "", 0.160 / 60 / (math.pi / 4 * 0.038**2)),
    ("cooling.hose-to-cut", "upper", "", 0.7 * 1.15),
    ("cooling.fill-line-to-cut", "", "", 0.8 * 1.15),
    ("cooling.oil-line-to-cut", "", "", 3 * 1.15),
    ("cooling.coolant-to-buy", "", "", 16 * 1.05),
    ("cooling.glycol-fill", "", "plumbing.cooling.coolant.glycol = 45 %", 0.45 * 16),
    ("cooling.glycol-to-buy", "", "plumbing.cooling.coolant.glycol = 45 %", 0.45 * 16 * 1.05),
    # geared 1.25; a viscous coupling slips 8 %, and is driven no faster than the governor lets the engine turn
    ("cooling.fan-speed", PEAK, "", 1400 * 1.25 * 0.92),
    ("cooling.fan-speed", PEAK, f"{FAN}.drive = engine", 1400 * 1.25),
    ("cooling.fan-speed-max", "", "", 3700 * 1.25 * 0.92),
    ("cooling.fan-speed-max", "", f"{FAN}.drive = engine", 4400 * 1.25),
    # charge air of 17 and 6 kW and the steering's 0.8 kW; what stands elsewhere counts for nothing
    ("cooling.stacked-heat", RATED, "", 17.0 + 0.8),
    ("cooling.stacked-heat", PEAK, "", 6.0 + 0.8),
    ("cooling.stacked-heat", PEAK, "plumbing.cooling.coolers.steering.place = elsewhere", 6.0),
    ("cooling.stacked-heat", PEAK, "plumbing.cooling.charge_cooler.place = elsewhere", 0.8),
    # 0.15 of area and tip speed, in air of 40 °C: 0.45 m, 1500 and 3400 r/min; several fans side by side move more
    ("cooling.air-by-fan-standing", "", "build.duty.stationary_speed = 1500 r/min", AIR_BY_FAN * 1500 * 0.92),
    ("cooling.air-by-fan-standing", "",
     f"build.duty.stationary_speed = 1500 r/min; {FAN}.drive = engine; {FAN}.slip = None; {FAN}.side_by_side = 2",
     2 * AIR_BY_FAN * 1500),
    ("cooling.air-by-fan-rated", "", "plumbing.cooling.air.rated.fan_only = True", AIR_BY_FAN * 3400 * 0.92),
    # driveline: 430 and 480 N·m over 340; a bore of 28.00 and a spigot of 27.93 mm
    ("driveline.peak-torque", "", "", 340.0),
    ("driveline.damper-factor", "", "", 430 / 340),
    ("driveline.damper-factor", "",
     "engine.flywheel.kind = dual-mass; engine.flywheel.damper_stop_torque = 480 Nm", 480 / 340),
    ("driveline.adapter-bolt-circle", "engine_side", "", 381.0),
    ("driveline.adapter-bolt-circle", "gearbox_side", "", 330.0),
    ("driveline.adapter-bolt-circle", "engine_side", "driveline.adapter.engine_side.bolt_circle = 380.9 mm", 380.9),
    ("driveline.adapter-holes", "engine_side", "", 12.0),
    ("driveline.adapter-holes", "gearbox_side", "", 10.0),
    ("driveline.adapter-holes", "engine_side", "driveline.adapter.engine_side.holes = 8", 8.0),
    # 540 °C is 813.15 K; at 1500 m the atmosphere has 84 556 Pa, and 5 % of the power are gone
    ("exhaust.gas-density", "sea-level", "", SEA / (R * 813.15)),
    ("exhaust.gas-density", "highest-place", "", 84556 / (R * 813.15)),
    ("exhaust.gas-flow", "sea-level", "", 0.142),
    ("exhaust.gas-flow", "highest-place", "", 0.142 * 0.95),
    ("exhaust.reductant-line-to-cut", "", "", 3 * 1.15),
    ("exhaust.reductant-to-buy", "", "", 10 * 1.05),
    # 100 km/h on 0.39125 m with 0.9 · 4.3
    ("gearing.road-max-rpm", "", "", 100 / 3.6 / 0.39125 * 0.9 * 4.3 * 60 / math.tau),
    # estimates: shares of 1.5 m by 1.8 m; the middle of each range of drag coefficients
    *((f"gearing.frontal-area-{of}", "", f"{BODY} = {body}; {BOX}", share * 1.5 * 1.8) for of, body, share in (
        ("of-car", "saloon", 0.8), ("of-truck", "truck", 1.0), ("off-road", "off-road", 0.865),
        ("off-road", "off-road-open", 0.865))),
    *((f"gearing.drag-{by}", "", f"{BODY} = {body}", drag) for by, body, drag in (
        ("by-body", "saloon", 0.31), ("by-body", "sports", 0.34), ("by-body", "light-van", 0.425),
        ("by-body", "bus", 0.60), ("by-old-body", "old-saloon", 0.39), ("by-old-body", "truck", 0.9),
        ("off-road", "off-road", 0.525), ("off-road", "off-road-open", 0.65), ("off-road", "pick-up", 0.45))),
    # 3.5 and 4.0 bar, at 80 km/h; truck tyres whatever their pressure
    ("gearing.rolling-by-pressure", "", f"{BODY} = saloon", 0.005 + (0.01 + 0.0095 * 0.8**2) / 3.75),
    ("gearing.rolling-of-truck", "", f"{BODY} = truck", 0.008),
    ("gearing.rolling-of-truck", "", f"{BODY} = bus", 0.008),
    ("gearing.light-driveline-efficiency", "", f"{BODY} = off-road", 100 * 0.92 * 0.99**2 * 0.97),
    ("gearing.light-driveline-efficiency", "",
     f"{BODY} = off-road; driveline.transfer.fitted = False", 100 * 0.92 * 0.99**2),
    ("gearing.diameter-of-unmarked-profile", "", "driveline.tyres.designation = 195R14C", 14 * 25.4 + 1.6 * 195),
    ("gearing.diameter-of-full-profile", "", "driveline.tyres.designation = 7.50R16", 16 * 25.4 + 2 * 7.5 * 25.4),
    ("gearing.diameter-of-full-profile", "", "driveline.tyres.designation = 8.00R16", 16 * 25.4 + 2 * 8 * 25.4),
    ("gearing.driven-share-of-all-axles", "", "", 100.0),
    ("intake.breather-to-cut", "", "", 0.6 * 1.15),
    ("intake.inlet-rise", "", "", 4.0),
    ("intake.inlet-rise", "", f"{INLET}.temp_rise = None", 0.0),
    ("intake.inlet-rise", "", f"{INLET}.temp_rise = None; {INLET}.place = under-hood", 30.0),
    # what the swap changes at x counts 1 - x/2900 mm in front: 66.07 kg of the 78 that it adds
    ("mass.empty-axle", "front", "", 1020 + 66.069),
    ("mass.empty-axle", "rear", "", 760 + 78 - 66.069),
    # index 114 is 1180 kg at 550 kPa, as twins 109 would be 1030 kg each
    ("mass.tyre-capacity", "front", "", 2 * 1180 * (350 / 550) ** 0.8),
    ("mass.tyre-capacity", "rear", "", 2 * 1180 * (400 / 550) ** 0.8),
    ("mass.tyre-capacity", "rear",
     "driveline.tyres.count_rear = 4; driveline.tyres.load_index_dual = 109", 4 * 1030 * (400 / 550) ** 0.8),
    ("supply.engine-oil-to-buy", "", "", 7.5 * 1.05),
    ("supply.gear-oil-to-buy", "gearbox", "", 2.5 * 1.05),
    ("supply.gear-oil-to-buy", "axles.rear", "", 2.2 * 1.05),
    ("supply.hydraulic-fluid-to-buy", "clutch.fluid", "", 0.25 * 1.05),
]  # fmt: skip


@pytest.mark.parametrize(("quantity", "part", "edits", "by_hand"), WORKED)
def test_worked_by_hand(quantity: str, part: str, edits: str, by_hand: float) -> None:
    assert value(quantity, edited(edits), part=part) == pytest.approx(by_hand, rel=1e-5)


@pytest.mark.parametrize(
    ("quotient", "part", "above", "below"),
    [
        ("driveline.whirl-share", "shafts.rear", "driveline.shaft-speed", "driveline.critical-speed"),
        ("mounts.roll-ratio", "", "mounts.firing-frequency", "mounts.roll-mode"),
    ],
)
def test_one_number_over_another(quotient: str, part: str, above: str, below: str) -> None:
    percent = 100.0 if "share" in quotient else 1.0
    assert value(quotient, part=part) == pytest.approx(percent * value(above, part=part) / value(below, part=part))


def test_what_filter_and_hood_take_grows_with_the_square_of_the_flow() -> None:
    # each in its test at 420 m³/h: 0.2 + 0.5 + 1.2 kPa; half the flow through each of two filters takes a quarter
    filters = "plumbing.intake.filter"
    alone = value("intake.devices-drop", part="sea-level")
    two = value("intake.devices-drop", edited(f"{filters}.side_by_side = 2"), part="sea-level")
    assert two / alone == pytest.approx((0.2 + 0.5 + 1.2 / 4) / 1.9)
    faster = edited("plumbing.intake.hood.test_flow = 210 m3/h")
    assert value("intake.devices-drop", faster, part="sea-level") / alone == pytest.approx((4 * 0.2 + 0.5 + 1.2) / 1.9)


def test_a_condenser_in_front_of_the_radiator_adds_its_heat() -> None:
    for point in (RATED, PEAK):
        front = edited("plumbing.air_conditioning.condenser_place = before-radiator")
        more = value("cooling.stacked-heat", front, part=point) - value("cooling.stacked-heat", part=point)
        assert more == pytest.approx(value("chassis.condenser-heat"))


def test_a_converters_spigot_in_the_crank() -> None:
    automatic = next(rule.good[0] for _, rule in rule_base().rules if rule.id == "driveline.converter-match")
    assert value("driveline.spigot-clearance", automatic) == pytest.approx(0.07)
