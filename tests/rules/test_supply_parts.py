"""Parts that are needed, that stay unused, and sizes that the engine's maker asks for, on the sound spec."""

from __future__ import annotations

import pytest

from swaplint.kit.trial import of_part, one, trial

NEEDED, UNUSED, SIZES = "supply.needed-parts", "supply.unused-parts", "supply.prescribed-sizes"
ASKED, DONE = "engine.prescribed", "vehicle.optional_parts"


class TestNeeded:
    def test_consumers_without_an_alternator(self) -> None:
        found = one(NEEDED, {"engine.alternator": {"fitted": False}}, demand="alternator")
        assert (found.kind, found.level) == ("fail", "error")

    def test_a_control_unit_alone_needs_an_alternator(self) -> None:
        edits = {"engine.alternator": {"fitted": False}, "electrics.loads": {}}
        assert one(NEEDED, edits, demand="alternator").kind == "fail"

    def test_whether_anything_takes_current_is_asked(self) -> None:
        # an engine without a control unit: an empty list of consumers is a gap, a vehicle has lamps at least
        for unsaid in ({}, None):
            edits = {"engine.alternator": {"fitted": False}, "engine.ecm.fitted": False, "electrics.loads": unsaid}
            assert one(NEEDED, edits, demand="alternator").kind == "open"

    def test_a_road_vehicle_needs_a_speedometer(self) -> None:
        found = one(NEEDED, {"driveline.speedometer": {"fitted": False}}, demand="speedometer")
        assert (found.kind, found.level) == ("fail", "error")


class TestUnused:
    DRIVE = "engine.optional_parts.pump_drive"

    @pytest.mark.parametrize(
        ("done", "kind"),
        [(["closed", "lubricated"], "pass"), (["lubricated", "closed", "plugged"], "pass"), (["closed"], "fail")],
    )
    def test_all_that_is_asked_is_done(self, done: list[str], kind: str) -> None:
        found = of_part(UNUSED, self.DRIVE, {f"{DONE}.pump_drive.done": done})
        assert found.kind == kind
        if kind == "fail":
            assert "not lubricated" in found.message

    def test_used_or_unknown(self) -> None:
        assert of_part(UNUSED, self.DRIVE, {f"{DONE}.pump_drive.used": True}).kind == "notApplicable"
        assert of_part(UNUSED, self.DRIVE, {f"{DONE}.pump_drive": None}).kind == "review"
        assert of_part(UNUSED, self.DRIVE, {f"{DONE}.pump_drive.done": None}).kind == "open"
        assert of_part(UNUSED, self.DRIVE, {DONE: None}).kind == "open"

    def test_a_package_without_optional_parts(self) -> None:
        assert one(UNUSED, {"engine.optional_parts": {}}).kind == "notApplicable"
        assert one(UNUSED, {"engine.optional_parts": None}).kind == "open"


