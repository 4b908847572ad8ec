"""Edges and advice of brakes, belts and vacuum that no sentence shows, worked out beside each test."""

from __future__ import annotations

import math
from typing import Any

import pytest
from advising import advised
from swaplint_rules.chassis import vacuum  # type: ignore[import-not-found]

from swaplint.engineering.constants import G
from swaplint.kit.trial import of_part, one, step_of, trial, value

BELT, PUMP = "plumbing.belts.accessory", "vehicle.steering.pump"
NO_PULLEY = {f"{BELT}.pulleys.pump": None, f"{BELT}.path": ["crank", "compressor", "tensioner"]}
NO_ALTERNATOR_PULLEY = {"plumbing.belts.engine.pulleys.alternator": None}


@pytest.mark.parametrize(
    ("part", "edits", "demand", "kind", "advises"),
    # governed at 3700 r/min, idle 800 r/min; the pump turns 1.1 times, the alternator 2.8 times as fast
    [
        ("steering.pump", {**NO_PULLEY, f"{PUMP}.speed_max": "4071 r/min"}, "highest-speed", "pass", None),
        ("steering.pump", {**NO_PULLEY, f"{PUMP}.speed_max": "4069 r/min"}, "highest-speed", "fail", 4069 / 3700),
        ("steering.pump", {**NO_PULLEY, f"{PUMP}.speed_min": "879 r/min"}, "idle-speed", "pass", None),
        ("steering.pump", {**NO_PULLEY, f"{PUMP}.speed_min": "881 r/min"}, "idle-speed", "fail", 881 / 800),
        ("engine.alternator", {**NO_ALTERNATOR_PULLEY, "engine.alternator.speed_max": "10000 r/min"}, "highest-speed",
         "fail", 10000 / 3700),
        ("engine.alternator", {**NO_ALTERNATOR_PULLEY, "engine.alternator.speed_min": "2241 r/min"}, "idle-speed",
         "fail", 2241 / 800),
        ("pulleys.alternator", {"engine.alternator.speed_max": "10000 r/min"}, "highest-speed", "fail", 10000 / 3700),
        ("pulleys.pump", {f"{PUMP}.speed_max": "4069 r/min"}, "highest-speed", "fail", 4069 / 3700),
        ("pulleys.pump", {f"{PUMP}.speed_min": "881 r/min"}, "idle-speed", "fail", 881 / 800),
        # where the sheet is silent an alternator takes 1800 to 15 000 r/min, some of them 18 000: a person decides
        ("engine.alternator", {**NO_ALTERNATOR_PULLEY, "engine.alternator.speed_min": None,
                               "engine.alternator.pulley_ratio": 2.2}, "idle-speed", "fail", 1800 / 800),
        ("engine.alternator", {**NO_ALTERNATOR_PULLEY, "engine.alternator.speed_max": None,
                               "engine.alternator.pulley_ratio": 4.1}, "highest-speed", "review", 15000 / 3700),
    ],
)  # fmt: skip
def test_what_turns_by_its_ratio_alone(
    part: str, edits: dict[str, Any], demand: str, kind: str, advises: float | None
) -> None:
    found = of_part("chassis.accessory-speed", part, edits, demand=demand)
    assert found.kind == kind
    assert list(advised(found).values()) == ([] if advises is None else [pytest.approx(advises)])
    if kind == "fail":
        assert found.level == ("warning" if demand == "idle-speed" else "error")


def test_a_compressor_has_a_usual_highest_speed_and_a_pump_has_none() -> None:
    # 6000 r/min over 3700 r/min are 1.6216
    silent = {**NO_PULLEY, f"{PUMP}.speed_max": None}
    assert of_part("chassis.accessory-speed", "steering.pump", silent, demand="highest-speed").kind == "open"
    compressor = "plumbing.air_conditioning.compressor"
    for ratio, kind in ((1.62, "pass"), (1.63, "review")):
        edits = {BELT: None, f"{compressor}.ratio": ratio, f"{compressor}.speed_max": None}
        found = of_part("chassis.accessory-speed", "compressor", edits, demand="highest-speed", stage="plan")
        assert (found.kind, found.limit and found.limit.value) == (kind, pytest.approx(6000.0 * math.pi / 30.0))


def test_a_pump_of_no_least_speed_is_not_asked_at_idle() -> None:
    found = trial("chassis.accessory-speed", {**NO_PULLEY, f"{PUMP}.speed_min": None})
    assert {f.demand for f in found if f.part.endswith("steering.pump")} == {"driven", "highest-speed"}


def test_a_pulley_on_the_back_of_a_belt_grips_without_its_grooves() -> None:
    # The pump is pressed onto the belt from outside, between compressor and tensioner. At idle 1.1 kW · 1.3 at
    # π·0.15·800/60 = 6.283 m/s are 227.6 N; flat, with a friction of 0.3, the slack side of an automatic tensioner has
    # 227.6/(e^(0.3·lap) - 1), more than any other pulley asks for on so small a lap.
    edits = {
        f"{BELT}.pulleys.pump.x": "40 mm",
        f"{BELT}.pulleys.pump.y": "312 mm",
        f"{BELT}.pulleys.pump.backside": True,
    }
    lap = value("chassis.belt-lap", edits, part="accessory.pulleys.pump")
    assert 10.0 < lap < 90.0
    flat = 1100 * 1.3 / (math.pi * 0.15 * 800 / 60) / (math.exp(0.3 * math.radians(lap)) - 1)
    assert value("chassis.belt-tension-needed", edits, part="accessory") == pytest.approx(flat, rel=1e-6)


