"""Edges of the cooling rules that no sentence shows, worked out beside each test."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import one, trial, value

COOL, AIR = "plumbing.cooling", "engine.charge_air"
WATER: dict[str, Any] = {f"{COOL}.charge_cooler.place": "own-water", f"{COOL}.charge_cooler.water_temp": "50 degC"}


@pytest.mark.parametrize(
    ("water", "rise", "hottest", "demands"),
    # a rise is over outside air, which a cooler of water never meets; where nothing is stated 30 K stand in for air
    [
        (False, "30 K", "75 degC", {"rise", "temperature"}),
        (False, None, "75 degC", {"temperature"}),
        (False, "30 K", None, {"rise"}),
        (False, None, None, {"rise"}),
        (True, "30 K", "75 degC", {"temperature"}),
        (True, None, "75 degC", {"temperature"}),
        (True, "30 K", None, {"rise"}),
        (True, None, None, {"temperature"}),
    ],
)
def test_what_the_charge_air_is_held_against(
    water: bool, rise: str | None, hottest: str | None, demands: set[str]
) -> None:
    edits = {f"{AIR}.rise_max": rise, f"{AIR}.manifold_temp_max": hottest, **(WATER if water else {})}
    assert {finding.demand for finding in trial("cooling.charge-air", edits)} == demands | {"drop"}


def test_a_fill_line_as_wide_as_is_asked_for() -> None:
    for bore, words in (("19 mm", "19 mm or more."), ("18.9 mm", "fit a wider line.")):
        found = one("cooling.fill-deaeration", {f"{COOL}.expansion_tank.fill_line_bore": bore}, demand="fill-line")
        assert found.message.endswith(words)


def test_a_bypass_that_ends_blind() -> None:
    runs = [("radiator_out", "radiator"), ("radiator", "radiator_in"), ("heater_out", "heater"),
            ("heater", "heater_in"), ("bypass", "tee")]  # fmt: skip
    edits = {
        "engine.thermostat.bypass": "external",
        "engine.coolant.ports.bypass": {"use": "bypass", "bore": "25 mm"},
        f"{COOL}.circuit": [{"start": start, "end": end} for start, end in runs],
    }
    assert one("cooling.thermostat-circuit", edits).message == (
        "There is no way out of tee: the coolant stands still there. The bypass at bypass does not lead from the "
        "engine back to the engine."
    )


def test_heat_that_nobody_states_at_idle_is_none() -> None:
    field = "engine.heat.idle.charge_air"
    told = [one("cooling.fan-flow", {field: stated}, demand="idle").found for stated in (None, "0 kW", "2 kW")]
    assert told[0] == told[1] != told[2]


def test_the_margin_of_standing_work_is_counted_from_the_outside_air() -> None:
    # 105 °C less where it settles, over 105 - 40 K
    edits = {"build.duty.stationary_power": "20 kW", "build.duty.stationary_speed": "1500 r/min"}
    found = one("cooling.stationary-duty", edits, demand="sea-level")
    assert isinstance(found.found, float)
    assert found.margin == pytest.approx((378.15 - found.found) / 65.0)


def test_a_condenser_elsewhere_brings_no_heat_to_the_radiator() -> None:
    # 0.8 kW of the steering's cooler alone stand ahead of the radiator; a condenser there gives its 7.2 kW besides
    before = one("cooling.added-heat").message
    assert "0.8 kW to the radiator's air" in before
    front = one("cooling.added-heat", {"plumbing.air_conditioning.condenser_place": "before-radiator"}).message
    assert " 8 kW to the radiator's air" in front


def test_a_radiator_whose_air_is_as_hot_as_its_coolant_gives_nothing_off() -> None:
    # the coolant may reach 105 °C; air of 104 °C and what stands ahead of the radiator are above that
    assert value("cooling.radiator-heat", {"build.design.ambient_max": "104 degC"}, part="heat.rated") == 0.0
