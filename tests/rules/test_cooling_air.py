"""Fan and charge air of the cooling pack, on hand-worked numbers."""

from __future__ import annotations

from typing import Any

import ht
import pytest

from swaplint.kit.trial import one, trial, value

COOLING, AIR = "plumbing.cooling", "plumbing.air_conditioning"


# -- fan -------------------------------------------------------------------------------------------------------------
def test_fan_air_by_hand() -> None:
    # k = 180/1.5² + 60/1.5² = 106.67; on the stretch p = 600 − 250·V̇ the curve meets k·V̇² at V̇ = 1.4736 m³/s;
    # speed 1400·1.25·0.92/2400 = 0.67083 of the curve's: 0.98853 m³/s; 101325/(287.05287·313.15) = 1.12720 kg/m³
    assert value("cooling.fan-air", part="peak_torque") == pytest.approx(1.1143, rel=1e-3)


@pytest.mark.parametrize(("flow", "kind"), [("1.11 kg/s", "pass"), ("1.12 kg/s", "fail")])
def test_fan_flow_at_its_limit(flow: str, kind: str) -> None:
    found = one("cooling.fan-flow", {f"{COOLING}.air.peak_torque.flow": flow}, demand="flow.peak-torque")
    assert (found.kind, found.subject) == (kind, f"{COOLING}.fan")
    if kind == "fail":
        # flow goes with speed: 1.12/1.1143 of the 1.25 turns
        assert found.advice[0].value == pytest.approx(1.25 * 1.12 / 1.1143, rel=1e-3)


def test_heat_makes_the_fans_air_lighter() -> None:
    # the same volume at 60 °C: 313.15/333.15 of the mass
    hot = value("cooling.fan-air", {"build.design.ambient_max": "60 degC"}, part="peak_torque")
    assert hot == pytest.approx(1.1143 * 313.15 / 333.15, rel=1e-3)
    edits = {f"{COOLING}.air.peak_torque.flow": "1.1 kg/s"}
    assert one("cooling.fan-flow", edits).kind == "pass"
    assert one("cooling.fan-flow", {**edits, "build.design.ambient_max": "50 degC"}).kind == "fail"


@pytest.mark.parametrize(("coverage", "kind"), [("85 %", "pass"), ("84 %", "fail")])
def test_shroud_coverage_at_its_limit(coverage: str, kind: str) -> None:
    found = one("cooling.fan-flow", {f"{COOLING}.fan.shroud_coverage": coverage}, demand="shroud")
    assert (found.kind, found.subject) == (kind, f"{COOLING}.fan.shroud_coverage")


@pytest.mark.parametrize(
    ("drive", "most", "kind"),
    [
        ("viscous", "4260 r/min", "pass"),  # governed speed, with the coupling's lag: 3700·1.25·0.92 = 4255 r/min
        ("viscous", "4250 r/min", "fail"),
        ("engine", "5500 r/min", "pass"),  # a rigid drive follows the engine wherever it is driven: 4400·1.25
        ("engine", "5490 r/min", "fail"),
    ],
)
def test_fan_beyond_its_speed_is_an_error(drive: str, most: str, kind: str) -> None:
    edits = {f"{COOLING}.fan.drive": drive, f"{COOLING}.fan.speed_max": most}
    found = one("cooling.fan-flow", edits, demand="speed")
    assert (found.kind, found.subject) == (kind, f"{COOLING}.fan.ratio")
    if kind == "fail":
        assert found.level == "error"


def test_a_fan_that_turns_too_fast_is_geared_slower() -> None:
    # a rigid one at 4400 r/min times 1.25; 4400 r/min are allowed, so geared 1 to 1
    found = one(
        "cooling.fan-flow", {f"{COOLING}.fan.drive": "engine", f"{COOLING}.fan.speed_max": "4400 r/min"}, demand="speed"
    )
    assert [(each.field, each.value) for each in found.advice] == [(f"{COOLING}.fan.ratio", pytest.approx(1.0))]


