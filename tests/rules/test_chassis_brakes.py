"""The brake and steering rules of the chassis pack, worked out by hand from the sound spec."""

from __future__ import annotations

import math
import tomllib
from typing import Any

import pytest

from swaplint.kit.edits import sound_text
from swaplint.kit.trial import one, trial, value

G = 9.80665
TYRE = 3.05 * 0.806 / (2.0 * math.pi)
"""Rolling radius of the sound spec's radial tyres, m."""
BRAKES, BOOSTER = "vehicle.brakes", "vehicle.brakes.booster"
STEERING, PUMP, GEAR = "vehicle.steering", "vehicle.steering.pump", "vehicle.steering.gear"
STOP, DUTY, CONVERSION = "chassis.unassisted-stop", "chassis.brake-duty", "chassis.booster-conversion"
FLOW, PRESSURE = "chassis.steering-flow", "chassis.steering-pressure"


def pedal_force(deceleration: float = 2.2, mass: float = 2800.0, bore: float = 23.81e-3) -> float:
    """Limpert's force chain: discs of 28.3 cm², C* 0.76, at 130 mm; drums of 3.8 cm², 2.5, at 140 mm, 0.15 MPa."""
    tyre = 3.05 * 0.806 / (2.0 * math.pi)
    front = 2.0 * 28.3e-4 * 0.96 * 0.76 * 0.130 / tyre
    rear = 2.0 * 3.8e-4 * 0.96 * 2.5 * 0.140 / tyre
    pressure = (mass * deceleration + rear * 0.15e6) / (front + rear)
    return pressure * math.pi / 4.0 * bore**2 / (4.2 * 0.8)