def test_the_crankshafts_nose_is_pulled_hardest_where_the_power_is_over_the_belts_speed() -> None:
    # Of 300 N in the slack span: 2.1 kW at 6.283 m/s are 334.2 N more, at rated speed 3.7 kW at 26.70 m/s 138.6 N. The
    # spans lap by 154.915° (by hand in the tests of sentences); 1.5 kg hang on it
    def pulled(more: float) -> float:
        tight, turned = 300.0 + more, math.radians(154.915)
        return math.sqrt(tight**2 + 300**2 - 2 * tight * 300 * math.cos(turned)) + 1.5 * 9.80665

    assert value("chassis.nose-side-load") == pytest.approx(pulled(2100 / (math.pi * 0.15 * 800 / 60)), rel=1e-4)
    idle = {f"{BELT}.pulleys.compressor.power_idle": "0.1 kW", f"{BELT}.pulleys.pump.power_idle": "0.1 kW"}
    rated = pulled(3700 / (math.pi * 0.15 * 3400 / 60))
    assert value("chassis.nose-side-load", idle) == pytest.approx(rated, rel=1e-4)
    assert value("chassis.nose-bending", idle) == pytest.approx(rated * 0.14, rel=1e-4)
    # 3.7 kW at 3400 r/min
    assert value("chassis.nose-torque", idle) == pytest.approx(3700 / (3400 * math.pi / 30))


def test_reserve_says_more_where_eight_strokes_use_the_vacuum_up() -> None:
    for bore, more in (("36 mm", True), ("23.81 mm", False)):
        found = one("chassis.vacuum-reserve", {"vehicle.brakes.master_bore": bore}, demand="eight-applications")
        assert found.message.endswith("A larger reservoir keeps more.") is more


def test_the_least_push_from_the_booster_is_still_a_push(monkeypatch: pytest.MonkeyPatch) -> None:
    for needed, says in ((0.5, "0.5 N from the booster"), (0.0, "without any vacuum")):
        monkeypatch.setattr(vacuum.b, "assist_needed", lambda _, needed=needed: needed)
        assert says in one("chassis.vacuum-reserve", demand="eight-applications").message


def test_a_brake_that_just_goes_into_the_rim() -> None:
    # 16 inches are 203.2 mm to either side, on both axles
    for radius, doubted in (("203.1 mm", False), ("203.3 mm", True)):
        found = trial("chassis.unassisted-stop", {"vehicle.brakes.wheels.front.effective_radius": radius})
        assert ("inside-the-rim.front" in {each.demand for each in found}) is doubted


@pytest.mark.parametrize("grade", [12.6, 16.9, 21.9, 26.7, 34.3])
def test_the_grade_that_was_measured_is_the_grade_that_is_said(grade: float) -> None:
    # measured at the mass of vehicle and trailer together: what goes through sine and tangent loses its last digit
    edits = {"vehicle.mass.gcwr": "2800 kg", "vehicle.brakes.parking.held_grade": f"{grade} %"}
    assert f"it holds {grade} %;" in one("chassis.parking-brake", edits, demand="combination").message


def test_down_the_long_descent_at_a_walk() -> None:
    # 2 km/h: what pushes 2800 kg down 8 % less 1.2 % of rolling; the air does not count, and of the engine nothing
    # more than is said of it
    edits = {"build.design.descent_speed": "2 km/h", "engine.overrun.braking_power": "0.1 kW"}
    push = 2800.0 * G * (0.08 / math.hypot(1.0, 0.08) - 0.012) * 2.0 / 3.6
    held = 1000.0 * value("chassis.engine-braking", edits)
    assert held <= 100.0
    assert value("chassis.descent-power", edits) == pytest.approx((push - held) / 2800.0, rel=0.002)


def test_a_steering_without_help_is_tried_for_the_same_effort_both_ways() -> None:
    assert step_of("chassis.steering").says == "help all the way, no belt squeals, the idle holds"
    assert step_of("chassis.steering", {"vehicle.steering.assist": "none"}).says == "the same effort both ways"


def test_an_auxiliary_heater_that_nobody_states_gives_nothing() -> None:
    # where the idling engine gives less than the core could, that is what reaches the cab
    edits = {"engine.heat.idle.coolant": "1.5 kW", "plumbing.cooling.heater.aux_power": None}
    assert value("chassis.cab-heat", edits) == pytest.approx(1.5, rel=1e-9)
    helped = {**edits, "plumbing.cooling.heater.aux_power": "0.5 kW"}
    assert value("chassis.cab-heat", helped) == pytest.approx(2.0, rel=1e-9)


def test_a_valve_limits_the_steering_pump_at_idle_and_at_rated_speed() -> None:
    # 10 cm³ · 800 r/min · 1.1 · 0.85 = 7.48 L/min at idle, 10 cm³ · 3400 · 1.1 = 37.4 L/min at rated speed
    valve = f"{PUMP}.flow_limit"
    assert value("chassis.steering-flow") == pytest.approx(7.48, rel=1e-9)
    assert value("chassis.steering-flow", {valve: "5 L/min"}) == pytest.approx(5.0, rel=1e-9)
    assert value("chassis.steering-flow", {valve: None}) == pytest.approx(7.48, rel=1e-9)
    assert value("chassis.steering-flow-rated", {valve: "9 L/min"}) == pytest.approx(9.0, rel=1e-9)
    # the gear bears 10 L/min: more wears it out, which warns, even on a vehicle that nobody steers by hand
    heavy = {"vehicle.mass.gvwr": "5000 kg", valve: "40 L/min"}
    finding = next(f for f in trial("chassis.steering-flow", heavy) if "reach the gear" in f.message)
    assert (finding.kind, finding.level) == ("fail", "warning")
    assert finding.found == pytest.approx(37.4e-3 / 60)
