"""The fuel pack on the example builds, with mistakes planted in them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from advising import advised
from fuel_numbers import (
    CONVERSION,
    FILTERS,
    OLD_PUMP,
    PUMP,
    RETURN,
    SUPPLY,
    TANK,
    VENT,
    G,
    poiseuille,
    walther,
)
from on_examples import found_on

from swaplint.inspecting.results import Finding
from swaplint.kit.trial import rule_base
from swaplint.spec.loading import load_text

SPECS = Path(__file__).parents[2] / "specs"


# -- the examples -----------------------------------------------------------------------------------------------------
def findings(name: str, edits: Mapping[str, Any] | None = None) -> dict[tuple[str, str, str], Finding]:
    """All that is found on an example, by rule, part and demand."""
    return {(f.rule.id, str(f.part), f.demand): f for f in found_on(name, edits)}


def by_demand(rule: str, found: Mapping[tuple[str, str, str], Finding]) -> dict[str, str]:
    """The kind of each result of a rule that judges the build as a whole."""
    return {demand: f.kind for (id, _, demand), f in found.items() if id == rule}


TENDER = "tarnholt-tender.toml"

PLANTED: list[tuple[str, dict[str, Any], tuple[str, str], str, str, set[str]]] = [
    # name, edit, rule and demand, level, field; rules that must answer otherwise because of it
    ("return teed into the suction line", {f"{RETURN}.ends_in": "supply-tee"}, ("fuel.return-pressure", "end"),
     "error", f"{RETURN}.ends_in", set()),
    # less fuel can be burnt before the pick-up draws air: the range is shorter, and the lamp comes on too late
    ("pick-up at the back wall", {f"{TANK}.pickup_x": "-460 mm"}, ("fuel.pickup-position", "offset-along"), "warning",
     f"{TANK}.pickup_x", {"fuel.range-reserve", "fuel.tilt-uncovering", "mass.as-it-was"}),
    ("no vent", {f"{VENT}.fitted": False}, ("fuel.venting", "vent"), "error", VENT, set()),
    ("filter sized on burn", {f"{FILTERS}.primary.rated_flow": "40 L/h"}, ("fuel.filtration", "flow.primary"),
     "warning", f"{FILTERS}.primary.rated_flow", set()),
    ("old lift pump in series", {OLD_PUMP: {"kind": "mechanical", "pressure": "30 kPa"}},
     ("fuel.supply-pump", "old-pump"), "error", OLD_PUMP, set()),
]  # fmt: skip


class TestTender:
    @pytest.mark.parametrize(
        ("name", "edits", "demand", "level", "field", "follow"), PLANTED, ids=[p[0] for p in PLANTED]
    )
    def test_planted_mistake(
        self, name: str, edits: dict[str, Any], demand: tuple[str, str], level: str, field: str, follow: set[str]
    ) -> None:
        before, after = findings(TENDER), findings(TENDER, edits)
        key = (demand[0], "", demand[1])
        assert before[key].kind == "pass"
        found = after[key]
        assert (found.kind, found.level, found.subject) == ("fail", level, field)
        assert not found.unknown
        both = before.keys() & after.keys()
        changed = {k for k in both if (before[k].kind, before[k].level) != (after[k].kind, after[k].level)} - {key}
        assert {k[0] for k in changed} == follow
        # what comes or goes is a demand of the same rule that then makes no sense
        assert {k[0] for k in before.keys() ^ after.keys()} <= {demand[0]}
        assert after.keys() <= before.keys()
        on_field = [f for f in after.values() if f.kind == "fail" and f.subject == field]
        assert len(on_field) == 1

    def test_suction_is_narrow_in_the_cold(self) -> None:
        # Fallback diesel: -20 °C on the line through 14 mm²/s at -15 and 8.5 at 0 °C; α = 594.5418/832²
        nu = walther(253.15, (258.15, 14.0), (273.15, 8.5)) * 1e-6
        alpha = 594.5418 / 832**2
        rho = 832 * math.exp(alpha * 35 * (1 - 0.8 * alpha * 35))
        flow = 130 / 3.6e6
        speed = flow / (math.pi / 4 * 0.010**2)
        expected = poiseuille(flow, 0.010, 4.6, rho * nu) + 3.6 * rho * speed**2 / 2 + rho * G * 0.38 + 5e3
        found = findings(TENDER)["fuel.suction-loss", "", ""]
        assert found.kind == "pass"
        assert found.found == pytest.approx(expected, rel=1e-3)
        assert found.margin is not None
        assert 0.0 < found.margin < 0.1

    def test_an_8_mm_line_would_fail_in_the_cold(self) -> None:
        found = findings(TENDER, {f"{SUPPLY}.bore": "8 mm"})["fuel.suction-loss", "", ""]
        assert found.kind == "fail"
        assert advised(found) == {f"{SUPPLY}.bore": pytest.approx(0.010)}

    def test_standing_work_overheats_the_tank(self) -> None:
        found = findings(TENDER)["fuel.return-heating", "", ""]
        assert (found.kind, found.level) == ("fail", "warning")

    def test_the_pump_stated_as_the_feed_pump_is_caught_too(self) -> None:
        all_found = findings(TENDER, {PUMP: {"kind": "mechanical", "pressure": "30 kPa"}})
        found = all_found["fuel.supply-pump", "", "feed-pump"]
        assert (found.kind, found.subject) == ("fail", PUMP)


class TestVan:
    def test_filler_of_unknown_conductivity(self) -> None:
        all_found = findings("skerrivar-van.toml")
        found = all_found["fuel.tank-conversion", "", "filler-conductive"]
        assert (found.kind, found.due, found.unknown) == ("open", True, (f"{CONVERSION}.filler_conductive",))
        others = by_demand("fuel.tank-conversion", all_found)
        assert {kind for demand, kind in others.items() if demand != "filler-conductive"} == {"pass"}

    def test_low_pick_up(self) -> None:
        found = findings("skerrivar-van.toml")["fuel.pickup-position", "", "height"]
        assert (found.kind, found.level, found.subject) == ("fail", "warning", f"{TANK}.pickup_height")

    def test_pump(self) -> None:
        # 1.3 · 36.7 = 47.7 L/h are needed; the pump gives 110 to 131 L/h between 400 and 500 kPa, times 11.5/13.5
        kinds = by_demand("fuel.supply-pump", findings("skerrivar-van.toml"))
        assert kinds.keys() == {
            "old-pump",
            "feed-pump",
            "pressure",
            "flow",
            "pressure-without-flow",
            "stops-with-engine",
        }
        assert set(kinds.values()) == {"pass"}
        assert value_of_van("fuel.feed-flow-needed") == pytest.approx(47.71, rel=1e-3)
        assert 110 * 11.5 / 13.5 < value_of_van("fuel.pump-flow") < 131 * 11.5 / 13.5

    @pytest.mark.parametrize("rule", ["fuel.suction-loss", "fuel.return-pressure", "fuel.cold-flow"])
    def test_what_does_not_apply(self, rule: str) -> None:
        assert findings("skerrivar-van.toml")[rule, "", ""].kind == "notApplicable"


def value_of_van(quantity_id: str) -> float:
    from swaplint.build.view import View
    from swaplint.units.output import in_unit

    base = rule_base()
    text = (SPECS / "skerrivar-van.toml").read_text(encoding="utf-8")
    build = View(load_text(text, folder=SPECS, model=base.model).build).build
    quantity = next(q for _, q in base.quantities if q.id == quantity_id)
    return in_unit(quantity(build), quantity.kind, quantity.unit)