class TestUnassistedStop:
    def test_force_by_hand(self) -> None:
        found = one(STOP)
        assert found.kind == "pass"
        assert found.found == pytest.approx(pedal_force(), rel=1e-4)
        assert "licensed engineer" in found.cautions[0]

    @pytest.mark.parametrize(("share", "kind"), [(0.999, "pass"), (1.001, "fail")])
    def test_boundary_of_the_master_cylinder(self, share: float, kind: str) -> None:
        # the force grows with the square of the bore
        largest = 23.81 * math.sqrt(700.0 / pedal_force())
        found = one(STOP, {f"{BRAKES}.master_bore": f"{share * largest:.4f} mm"})
        assert (found.kind, found.subject) == (kind, f"{BRAKES}.master_bore")
        if kind == "fail":
            assert found.advice[0].value == pytest.approx(largest / 1000.0, rel=1e-4)

    @pytest.mark.parametrize(
        ("category", "deceleration", "allowed"),
        [("M1", 2.44, 500.0), ("M2", 2.5, 700.0), ("M3", 2.5, 700.0), ("N2", 2.2, 700.0), ("N3", 2.2, 700.0)],
    )
    def test_categories(self, category: str, deceleration: float, allowed: float) -> None:
        # UN Regulation No. 13, annex 4, secondary braking (read); cars No. 13-H (second-hand)
        found = one(STOP, {"vehicle.category": category})
        assert found.found == pytest.approx(pedal_force(deceleration), rel=1e-4)
        assert found.limit is not None
        assert found.limit.value == allowed

    @pytest.mark.parametrize(
        ("category", "deceleration", "allowed"), [("M1", 6.43, 500.0), ("N1", 5.0, 700.0), ("N2", 5.0, 700.0)]
    )
    def test_assistance_taken_away(self, category: str, deceleration: float, allowed: float) -> None:
        # Service braking as UN Regulation No. 79, annex 3, repeats it (second-hand): the pedal alone must reach it.
        gone = {f"{BRAKES}.assist": "none", f"{BRAKES}.assist_before": "vacuum", "vehicle.category": category}
        found = one(STOP, gone)
        assert (found.kind, found.level) == ("fail", "error")
        assert found.found == pytest.approx(pedal_force(deceleration), rel=1e-4)
        assert found.limit is not None
        assert found.limit.value == allowed

    def test_a_measured_stop_without_any_assistance(self) -> None:
        gone = {f"{BRAKES}.assist": "none", f"{BRAKES}.assist_before": "vacuum"}
        stop = {f"{BRAKES}.unassisted_test": {"pedal_force": "690 N", "deceleration": "4.9 m/s2"}}
        assert one(STOP, {**gone, **stop}, demand="deceleration").kind == "fail"
        stop[f"{BRAKES}.unassisted_test"]["deceleration"] = "5.0 m/s2"
        assert one(STOP, {**gone, **stop}, demand="deceleration").kind == "pass"

    def test_never_assisted_unknown_and_air(self) -> None:
        none = {f"{BRAKES}.assist": "none"}
        assert one(STOP, {**none, f"{BRAKES}.assist_before": "none"}).kind == "notApplicable"
        assert f"{BRAKES}.assist_before" in one(STOP, none).unknown
        assert one(STOP, {f"{BRAKES}.assist": "air"}).kind == "review"

    def test_a_long_lever_and_a_heavier_vehicle(self) -> None:
        # half the lever takes twice the force
        assert value("chassis.unassisted-pedal-force", {f"{BRAKES}.pedal_ratio": 2.1}) == pytest.approx(
            2.0 * pedal_force(), rel=1e-4
        )
        assert value("chassis.unassisted-pedal-force", {"vehicle.mass.gvwr": "3400 kg"}) == pytest.approx(
            pedal_force(mass=3400.0), rel=1e-4
        )

    def test_unknown_brakes(self) -> None:
        edits = {f"{BRAKES}.wheels": None}
        found = one(STOP, edits, stage="plan")
        assert found.kind == "open"
        assert f"{BRAKES}.wheels" in found.unknown
        assert one(STOP, edits, stage="quote").due

    @pytest.mark.parametrize(
        ("force", "deceleration", "kind", "field"),
        [
            ("650 N", "2.21 m/s2", "pass", "deceleration"),
            ("650 N", "2.19 m/s2", "fail", "deceleration"),
            ("701 N", "2.5 m/s2", "fail", "pedal_force"),
        ],
    )
    def test_a_measured_stop_stands_above_the_sum(self, force: str, deceleration: str, kind: str, field: str) -> None:
        test = {"pedal_force": force, "deceleration": deceleration}
        found = one(STOP, {f"{BRAKES}.unassisted_test": test, f"{BRAKES}.wheels": None})
        assert found.kind == kind
        if kind == "fail":
            assert found.subject == f"{BRAKES}.unassisted_test.{field}"


