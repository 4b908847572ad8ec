"""The chassis pack on the example builds, and with mistakes planted in them."""

from __future__ import annotations

import functools
import math
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from on_examples import found_on

from swaplint.inspecting.results import Finding
from swaplint.spec.job import Stage

SPECS = Path(__file__).parents[2] / "specs"
TENDER, VAN = "tarnholt-tender.toml", "skerrivar-van.toml"
BELTS, BRAKES, VACUUM = "plumbing.belts", "vehicle.brakes", "plumbing.vacuum"


def everything(name: str, edits: Mapping[str, Any] | None = None, stage: Stage | None = None) -> list[Finding]:
    return found_on(name, edits, stage)


def findings(
    name: str, edits: Mapping[str, Any] | None = None, stage: Stage | None = None
) -> dict[tuple[str, str], Finding]:
    """By rule and part the worst that it says, which stands first."""
    worst: dict[tuple[str, str], Finding] = {}
    for finding in everything(name, edits, stage):
        worst.setdefault((finding.rule.id, str(finding.part)), finding)
    return worst


def demand(
    name: str, rule: str, demand: str, edits: Mapping[str, Any] | None = None, stage: Stage | None = None
) -> Finding:
    """What a rule says of one of its demands."""
    return next(f for f in everything(name, edits, stage) if (f.rule.id, f.demand) == (rule, demand))


@functools.cache
def as_it_stands(name: str) -> dict[tuple[str, str], Finding]:
    return findings(name)


def air(altitude: float) -> float:
    """ISO 2533, kPa."""
    return 101.325 * math.pow(1.0 - 2.25577e-5 * altitude, 5.25588)


# -- as they stand ----------------------------------------------------------------------------------------------------
def test_the_tenders_vacuum_at_1200_metres() -> None:
    p = air(1200.0)
    source = demand(TENDER, "chassis.vacuum-source", "depression")
    recovery = demand(TENDER, "chassis.vacuum-recovery", "normal-level")
    reserve = demand(TENDER, "chassis.vacuum-reserve", "one-application")
    worst = as_it_stands(TENDER)
    assert {worst[f"chassis.vacuum-{what}", ""].kind for what in ("source", "recovery", "reserve")} == {"pass"}
    assert source.found == pytest.approx((p - 12.0) * 1e3, rel=1e-4)
    # 29 L at 1 L/s from 87.7 to 27.7 kPa, the pump ending at 12: 45.6 s of 60
    assert recovery.found == pytest.approx(29.0 * math.log((p - 12.0) / (p - 72.0)), rel=1e-4)
    # from the 65 kPa of its switch: 65·(1 - 0.25/29) - 87.7·2.2/29 = 57.8 kPa
    assert reserve.found == pytest.approx((65.0 * (1.0 - 0.25 / 29.0) - p * 2.2 / 29.0) / 65.0, rel=1e-4)


@pytest.mark.parametrize("altitude", [0.0, 1200.0])
def test_altitude_changes_the_tenders_vacuum(altitude: float) -> None:
    # a pump that ends at 30 kPa: 71.3 kPa at sea level, 57.7 kPa at 1200 m, where 60 are needed
    edits = {"build.design.altitude_max": f"{altitude:g} m", f"{VACUUM}.pump.end_pressure": "30 kPa"}
    found = demand(TENDER, "chassis.vacuum-source", "depression", edits)
    assert found.kind == ("pass" if altitude == 0.0 else "fail")
    assert found.found == pytest.approx((air(altitude) - 30.0) * 1e3, rel=1e-4)


def test_the_tender_is_too_fast_for_its_brakes() -> None:
    found = as_it_stands(TENDER)["chassis.brake-duty", ""]
    assert (found.kind, found.level, found.subject) == ("fail", "error", "driveline.speed_limiter.speed")
    # 85 km/h · √1.10
    (advised,) = found.advice  # a limiter, of which there is none yet
    assert advised.field == "driveline.speed_limiter.speed"
    assert advised.value == pytest.approx(85.0 / 3.6 * math.sqrt(1.10), rel=1e-3)
    assert "A limiter at 89 km/h or less would do." in found.message
    for speed, kind in (("89 km/h", "pass"), ("90 km/h", "fail")):
        fitted = {"driveline.speed_limiter": {"fitted": True, "speed": speed}}
        assert demand(TENDER, "chassis.brake-duty", "energy", fitted).kind == kind


