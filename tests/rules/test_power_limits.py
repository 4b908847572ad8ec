"""Limits of the power pack at their edges; the numbers as their sources state them."""

from __future__ import annotations

import pytest

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