class TestBrakeDuty:
    @pytest.mark.parametrize(
        ("limiter", "kind", "level"),
        [("104.8 km/h", "pass", None), ("105 km/h", "fail", "warning"), ("111.7 km/h", "fail", "warning"),
         ("111.9 km/h", "fail", "error")],
    )  # fmt: skip
    def test_boundaries(self, limiter: str, kind: str, level: str | None) -> None:
        # √1.10 = 1.0488 and √1.25 = 1.1180 times the 100 km/h of old
        edits = {
            "driveline.speed_limiter": {"fitted": True, "speed": limiter},
            "vehicle.original.top_speed": "100 km/h",
        }
        found = one(DUTY, edits, demand="energy")
        assert (found.kind, found.level) == (kind, level)
        assert found.found == pytest.approx((float(limiter.split()[0]) / 100.0) ** 2, rel=1e-6)
        if kind == "fail":
            assert found.subject == "driveline.speed_limiter.speed"
            assert found.advice[0].value == pytest.approx(math.sqrt(1.10) * 100.0 / 3.6, rel=1e-6)

    def test_the_owners_speed_counts_where_it_is_more_than_the_level_allows(self) -> None:
        level = value("gearing.top-speed")
        assert level < 200.0
        fast = {"build.design.road_speed_max": "200 km/h"}
        assert value("chassis.top-speed", fast) == pytest.approx(200.0)
        assert value("chassis.top-speed", {"build.design.road_speed_max": "60 km/h"}) == pytest.approx(level)
        limited = {"driveline.speed_limiter": {"fitted": True, "speed": "90 km/h"}}
        assert value("chassis.top-speed", {**fast, **limited}) == pytest.approx(90.0)

    def test_mass_counts_once_and_speed_twice(self) -> None:
        edits = {
            "driveline.speed_limiter": {"fitted": True, "speed": "90 km/h"},
            "vehicle.original": {"gvwr": "2500 kg", "top_speed": "90 km/h", "fuel_type": "petrol"},
        }
        assert value("chassis.energy-ratio", edits) == pytest.approx(2800.0 / 2500.0)

    @pytest.mark.parametrize(("offset", "kind"), [(20.0, "pass"), (-20.0, "fail")])
    def test_descent(self, offset: float, kind: str) -> None:
        # m·g·sin(atan 0.08) less 1.2 % rolling and ½·1.225·0.45·2.8·v² at 40 km/h; 5 kW for each of 2.8 t
        v = 40.0 / 3.6
        push = 2800.0 * G * 0.08 / math.hypot(1.0, 0.08) - 0.012 * 2800.0 * G - 0.5 * 1.225 * 0.45 * 2.8 * v**2
        # second gear is the lowest that stays below 3700 r/min: 2.6·4.3 turns of the engine for one of the wheels,
        # 3032 r/min; of what the engine holds back at 3700 r/min (3032/3700)² is left
        share = (v / TYRE * 2.6 * 4.3 / (3700.0 * math.tau / 60.0)) ** 2
        assert share == pytest.approx(0.671, abs=0.001)
        engine = push * v - 5.0 * 2800.0 + offset
        edits = {
            "engine.overrun.braking_power": f"{engine / share:.1f} W",
            "vehicle.original.top_speed": "150 km/h",
            "build.duty.terrain": "road",  # the low range is for loose ground
        }
        found = one(DUTY, edits, demand="descent")
        assert found.kind == kind
        if kind == "fail":
            assert (found.level, found.subject) == ("warning", "engine.overrun.braking_power")
            assert found.found == pytest.approx((push * v - engine) / 2800.0, rel=1e-3)
            assert found.advice[0].value == pytest.approx((push * v - 5.0 * 2800.0) / share, abs=1.0)

    def test_off_the_road_the_low_range_holds_back_too(self) -> None:
        # fourth gear in the low range, 1.15·2.5·4.3 turns of the engine for one of the wheels, against 2.6·4.3 in
        # second gear of the high range: (2.875/2.6)² as much
        road = value("chassis.engine-braking", {"build.duty.terrain": "road"})
        loose = value("chassis.engine-braking", {"build.duty.terrain": "off-road"})
        assert loose / road == pytest.approx((1.15 * 2.5 / 2.6) ** 2, rel=1e-6)
        assert value("chassis.engine-braking", {"build.duty.terrain": None}) == pytest.approx(road)

    def test_a_descent_that_no_gear_can_take(self) -> None:
        # 120 km/h in an only gear of 4.3·4.3 turns the engine at 15 000 r/min
        edits = {"driveline.gearbox.ratios": [4.3], "build.design.descent_speed": "120 km/h"}
        assert one(DUTY, edits, demand="descent").kind == "review"

    @pytest.mark.parametrize(("held_back", "kind"), [("117.8 kW", "pass"), ("118.1 kW", "review")])
    def test_no_engine_holds_back_so_much(self, held_back: str, kind: str) -> None:
        # 265 Nm at 3400 r/min are 94.35 kW; a quarter more is 117.9 kW
        assert one(DUTY, {"engine.overrun.braking_power": held_back}, demand="descent").kind == kind

    def test_no_long_descent_asks_for_no_engine_braking(self) -> None:
        edits = {"build.design.descent_grade": None, "engine.overrun.braking_power": None}
        assert one(DUTY, edits).kind == "pass"
        found = one(DUTY, {"engine.overrun.braking_power": None}, stage="plan")
        assert found.kind == "open"
        assert found.unknown == ("engine.overrun.braking_power",)

    def test_unknown_approval(self) -> None:
        edits = {"vehicle.original.top_speed": None}
        assert one(DUTY, edits, stage="plan").unknown == ("vehicle.original.top_speed",)
        assert one(DUTY, edits).due