def test_a_fan_whose_highest_speed_nobody_knows_is_asked_about() -> None:
    found = one("cooling.fan-flow", {f"{COOLING}.fan.speed_max": None}, demand="speed")
    assert (found.kind, found.due, found.unknown) == ("open", True, (f"{COOLING}.fan.speed_max",))
    rigid = {f"{COOLING}.fan.drive": "engine", "engine.speed.overspeed_max": None}
    assert one("cooling.fan-flow", rigid, demand="speed").unknown == ("engine.speed.overspeed_max",)


def test_electric_fan() -> None:
    edits = {
        f"{COOLING}.fan.drive": "electric",
        f"{COOLING}.fan.curve_voltage": "13 V",
        f"{COOLING}.fan.motor_voltage": "12 V",
        "electrics.loads.fan.current": "40 A",
    }
    # 1.4736·12/13 m³/s of 1.12720 kg/m³
    assert value("cooling.fan-air", edits, part="peak_torque") == pytest.approx(1.5333, rel=1e-3)
    assert one("cooling.fan-flow", edits).kind == "pass"
    refused = one("cooling.fan-flow", {**edits, "engine.fan.electric_allowed": False})
    assert (refused.kind, refused.subject) == ("fail", f"{COOLING}.fan.drive")
    assert "does not allow" in refused.message


def test_no_fan_where_the_fan_is_alone() -> None:
    assert one("cooling.fan-flow", {f"{COOLING}.fan": {"fitted": False}}).kind == "fail"
    wind = {f"{COOLING}.fan": {"fitted": False}, f"{COOLING}.air.peak_torque.fan_only": False}
    found = one("cooling.fan-flow", wind)  # it stands in queues all the same
    assert (found.kind, found.level, found.demand) == ("fail", "error", "fitted")
    # what passes the core without a fan is stated, and is judged by its heat
    for air, kind in (("0.5 kg/s", "pass"), ("0.075 kg/s", "fail")):
        assert one("cooling.fan-flow", {**wind, f"{COOLING}.air.idle.flow": air}).kind == kind


IDLE_UA = {f"{COOLING}.radiator.tests": {"only": {"air_flow": "0.5 kg/s", "coolant_flow": "30 L/min", "ua": "1 kW/K"}}}


def test_idling_in_a_queue_by_hand() -> None:
    # 160·800/3400 = 37.65 L/min, more than tested: UA stays 1000 W/K. 0.5 kg/s: C_air = 503 W/K,
    # C_coolant = 6.275e-4·1022.95·3589.66 = 2304 W/K (CoolProp, half glycol at 100 °C)
    ratio = 503 / 2304
    reached = float(ht.effectiveness_from_NTU(1000 / 503, ratio, subtype="crossflow"))  # type: ignore[no-untyped-call]
    edits: dict[str, Any] = {**IDLE_UA, f"{COOLING}.air.idle.flow": "0.5 kg/s"}
    assert value("cooling.idle-rise", edits) == pytest.approx(5000 / (reached * 503), rel=2e-3)
    # 5 kW of cooling and 2.2 kW of compressor ahead of the core, 65 % of the 2.2 kW in the coolant besides
    edits |= {AIR + ".condenser_place": "before-radiator", AIR + ".compressor.power": "2.2 kW"}
    conditioned = 7200 / 503 + (5000 + 0.65 * 2200) / (reached * 503)
    assert value("cooling.idle-rise-conditioned", edits) == pytest.approx(conditioned, rel=2e-3)


@pytest.mark.parametrize(("demand", "heat"), [("idle", 5000.0), ("idle-air-conditioning", 5000 + 0.65 * 2200)])
@pytest.mark.parametrize(("offset", "kind"), [(-0.3, "pass"), (0.3, "fail")])
def test_idling_at_its_limit(demand: str, heat: float, offset: float, kind: str) -> None:
    reached = float(ht.effectiveness_from_NTU(1000 / 151, 151 / 2304, subtype="crossflow"))  # type: ignore[no-untyped-call]
    limit = 40 + heat / (reached * 150.9)  # 0.15 kg/s, the condenser elsewhere
    edits = {
        f"{COOLING}.radiator.tests": {"only": {"air_flow": "0.15 kg/s", "coolant_flow": "30 L/min", "ua": "1 kW/K"}},
        f"{COOLING}.air.idle.flow": "0.15 kg/s",
        AIR + ".compressor.power": "2.2 kW",
        "engine.coolant.top_tank_max": f"{limit - offset:.3f} degC",
        "build.design.altitude_max": "0 m",
    }
    found = one("cooling.fan-flow", edits, demand=demand)
    assert (found.kind, found.level) == (kind, "error" if kind == "fail" else None)


