"""The oil of an automatic gearbox on the sound spec. Expected numbers are worked out beside each test."""

from __future__ import annotations

from typing import Any

import pytest
from advising import advised

from swaplint.kit.trial import one, trial, value

OIL = "plumbing.cooling.gearbox_oil"
AUTOMATIC: dict[str, Any] = {
    "driveline.gearbox.kind": "automatic",
    "driveline.gearbox.oil_heat": "4 kW",
    "plumbing.cooling.coolers.gearbox": {"cools": "gearbox-oil", "place": "elsewhere", "heat": "6 kW"},
}


def test_a_manual_gearbox_needs_none() -> None:
    assert one("cooling.gearbox-oil").kind == "notApplicable"


def test_a_manual_gearbox_behind_a_converter_needs_one() -> None:
    assert one("cooling.gearbox-oil", {"driveline.converter.fitted": True}).kind == "fail"


def test_without_any_cooler_it_is_an_error() -> None:
    found = one("cooling.gearbox-oil", {"driveline.gearbox.kind": "automatic"})
    assert (found.kind, found.level, found.demand) == ("fail", "error", "cooler")
    # an oil cooler of the steering is none for the gearbox; coolers that nobody spoke of are not taken for one
    assert one("cooling.gearbox-oil", {**AUTOMATIC, "plumbing.cooling.coolers": None}).kind == "open"


def test_drop_of_cooler_and_lines_by_hand() -> None:
    # 5 L/min in 10 mm: v = 8.333e-5/7.854e-5 = 1.0610 m/s, Re = v·0.010/7.4e-6 = 1434, f = 64/Re = 0.04463
    # ρv²/2 = 810·1.0610²/2 = 455.9 Pa; friction 0.04463·3/0.010·455.9 = 6104 Pa; ΣK 6·455.9 = 2735 Pa
    # cooler 50 kPa·(5/10)² = 12.50 kPa; together 21.34 kPa
    assert value("cooling.gearbox-oil-drop", {**AUTOMATIC, f"{OIL}.flow": "5 L/min"}) == pytest.approx(21.34, rel=2e-3)


@pytest.mark.parametrize(("most", "kind"), [("21.2 kPa", "fail"), ("21.5 kPa", "pass")])
def test_drop_against_the_sheet(most: str, kind: str) -> None:
    edits = {**AUTOMATIC, f"{OIL}.flow": "5 L/min", f"{OIL}.cooler_flow": "5 L/min", f"{OIL}.cooler_drop": "12.5 kPa"}
    found = one("cooling.gearbox-oil", {**edits, f"{OIL}.drop_max": most}, demand="drop")
    assert (found.kind, found.level) == (kind, "error" if kind == "fail" else None)


def test_without_a_sheet_common_practice_warns_only() -> None:
    found = one("cooling.gearbox-oil", {**AUTOMATIC, f"{OIL}.drop_max": None, f"{OIL}.bore": "6 mm"}, demand="drop")
    assert (found.kind, found.level) == ("fail", "warning")
    assert found.practices
    hose = {**AUTOMATIC, f"{OIL}.temp_max": None, f"{OIL}.hose_temperature": "149 degC"}
    assert one("cooling.gearbox-oil", hose, demand="hose-temperature").level == "warning"
    # degrees have no size of their own: the margin is told in hundreds of them, 149 - 150 °C
    assert one("cooling.gearbox-oil", hose, demand="hose-temperature").margin == pytest.approx(-0.01)


@pytest.mark.parametrize(
    ("edit", "demand", "kind"),
    [
        ({"bore": "7.9 mm"}, "bore", "fail"),
        ({"bore": "8 mm"}, "bore", "pass"),
        ({"cooler_flow": "10.1 L/min"}, "cooler-flow", "fail"),
        ({"hose_pressure": "999 kPa"}, "hose-pressure", "fail"),
        ({"hose_pressure": "1000 kPa"}, "hose-pressure", "pass"),
        ({"hose_temperature": "134 degC"}, "hose-temperature", "fail"),
        ({"hose_for_oil": False}, "hose", "fail"),
        ({"hose_for_oil": None}, "hose", "open"),
        ({"flow": None}, "drop", "open"),
        ({"length": None}, "drop", "open"),
    ],
)
def test_each_demand(edit: dict[str, Any], demand: str, kind: str) -> None:
    edits = {**AUTOMATIC, **{f"{OIL}.{name}": given for name, given in edit.items()}}
    assert one("cooling.gearbox-oil", edits, demand=demand).kind == kind


def test_advice_is_what_the_gearbox_asks_for() -> None:
    found = one("cooling.gearbox-oil", {**AUTOMATIC, f"{OIL}.hose_pressure": "700 kPa"}, demand="hose-pressure")
    assert advised(found) == {f"{OIL}.hose_pressure": pytest.approx(1e6)}


def test_it_passes_whole() -> None:
    assert {f.kind for f in trial("cooling.gearbox-oil", AUTOMATIC)} == {"pass"}