HYDRAULIC: dict[str, Any] = {
    f"{BRAKES}.assist": "hydraulic",
    "electrics.lamps.assist": {"function": "brake-assist", "driven_by": "own-switch", "colour": "red"},
    f"{BOOSTER}.flow_required": "7.4 L/min",
    f"{BOOSTER}.pressure_required": "7 MPa",
    f"{BOOSTER}.pressure_max": "12 MPa",
    f"{BOOSTER}.stored_applications": 2,
}
ELECTRIC: dict[str, Any] = {
    f"{BRAKES}.assist": "electric",
    "electrics.lamps.assist": {"function": "brake-assist", "driven_by": "own-switch", "colour": "red"},
    f"{BOOSTER}.load": "lamps",
    f"{BOOSTER}.min_voltage": "9 V",
    f"{BOOSTER}.stored_applications": 2,
}


class TestBoosterConversion:
    def test_a_vacuum_booster_is_judged_elsewhere(self) -> None:
        assert one(CONVERSION).kind == "notApplicable"

    @pytest.mark.parametrize(
        ("edit", "kind", "subject"),
        [
            ({}, "pass", ""),
            # 10 cm³ · 1.1 · 800 r/min · 0.85 = 7.48 L/min at idle
            ({f"{BOOSTER}.flow_required": "7.47 L/min"}, "pass", ""),
            ({f"{BOOSTER}.flow_required": "7.49 L/min"}, "fail", f"{PUMP}.displacement"),
            # the relief valve opens at 9 MPa
            ({f"{BOOSTER}.pressure_required": "9.1 MPa"}, "fail", f"{PUMP}.relief_pressure"),
            ({f"{BOOSTER}.pressure_max": "8.9 MPa"}, "fail", f"{PUMP}.relief_pressure"),
            ({f"{BOOSTER}.stored_applications": 1}, "fail", f"{BOOSTER}.stored_applications"),
            ({"electrics.lamps.assist": {"fitted": False}}, "fail", "electrics.lamps"),
            ({f"{STEERING}.assist": "electric"}, "fail", f"{STEERING}.assist"),
        ],
    )
    def test_hydraulic(self, edit: dict[str, Any], kind: str, subject: str) -> None:
        found = one(CONVERSION, {**HYDRAULIC, **edit})
        assert found.kind == kind
        if kind == "fail":
            assert (found.level, found.subject) == ("error", subject)
            assert "licensed engineer" in found.cautions[0]

    @pytest.mark.parametrize(
        ("edit", "kind", "subject"),
        [
            ({}, "pass", ""),
            # engine stopped: 11.5 V of a 12 V system, 10.5 V with a tired battery (common practice)
            ({f"{BOOSTER}.min_voltage": "12.0 V"}, "fail", f"{BOOSTER}.min_voltage"),
            ({f"{BOOSTER}.min_voltage": "11.6 V"}, "fail", f"{BOOSTER}.min_voltage"),
            ({f"{BOOSTER}.min_voltage": "11.4 V"}, "review", f"{BOOSTER}.min_voltage"),
            ({f"{BOOSTER}.min_voltage": "10.5 V"}, "pass", ""),
            ({f"{BOOSTER}.load": "radio"}, "fail", "electrics.loads.radio.essential"),
            ({f"{BOOSTER}.load": "booster"}, "fail", f"{BOOSTER}.load"),
            ({f"{BOOSTER}.stored_applications": 0}, "fail", f"{BOOSTER}.stored_applications"),
        ],
    )
    def test_electric(self, edit: dict[str, Any], kind: str, subject: str) -> None:
        found = one(CONVERSION, {**ELECTRIC, **edit})
        assert found.kind == kind
        if kind == "fail":
            assert found.subject == subject

    def test_two_applications_are_stored(self) -> None:
        # common practice: the lamp, and two assisted applications to come to a stop
        limit = one(CONVERSION, HYDRAULIC, demand="stored").limit
        assert limit is not None
        assert (limit.relation, limit.value) == ("at least", 2.0)

    def test_unknown_data_and_air_brakes(self) -> None:
        lamp = {"electrics.lamps.assist": HYDRAULIC["electrics.lamps.assist"]}
        found = one(CONVERSION, {f"{BRAKES}.assist": "hydraulic", **lamp}, stage="plan")
        assert found.kind == "open"
        lacking = {f.demand: f.unknown for f in trial(CONVERSION, {f"{BRAKES}.assist": "hydraulic", **lamp})}
        assert lacking["flow"] == (f"{BOOSTER}.flow_required",)
        assert lacking["stored"] == (f"{BOOSTER}.stored_applications",)
        assert one(CONVERSION, {f"{BRAKES}.assist": "hydraulic"}, demand="lamp").kind == "fail"
        assert one(CONVERSION, {f"{BRAKES}.assist": "air"}).kind == "review"