def test_the_fan_of_an_idling_engine_by_its_curve() -> None:
    # as at 1400 r/min, at 800: 1.1143·800/1400 kg/s; an electric one turns as ever
    assert value("cooling.idle-air") == pytest.approx(1.1143 * 800 / 1400, rel=1e-3)


def test_idling_where_the_heat_is_a_guess_or_the_air_conditioning_unknown() -> None:
    guessed = one("cooling.fan-flow", {"engine.heat.idle": None}, demand="idle")  # at hand-over
    assert (guessed.kind, guessed.practices) == ("review", ("idle heat of at most 2 kW per litre of swept volume",))
    assert one("cooling.fan-flow", {"engine.heat.idle": None}, demand="idle", stage="quote").kind == "pass"
    scarce = {"engine.heat.idle": None, f"{COOLING}.air.idle.flow": "0.02 kg/s"}
    assert one("cooling.fan-flow", scarce, demand="idle").kind == "review"
    assert one("cooling.fan-flow", {AIR: None}, demand="idle-air-conditioning").kind == "open"
    none = {AIR: {"fitted": False}}
    assert "idle-air-conditioning" not in {found.demand for found in trial("cooling.fan-flow", none)}


def test_idling_at_a_stated_place() -> None:
    # 5 kW into 0.08 kg/s of the air of 3500 m (65.8 kPa, ISO 2533): at least 5000/(0.08·65 764/101 325·1006) = 95.7 K
    point = {"build.design.points": {"pass": {"altitude": "3500 m", "ambient": "12 degC"}}}
    found = one("cooling.fan-flow", {**point, f"{COOLING}.air.idle.flow": "0.08 kg/s"}, demand="idle")
    assert (found.kind, found.level) == ("fail", "error")
    assert "at pass, 3500 m up" in found.message


def test_resistance_is_never_zero() -> None:
    empty = one("cooling.fan-flow", {f"{COOLING}.air_path": {}}, demand="flow.peak-torque")
    assert (empty.kind, empty.due, empty.unknown) == ("open", True, (f"{COOLING}.air_path",))
    assert one("cooling.fan-flow", {f"{COOLING}.air_path": None}, stage="plan").kind == "open"


PATH = f"{COOLING}.air_path"
CORE = {"drop": "180 Pa", "flow": "1.5 m3/s"}


@pytest.mark.parametrize(
    ("edits", "asked"),
    [
        # the sound spec's charge cooler stands before its radiator, and was measured together with the core
        ({f"{PATH}.core": CORE}, f"{PATH}.charge_cooler.drop"),
        ({f"{PATH}.core": CORE, f"{PATH}.charge_cooler": {"drop": "30 Pa", "flow": "1.5 m3/s"}}, ""),
        ({f"{PATH}.core": CORE, f"{COOLING}.charge_cooler.place": "elsewhere"}, ""),
        ({f"{PATH}.core": CORE, f"{COOLING}.charge_cooler.place": None}, f"{COOLING}.charge_cooler.place"),
        ({f"{PATH}.core": CORE, "engine.charged": False}, ""),
        ({f"{PATH}.grille": None}, f"{PATH}.grille.drop"),
        ({f"{PATH}.grille": {"fitted": False}}, ""),  # a vehicle may have none
        ({f"{AIR}.condenser_place": "before-radiator"}, f"{PATH}.condenser.drop"),
    ],
)
def test_all_that_stands_before_the_radiator_takes_pressure(edits: dict[str, Any], asked: str) -> None:
    found = one("cooling.fan-flow", edits, demand="flow.peak-torque")
    assert (found.kind, found.unknown[:1]) == (("open", (asked,)) if asked else ("pass", ()))


def test_the_air_cannot_do_without_the_core() -> None:
    for none in ({f"{PATH}.core.fitted": False}, {f"{PATH}.core": CORE, f"{PATH}.charge_cooler": {"fitted": False}}):
        assert one("cooling.fan-flow", none, demand="flow.peak-torque").kind == "review"


