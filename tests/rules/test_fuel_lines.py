"""The flow of fuel on the sound spec. The expected numbers are worked out beside each test."""

from __future__ import annotations

import math
import re

import fluids
import pytest
from advising import advised
from fuel_numbers import (
    COLD,
    FED,
    FEED_PUMP,
    FILTERS,
    FLOW,
    NU_COLD,
    OLD_PUMP,
    PUMP,
    RETURN,
    RETURN_COLD,
    RHO_COLD,
    RHO_WARM,
    SUPPLY,
    TANK,
    WARM,
)

from swaplint.kit.trial import one, value


class TestPressureBudget:
    def test_viscosity(self) -> None:
        assert value("fuel.viscosity", part="warm") == pytest.approx(2.8, rel=1e-6)
        assert value("fuel.viscosity", part="cold") == pytest.approx(NU_COLD * 1e6, rel=1e-4)
        assert 12.0 < NU_COLD * 1e6 < 16.0

    def test_viscosity_fallback_meets_its_own_point(self) -> None:
        # common practice: 14 mm²/s at -15 °C
        edits = {"plumbing.fuel.grade.viscosity": None}
        assert value("fuel.viscosity", edits, part="cold") == pytest.approx(14.0, rel=1e-6)

    def test_petrol_fallback(self) -> None:
        edits = {"engine.fuel_type": "petrol", "plumbing.fuel.grade.viscosity": None}
        assert value("fuel.viscosity", edits, part="cold") == pytest.approx(0.6)

    def test_density(self) -> None:
        assert value("fuel.density", part="warm") == pytest.approx(RHO_WARM, rel=1e-5)
        assert value("fuel.density", part="cold") == pytest.approx(RHO_COLD, rel=1e-5)

    @pytest.mark.parametrize(("case", "parts"), [("warm", WARM), ("cold", COLD)])
    def test_each_part(self, case: str, parts: tuple[float, ...]) -> None:
        names = ("supply-friction", "supply-fittings", "supply-lift", "filter-drop")
        for name, expected in zip(names, parts, strict=True):
            assert value(f"fuel.{name}", part=case) == pytest.approx(expected, rel=1e-4), name
        assert value("fuel.supply-loss", part=case) == pytest.approx(sum(parts), rel=1e-4)

    def test_turbulent_friction_as_a_library_has_it(self) -> None:
        # 10 L/min of 830 kg/m³ and 3.0 mm²/s through 12 mm: fluids 1.3.1 gives 2691.03 Pa/m, smooth tube of 1.5 µm
        # roughness. At 15 °C the density is the stated one, so the coldest air is put there; the filter is left out.
        edits = {
            "engine.fuel.supply_flow": "10 L/min",
            f"{SUPPLY}.bore": "12 mm",
            f"{SUPPLY}.length": "1 m",
            "plumbing.fuel.grade.density": "830 kg/m3",
            "plumbing.fuel.grade.viscosity": [
                {"temperature": "15 degC", "viscosity": "3 mm2/s"},
                {"temperature": "60 degC", "viscosity": "1.5 mm2/s"},
            ],
            "build.design.ambient_min": "15 degC",
        }
        assert value("fuel.supply-friction", edits, part="cold") == pytest.approx(2.69103, rel=0.02)

    def test_against_the_library_over_bores(self) -> None:
        for bore in (6, 8, 12):
            speed = FLOW / (math.pi / 4 * (bore / 1e3) ** 2)
            reynolds = fluids.Reynolds(V=speed, D=bore / 1e3, nu=2.8e-6)
            factor = fluids.friction_factor(Re=reynolds, eD=1.5e-6 / (bore / 1e3))
            expected = factor * 3.8 / (bore / 1e3) * RHO_WARM * speed**2 / 2e3
            found = value("fuel.supply-friction", {f"{SUPPLY}.bore": f"{bore} mm"}, part="warm")
            assert found == pytest.approx(expected, rel=0.01), bore

    def test_unstated_cold_drop_goes_with_the_viscosity(self) -> None:
        # Darcy: 2 kPa · (ρν)cold/(ρν)warm
        expected = 2.0 * RHO_COLD * NU_COLD / (RHO_WARM * 2.8e-6)
        found = value("fuel.filter-drop", {f"{FILTERS}.primary.drop_cold": None}, part="cold")
        assert found == pytest.approx(expected, rel=1e-4)

    def test_a_filter_in_the_engine_does_not_count(self) -> None:
        assert value("fuel.filter-drop", {f"{FILTERS}.primary.place": "engine"}, part="warm") == 0.0


