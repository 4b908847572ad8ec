"""What the gearing pack tells other packs: where axles stand, and which faces of the chain meet. By hand."""

from __future__ import annotations

from typing import Any

import pytest
from asked import build
from swaplint_rules.gearing import quantities  # type: ignore[import-not-found]

from swaplint.kit.trial import trial, value

TANDEM: dict[str, Any] = {
    "driveline.axles.rear.x": "2500 mm",
    "driveline.axles.rear.group_share": "60 %",
    "driveline.axles.rear.rating": "900 kg",
    "driveline.axles.tag": {"driven": False, "x": "3300 mm", "group_share": "40 %", "rating": "850 kg"},
}


def test_the_load_of_a_group_stands_at_the_middle_of_what_its_axles_carry() -> None:
    # 0.6·2500 + 0.4·3300 = 2820 mm. The ledger's 34 600 kg mm and the load's 1 845 000 over that, and 760 at the kerb.
    assert value("mass.axle-load", TANDEM, part="laden rear") == pytest.approx(760 + 1879600 / 2820)


def test_of_two_axles_the_place_of_one_tells_that_of_the_other() -> None:
    # Only the axle at the front drives: 0.7·(1300/2800 - 0.25·g) - 0.05 = g makes 23.4 % (1300 of 2800 kg stand on it,
    # the centre of gravity lies a quarter of the wheelbase high). Nobody says where it stands; the other is behind.
    axle = {"ratio": 4.3, "torque_share": "60 %", "integral": False}
    edits = {
        "driveline.axles": {"a1": {**axle, "driven": True}, "a2": {**axle, "driven": False, "x": "2900 mm"}},
        "driveline.shafts": {},
    }
    assert value("gearing.steepest-climb", edits) == pytest.approx(23.4, abs=0.1)


@pytest.mark.parametrize(("pattern", "kind"), [("Sound flange 100 (invented)", "pass"), ("another", "fail")])
def test_an_axle_is_compared_with_the_far_flange_of_its_shaft(pattern: str, kind: str) -> None:
    edits = {"driveline.shafts.rear.output_flange.pattern": pattern}
    found = {f.part: f.kind for f in trial("driveline.housing-match", edits)}
    assert found["driveline.axles.rear.input_flange"] == kind, found


@pytest.mark.parametrize(("x", "other", "rating"), [("1400 mm", "2900 mm", 1300), ("1500 mm", "0 mm", 1750)])
def test_an_axle_ahead_of_the_middle_of_the_wheelbase_stands_in_front(x: str, other: str, rating: int) -> None:
    # the wheelbase is 2900 mm; the tyres grip in proportion to what the plate allows there, 1300 and 1750 kg
    axle = {"ratio": 4.3, "torque_share": "60 %", "integral": False, "driven": True}
    edits = {"driveline.axles": {"a1": {**axle, "x": x}, "a2": {**axle, "x": other}}}
    front = value("driveline.axle-grip-torque", part="front")
    assert value("driveline.axle-grip-torque", edits, part="a1") == pytest.approx(front * rating / 1300)


def test_shares_of_a_group_make_a_whole_to_one_per_cent() -> None:
    for share, kind in (("39.05 %", "pass"), ("38.95 %", "review")):
        edits = {**TANDEM, "driveline.axles.tag": {**TANDEM["driveline.axles.tag"], "group_share": share}}
        found = [f for f in trial("mass.axle-rating", edits) if f.part.endswith("rear") and "laden" in f.subject]
        assert {f.kind for f in found} == {kind}, found


@pytest.mark.parametrize(("governed", "fastest"), [(3000, 114.335), (3400, 129.580), (3700, 134.2)])
def test_the_governor_ends_the_top_speed_within_the_curve_or_lets_it_fall_behind_it(
    governed: int, fastest: float
) -> None:
    # 0.39125 m and 0.9 · 4.3 in top: 3000 r/min are 114.3 km/h and 3400, where the curve ends, 129.6. Beyond it the
    # torque falls to nothing at 3700 r/min, and the road takes what is left at 134.2 km/h
    edits = {"engine.speed.governed_max": f"{governed} r/min"}
    assert value("gearing.top-speed", edits) == pytest.approx(fastest, abs=0.05)


def test_a_vehicle_that_no_gear_moves_has_no_top_speed() -> None:
    # nine tenths of 2800 kg to pull along take 24.7 kN, and first gear gives 14.5
    with pytest.raises(ValueError, match="no gear can hold any speed on the level"):
        value("gearing.top-speed", {"vehicle.rolling_resistance.road": 0.9})


@pytest.mark.parametrize(("lacks", "compared"), [(("idle", "rated"), True), (("idle", "rated", "governed_max"), False)])
def test_one_speed_alone_is_in_no_order(lacks: tuple[str, ...], compared: bool) -> None:
    edits: dict[str, Any] = {f"engine.speed.{name}": None for name in lacks}
    demands = {found.demand for found in trial("gearing.engine-overspeed", edits)}
    assert ("in-order" in demands) is compared


def test_the_gear_for_a_descent_counts_low_range_in_place_of_high() -> None:
    # 40 km/h at r = 3.05·806/(2π) = 391.25 mm turn the wheels 28.40 rad/s; 3700 r/min are 387.5 rad/s: up to 13.64.
    # With 1.25 in high: 4.3·1.25·(2.6, 1.6) = 13.98, 8.6; low 4.3·2.5·(1.6, 1.15, 0.9) = 17.2, 12.36, 9.68
    found = quantities.descent_gear(build({"driveline.transfer.high": 1.25}))
    assert found.ratio == pytest.approx(12.3625)
    assert found.name == "gear 4 of the low range"
