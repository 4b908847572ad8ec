"""Tank, vent, heat and change of fuel on the sound spec. Expected numbers are worked out beside each test."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
from advising import advised
from fuel_numbers import (
    CONVERSION,
    RETURN_FLOW,
    RHO_WARM,
    TANK,
    VENT,
)

from swaplint.kit.trial import one, trial, value


class TestTank:
    @pytest.mark.parametrize(
        ("height", "kind"), [("14.9 mm", "fail"), ("15 mm", "pass"), ("30 mm", "pass"), ("30.1 mm", "fail")]
    )
    def test_mouth_height(self, height: str, kind: str) -> None:
        found = one("fuel.pickup-position", {f"{TANK}.pickup_height": height}, demand="height")
        assert (found.kind, found.subject) == (kind, f"{TANK}.pickup_height")

    def test_a_pipe_that_ends_right(self) -> None:
        # the sound tank is 245 mm high: 225 mm of pipe end 20 mm above the floor
        found = one("fuel.pickup-position", {f"{TANK}.pickup_height": "5 mm"})
        assert "A pipe of 225 mm below the tank's top ends 20 mm above the floor" in found.message
        assert advised(found) == {f"{TANK}.pickup_height": pytest.approx(0.020)}

    def test_the_nearest_place_is_advised(self) -> None:
        found = one("fuel.pickup-position", {f"{TANK}.pickup_x": "-390 mm"})
        assert advised(found) == {f"{TANK}.pickup_x": pytest.approx(-0.120)}

    @pytest.mark.parametrize(("x", "kind"), [("119 mm", "pass"), ("121 mm", "fail"), ("-390 mm", "fail")])
    def test_offset_of_the_length(self, x: str, kind: str) -> None:
        # 15 % of 800 mm is 120 mm; -390 mm is at the back wall
        found = one("fuel.pickup-position", {f"{TANK}.pickup_x": x})
        assert found.kind == kind
        if kind == "fail":
            assert (found.level, found.subject) == ("warning", f"{TANK}.pickup_x")

    def test_open_without_a_place(self) -> None:
        assert one("fuel.pickup-position", {f"{TANK}.pickup_x": None}, stage="quote").kind == "open"
        assert one("fuel.pickup-position", {f"{TANK}.pickup_x": None}, stage="build").due

    def test_unusable(self) -> None:
        # 20 mm over 800 · 450 mm
        assert value("fuel.unusable") == pytest.approx(7.2)

    def test_covering_volume_of_a_wedge(self) -> None:
        # One tilt of θ, pick-up in the middle: the surface meets the floor at a distance h/tan θ up the slope and
        # stands h + (ℓ/2)·tan θ high at the low end: V = w·h_L²/(2·tan θ); 30°, 950 · 420 mm, 25 mm up.
        edits = {
            f"{TANK}.length": "950 mm",
            f"{TANK}.width": "420 mm",
            f"{TANK}.height": "360 mm",
            f"{TANK}.pickup_height": "25 mm",
            f"{TANK}.pickup_x": "0 mm",
            "build.design.tilt_long": "30 deg",
            "build.design.tilt_side": "0 deg",
        }
        low = 0.025 + 0.475 * math.tan(math.radians(30))
        assert low < 0.360
        expected = 0.420 * low**2 / (2 * math.tan(math.radians(30))) * 1e3
        assert value("fuel.covering-volume", edits) == pytest.approx(expected, rel=1e-6)
        assert expected == pytest.approx(32.6, abs=0.05)

    def test_both_tilts_together_take_more(self) -> None:
        level = {"build.design.tilt_side": "0 deg"}
        assert value("fuel.covering-volume") > value("fuel.covering-volume", level)

    def test_share_boundary(self) -> None:
        needed = value("fuel.covering-volume")
        lamp = {f"{TANK}.low_level_lamp": "60 L"}
        inside = {**lamp, f"{TANK}.capacity": f"{needed / 0.2499} L"}
        outside = {**lamp, f"{TANK}.capacity": f"{needed / 0.2501} L"}
        assert one("fuel.tilt-uncovering", inside).kind == "pass"
        assert one("fuel.tilt-uncovering", outside).kind == "fail"

    def test_on_the_road_a_tenth(self) -> None:
        found = one("fuel.tilt-uncovering", {"build.duty.terrain": "road"}, demand="covering-share")
        assert found.kind == "fail"
        assert "In the middle of the tank it would take" in found.message
        assert found.limit is not None
        assert found.limit.value == pytest.approx(0.10)

    @pytest.mark.parametrize(("pot", "kind"), [("1.01 L", "pass"), ("0.99 L", "fail")])
    def test_swirl_pot(self, pot: str, kind: str) -> None:
        edits = {"build.duty.terrain": "road", f"{TANK}.swirl_pot": {"volume": pot}}
        assert one("fuel.tilt-uncovering", edits).kind == kind

    def test_lamp(self) -> None:
        needed = value("fuel.covering-volume")
        below = one("fuel.tilt-uncovering", {f"{TANK}.low_level_lamp": f"{needed * 0.99} L"})
        assert (below.kind, below.subject) == ("fail", f"{TANK}.low_level_lamp")
        assert advised(below) == {f"{TANK}.low_level_lamp": pytest.approx(needed / 1e3)}
        assert one("fuel.tilt-uncovering", {f"{TANK}.low_level_lamp": f"{needed * 1.01} L"}).kind == "pass"

    def test_tilt_open_without_a_pot_stated(self) -> None:
        assert one("fuel.tilt-uncovering", {f"{TANK}.swirl_pot": None}, stage="quote").kind == "open"

    def test_range(self) -> None:
        # (85 L - what covers the pick-up) / 12 L/100 km
        expected = (85.0 - value("fuel.covering-volume")) / 12.0 * 100.0
        assert value("fuel.range") == pytest.approx(expected, rel=1e-9)
        assert one("fuel.range-reserve", {"build.design.range_target": f"{expected - 1} km"}).kind == "pass"
        short = one("fuel.range-reserve", {"build.design.range_target": f"{expected + 1} km"})
        assert (short.kind, short.level, short.subject) == ("fail", "note", f"{TANK}.capacity")
        # 1 km more at 12 L/100 km: 0.12 L
        assert advised(short) == {f"{TANK}.capacity": pytest.approx(85.12e-3)}
        missing = one("fuel.range-reserve", {"plumbing.fuel.consumption": None})
        assert (missing.kind, missing.due) == ("open", True)

    def test_standing_work(self) -> None:
        hours = (85.0 - value("fuel.covering-volume")) / 5.0
        good, bad = ({"build.duty.stationary_hours": f"{hours * f} h"} for f in (0.99, 1.01))
        assert one("fuel.range-reserve", good).kind == "pass"
        found = one("fuel.range-reserve", bad)
        assert (found.kind, found.demand) == ("fail", "standing-work")
        assert advised(found) == {f"{TANK}.capacity": pytest.approx((85.0 + 0.01 * hours * 5.0) / 1e3)}


class TestVenting:
    def test_drop(self) -> None:
        # 24 L/h of air of 1.225 kg/m³ through 8 mm: v = 0.1326 m/s, ν = 1.46e-5, Re = 73, laminar: f·L/D = 64/73·150 =
        # 132; (132 + 1.5)·1.225·0.1326²/2 = 1.44 Pa, and 100 Pa that open the valve
        assert value("fuel.vent-drop") == pytest.approx(0.1014, rel=2e-3)

    def test_filling_through_the_vent(self) -> None:
        # 40 L/min through 8 mm: v = 13.26 m/s, Re = 7260, f = 0.0338 (smooth, Blasius 0.316/Re^0.25 = 0.0342);
        # (0.0342·150 + 1.5)·1.225·13.26²/2 = 714 Pa and 100 Pa
        edits = {f"{TANK}.filler_breather": False}
        assert value("fuel.vent-drop", edits) == pytest.approx(0.814, rel=0.02)
        found = one("fuel.venting", edits)
        assert (found.kind, found.subject) == ("fail", f"{VENT}.bore")

    def test_no_vent(self) -> None:
        found = one("fuel.venting", {VENT: {"fitted": False}})
        assert (found.kind, found.level, found.subject) == ("fail", "error", VENT)

    def test_unknown_is_not_absent(self) -> None:
        found = one("fuel.venting", {VENT: None}, stage="plan")
        assert (found.kind, found.unknown) == ("open", (VENT,))

    @pytest.mark.parametrize(
        ("edits", "on", "level"),
        [
            ({"path": "cap-only"}, "path", "error"),
            ({"rollover_valve": False}, "rollover_valve", "error"),
            ({"clear_of_heat": False}, "clear_of_heat", "error"),
            ({"end_height": "299 mm"}, "end_height", "error"),
            ({"bore": "5.9 mm"}, "bore", "warning"),
            ({"opening_pressure": "0.6 kPa"}, "bore", "error"),
        ],
    )
    def test_each_demand(self, edits: dict[str, Any], on: str, level: str) -> None:
        found = one("fuel.venting", {f"{VENT}.{key}": entry for key, entry in edits.items()})
        assert (found.kind, found.level, found.subject) == ("fail", level, f"{VENT}.{on}")

    def test_just_inside(self) -> None:
        edits = {f"{VENT}.bore": "6 mm", f"{VENT}.end_height": "300 mm", f"{VENT}.opening_pressure": "0.49 kPa"}
        assert one("fuel.venting", edits).kind == "pass"

    def test_petrol_breathes_through_a_canister(self) -> None:
        petrol = {"engine.fuel_type": "petrol"}
        assert one("fuel.venting", petrol, demand="canister").subject == f"{VENT}.path"
        through = {**petrol, f"{VENT}.path": "canister"}
        assert one("fuel.venting", through).subject == "plumbing.fuel.canister"
        assert one("fuel.venting", {**through, "plumbing.fuel.canister": {"purged": True}}).kind == "pass"
        assert one("fuel.venting", {**through, "plumbing.fuel.canister": {"purged": False}}).kind == "fail"

    @pytest.mark.parametrize(
        ("year", "had", "purges", "kind"),
        [
            (1998, None, None, "fail"),
            (1993, None, None, "fail"),
            (1992, None, None, "open"),
            (1964, False, None, "open"),
            (1964, False, False, "pass"),
            (1998, False, False, "pass"),
            (1964, True, None, "fail"),
            (1964, None, True, "fail"),
        ],
    )
    def test_a_vehicle_that_never_had_a_canister(
        self, year: int, had: bool | None, purges: bool | None, kind: str
    ) -> None:
        edits = {
            "engine.fuel_type": "petrol",
            "vehicle.first_registered": year,
            "vehicle.original.canister": had,
            "engine.fuel.canister_purge": purges,
        }
        assert one("fuel.venting", edits, demand="canister").kind == kind


class TestConversion:
    def test_same_fuel(self) -> None:
        assert one("fuel.tank-conversion", {"vehicle.original.fuel_type": "diesel"}).kind == "notApplicable"

    @pytest.mark.parametrize(
        "item",
        ["tank_cleaned", "pickup_renewed", "seals_suit_fuel", "filler_suits_nozzle", "labelled", "sender_matched"],
    )
    def test_each_item(self, item: str) -> None:
        found = one("fuel.tank-conversion", {f"{CONVERSION}.{item}": False})
        assert (found.kind, found.level, found.subject) == ("fail", "error", f"{CONVERSION}.{item}")

    def test_a_new_tank_needs_no_cleaning(self) -> None:
        edits = {f"{TANK}.reused": False, f"{CONVERSION}.tank_cleaned": None, f"{CONVERSION}.pickup_renewed": None}
        assert one("fuel.tank-conversion", edits).kind == "pass"

    def test_canister_left_in_a_diesel(self) -> None:
        found = one("fuel.tank-conversion", {"plumbing.fuel.canister": {"purged": False}})
        assert (found.kind, found.subject) == ("fail", "plumbing.fuel.canister")

    def test_to_petrol_asks_for_static_and_vapour(self) -> None:
        edits = {"vehicle.original.fuel_type": "diesel", "engine.fuel_type": "petrol"}
        found = {f.demand: f.unknown for f in trial("fuel.tank-conversion", edits, stage="plan") if f.kind == "open"}
        assert found == {
            "vapour-tight": (f"{CONVERSION}.vapour_tight",),
            "filler-conductive": (f"{CONVERSION}.filler_conductive",),
        }
        answered = {**edits, f"{CONVERSION}.vapour_tight": True, f"{CONVERSION}.filler_conductive": True}
        assert one("fuel.tank-conversion", answered).kind == "pass"
        assert one("fuel.tank-conversion", {**answered, f"{CONVERSION}.filler_conductive": False}).kind == "fail"


class TestReturnHeating:
    # ρ·Q·c_p·ΔT with 60 L/h and 20 K; surface of an 800 · 450 · 245 mm box
    HEAT = RHO_WARM * RETURN_FLOW * 2000 * 20
    AREA = 2 * (0.8 * 0.45 + 0.8 * 0.245 + 0.45 * 0.245)

    def test_numbers(self) -> None:
        assert value("fuel.return-heat") == pytest.approx(self.HEAT / 1e3, rel=1e-5)
        assert value("fuel.tank-surface") == pytest.approx(self.AREA, rel=1e-9)
        # moving air, 25 W/(m² K): 40 °C + Q/(U·A)
        assert value("fuel.tank-temperature") == pytest.approx(40 + self.HEAT / (25 * self.AREA), rel=1e-4)

    def test_standing_work_is_in_still_air(self) -> None:
        edits = {"build.duty.stationary_power": "20 kW"}
        assert value("fuel.tank-temperature", edits) == pytest.approx(40 + self.HEAT / (10 * self.AREA), rel=1e-4)

    @pytest.mark.parametrize(("beyond", "kind"), [(0.1, "pass"), (-0.1, "fail")])
    def test_boundary(self, beyond: float, kind: str) -> None:
        settled = 40 + self.HEAT / (25 * self.AREA)
        assert one("fuel.return-heating", {"engine.fuel.inlet_temp_max": f"{settled + beyond} degC"}).kind == kind

    def test_a_tank_that_is_empty_before_it_is_hot(self) -> None:
        # standing, 10 W/(m² K)·1.331 m² = 13.3 W/K; 60 L/h burnt carry 60/3.6e6·ρ·2000 = 27.3 W/K. With the mass
        # falling to the 7.2 of 85 L under the pick-up the rise is 1 - (7.2/85)^(13.3/27.3) of the settled one
        # (m·c·dT/dt = Q - UA·ΔT, integrated); 1 - 0.300
        edits = {"build.duty.stationary_power": "20 kW", "plumbing.fuel.stationary_burn": "60 L/h"}
        ratio = 10 * self.AREA / (60 / 3.6e6 * RHO_WARM * 2000)
        share = 1 - (0.8 * 0.45 * 0.02 / 0.085) ** ratio
        assert 0.69 < share < 0.71
        settled = self.HEAT / (10 * self.AREA)
        assert value("fuel.tank-temperature", edits) == pytest.approx(40 + settled * share, rel=1e-4)
        unknown = {**edits, "plumbing.fuel.stationary_burn": None}
        assert value("fuel.tank-temperature", unknown) == pytest.approx(40 + settled, rel=1e-4)

    def test_cooler(self) -> None:
        # U·A = 10·1.331 = 13.3 W/K; from 40 to 60 °C it gives off 266 W, a cooler must take the rest of the 545 W
        edits = {"build.duty.stationary_power": "20 kW", "engine.fuel.inlet_temp_max": "60 degC"}
        found = one("fuel.return-heating", edits)
        needed = (self.HEAT - 10 * self.AREA * 20) / 1e3
        assert found.kind == "fail"
        named = re.search(r"return cooler of ([\d.]+) kW would", found.message)
        assert named is not None
        ordered = {"duty": f"{named.group(1)} kW", "drop": "1 kPa"}
        assert one("fuel.return-heating", {**edits, "plumbing.fuel.cooler": ordered}).kind == "pass"
        assert float(named.group(1)) == pytest.approx(needed, rel=2e-3)
        small = {**edits, "plumbing.fuel.cooler": {"duty": "0.1 kW", "drop": "1 kPa"}}
        assert advised(one("fuel.return-heating", small)) == {
            "plumbing.fuel.cooler.duty": pytest.approx(needed * 1e3, rel=1e-4)
        }
        just = {**edits, "plumbing.fuel.cooler": {"duty": f"{needed * 1.001} kW", "drop": "1 kPa"}}
        assert one("fuel.return-heating", just).kind == "pass"

    def test_plastic_tank(self) -> None:
        edits = {f"{TANK}.material": "plastic", "engine.fuel.inlet_temp_max": "90 degC"}
        limit = one("fuel.return-heating", edits).limit
        assert limit is not None
        assert limit.value == pytest.approx(333.15)

    def test_open_and_returnless(self) -> None:
        assert one("fuel.return-heating", {"plumbing.fuel.cooler": None}, stage="quote").kind == "open"
        assert one("fuel.return-heating", {"engine.fuel.return_flow": "0 L/h"}).kind == "notApplicable"


@pytest.mark.parametrize(
    ("labelled", "says"),
    [(True, "The filler says which fuel goes in."), (False, "The filler does not say which fuel goes in")],
)
def test_what_is_done_is_not_said_to_be_undone(labelled: bool, says: str) -> None:
    edits = {"vehicle.original.fuel_type": "petrol", f"{CONVERSION}.labelled": labelled}
    assert one("fuel.tank-conversion", edits, demand="labelled").message.startswith(says)