# -- charge air ------------------------------------------------------------------------------------------------------
def test_charge_air_by_hand() -> None:
    # inlet 423.15·313.15/298.15 = 444.439 K; outlet 444.439 − 0.8·131.289 = 339.408 K = 66.258 °C
    assert value("cooling.charge-inlet") == pytest.approx(171.289, abs=0.01)
    assert value("cooling.charge-outlet") == pytest.approx(66.258, abs=0.01)
    assert value("cooling.charge-rise") == pytest.approx(26.258, abs=0.01)


@pytest.mark.parametrize(("reached", "kind"), [("77.2 %", "pass"), ("77.1 %", "fail")])
def test_charge_air_rise_at_its_limit(reached: str, kind: str) -> None:
    # (131.289 − 30)/131.289 = 0.77150
    found = one("cooling.charge-air", {f"{COOLING}.charge_cooler.effectiveness": reached})
    assert found.kind == kind
    if kind == "fail":
        assert (found.level, found.subject) == ("error", f"{COOLING}.charge_cooler.effectiveness")
        assert found.advice[0].value == pytest.approx(0.77150, abs=1e-4)


@pytest.mark.parametrize(("limit", "kind"), [("66.3 degC", "pass"), ("66.2 degC", "fail")])
def test_hottest_manifold_air_at_its_limit(limit: str, kind: str) -> None:
    assert one("cooling.charge-air", {"engine.charge_air.manifold_temp_max": limit}).kind == kind


@pytest.mark.parametrize(("drop", "kind"), [("9.5 kPa", "pass"), ("9.6 kPa", "fail")])
def test_charge_air_drop_at_its_limit(drop: str, kind: str) -> None:
    found = one("cooling.charge-air", {f"{COOLING}.charge_cooler.drop": drop})  # and 2.5 kPa of pipes; 12 are allowed
    assert found.kind == kind


def test_a_hotter_day_changes_the_verdict_on_the_charge_air() -> None:
    # 55 °C: inlet 423.15·328.15/298.15 = 465.73 K, rise 0.2·137.58 = 27.5 K, outlet 82.5 °C against 75 °C
    assert one("cooling.charge-air", {"build.design.ambient_max": "55 degC"}).kind == "fail"


def test_charge_air_without_limits_of_the_sheet_is_a_warning() -> None:
    gone = {"engine.charge_air.rise_max": None, "engine.charge_air.manifold_temp_max": None}
    assert one("cooling.charge-air", gone).kind == "pass"
    found = one("cooling.charge-air", {**gone, f"{COOLING}.charge_cooler.effectiveness": "70 %"})
    assert (found.kind, found.level) == ("fail", "warning")


def test_two_limits_on_the_charge_air_are_judged_apart_and_one_cooler_keeps_both() -> None:
    # 423.15·313.15/298.15 = 444.44 K; 70 K above 40 °C is the least of 30 K and 75 °C: ε = (171.3 - 70)/(171.3 - 40)
    edits = {f"{COOLING}.charge_cooler.effectiveness": "60 %"}
    for demand in ("rise", "temperature"):
        found = one("cooling.charge-air", edits, demand=demand)
        assert found.kind == "fail"
        assert found.advice[0].value == pytest.approx((171.29 - 70.0) / (171.29 - 40.0), rel=1e-4)
    gone = one("cooling.charge-air", {f"{COOLING}.charge_cooler": {"fitted": False}})
    assert gone.message.startswith("There is no charge-air cooler")
    assert "an effectiveness of 78 % would do" in gone.message  # 77.15 %, rounded up


WATER = {f"{COOLING}.charge_cooler.place": "own-water", f"{COOLING}.charge_cooler.water_radiator": "elsewhere"}


