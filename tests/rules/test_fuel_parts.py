"""Filters, cold, materials, routes and the injection side on the sound spec."""

from __future__ import annotations

from typing import Any

import pytest
from advising import advised
from fuel_numbers import (
    FED,
    FEED_PUMP,
    FILTERS,
    FLOW,
    HIGH_PRESSURE,
    PUMP,
    RETURN,
    RHO_COLD,
    ROUTES,
    SUPPLY,
    TANK,
)

from swaplint.kit.trial import of_part, one, trial, value


class TestFiltration:
    def test_sound(self) -> None:
        assert one("fuel.filtration").kind == "pass"

    @pytest.mark.parametrize(("flow", "kind"), [("90 L/h", "pass"), ("89 L/h", "fail"), ("24 L/h", "fail")])
    def test_supply_flow_not_burn(self, flow: str, kind: str) -> None:
        found = one("fuel.filtration", {f"{FILTERS}.primary.rated_flow": flow})
        assert found.kind == kind
        if kind == "fail":
            assert (found.level, found.subject) == ("warning", f"{FILTERS}.primary.rated_flow")
            assert "24 L/h" in found.message

    def test_water(self) -> None:
        none = one("fuel.filtration", {f"{FILTERS}.primary.water_separator": False})
        assert (none.kind, none.level, none.subject) == ("fail", "error", f"{FILTERS}.primary.water_separator")
        dumb = one("fuel.filtration", {f"{FILTERS}.primary.water_sensor": False})
        assert (dumb.kind, dumb.level, dumb.subject) == ("fail", "warning", f"{FILTERS}.primary.water_sensor")

    def test_petrol_needs_no_water_bowl(self) -> None:
        edits = {
            "engine.fuel_type": "petrol",
            "engine.fuel.injection": "direct-petrol",
            f"{FILTERS}.primary.water_separator": False,
        }
        assert one("fuel.filtration", edits).kind == "pass"

    @pytest.mark.parametrize(("fineness", "kind"), [("5 µm", "pass"), ("5.1 µm", "fail")])
    def test_final(self, fineness: str, kind: str) -> None:
        found = one("fuel.filtration", {f"{FILTERS}.final.fineness": fineness}, demand="final-fineness.final")
        assert (found.kind, found.subject) == (kind, f"{FILTERS}.final.fineness")

    @pytest.mark.parametrize(("fineness", "kind"), [("10 µm", "pass"), ("9 µm", "fail"), ("31 µm", "fail")])
    def test_primary(self, fineness: str, kind: str) -> None:
        assert one("fuel.filtration", {f"{FILTERS}.primary.fineness": fineness}).kind == kind

    @pytest.mark.parametrize(
        ("fuel", "injection", "most"),
        [
            ("diesel", "common-rail", 5.0),
            ("diesel", "mechanical-injection", 12.0),
            ("petrol", "direct-petrol", 10.0),
            ("petrol", "port-petrol", 40.0),
            ("petrol", "carburettor", 40.0),
        ],
    )
    def test_final_by_what_it_protects(self, fuel: str, injection: str, most: float) -> None:
        edits = {
            "engine.fuel_type": fuel,
            "engine.fuel.injection": injection,
            "engine.fuel.final_filter_fineness": None,
        }
        for fineness, kind in ((most, "pass"), (most + 0.1, "fail")):
            found = one(
                "fuel.filtration",
                {**edits, f"{FILTERS}.final.fineness": f"{fineness} µm"},
                demand="final-fineness.final",
            )
            assert found.kind == kind
            assert found.practices

    def test_the_packages_own_final_filter_counts(self) -> None:
        edits = {f"{FILTERS}.final": None, "engine.fuel.own_final_filter": True}
        assert one("fuel.filtration", edits, demand="final-fitted").kind == "pass"
        edits["engine.fuel.own_final_filter"] = False
        assert one("fuel.filtration", edits, demand="final-fitted").kind == "fail"

    @pytest.mark.parametrize(
        ("fuel", "injection", "level"),
        [("diesel", "common-rail", "error"), ("diesel", "mechanical-injection", "warning")],
    )
    def test_every_diesel_pump_wants_its_water_parted_off(self, fuel: str, injection: str, level: str) -> None:
        edits = {"engine.fuel_type": fuel, "engine.fuel.injection": injection}
        dry = {**edits, f"{FILTERS}.primary.water_separator": False}
        found = one("fuel.filtration", dry, demand="water-separator")
        assert (found.kind, found.level) == ("fail", level)
        assert one("fuel.filtration", edits, demand="water-separator").kind == "pass"

    def test_no_final_filter(self) -> None:
        found = one("fuel.filtration", {f"{FILTERS}.final": None})
        assert (found.kind, found.demand, found.subject) == ("fail", "final-fitted", FILTERS)

    def test_each_filter_is_judged_by_itself(self) -> None:
        edits = {f"{FILTERS}.primary.rated_flow": "40 L/h", f"{FILTERS}.final.rated_flow": "50 L/h"}
        fails = {f.demand: f.found for f in trial("fuel.filtration", edits) if f.kind == "fail"}
        assert fails == {
            "flow.primary": pytest.approx(40 / 3.6e6),
            "flow.final": pytest.approx(50 / 3.6e6),
        }

    def test_one_behind_the_final(self) -> None:
        extra = {"stage": "extra", "place": "engine", "fineness": "5 µm", "rated_flow": "200 L/h"}
        found = one("fuel.filtration", {f"{FILTERS}.last-chance": extra})
        assert (found.kind, found.subject) == ("fail", f"{FILTERS}.last-chance.stage")
        allowed = {f"{FILTERS}.last-chance": extra, "engine.fuel.extra_filter_allowed": True}
        assert one("fuel.filtration", allowed).kind == "pass"

    def test_open(self) -> None:
        found = one("fuel.filtration", {f"{FILTERS}.primary.rated_flow": None}, stage="plan")
        assert (found.kind, found.unknown) == ("open", (f"{FILTERS}.primary.rated_flow",))