class TestSteeringFlow:
    def test_flows_by_hand(self) -> None:
        # 160 cm³ / 3.5 turns · 1.25 turns/s · 1.15 = 65.71 cm³/s; 10 cm³ · 1.1 · 800/60 · 0.85 = 124.7 cm³/s
        assert value("chassis.steering-flow-needed") == pytest.approx(65.714e-3 * 60.0, rel=1e-4)
        assert value("chassis.steering-flow") == pytest.approx(124.667e-3 * 60.0, rel=1e-4)
        assert one(FLOW).kind == "pass"

    @pytest.mark.parametrize(("displacement", "kind"), [("5.28 cm3/rev", "pass"), ("5.26 cm3/rev", "fail")])
    def test_boundary(self, displacement: str, kind: str) -> None:
        # 65.714/(14.667·0.85) = 5.271 cm³
        found = one(FLOW, {f"{PUMP}.displacement": displacement})
        assert (found.kind, found.subject) == (kind, f"{PUMP}.displacement")
        if kind == "fail":
            assert found.advice[0].value == pytest.approx(5.271e-6 / (2.0 * math.pi), rel=1e-3)
        assert "licensed engineer" in found.cautions[0]

    def test_a_heavy_vehicle_needs_it(self) -> None:
        edit = {f"{PUMP}.displacement": "4 cm3/rev"}
        assert one(FLOW, edit).level == "warning"
        assert one(FLOW, {**edit, "vehicle.mass.gvwr": "3500 kg"}).level == "warning"
        assert one(FLOW, {**edit, "vehicle.mass.gvwr": "3501 kg"}).level == "error"

    @pytest.mark.parametrize(("required", "kind"), [("7.47 L/min", "pass"), ("7.49 L/min", "fail")])
    def test_the_gears_sheet_comes_first(self, required: str, kind: str) -> None:
        assert one(FLOW, {f"{GEAR}.flow_required": required}).kind == kind

    @pytest.mark.parametrize(("weight", "limit"), [("light", 6.0), ("heavy", 10.0)])
    def test_fallback(self, weight: str, limit: float) -> None:
        edits = {f"{GEAR}.cylinder_volume": None, f"{GEAR}.flow_max": None, "vehicle.weight_class": weight}
        found = one(FLOW, edits)
        assert found.limit is not None
        assert found.limit.value == pytest.approx(limit / 60000.0)
        assert len(found.practices) == 1
        assert found.kind == ("pass" if weight == "light" else "fail")

    @pytest.mark.parametrize(("limit", "kind"), [("10 L/min", "pass"), ("10.1 L/min", "fail")])
    def test_too_much_at_rated_speed(self, limit: str, kind: str) -> None:
        # without the valve 10 cm³ · 1.1 · 3400 r/min = 37.4 L/min; the gear stands 10
        found = one(FLOW, {f"{PUMP}.flow_limit": limit})
        assert found.kind == kind
        if kind == "fail":
            assert (found.level, found.subject) == ("warning", f"{PUMP}.flow_limit")
        without = value("chassis.steering-flow-rated", {f"{PUMP}.flow_limit": None})
        assert without == pytest.approx(37.4, rel=1e-6)

    def test_unknown_and_not_there(self) -> None:
        assert one(FLOW, {f"{PUMP}.displacement": None}, stage="plan").kind == "open"
        assert one(FLOW, {f"{PUMP}.displacement": None}).due
        assert one(FLOW, {f"{STEERING}.assist": "electric"}).kind == "open"  # its consumer is asked for


