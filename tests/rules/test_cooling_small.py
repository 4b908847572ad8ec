"""What the cooling rules do in the corners of their branches, and their small functions asked directly."""

from __future__ import annotations

from typing import Any

import pytest
from advising import advised

from swaplint.kit.trial import one, trial

COOL = "plumbing.cooling"


def test_a_bypass_that_comes_back_to_its_own_port_leads_nowhere() -> None:
    runs = [("radiator_out", "radiator"), ("radiator", "radiator_in"), ("heater_out", "heater"),
            ("heater", "heater_in"), ("bypass", "loop"), ("loop", "bypass")]  # fmt: skip
    edits = {
        "engine.thermostat.bypass": "external",
        "engine.coolant.ports.bypass": {"use": "bypass", "bore": "25 mm"},
        f"{COOL}.circuit": [{"start": start, "end": end} for start, end in runs],
    }
    assert one("cooling.thermostat-circuit", edits).message == (
        "2 runs are connected to the port bypass (bypass). The bypass at bypass does not lead from the engine back to "
        "the engine."
    )


@pytest.mark.parametrize(
    ("share", "most", "judged"),
    # the table ends at 60 %; of a share beyond it nothing is said, unless the engine allows it
    [("60 %", "55 %", True), ("61 %", "55 %", False), ("61 %", "61 %", True), ("61 %", None, False)],
)
def test_how_far_a_mixture_protects_up_to_the_end_of_the_table(share: str, most: str | None, judged: bool) -> None:
    edits: dict[str, Any] = {f"{COOL}.coolant.glycol": share, "engine.coolant.glycol_max": most}
    assert ("protection" in {found.demand for found in trial("cooling.freeze-protection", edits)}) is judged


@pytest.mark.parametrize(
    ("rise", "hottest", "most"),
    # 40 °C outside: what the sheet states, the lower of both, and 30 K where it states neither
    [
        ("28 K", None, 68.0),
        (None, "66 degC", 66.0),
        ("28 K", "70 degC", 68.0),
        ("32 K", "70 degC", 70.0),
        (None, None, 70.0),
    ],
)
def test_the_cooler_that_keeps_the_charge_air_cool_enough(rise: str | None, hottest: str | None, most: float) -> None:
    # 150 °C at 25 °C outside; on a day of 40 °C the compressor starts from (40 + 273.15)/298.15 of that: 171.3 °C
    edits = {
        "engine.charge_air.rise_max": rise,
        "engine.charge_air.manifold_temp_max": hottest,
        f"{COOL}.charge_cooler.effectiveness": "50 %",
    }
    needed = (171.289 - most) / (171.289 - 40.0)
    found = [f for f in trial("cooling.charge-air", edits) if f.demand in ("rise", "temperature")]
    assert found[0].kind == "fail"
    assert [advised(f) for f in found] == [
        {f"{COOL}.charge_cooler.effectiveness": pytest.approx(needed, abs=1e-4)}
    ] * len(found)


@pytest.mark.parametrize(
    ("orifice", "kind", "nearest"),
    [("1.9 mm", "fail", 0.002), ("2.1 mm", "pass", None), ("3.9 mm", "pass", None), ("4.1 mm", "fail", 0.004)],
)
def test_the_nearest_orifice_of_a_vent(orifice: str, kind: str, nearest: float | None) -> None:
    field = f"{COOL}.vents.radiator.orifice"
    found = one("cooling.fill-deaeration", {field: orifice}, demand="orifice.radiator")
    assert (found.kind, advised(found)) == (kind, {} if nearest is None else {field: pytest.approx(nearest)})


def test_a_tank_below_the_engine_that_is_filled_elsewhere() -> None:
    for above, words in (("-1 mm", "filled by other means."), ("0 mm", "The tank's coolant is 0 mm above the highest"),
                         ("0.5 mm", "The tank's coolant is 0.5 mm above")):  # fmt: skip
        edits = {f"{COOL}.expansion_tank.above_highest": above, f"{COOL}.expansion_tank.remote_fill": True}
        found = one("cooling.fill-deaeration", edits, demand="height")
        assert (found.kind, words in found.message) == ("pass", True), found.message


@pytest.mark.parametrize(("lacks", "inside"), [("plumbing.cooling.radiator.volume", 8), ("engine.coolant.volume", 5)])
def test_a_system_that_holds_less_than_the_one_part_that_is_known(lacks: str, inside: int) -> None:
    for litres, kind in ((0.6 * inside, "review"), (1.2 * inside, "pass")):
        found = one("cooling.expansion-volume", {lacks: None, f"{COOL}.system_volume": f"{litres:.1f} L"})
        assert found.kind == kind, found.message
        if kind == "review":
            assert f"engine and radiator alone hold {inside} L: look up both" in found.message
