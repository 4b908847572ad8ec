"""Steps of the built-in packs: their numbers by hand, and which build has which."""

from __future__ import annotations

import math

import pytest

from swaplint.kit.steps import entries_of
from swaplint.kit.trial import rule_base, step_of, value
from swaplint.making.steps import Entry
from swaplint.spec.shape import every_field
from swaplint.spec.systems.commissioning import Measured
from swaplint.units.output import in_unit


def number(entry: Entry, which: str = "expected") -> float:
    """A number of a step in the unit that it is shown in."""
    figure = {"expected": entry.expected, "least": entry.least, "most": entry.most}[which]
    assert figure is not None, which
    assert figure.value is not None, figure
    return in_unit(figure.value, entry.kind, entry.unit)


def ends(entry: Entry) -> tuple[float, float]:
    assert entry.low is not None
    assert entry.high is not None
    return in_unit(entry.low, entry.kind, entry.unit), in_unit(entry.high, entry.kind, entry.unit)


# -- on the road ---------------------------------------------------------------------------------------------------
def test_speedometer_within_the_band_of_the_regulation() -> None:
    # UN Regulation No. 39, 5.3: 0 <= V1 - V2 <= 0.1 V2 + 4 km/h. At 80 km/h: from 80 to 92; it reads 3 % high: 82.4.
    entry = step_of("gearing.speedometer")
    assert [number(entry, which) for which in ("least", "expected", "most")] == pytest.approx([80.0, 82.4, 92.0])
    # nobody has held a speed yet: it is to be 80 km/h
    before = step_of("gearing.speedometer", {"measured.road.true_speed": None})
    assert [number(before, which) for which in ("least", "expected", "most")] == pytest.approx([80.0, 82.4, 92.0])
    # at the 64 km/h that were held: from 64 to 64 + 6.4 + 4 = 74.4
    held = step_of("gearing.speedometer", {"measured.road.true_speed": "64 km/h"})
    assert [number(held, which) for which in ("least", "expected", "most")] == pytest.approx([64.0, 65.92, 74.4])


def test_speedometer_by_the_rule_for_trucks_of_the_united_states() -> None:
    # 49 CFR 393.82: within 5 mph either way at 50 mph: a tenth
    entry = step_of("gearing.speedometer", {"driveline.speedometer.rule": "either-way"})
    assert [number(entry, "least"), number(entry, "most")] == pytest.approx([72.0, 88.0])


def test_engine_speed_tells_axle_and_tyre() -> None:
    # n = v·i/(2π·r) = (80/3.6)·3.87/(2π·0.391251) = 34.98 /s = 2099 r/min; i = 0.9 · 4.3
    assert pytest.approx(3.87) == 0.9 * 4.3
    by_hand = 80.0 / 3.6 * 3.87 / (2.0 * math.pi * value("gearing.rolling-radius") / 1000.0) * 60.0
    assert number(step_of("gearing.engine-speed")) == pytest.approx(by_hand, rel=1e-6)


# -- starting and charging -----------------------------------------------------------------------------------------
def test_voltage_lost_while_cranking() -> None:
    # 0.9148 mΩ · 350 A = 0.320 V to the starter, 0.4074 mΩ · 350 A = 0.143 V back
    before: dict[str, object] = {"measured.cranking.current": None}
    assert number(step_of("power.crank-feed", before)) == pytest.approx(0.3202, abs=1e-4)
    assert number(step_of("power.crank-return", before)) == pytest.approx(0.1426, abs=1e-4)
    # at the 280 A that were measured 0.8 of it; a third of a prediction either way is looked into: 0.3
    measured = step_of("power.crank-feed", {"measured.cranking.current": "280 A"})
    assert number(measured) == pytest.approx(0.8 * 0.3202, abs=1e-4)
    assert ends(measured) == pytest.approx((0.7 * 0.8 * 0.3202, 1.3 * 0.8 * 0.3202), abs=2e-4)


def test_charging_is_what_an_army_manual_asks_for() -> None:
    # TM 5-3895-382-24: 14.0 ± 0.5 V and 28.0 ± 1 V after ten minutes
    entry = step_of("power.charging")
    assert [number(entry, "least"), number(entry, "most")] == pytest.approx([13.5, 14.5])
    entry = step_of("power.charging", {"electrics.nominal_voltage": "24 V"})
    assert [number(entry, "least"), number(entry, "most")] == pytest.approx([27.0, 29.0])


def test_what_a_joint_may_take_and_what_a_battery_keeps() -> None:
    # 20 mV for each 100 A: 70 mV at the 350 A of the starter's sheet, 56 mV at 280 A
    assert number(step_of("power.worst-joint", {"measured.cranking.current": None}), "most") == pytest.approx(0.070)
    assert number(step_of("power.worst-joint", {"measured.cranking.current": "280 A"}), "most") == pytest.approx(0.056)
    # a battery that is neither charged nor emptied: 12.8 V, and 25.6 V of 24 V
    assert number(step_of("power.charging-idle"), "least") == pytest.approx(12.8)
    bigger = step_of("power.charging-idle", {"electrics.nominal_voltage": "24 V"})
    assert number(bigger, "least") == pytest.approx(25.6)
    # common practice: 50 mA with all units asleep
    asleep = step_of("power.key-off").most
    assert asleep is not None
    assert asleep.value == pytest.approx(0.050)
    # and 20 mV at a ground point
    point = step_of("power.ground-points", part="grounds.engine").most
    assert point is not None
    assert point.value == pytest.approx(0.020)