@pytest.mark.parametrize(("water", "outlet", "kind"), [("50 degC", 74.26, "pass"), ("60 degC", 82.26, "fail")])
def test_water_that_cools_the_charge(water: str, outlet: float, kind: str) -> None:
    # 171.29 − 0.8·(171.29 − 50) = 74.26 °C, with water of 60 °C 82.26 °C; 75 °C are allowed
    edits = {**WATER, f"{COOLING}.charge_cooler.water_temp": water}
    assert value("cooling.charge-outlet", edits) == pytest.approx(outlet, abs=0.01)
    found = one("cooling.charge-air", edits, demand="temperature")
    assert found.kind == kind
    if kind == "fail":
        # ε = (171.29 − 75)/(171.29 − 60) = 0.8652
        assert found.advice[0].value == pytest.approx(0.8652, abs=1e-4)
    # 74 °C is 34 K above the outside air, and 30 K is what the sheet allows a cooler that stands in it
    assert "rise" not in {f.demand for f in trial("cooling.charge-air", edits)}


def test_a_charge_cooled_by_water_without_a_limit_is_open() -> None:
    gone = {"engine.charge_air.rise_max": None, "engine.charge_air.manifold_temp_max": None}
    edits = {**WATER, f"{COOLING}.charge_cooler.water_temp": "50 degC", **gone}
    assert one("cooling.charge-air", edits, demand="temperature").kind == "open"
    # a rise of the sheet alone still holds: 34 K against 40 K
    edits["engine.charge_air.rise_max"] = "40 K"
    assert one("cooling.charge-air", edits, demand="rise").kind == "pass"


def test_water_is_no_colder_than_the_air_and_must_be_known() -> None:
    cold = {**WATER, f"{COOLING}.charge_cooler.water_temp": "30 degC"}
    assert one("cooling.charge-air", cold, demand="temperature").kind == "review"
    assert one("cooling.charge-air", WATER, demand="temperature").kind == "open"
    assert one("cooling.charge-air", {f"{COOLING}.charge_cooler.place": None}, demand="temperature").kind == "open"


def test_where_the_heat_of_the_charge_goes() -> None:
    # 17 kW of the charge beside 0.8 kW of the steering's cooler and 56 kW of the engine
    place, radiator = f"{COOLING}.charge_cooler.place", f"{COOLING}.charge_cooler.water_radiator"
    for edits, coolant, stacked in (
        ({place: "before-radiator"}, 56.0, 17.8),
        ({place: "elsewhere"}, 56.0, 0.8),
        ({place: "engine-coolant"}, 73.0, 0.8),
        ({place: "own-water", radiator: "before-radiator"}, 56.0, 17.8),
        ({place: "own-water", radiator: "elsewhere"}, 56.0, 0.8),
    ):
        assert value("cooling.coolant-heat", edits, part="rated") == pytest.approx(coolant)
        assert value("cooling.stacked-heat", edits, part="rated") == pytest.approx(stacked)


def test_engine_without_a_charge_air_cooler() -> None:
    bare = {f"{COOLING}.charge_cooler": {"fitted": False}}
    plain = {**bare, "engine.charge_air": None}
    assert one("cooling.charge-air", {**plain, "engine.charged": False}).kind == "notApplicable"
    # of a charged one somebody must know what its manifold air may reach
    assert one("cooling.charge-air", plain).kind == "open"
    found = one("cooling.charge-air", bare)  # the sheet has a limit, and nothing cools the charge
    assert (found.kind, found.subject) == ("fail", f"{COOLING}.charge_cooler")
    assert value("cooling.stacked-heat", bare, part="rated") == pytest.approx(0.8)


def test_charge_air_formula_is_refused_where_it_does_not_hold() -> None:
    # 220 kW over (171.29 − 66.26) K = 2.09 kW/K, more than the 2.01 kW/K of the cooling air
    assert one("cooling.charge-air", {"engine.heat.rated.charge_air": "220 kW"}).kind == "review"


def test_charge_air_without_effectiveness_is_open() -> None:
    found = one("cooling.charge-air", {f"{COOLING}.charge_cooler.effectiveness": None}, stage="plan")
    assert (found.kind, found.unknown) == ("open", (f"{COOLING}.charge_cooler.effectiveness",))


@pytest.mark.parametrize(("coverage", "open_gaps"), [("85 %", False), ("84 %", True)])
def test_a_shroud_that_covers_what_is_wanted_is_not_said_to_leave_gaps(coverage: str, open_gaps: bool) -> None:
    found = one("cooling.fan-flow", {"plumbing.cooling.fan.shroud_coverage": coverage}, demand="shroud")
    assert ("past the core" in found.message) == open_gaps