def front_ratio(edits: dict[str, float] | None = None) -> float:
    """Front axle after over before, from the ledger of the sound spec: Σ m·(1 - x/L)."""
    vehicle = tomllib.loads(sound_text())["vehicle"]
    change = 0.0
    for name, item in vehicle["ledger"].items():
        mass = (edits or {}).get(name, float(item["mass"].split()[0]))
        change += mass * (1.0 - float(item["x"].split()[0]) / 2900.0)
    return (1020.0 + change) / 1020.0


class TestSteeringPressure:
    @pytest.mark.parametrize(
        ("edit", "kind", "subject"),
        [
            ({f"{PUMP}.relief_pressure": "10 MPa"}, "pass", ""),
            ({f"{PUMP}.relief_pressure": "10.05 MPa"}, "fail", f"{PUMP}.relief_pressure"),
            ({f"{STEERING}.hose_rating": "9 MPa"}, "pass", ""),
            ({f"{STEERING}.hose_rating": "8.9 MPa"}, "fail", f"{STEERING}.hose_rating"),
        ],
    )
    def test_boundaries(self, edit: dict[str, Any], kind: str, subject: str) -> None:
        found = one(PRESSURE, edit)
        assert found.kind == kind
        if kind == "fail":
            assert (found.level, found.subject) == ("error", subject)
            assert "licensed engineer" in found.cautions[0]

    def test_a_gear_that_bears_less_than_the_hose_wants_a_lower_setting(self) -> None:
        both = {f"{PUMP}.relief_pressure": "11 MPa"}  # gear and hose 10 MPa
        assert one(PRESSURE, both, demand="hose-pressure").advice == ()
        (lower,) = one(PRESSURE, both, demand="gear-pressure").advice
        assert (lower.field, lower.value) == (f"{PUMP}.relief_pressure", 10e6)
        (stronger,) = one(PRESSURE, {f"{STEERING}.hose_rating": "8 MPa"}, demand="hose-pressure").advice
        assert (stronger.field, stronger.value) == (f"{STEERING}.hose_rating", 9e6)

    @pytest.mark.parametrize(
        ("category", "effort", "kind"),
        [("N1", "300 N", "pass"), ("N1", "301 N", "fail"), ("N2", "400 N", "pass"), ("N3", "451 N", "fail")],
    )
    def test_lawful_effort(self, category: str, effort: str, kind: str) -> None:
        # UN Regulation No. 79, table 2, failed assistance
        found = one(PRESSURE, {"vehicle.category": category, f"{STEERING}.effort": effort})
        assert found.kind == kind
        if kind == "fail":
            assert (found.level, found.subject) == ("warning", f"{STEERING}.effort")

    def test_effort_grows_with_the_front_axle(self) -> None:
        edits = {f"{STEERING}.effort": None, f"{STEERING}.effort_before": "250 N"}
        ratio = front_ratio() ** 1.5
        assert value("chassis.steering-effort-ratio") == pytest.approx(ratio, rel=1e-6)
        assert value("chassis.steering-effort", edits) == pytest.approx(250.0 * ratio, rel=1e-6)
        assert ratio > 1.0
        limit = 300.0 / ratio
        for share, kind in ((0.999, "pass"), (1.001, "fail")):
            found = one(PRESSURE, {**edits, f"{STEERING}.effort_before": f"{share * limit:.4f} N"})
            assert found.kind == kind
        assert found.subject == f"{STEERING}.effort_before"

    def test_nobody_measured(self) -> None:
        assert one(PRESSURE, {f"{STEERING}.effort": None}).kind == "review"
        lighter = {f"{STEERING}.effort": None, "vehicle.ledger.engine.mass": "150 kg"}
        assert front_ratio({"engine": 150.0}) < 1.0
        assert one(PRESSURE, lighter).kind == "pass"

    def test_unknown(self) -> None:
        found = one(PRESSURE, {f"{GEAR}.pressure_max": None}, stage="plan")
        assert (found.kind, found.unknown) == ("open", (f"{GEAR}.pressure_max",))
        assert one(PRESSURE, {f"{GEAR}.pressure_max": None}).due