class TestSizes:
    @pytest.mark.parametrize(
        ("demand", "field", "just", "beyond"),
        [
            # the sound spec has 10 mm, 8 mm, 20 µm, 50 mm², 64 mm and 100 kPa
            ("fuel-supply", "fuel_supply_bore_min", "10 mm", "10.1 mm"),
            ("fuel-return", "fuel_return_bore_min", "8 mm", "8.1 mm"),
            ("primary-filter", "primary_filter_fineness_max", "20 µm", "19 µm"),
            ("starter-cable", "starter_cable_min", "50 mm2", "70 mm2"),
            ("harness-hole", "harness_hole_min", "64 mm", "65 mm"),
            ("cap", "cap_pressure_max", "100 kPa", "99 kPa"),
        ],
    )
    def test_boundaries(self, demand: str, field: str, just: str, beyond: str) -> None:
        assert one(SIZES, {f"{ASKED}.{field}": just}, demand=demand).kind == "pass"
        found = one(SIZES, {f"{ASKED}.{field}": beyond}, demand=demand)
        assert (found.kind, found.level) == ("fail", "error")

    def test_what_the_maker_does_not_prescribe_is_not_judged(self) -> None:
        sizes = ("fuel_supply_bore_min", "fuel_return_bore_min", "primary_filter_fineness_max", "starter_cable_min")
        nothing = dict.fromkeys((*sizes, "harness_hole_min", "cap_pressure_max"), "none")
        assert {f.kind for f in trial(SIZES, {ASKED: nothing})} == {"notApplicable"}
        judged = trial(SIZES, {ASKED: {**nothing, "cap_pressure_max": "110 kPa"}})
        assert {f.demand for f in judged if f.kind == "pass"} == {"cap"}

    def test_what_nobody_looked_up_is_asked_for(self) -> None:
        assert {f.kind for f in trial(SIZES, {ASKED: None})} == {"open"}
        found = one(SIZES, {f"{ASKED}.cap_pressure_max": None}, demand="cap")
        assert (found.kind, found.due, found.unknown) == ("open", True, (f"{ASKED}.cap_pressure_max",))
        assert 'is answered "none"' in found.message

    def test_a_filter_that_is_asked_for_and_missing(self) -> None:
        assert one(SIZES, {"plumbing.fuel.filters.primary": {"fitted": False}}, demand="primary-filter").kind == "fail"

    def test_unknown_bore_is_open(self) -> None:
        found = one(SIZES, {"plumbing.fuel.supply.bore": None}, demand="fuel-supply")
        assert (found.kind, found.unknown) == ("open", ("plumbing.fuel.supply.bore",))


class TestJoints:
    RULE = "supply.interface-adapters"
    PUMP, HEATER = "joints.lift_pump", "joints.heater_stub"

    @pytest.mark.parametrize(
        ("edit", "kind"),
        [
            ({}, "pass"),
            ({"joints.lift_pump.other.size": "m16 × 1,5"}, "pass"),
            ({"joints.lift_pump.other.size": "M16x2"}, "fail"),
            ({"joints.lift_pump.other.form": "unified-thread"}, "fail"),
            ({"joints.lift_pump.other.side": "inner"}, "fail"),
            ({"joints.lift_pump.one.side": "alike", "joints.lift_pump.other.side": "alike"}, "pass"),
            ({"joints.lift_pump.one.side": "alike"}, "fail"),
        ],
    )
    def test_form_size_and_side(self, edit: dict[str, object], kind: str) -> None:
        found = of_part(self.RULE, self.PUMP, edit)
        assert (found.kind, found.level) == (kind, "error" if kind == "fail" else None)

    def test_what_is_no_danger_is_a_warning(self) -> None:
        found = of_part(self.RULE, self.HEATER, {"supply[10].joins": []})
        assert (found.kind, found.level) == ("fail", "warning")
        assert "19 mm inner and 16 mm inner (hose) do not fit" in found.message

    def test_an_adapter_has_a_supplier(self) -> None:
        differs = {"joints.lift_pump.other.size": "M18x1.5"}
        assert of_part(self.RULE, self.PUMP, differs | {"supply[11].joins": ["lift_pump"]}).kind == "pass"
        nobody = {"supply[11].joins": ["lift_pump"], "supply[11].by": "not-required"}
        assert of_part(self.RULE, self.PUMP, differs | nobody).kind == "fail"

    def test_threads_known_by_eye_are_left_to_a_gauge(self) -> None:
        assert of_part(self.RULE, self.PUMP, {"joints.lift_pump.known_by": "eye"}).kind == "review"
        joined = {"joints.lift_pump.known_by": "eye", "joints.lift_pump.other.size": "M18x1.5"}
        assert of_part(self.RULE, self.PUMP, joined | {"supply[11].joins": ["lift_pump"]}).kind == "review"
        assert of_part(self.RULE, self.HEATER, {"joints.heater_stub.known_by": "eye"}).kind == "pass"  # hoses

    def test_joints_that_nobody_listed_are_asked_for(self) -> None:
        found = one(self.RULE, {"joints": None})
        assert (found.kind, found.due, found.unknown) == ("open", True, ("joints",))
        assert {f.kind for f in trial(self.RULE, {"joints": {}})} == {"notApplicable"}