class TestSuctionLoss:
    def test_cold_decides_and_the_parts_are_said(self) -> None:
        found = one("fuel.suction-loss")
        assert found.kind == "pass"
        assert found.found == pytest.approx(sum(COLD) * 1e3, rel=1e-4)
        assert "cold fuel decides" in found.message
        assert found.subject == f"{SUPPLY}.bore"

    def test_warm_decides_where_it_never_gets_cold(self) -> None:
        edits = {"build.design.ambient_min": "39 degC", f"{FILTERS}.primary.drop_cold": "1.5 kPa"}
        assert "warm fuel decides" in one("fuel.suction-loss", edits).message

    @pytest.mark.parametrize(("limit", "kind"), [(1.001, "pass"), (0.999, "fail")])
    def test_boundary(self, limit: float, kind: str) -> None:
        edits = {"engine.fuel.max_inlet_restriction": f"{sum(COLD) * limit} kPa"}
        assert one("fuel.suction-loss", edits).kind == kind

    def test_remedy_bore(self) -> None:
        # Cold friction goes with 1/D⁴, fittings with 1/D⁴ too: of 5, 6, 8 mm which is the first within 20 kPa?
        moving, still = COLD[0] + COLD[1], COLD[2] + COLD[3]
        fits = [bore for bore in (5, 6, 8, 10) if moving * (10 / bore) ** 4 + still <= 20.0]
        found = one("fuel.suction-loss", {f"{SUPPLY}.bore": "5 mm"})
        assert found.kind == "fail"
        assert advised(found) == {f"{SUPPLY}.bore": pytest.approx(fits[0] / 1e3)}
        assert "hose bore" not in found.message

    def test_no_bore_helps_against_lift_and_filter(self) -> None:
        found = one("fuel.suction-loss", {"engine.fuel.max_inlet_restriction": "5 kPa"})
        assert found.kind == "fail"
        assert "No hose bore" in found.message
        assert found.advice == ()

    def test_open_without_the_sheets_limit_then_due(self) -> None:
        edits = {"engine.fuel.max_inlet_restriction": None}
        assert one("fuel.suction-loss", edits, stage="plan").kind == "open"
        assert not one("fuel.suction-loss", edits, stage="plan").due
        due = one("fuel.suction-loss", edits, stage="quote")
        assert (due.kind, due.due) == ("open", True)
        assert due.unknown == ("engine.fuel.max_inlet_restriction",)

    def test_viscosity_fallback_is_named_and_never_passes_alone_when_built(self) -> None:
        edits = {"plumbing.fuel.grade.viscosity": None}
        quoted = one("fuel.suction-loss", edits, stage="quote")
        assert quoted.kind == "pass"
        assert any("viscosity" in name for name in quoted.practices)
        assert one("fuel.suction-loss", edits, stage="build").kind == "review"

    def test_does_not_apply_to_a_fed_engine(self) -> None:
        assert one("fuel.suction-loss", FED).kind == "notApplicable"
        assert one("fuel.suction-loss", {"engine.fuel.feed": "pressure"}).kind == "notApplicable"