class TestCold:
    @pytest.mark.parametrize(("cfpp", "kind"), [("-15 degC", "pass"), ("-14 degC", "pass"), ("-10 degC", "fail")])
    def test_grade_and_heater(self, cfpp: str, kind: str) -> None:
        # ρ·Q·c_p = 861·2.5e-5·2000 = 43 W/K: 200 W heat the flow by 4.6 K, which do for -14 but not for -10 °C
        found = one("fuel.cold-flow", {"plumbing.fuel.grade.cfpp": cfpp})
        assert (found.kind, found.subject) == (kind, "plumbing.fuel.grade.cfpp")
        if kind == "fail":
            assert advised(found) == {"plumbing.fuel.grade.cfpp": pytest.approx(258.15)}

    def test_heater_power(self) -> None:
        edits = {"plumbing.fuel.grade.cfpp": "-5 degC"}
        assert value("fuel.heater-power-needed", edits) == pytest.approx(RHO_COLD * FLOW * 2000 * 10, rel=1e-4)

    def test_line_heater_counts(self) -> None:
        edits = {"plumbing.fuel.grade.cfpp": "-10 degC", f"{SUPPLY}.heater_power": "100 W"}
        assert one("fuel.cold-flow", edits).kind == "pass"  # 300 W against 215 W

    def test_petrol_and_open(self) -> None:
        assert one("fuel.cold-flow", {"engine.fuel_type": "petrol"}).kind == "notApplicable"
        assert one("fuel.cold-flow", {"plumbing.fuel.grade.cfpp": None}, stage="quote").kind == "open"


