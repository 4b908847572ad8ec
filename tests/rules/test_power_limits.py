"""Limits of the power pack at their edges; the numbers as their sources state them."""

from __future__ import annotations

import pytest
from advising import advised

from swaplint.kit.trial import of_part, one

BATTERY = "electrics.batteries.main"
FAN = {
    "plumbing.cooling.fan.drive": "electric",
    "plumbing.cooling.fan.curve_voltage": "13 V",
    "plumbing.cooling.fan.motor_voltage": "13 V",
    "vehicle.clearances.fan_shroud.gap": "5 mm",
}


@pytest.mark.parametrize(
    ("place", "times"),
    # twice the battery's weight as in small craft, by analogy; in a cab ten times, common practice
    [("engine-space", 2.0), ("cab", 10.0)],
)
def test_a_hold_down_takes_so_many_times_the_batterys_weight(place: str, times: float) -> None:
    found = of_part("power.battery-location", "main", {f"{BATTERY}.place": place}, demand="hold-down")
    assert found.limit is not None
    # 23 kg
    assert (found.limit.relation, found.limit.value) == ("at least", pytest.approx(times * 23 * 9.80665))


def test_a_consumer_may_take_five_per_cent_more_than_its_cable_is_said_to_carry() -> None:
    edits = {**FAN, "electrics.cables.fan.current": "5 A"}
    found = of_part("power.consumers-counted", "plumbing.cooling.fan", edits, demand="cable-current")
    assert found.limit is not None
    assert (found.limit.relation, found.limit.value) == ("at most", pytest.approx(1.05 * 5.0))


@pytest.mark.parametrize(("first", "second", "less"), [("10 A", "8 A", 8.0), ("10 A", "20 A", 10.0)])
def test_of_cables_in_series_the_one_counts_that_is_said_to_carry_less(first: str, second: str, less: float) -> None:
    fan = "electrics.cables.fan"
    on = {"role": "fan", "start": "fan-relay", "end": "fan-motor", "current": second}
    edits = {**FAN, f"{fan}.current": first, f"{fan}.end": "fan-relay", "electrics.cables.fan_on": on}
    found = of_part("power.consumers-counted", "plumbing.cooling.fan", edits, demand="cable-current")
    assert found.limit is not None
    assert found.limit.value == pytest.approx(1.05 * less)


@pytest.mark.parametrize(
    # parts are marked 12 V or 14 V; 10 per cent less and 20 per cent more than 12 V are taken for the same
    ("volts", "kind"),
    [("10.7 V", "fail"), ("10.9 V", "pass"), ("14 V", "pass"), ("14.3 V", "pass"), ("14.5 V", "fail")],
)
def test_what_suits_a_system_of_twelve_volts(volts: str, kind: str) -> None:
    found = one("power.system-voltage", {"engine.starter.voltage": volts}, demand="starter")
    assert found.kind == kind


@pytest.mark.parametrize(
    ("litres", "amperes"),
    # 350 A of EN rating for each litre of diesel engine up to 3 L, 250 A above it
    [("2.9 L", 350 * 2.9), ("3 L", 350 * 3.0), ("3.1 L", 250 * 3.1)],
)
def test_where_a_diesel_engine_becomes_a_big_one(litres: str, amperes: float) -> None:
    edits = {"engine.displacement": litres, "engine.starting.cca_min": None, "engine.sheet": None}
    found = one("power.battery-cold", edits, demand="rating")
    assert found.limit is not None
    assert found.limit.value == pytest.approx(amperes)
    assert [advice.value for advice in found.advice] == [pytest.approx(amperes)]


# -- what is advised, and what is said ---------------------------------------------------------------------------------
@pytest.mark.parametrize(("cable", "metres"), [("ecm", 0.450), ("heater", 0.200)])
def test_a_fuse_is_moved_to_18_inches_in_a_sleeve_and_8_without(cable: str, metres: float) -> None:
    on = f"electrics.cables.{cable}.fuse_distance"
    found = of_part("power.main-fuse", f"cables.{cable}", {on: "460 mm"})
    assert advised(found) == {on: pytest.approx(metres)}


def test_a_thin_ground_is_to_be_as_thick_as_the_starter_cable_where_it_lies_alone() -> None:
    on = "electrics.grounds.engine.size"
    assert advised(one("power.grounding", {on: "35 mm2"}, demand="thickness")) == {on: pytest.approx(50e-6)}
    twin = {"start": "engine", "end": "battery-negative", "size": "10 mm2", "length": "0.9 m"}
    beside = one("power.grounding", {on: "35 mm2", "electrics.grounds.twin": twin}, demand="thickness")
    assert (beside.kind, advised(beside)) == ("fail", {})


def test_a_heater_takes_a_cable_that_bears_it_for_its_time() -> None:
    # 80 A for 20 s: 6 mm² carries 60 A · 0.85 in air of 50 °C, and 1.3 times that for less than a minute: 66.3 A.
    # 10 mm² is the next size: 80 A · 0.85 · 1.3 = 88 A
    on = "electrics.cables.heater.size"
    found = of_part("power.intake-heater", "cables.heater", {on: "4 mm2"}, demand="rating")
    assert advised(found) == {on: pytest.approx(10e-6)}


def test_the_drop_of_the_starting_circuit_is_said_for_each_100_a() -> None:
    # 0.9148 mΩ there and 0.4074 mΩ back, by hand in the tests of power: 0.1322 V
    assert one("power.crank-loop").message.startswith("0.1322 V are lost for each 100 A")


@pytest.mark.parametrize(("place", "words"), [("above", "stands above a fuel tank"), ("apart", "No fuel tank")])
def test_a_battery_by_the_tank_is_told_where_it_stands(place: str, words: str) -> None:
    found = of_part("power.battery-location", "main", {f"{BATTERY}.relative_to_tank": place}, demand="away-from-fuel")
    assert words in found.message