GONE = {f"{STEERING}.assist": "none", f"{STEERING}.assist_before": "hydraulic"}
NEVER = {f"{STEERING}.assist": "none", f"{STEERING}.assist_before": "none"}


class TestSteeringWithoutAssistance:
    @pytest.mark.parametrize(
        ("category", "lawful"), [("M1", 150), ("M2", 150), ("N1", 200), ("N2", 250), ("M3", 200), ("N3", 200)]
    )
    def test_the_effort_of_a_steering_in_order(self, category: str, lawful: int) -> None:
        # UN Regulation No. 79, table 2, intact steering (read)
        just = {"vehicle.category": category, f"{STEERING}.effort": f"{lawful} N"}
        assert one(PRESSURE, {**GONE, **just}, demand="effort").kind == "pass"
        more = {"vehicle.category": category, f"{STEERING}.effort": f"{lawful + 1} N"}
        found = one(PRESSURE, {**GONE, **more}, demand="effort")
        assert (found.kind, found.level) == ("fail", "error")
        assert one(PRESSURE, {**NEVER, **more}, demand="effort").level == "warning"

    def test_taken_away_must_be_measured(self) -> None:
        # what the failed assistance took before the swap is no measure of a steering that has none
        edits = {**GONE, f"{STEERING}.effort": None, f"{STEERING}.effort_before": "100 N"}
        assert one(PRESSURE, edits, demand="effort").kind == "review"

    def test_unknown_before_is_open(self) -> None:
        found = one(PRESSURE, {f"{STEERING}.assist": "none"}, demand="effort")
        assert (found.kind, found.unknown) == ("open", (f"{STEERING}.assist_before",))


@pytest.mark.parametrize(("needed", "kind"), [("9 MPa", "pass"), ("9.1 MPa", "fail")])
def test_a_relief_valve_that_opens_too_soon(needed: str, kind: str) -> None:
    # the sound spec's valve opens at 9 MPa
    found = one(PRESSURE, {f"{GEAR}.pressure_required": needed}, demand="assistance")
    assert found.kind == kind
    if kind == "fail":
        assert (found.level, found.subject) == ("warning", f"{PUMP}.relief_pressure")


@pytest.mark.parametrize(("relief", "kind"), [("5 MPa", "pass"), ("4.9 MPa", "fail")])
def test_half_of_what_the_gear_stands_where_its_sheet_says_no_more(relief: str, kind: str) -> None:
    # the sound spec's gear stands 10 MPa; half of it (common practice)
    edits = {f"{GEAR}.pressure_required": None, f"{PUMP}.relief_pressure": relief}
    found = one(PRESSURE, edits, demand="assistance", stage="quote")
    assert found.kind == kind
    assert any("half of the pressure" in name for name in found.practices)


def test_a_booster_that_is_stated_as_gone_is_no_assistance() -> None:
    # the word for what helps the foot was left standing: 5.0 m/s² with 700 N all the same
    found = one(STOP, {f"{BOOSTER}": {"fitted": False}})
    assert (found.kind, found.level) == ("fail", "error")
    assert found.found == pytest.approx(pedal_force(5.0), rel=1e-4)


def test_an_effort_is_said_to_be_that_of_a_steering_without_assistance_only_there() -> None:
    # UN Regulation 79: 200 N intact for M1 and N1; 300 N where the assistance has failed
    helped = one(PRESSURE, demand="effort")
    never = {f"{STEERING}.assist": "none", f"{STEERING}.assist_before": "none", f"{STEERING}.effort": "190 N"}
    bare = one(PRESSURE, never, demand="effort")
    assert helped.message.endswith("300 N are lawful.")
    assert bare.message.endswith("200 N are lawful for a steering without any.")