class TestMaterials:
    @pytest.mark.parametrize(
        ("edits", "on", "level"),
        [
            ({f"{SUPPLY}.hose_class": "unmarked"}, f"{SUPPLY}.hose_class", "error"),
            ({f"{RETURN}.hose_class": "SAE J30R6"}, f"{RETURN}.hose_class", "error"),
            ({f"{SUPPLY}.hose_temperature": "94 degC"}, f"{SUPPLY}.hose_temperature", "error"),
            # fuel of 75 °C at the engine comes back 20 K hotter: 95 °C
            (
                {f"{RETURN}.hose_temperature": "94 degC", f"{RETURN}.surroundings_max": "60 degC"},
                f"{RETURN}.hose_temperature",
                "error",
            ),
            (
                {f"{SUPPLY}.hose_temperature": "74 degC", f"{SUPPLY}.surroundings_max": "60 degC"},
                f"{SUPPLY}.hose_temperature",
                "error",
            ),
            ({f"{SUPPLY}.material": "copper"}, f"{SUPPLY}.material", "warning"),
            ({f"{TANK}.material": "galvanised-steel"}, f"{TANK}.material", "warning"),
            ({f"{TANK}.material": "terne-steel"}, f"{TANK}.material", "warning"),
            ({**FED, f"{SUPPLY}.hose_pressure": "30 kPa"}, f"{SUPPLY}.hose_pressure", "error"),
        ],
    )
    def test_each_demand(self, edits: dict[str, Any], on: str, level: str) -> None:
        found = one("fuel.materials", edits)
        assert (found.kind, found.level, found.subject) == ("fail", level, on)

    def test_terne_without_biodiesel(self) -> None:
        edits = {f"{TANK}.material": "terne-steel", "plumbing.fuel.grade.biodiesel": "0 %"}
        assert one("fuel.materials", edits).kind == "pass"

    def test_just_inside(self) -> None:
        assert one("fuel.materials", {f"{SUPPLY}.hose_temperature": "95 degC"}).kind == "pass"

    def test_petrol_in_tank_pump(self) -> None:
        edits: dict[str, Any] = {
            "engine.fuel_type": "petrol",
            "engine.fuel.injection": "direct-petrol",
            "engine.fuel.return_flow": "0 L/h",
            PUMP: {**FEED_PUMP, "kind": "in-tank-electric", "pressure": "500 kPa"},
            f"{SUPPLY}.hose_class": "SAE J30R9",
            f"{TANK}.inner_hose": "SAE J30R10",
        }
        assert one("fuel.materials", edits).kind == "pass"
        inner = one("fuel.materials", {**edits, f"{TANK}.inner_hose": "other"})
        assert (inner.kind, inner.subject) == ("fail", f"{TANK}.inner_hose")
        assert advised(inner) == {f"{TANK}.inner_hose": "SAE J30R10"}
        clamps = one("fuel.materials", {**edits, f"{SUPPLY}.clamps": "worm-drive"})
        assert (clamps.kind, clamps.level, clamps.subject) == ("fail", "warning", f"{SUPPLY}.clamps")
        assert one("fuel.materials", {**edits, f"{SUPPLY}.hose_class": "SAE J30R13"}).kind == "fail"

    def test_open(self) -> None:
        found = one("fuel.materials", {f"{SUPPLY}.hose_class": None}, stage="plan")
        assert (found.kind, found.demand, found.unknown) == ("open", "hose-class", (f"{SUPPLY}.hose_class",))

    def test_an_unknown_return_flow_hides_nothing(self) -> None:
        edits = {"engine.fuel.return_flow": None, f"{RETURN}.material": "copper"}
        assert one("fuel.materials", edits, demand="return-material").kind == "fail"

    def test_a_hose_class_that_suits_is_advised(self) -> None:
        found = one("fuel.materials", {f"{SUPPLY}.hose_class": "SAE J30R6"})
        assert advised(found).keys() == {f"{SUPPLY}.hose_class"}
        assert one("fuel.materials", advised(found)).kind == "pass"