def test_the_tender_holds_too_little_back_on_its_long_descent() -> None:
    # 35 km/h on 0.5 m of tyre, 4.88 in the axle: in the high range third gear (1.98) is the lowest that stays below the
    # governed 2850 r/min, at 1794 r/min; off the road fourth (1.28) in the low range (1.96) takes more, at 2273
    v, tyre = 35.0 / 3.6, 3.05 * 1.03 / (2.0 * math.pi)
    held = 42e3 * (v / tyre * 1.28 * 1.96 * 4.88 / (2850.0 * math.tau / 60.0)) ** 2
    push = 7500.0 * 9.80665 * (0.12 / math.hypot(1.0, 0.12) - 0.012) - 0.5 * 1.225 * 0.75 * 5.4 * v**2
    found = demand(TENDER, "chassis.brake-duty", "descent")
    assert (found.kind, found.level) == ("fail", "warning")
    assert found.found == pytest.approx((push * v - held) / 7500.0, rel=1e-3)


def test_the_tender_stops_without_assistance() -> None:
    # drums: 2·A·0.96·C*·0.19/r, 0.15 MPa lost; 2.2 m/s² of 7500 kg; master cylinder 1 in, pedal 5.5 at 80 %
    tyre = 3.05 * 1.030 / (2.0 * math.pi)
    gain = 2.0 * 0.96 * 0.19 / tyre * (8.04e-4 * 3.0 + 11.34e-4 * 2.3)
    force = (7500.0 * 2.2 / gain + 0.15e6) * math.pi / 4.0 * 0.0254**2 / (5.5 * 0.8)
    found = as_it_stands(TENDER)["chassis.unassisted-stop", ""]
    assert found.kind == "pass"
    assert found.found == pytest.approx(force, rel=1e-4)


def test_the_tenders_cab_gets_cold() -> None:
    # the core could move 9.6 kW, the idling diesel gives 3.6, the petrol engine gave 6.5
    found = as_it_stands(TENDER)["chassis.heater-circuit", ""]
    assert (found.kind, found.level) == ("fail", "warning")
    assert found.advice[0].value == pytest.approx(2250.0, rel=1e-3)


@pytest.mark.parametrize("stage", ["plan", "quote"])
def test_the_van_does_not_say_whether_it_has_a_check_valve(stage: Stage) -> None:
    found = findings(VAN, stage=stage)
    source = found["chassis.vacuum-source", ""]
    assert (source.kind, source.due, source.unknown) == ("open", True, (f"{VACUUM}.check_valve",))
    assert source.demand == "check-valve"
    others = [
        f for f in found.values() if f.rule.id != "chassis.vacuum-source" and f"{VACUUM}.check_valve" in f.unknown
    ]
    assert not others
    edits = {f"{VACUUM}.check_valve": {"fitted": True}}
    assert findings(VAN, edits, stage)["chassis.vacuum-source", ""].kind == "pass"
    stated = demand(VAN, "chassis.vacuum-source", "depression", edits, stage)
    # 62 kPa below sea level's air is 39.325 absolute, 59.0 kPa below that of 250 m; 55 are needed
    assert stated.found == pytest.approx((air(250.0) - 39.325) * 1e3, rel=1e-4)


def test_the_van_at_altitude() -> None:
    edits = {f"{VACUUM}.check_valve": {"fitted": True}, "build.design.altitude_max": "1200 m"}
    found = findings(VAN, edits)["chassis.vacuum-source", ""]
    assert (found.kind, found.subject) == ("fail", "engine.vacuum.depression_idle")


# -- planted mistakes -------------------------------------------------------------------------------------------------
SOURCE, RECOVERY, RESERVE = "chassis.vacuum-source", "chassis.vacuum-recovery", "chassis.vacuum-reserve"