class TestSupplyPump:
    def test_needs_none(self) -> None:
        assert one("fuel.supply-pump").kind == "pass"

    def test_pump_that_fits(self) -> None:
        # needs 5 kPa + 14.x kPa of line; flow there 220 - 60·p/40, times 11.5/13.5
        pressure = 5.0 + sum(COLD)
        flow = (220.0 - 60.0 * pressure / 40.0) * 11.5 / 13.5
        assert value("fuel.feed-pressure-needed", FED) == pytest.approx(pressure, rel=1e-4)
        assert value("fuel.pump-flow", FED) == pytest.approx(flow, rel=1e-4)
        assert value("fuel.feed-flow-needed", FED) == pytest.approx(1.2 * 90)
        assert one("fuel.supply-pump", FED).kind == "pass"

    @pytest.mark.parametrize(("margin", "kind"), [(0.999, "pass"), (1.001, "fail")])
    def test_flow_boundary(self, margin: float, kind: str) -> None:
        flow = (220.0 - 60.0 * (5.0 + sum(COLD)) / 40.0) * 11.5 / 13.5
        found = one("fuel.supply-pump", {**FED, "engine.fuel.feed_flow_margin": margin * flow / 90.0})
        assert found.kind == kind

    def test_flow_too_small_is_on_the_curve(self) -> None:
        weak = {
            **FEED_PUMP,
            "curve": [{"pressure": "0 kPa", "flow": "90 L/h"}, {"pressure": "40 kPa", "flow": "60 L/h"}],
        }
        found = one("fuel.supply-pump", {**FED, PUMP: weak})
        assert (found.kind, found.subject) == ("fail", f"{PUMP}.curve")

    def test_a_pump_ordered_by_the_printed_numbers_does(self) -> None:
        found = one("fuel.supply-pump", {**FED, PUMP: {**FEED_PUMP, "pressure": "15 kPa"}}, demand="pressure")
        order = re.search(r"needed at the pump is ([\d.]+) L/h at ([\d.]+) kPa", found.message)
        assert order is not None
        flow, pressure = (float(number) for number in order.groups())
        assert 1.2 * 90 <= flow <= 1.002 * 1.2 * 90
        assert 5.0 + sum(COLD) <= pressure <= 1.002 * (5.0 + sum(COLD))
        curve = [{"pressure": "0 kPa", "flow": f"{flow} L/h"}, {"pressure": "60 kPa", "flow": f"{flow} L/h"}]
        pump = {"kind": "mechanical", "pressure": f"{pressure} kPa", "curve": curve}
        assert one("fuel.supply-pump", {**FED, PUMP: pump}).kind == "pass"
        assert advised(found) == {f"{PUMP}.pressure": pytest.approx((5.0 + sum(COLD)) * 1e3, rel=1e-4)}

    def test_pressure_beyond_the_engines(self) -> None:
        # a pump for port injection ahead of a suction diesel: 300 kPa where 40 are allowed
        found = one("fuel.supply-pump", {**FED, PUMP: {**FEED_PUMP, "pressure": "300 kPa"}})
        assert (found.kind, found.subject) == ("fail", f"{PUMP}.pressure")

    def test_pressure_at_the_engine(self) -> None:
        # 15 kPa at the pump less the line leaves less than 5 kPa
        found = one("fuel.supply-pump", {**FED, PUMP: {**FEED_PUMP, "pressure": "15 kPa"}})
        assert (found.kind, found.subject) == ("fail", f"{PUMP}.pressure")

    def test_pump_that_goes_on(self) -> None:
        found = one("fuel.supply-pump", {**FED, PUMP: {**FEED_PUMP, "stops_with_engine": False}})
        assert (found.kind, found.subject) == ("fail", f"{PUMP}.stops_with_engine")

    def test_forbidden_and_required(self) -> None:
        forbidden = one("fuel.supply-pump", {**FED, "engine.fuel.feed_pump": "forbidden"})
        assert (forbidden.kind, forbidden.subject) == ("fail", PUMP)
        required = one("fuel.supply-pump", {"engine.fuel.feed_pump": "required"})
        assert (required.kind, required.subject) == ("fail", PUMP)

    def test_old_pump_in_series(self) -> None:
        found = one("fuel.supply-pump", {OLD_PUMP: {"kind": "mechanical"}})
        assert (found.kind, found.level, found.subject) == ("fail", "error", OLD_PUMP)

    def test_open_where_nobody_says_whether_the_old_pump_is_out(self) -> None:
        found = one("fuel.supply-pump", {OLD_PUMP: None}, stage="plan")
        assert (found.kind, found.demand, found.unknown, found.due) == ("open", "old-pump", (OLD_PUMP,), False)
        assert one("fuel.supply-pump", {OLD_PUMP: None}, stage="quote").due
        # whether the new one suits the engine is judged all the same
        assert one("fuel.supply-pump", {OLD_PUMP: None}, demand="feed-pump").kind == "pass"

    def test_a_carburettor_pump_ahead_of_injection_fails_whatever_its_curve_tells(self) -> None:
        # 300 kPa wanted and 30 kPa there: the flow at 300 kPa, far beyond the curve, is not asked for
        curves = (
            [{"pressure": "0 kPa", "flow": "60 L/h"}, {"pressure": "30 kPa", "flow": "0 L/h"}],
            [{"pressure": "0 kPa", "flow": "60 L/h"}, {"pressure": "25 kPa", "flow": "20 L/h"}],
        )
        for curve in curves:
            pump = {"kind": "mechanical", "pressure": "30 kPa", "curve": curve}
            edits = {"engine.fuel.feed": "pressure", "engine.fuel.inlet_pressure_min": "300 kPa", PUMP: pump}
            found = one("fuel.supply-pump", {**edits, "engine.fuel.inlet_pressure_max": "400 kPa"}, demand="pressure")
            assert (found.kind, found.level, found.subject) == ("fail", "error", f"{PUMP}.pressure")
            assert "which wants 300 kPa" in found.message

    def test_flow_beyond_and_below_the_curve(self) -> None:
        # about 19 kPa are needed at the pump: beyond 15 kPa, where it gives nothing, and below 25 kPa, where it gives
        # 120 L/h or, with less against it, more
        shut = [{"pressure": "0 kPa", "flow": "220 L/h"}, {"pressure": "15 kPa", "flow": "0 L/h"}]
        assert value("fuel.pump-flow", {**FED, PUMP: {**FEED_PUMP, "curve": shut}}) == 0.0
        strong = [{"pressure": "25 kPa", "flow": "120 L/h"}, {"pressure": "60 kPa", "flow": "80 L/h"}]
        edits = {**FED, PUMP: {**FEED_PUMP, "curve": strong}}
        assert value("fuel.pump-flow", edits) == pytest.approx(120.0 * 11.5 / 13.5)

    def test_a_mechanical_pump_stops_with_the_engine_by_itself(self) -> None:
        edits = {**FED, PUMP: {k: v for k, v in FEED_PUMP.items() if k != "stops_with_engine"}}
        assert one("fuel.supply-pump", edits).unknown == (f"{PUMP}.stops_with_engine",)
        assert one("fuel.supply-pump", {**edits, f"{PUMP}.kind": "mechanical"}).kind == "pass"

    def test_mechanical_pump_does_not_mind_the_voltage(self) -> None:
        edits = {**FED, PUMP: {**FEED_PUMP, "kind": "mechanical"}}
        assert value("fuel.pump-flow", edits) == pytest.approx(220.0 - 60.0 * (5.0 + sum(COLD)) / 40.0, rel=1e-4)