class TestRouting:
    @pytest.mark.parametrize(
        ("part", "edits", "kind"),
        [
            ("engine-bay", {"gap_to_exhaust": "100 mm"}, "pass"),
            ("engine-bay", {"gap_to_exhaust": "99 mm"}, "fail"),
            ("engine-bay", {"gap_to_exhaust": "50 mm", "shielded": True}, "pass"),
            ("engine-bay", {"gap_to_exhaust": "49 mm", "shielded": True}, "fail"),
            ("frame", {"gap_to_exhaust": "50 mm"}, "pass"),
            ("frame", {"gap_to_exhaust": "49 mm"}, "fail"),
            ("tank", {"gap_to_exhaust": "25 mm"}, "pass"),
            ("tank", {"gap_to_exhaust": "24 mm"}, "fail"),
        ],
    )
    def test_gap(self, part: str, edits: dict[str, Any], kind: str) -> None:
        found = of_part("fuel.line-routing", f".{part}", {f"{ROUTES}.{part}.{key}": v for key, v in edits.items()})
        assert found.kind == kind
        if kind == "fail":
            assert (found.level, found.subject) == ("error", f"{ROUTES}.{part}.gap_to_exhaust")

    @pytest.mark.parametrize(
        ("edits", "level"),
        [
            ({"through_cab": True}, "error"),
            ({"clear_of_moving_parts": False}, "error"),
            ({"ahead_of_front_axle": True}, "warning"),
            ({"beyond_width": True}, "warning"),
            ({"below_tank": "51 mm"}, "warning"),
            ({"clip_spacing": "451 mm"}, "warning"),
            ({"flexible_to_engine": False, "reaches": ["tank", "engine"]}, "warning"),
        ],
    )
    def test_each_demand(self, edits: dict[str, Any], level: str) -> None:
        found = of_part("fuel.line-routing", ".frame", {f"{ROUTES}.frame.{key}": v for key, v in edits.items()})
        assert (found.kind, found.level, found.subject) == ("fail", level, f"{ROUTES}.frame.{next(iter(edits))}")

    def test_just_inside(self) -> None:
        edits = {f"{ROUTES}.frame.below_tank": "50 mm", f"{ROUTES}.frame.clip_spacing": "450 mm"}
        assert of_part("fuel.line-routing", ".frame", edits).kind == "pass"

    def test_open_and_none(self) -> None:
        gone = {f"{ROUTES}.frame.gap_to_exhaust": None}
        assert of_part("fuel.line-routing", ".frame", gone, stage="quote").kind == "open"
        assert [f.kind for f in trial("fuel.line-routing", {ROUTES: None}, stage="quote")] == ["open"]
        # every vehicle has fuel lines: none at all is a gap
        assert [(f.kind, f.due) for f in trial("fuel.line-routing", {ROUTES: {}})] == [("open", True)]


class TestHighPressure:
    @pytest.mark.parametrize(
        ("edits", "on"),
        [
            ({"home_made_line": True}, "home_made_line"),
            ({"lines_renewed": False}, "lines_renewed"),
            ({"washers_renewed": False}, "washers_renewed"),
            ({"tightened_to_sheet": False}, "tightened_to_sheet"),
            ({"leak_off_connected": False}, "leak_off_connected"),
        ],
    )
    def test_each_demand(self, edits: dict[str, Any], on: str) -> None:
        found = one("fuel.high-pressure", {f"{HIGH_PRESSURE}.{key}": entry for key, entry in edits.items()})
        assert (found.kind, found.level, found.subject) == ("fail", "error", f"{HIGH_PRESSURE}.{on}")
        assert "Never reuse or bend" in found.cautions[0]

    def test_left_whole(self) -> None:
        edits = {f"{HIGH_PRESSURE}.opened": False, f"{HIGH_PRESSURE}.lines_renewed": None}
        assert one("fuel.high-pressure", edits).kind == "pass"

    def test_open_and_low_pressure(self) -> None:
        assert one("fuel.high-pressure", {f"{HIGH_PRESSURE}.opened": None}, stage="quote").kind == "open"
        assert one("fuel.high-pressure", {"engine.fuel.injection": "carburettor"}).kind == "notApplicable"