# -- flows ---------------------------------------------------------------------------------------------------------
def test_fuel_inlet_is_predicted_for_warm_fuel() -> None:
    warm = value("fuel.supply-loss", part="warm")
    entry = step_of("fuel.inlet-depression")
    assert number(entry) == pytest.approx(warm)
    assert ends(entry) == pytest.approx((0.8 * warm, 1.2 * warm))
    assert number(entry, "most") == pytest.approx(20.0)  # the engine's data sheet
    assert warm < value("fuel.supply-loss", part="cold")


def test_coolant_follows_the_outside_air() -> None:
    mild = number(step_of("cooling.top-tank", {"measured.cooling.air": None}))
    rise = value("cooling.top-tank-rise", part="rated")
    assert mild == pytest.approx(20.0 + rise)
    hot = step_of("cooling.top-tank", {"measured.cooling.air": "31 degC"})
    assert number(hot) == pytest.approx(mild + 11.0)
    assert number(hot, "most") == pytest.approx(105.0)


def test_vacuum_comes_back_within_the_time_of_the_regulation() -> None:
    entry = step_of("chassis.vacuum-recovery")
    assert number(entry, "most") == pytest.approx(30.0)
    assert [source.kind for source in entry.limit_sources] == ["regulation"]


def test_bus_of_two_terminators() -> None:
    # 120 Ω beside 120 Ω is 60 Ω; a twentieth either way 57 to 63
    entry = step_of("network.resistance")
    assert number(entry) == pytest.approx(60.0)
    assert ends(entry) == pytest.approx((57.0, 63.0))


def test_pressures_in_the_units_of_their_sources() -> None:
    # 5 psi = 5 · 6.894757 kPa = 34.47 kPa; 0.1 inHg = 0.1 · 3.386389 kPa
    assert number(step_of("cooling.charge-air-tight"), "most") == pytest.approx(5 * 6.894757, rel=1e-3)
    assert number(step_of("fuel.suction-tight"), "most") == pytest.approx(0.1 * 3.386389, rel=1e-3)
    assert number(step_of("fuel.pressure-held"), "most") == pytest.approx(8 * 6.894757, rel=1e-3)


# -- only what the build has ---------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("step", "edits"),
    [
        ("cooling.charge-air-tight", {"plumbing.cooling.charge_cooler": {"fitted": False}}),
        ("cooling.fan-free", {"plumbing.cooling.fan": {"fitted": False}}),
        ("chassis.vacuum-idle", {"vehicle.brakes.assist": "none"}),
        ("chassis.refrigerant", {"plumbing.air_conditioning": {"fitted": False}}),
        ("fuel.suction-tight", {"engine.fuel.feed": "pressure"}),
        ("driveline.transfer-oil", {"driveline.transfer": {"fitted": False}}),
        ("exhaust.regeneration", {"plumbing.exhaust.devices": {"end": {"kind": "silencer"}}}),
        ("controls.pedal-tried", {"electrics.pedal": {"fitted": False}}),
        ("compliance.noise-readings", {"build.places.state.noise.asked": "nothing"}),
        ("mounts.witness", {"vehicle.clearances": {}}),
        ("compliance.approved-after", {"build.places.state.approvals.structure.timing": "before"}),
    ],
)
def test_what_a_build_does_not_have_is_not_asked_for(step: str, edits: dict[str, object]) -> None:
    assert entries_of(rule_base(), step)
    assert entries_of(rule_base(), step, edits) == []


def test_what_a_place_asks_for_is_noted_where_its_rule_reads_it() -> None:
    found = entries_of(rule_base(), "compliance.asked-for")
    assert [entry.field for entry in found] == [
        "build.places.state.requirements.weighbridge.met.done",
        "build.places.state.requirements.inspection.met.done",
    ]
    assert found[0].also[0].field == "build.places.state.requirements.weighbridge.met.by"
    assert "weighbridge ticket" in found[0].says


def test_the_caution_about_high_pressure_goes_with_such_an_injection() -> None:
    def speaks(injection: str) -> bool:
        entry = step_of("fuel.bled", {"engine.fuel.injection": injection})
        return any("Common-rail" in caution for caution in entry.cautions)

    assert speaks("common-rail")
    assert not speaks("carburettor")


def test_every_measurement_of_the_spec_has_a_step() -> None:
    """What the commissioning rules ask for is written down somewhere on the way."""
    written = {field for _, step in rule_base().steps for field in (step.write, *step.also)}
    left_out = [
        path
        for path, _ in every_field(Measured, "measured")
        if path not in written
        and not path.endswith((".instrument", ".conditions", ".note"))
        and not path.startswith("measured.done.")
    ]
    assert left_out == []