class TestReturnPressure:
    def test_number(self) -> None:
        assert value("fuel.return-pressure", part="cold") == pytest.approx(RETURN_COLD, rel=1e-4)

    @pytest.mark.parametrize(("limit", "kind"), [(1.001, "pass"), (0.999, "fail")])
    def test_boundary(self, limit: float, kind: str) -> None:
        edits = {"engine.fuel.max_return_pressure": f"{RETURN_COLD * limit} kPa"}
        found = one("fuel.return-pressure", edits, demand="pressure")
        assert (found.kind, found.subject) == (kind, f"{RETURN}.bore")

    def test_cooler_adds_its_drop(self) -> None:
        edits = {"plumbing.fuel.cooler": {"duty": "0.5 kW", "drop": "3 kPa"}}
        assert value("fuel.return-pressure", edits, part="cold") == pytest.approx(RETURN_COLD + 3.0, rel=1e-4)

    @pytest.mark.parametrize("end", ["supply-tee", "filler-neck"])
    def test_wrong_end(self, end: str) -> None:
        found = one("fuel.return-pressure", {f"{RETURN}.ends_in": end})
        assert (found.kind, found.level, found.subject) == ("fail", "error", f"{RETURN}.ends_in")

    def test_no_return_line(self) -> None:
        found = one("fuel.return-pressure", {RETURN: {"fitted": False}})
        assert (found.kind, found.subject) == ("fail", RETURN)

    @pytest.mark.parametrize(("apart", "kind"), [("300 mm", "pass"), ("299 mm", "fail")])
    def test_distance_without_baffle(self, apart: str, kind: str) -> None:
        found = one("fuel.return-pressure", {f"{TANK}.baffled": False, f"{RETURN}.to_pickup": apart})
        assert found.kind == kind
        assert found.level == ("warning" if kind == "fail" else None)

    def test_free_fall_foams(self) -> None:
        found = one("fuel.return-pressure", {f"{RETURN}.outlet": "free-fall"})
        assert (found.kind, found.level) == ("fail", "warning")

    def test_returnless(self) -> None:
        edits = {"engine.fuel.return_flow": "0 L/h", RETURN: {"fitted": False}, "engine.fuel_type": "petrol"}
        assert one("fuel.return-pressure", edits).kind == "notApplicable"

    def test_fallback_of_a_diesel_only(self) -> None:
        edits = {"engine.fuel.max_return_pressure": None}
        assert one("fuel.return-pressure", edits, stage="quote").kind == "pass"
        assert one("fuel.return-pressure", edits, stage="build").kind == "review"
        petrol = {**edits, "engine.fuel_type": "petrol"}
        assert one("fuel.return-pressure", petrol, stage="plan").kind == "open"