# -- what is said, on other builds than the sound one ------------------------------------------------------------------
@pytest.mark.parametrize(
    ("rule", "part", "demand", "edits", "words", "not_said"),
    [
        ("supply-pump", "", "feed-pump", {}, "needs no pump ahead of it", "must be fed"),
        (
            "supply-pump",
            "",
            "feed-pump",
            {"engine.fuel.feed_pump": "required"},
            "the build has none: fit one",
            "no pump",
        ),
        ("supply-pump", "", "feed-pump", FED, "takes a pump ahead", "forbids"),
        (
            "supply-pump",
            "",
            "feed-pump",
            {**FED, "engine.fuel.feed_pump": "forbidden"},
            "forbids a pump",
            "takes a pump",
        ),
        ("supply-pump", "", "stops-with-engine", FED, "The pump stops with the engine", "goes on"),
        (
            "supply-pump",
            "",
            "stops-with-engine",
            {PUMP: {**FEED_PUMP, "stops_with_engine": False}},
            "goes on when the engine stops",
            "The pump stops",
        ),
        (
            "supply-pump",
            "",
            "stops-with-engine",
            {PUMP: {**FEED_PUMP, "kind": "mechanical"}},
            "The pump stops",
            "goes on",
        ),
        ("filtration", "", "flow.primary", {}, "go through it", "burns only"),
        (
            "materials",
            "",
            "hose-class",
            {f"{SUPPLY}.hose_class": "unmarked"},
            "Hose without a mark is wrong",
            "hose hose",
        ),
        (
            "materials",
            "",
            "hose-class",
            {f"{SUPPLY}.hose_class": "SAE J30R6"},
            "SAE J30R6 hose is wrong here: diesel takes SAE J30R13, SAE J30R7, SAE J30R9 or ISO 19013-1. Change it.",
            "without a mark",
        ),
        (
            "line-routing",
            "engine-bay",
            "exhaust-gap",
            {f"{ROUTES}.engine-bay.clearance": "nowhere"},
            "No gap under vehicle.clearances is called nowhere",
            "movement",
        ),
        (
            "line-routing",
            "engine-bay",
            "exhaust-gap",
            {f"{ROUTES}.engine-bay.clearance": "fuel_line"},
            "the engine's movement leaves of the gap fuel_line",
            "No gap",
        ),
    ],
)
def test_what_is_said(rule: str, part: str, demand: str, edits: dict[str, Any], words: str, not_said: str) -> None:
    found = of_part(f"fuel.{rule}", part, edits, demand=demand) if part else one(f"fuel.{rule}", edits, demand=demand)
    assert words in found.message
    assert not_said not in found.message


def test_where_no_bore_would_do_it_is_said_what_stays() -> None:
    # 0.3 m of cold fuel and the filter's 4 kPa: RHO_COLD·9.80665·0.3 + 4 kPa
    stays = RHO_COLD * 9.80665 * 0.3 / 1000 + 4.0
    said = one("fuel.suction-loss", {"engine.fuel.max_inlet_restriction": "1 kPa"}).message
    assert f"lift and filters alone take {stays:.2f} kPa" in said


@pytest.mark.parametrize(("fuel", "ends"), [("diesel", "roll-over valve."), ("petrol", ", through a canister.")])
def test_a_vent_of_petrol_goes_through_a_canister(fuel: str, ends: str) -> None:
    edits = {"plumbing.fuel.vent": {"fitted": False}, "engine.fuel_type": fuel}
    assert one("fuel.venting", edits, demand="vent").message.endswith(ends)