PLANTED: list[tuple[str, str, dict[str, Any], tuple[str, str], str, str, set[str]]] = [
    # name; spec; edit; rule and part; level; field; rules that have nothing left to judge because of it
    ("booster left on the charge pipe", TENDER, {f"{VACUUM}.supply": "intake-pipe"}, (SOURCE, ""), "error",
     f"{VACUUM}.supply", {RECOVERY, RESERVE}),
    ("booster on the diesel's manifold", TENDER, {f"{VACUUM}.supply": "manifold"}, (SOURCE, ""), "error",
     f"{VACUUM}.supply", {RECOVERY, RESERVE}),
    ("no check valve", TENDER, {f"{VACUUM}.check_valve.fitted": False}, (SOURCE, ""), "error",
     f"{VACUUM}.check_valve", set()),
    ("pump without a warning lamp", TENDER, {"electrics.lamps.vacuum": None, "vehicle.warnings_required": ["brake"]},
     (SOURCE, ""), "error", "electrics.lamps", set()),
    ("small pump", TENDER, {f"{VACUUM}.pump.free_flow": "40 L/min"}, (RECOVERY, ""), "error",
     f"{VACUUM}.pump.free_flow", set()),
    ("no reservoir", TENDER, {f"{VACUUM}.reservoir": {"fitted": False}}, (RESERVE, ""), "error",
     f"{VACUUM}.reservoir.volume", set()),
    ("too large a master cylinder", TENDER, {f"{BRAKES}.master_bore": "30 mm"}, ("chassis.unassisted-stop", ""),
     "error", f"{BRAKES}.master_bore", set()),
    ("slow steering pump", TENDER, {"vehicle.steering.pump.ratio": 0.6}, ("chassis.steering-flow", ""),
     "error", "vehicle.steering.pump.displacement", set()),
    ("relief valve above the gear", TENDER, {"vehicle.steering.pump.relief_pressure": "12 MPa"},
     ("chassis.steering-pressure", ""), "error", "vehicle.steering.pump.relief_pressure", set()),
    ("belts moved 3 mm out", TENDER, {f"{BELTS}.steering.pulleys.pump.offset": "3 mm"},
     ("chassis.belt-drive", f"{BELTS}.steering"), "warning", f"{BELTS}.steering.pulleys.pump.offset", set()),
    ("pump at double speed", TENDER, {"vehicle.steering.pump.speed_max": "2500 r/min"},
     ("chassis.accessory-speed", f"{BELTS}.steering.pulleys.pump"), "error", "vehicle.steering.pump.ratio", set()),
    ("tight belts", TENDER, {f"{BELTS}.steering.tension": "1400 N"}, ("chassis.crank-nose-load", ""), "error",
     f"{BELTS}.steering.tension", set()),
]  # fmt: skip


@pytest.mark.parametrize(
    ("name", "spec", "edits", "rule", "level", "field", "silenced"), PLANTED, ids=[p[0] for p in PLANTED]
)
def test_planted_mistake(
    name: str,
    spec: str,
    edits: dict[str, Any],
    rule: tuple[str, str],
    level: str,
    field: str,
    silenced: set[str],
) -> None:
    before, after = as_it_stands(spec), findings(spec, edits)
    assert before[rule].kind == "pass"
    found = after[rule]
    assert (found.kind, found.level, found.subject) == ("fail", level, field)
    assert "Cannot be decided" not in found.message
    assert before.keys() == after.keys()
    changed = {key[0] for key in before if (before[key].kind, before[key].level) != (after[key].kind, after[key].level)}
    assert changed == {rule[0]} | silenced
    assert all(after[other, ""].kind == "notApplicable" for other in silenced)


def test_the_vans_pedal_is_too_short() -> None:
    # 444.5 N · 4.0/2.4 = 741 N: now the booster is needed, and of its 4.5 L nothing is left after eight applications
    found = findings(VAN, {f"{BRAKES}.pedal_ratio": 2.4})
    stop, reserve = found["chassis.unassisted-stop", ""], found[RESERVE, ""]
    before = as_it_stands(VAN)["chassis.unassisted-stop", ""]
    assert before.found is not None
    assert (stop.kind, stop.level, stop.subject) == ("fail", "error", f"{BRAKES}.master_bore")
    assert stop.found == pytest.approx(before.found * 4.0 / 2.4)
    assert (reserve.kind, reserve.level, reserve.found) == ("fail", "warning", 0.0)


def test_the_vans_booster_on_the_charge_pipe() -> None:
    # a vacuum source that is none, and under boost the opposite of one
    found = findings(VAN, {f"{VACUUM}.supply": "intake-pipe"})
    source = found[SOURCE, ""]
    assert (source.kind, source.level, source.subject) == ("fail", "error", f"{VACUUM}.supply")
    assert "boost" in source.message
    assert found[RESERVE, ""].kind == "notApplicable"
    assert [f.rule.id for f in found.values() if f.kind == "fail" and f.subject == f"{VACUUM}.supply"] == [SOURCE]


def test_a_hydraulic_booster_answers_the_tender() -> None:
    booster = {
        "flow_required": "7 L/min",
        "pressure_required": "8 MPa",
        "pressure_max": "13 MPa",
        "stored_applications": 2,
    }
    lamp = {"function": "brake-assist", "driven_by": "own-switch", "colour": "red"}
    edits = {f"{BRAKES}.assist": "hydraulic", f"{BRAKES}.booster": booster, "electrics.lamps.assist": lamp}
    found = findings(TENDER, edits)
    assert found["chassis.booster-conversion", ""].kind == "pass"
    assert all(found[rule, ""].kind == "notApplicable" for rule in (SOURCE, RECOVERY, RESERVE))
