"""The power pack on builds that differ in kind: two batteries, one for other loads, a switch in the ground lead.

Every number worked out by hand: IEC 60228 class 5 at 20 °C, 16 mm² 1.21 mΩ/m, 50 mm² 0.386 mΩ/m; 0.03 mΩ for each joint
and 0.1 mΩ for the closed main switch (common practice). Current ratings at 105 °C from the small-craft tables, in an
engine space times 0.85: 50 mm² 270 A, 10 mm² 90 A, 4 mm² 45 A (ISO 10133, from memory).
"""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import of_part, one, trial, value

C, G = "electrics.cables", "electrics.grounds"
SECOND = {"voltage": "12 V", "cca": "800 A", "cca_standard": "EN 50342-1", "capacity": "95 Ah"}
LAID: dict[str, Any] = {"insulation_temp": "105 degC", "place": "engine-space", "bundled_with": 0}
LOOP = 1.3222
"""Resistance of the sound spec's starting circuit, mΩ: see test_power.py."""


def link(start: str, end: str) -> dict[str, Any]:
    both = {"role": "battery-link", "size": "50 mm2", "length": "0.3 m", "fused": False, "sleeved": True}
    return both | LAID | {"start": start, "end": end}


# -- two batteries ----------------------------------------------------------------------------------------------------
PAIR: dict[str, Any] = {"electrics.batteries.second": SECOND}
LINK = 0.3 * 0.386 + 2 * 0.03


def test_a_link_between_batteries_in_series_carries_all_of_the_current() -> None:
    series = PAIR | {"electrics.nominal_voltage": "24 V", f"{C}.link": link("battery-a", "battery-b")}
    assert value("power.crank-loop", series) == pytest.approx(LOOP + LINK)


def test_a_control_unit_of_24_volts_works_down_to_16_while_cranking() -> None:
    # common practice, where its sheet does not say: 16 V
    series = PAIR | {"electrics.nominal_voltage": "24 V", f"{C}.link": link("battery-a", "battery-b")}
    series |= {"engine.ecm.voltage": "24 V", "engine.ecm.min_voltage_crank": None}
    limit = one("power.crank-voltage", series, demand="control-unit").limit
    assert limit is not None
    assert limit.value == pytest.approx(16.0)


def test_links_between_batteries_in_parallel_carry_half_of_it() -> None:
    parallel = PAIR | {
        f"{C}.link": link("battery-positive", "second-positive"),
        f"{C}.link2": link("battery-negative", "second-negative"),
    }
    counted = value("power.crank-loop", parallel) - LOOP
    assert counted == pytest.approx(2 * LINK / 4)
    # two equal sources of R, the second behind l: R·(R + l)/(2·R + l) instead of R/2; R from the sound spec's battery
    battery = 2 * value("power.battery-resistance", parallel)
    behind = battery * (battery + 2 * LINK) / (2 * battery + 2 * LINK)
    assert counted == pytest.approx(behind - battery / 2, rel=0.05)
    assert counted > behind - battery / 2


# -- a battery for other loads ----------------------------------------------------------------------------------------
OTHER = PAIR | {"electrics.batteries.second": SECOND | {"use": "auxiliary"}}


def lead(start: str, end: str, **more: Any) -> dict[str, Any]:
    way = {"role": "other", "size": "10 mm2", "length": "3 m", "current": "20 A", "start": start, "end": end}
    return way | LAID | {"returns_by": "frame", "return_length": "0.4 m"} | more


SPLIT = OTHER | {
    f"{C}.split": lead("battery-positive", "separator", fuse="50 A", fuse_distance="150 mm"),
    f"{C}.charge": lead("separator", "auxiliary-positive", fuse="50 A", fuse_distance="150 mm"),
}


def test_a_cable_of_the_auxiliary_battery_takes_its_own_fuse() -> None:
    judged = {f.part.rsplit(".", 1)[-1]: f.kind for f in trial("power.main-fuse", SPLIT)}
    assert (judged["split"], judged["charge"]) == ("pass", "pass")
    bare = SPLIT | {f"{C}.fridge": lead("auxiliary-positive", "fridge", fused=False)}
    found = of_part("power.main-fuse", f"{C}.fridge", bare)
    assert (found.kind, found.level, found.subject) == ("fail", "error", f"{C}.fridge.fused")
    # what the separator's fuse lets through does not protect it: the auxiliary battery feeds it as well
    assert of_part("power.fuse-cable-match", f"{C}.fridge", bare).kind == "notApplicable"


def test_a_circuit_of_the_auxiliary_battery_is_fed_from_there() -> None:
    # 20 A over 3 m of 10 mm² (1.91 mΩ/m) with two joints, back 0.4 m of it with two joints, the frame's ground 0.4 m of
    # 35 mm² (0.554 mΩ/m) with two joints, frame 0.2 mΩ
    edits = SPLIT | {f"{C}.fridge": lead("auxiliary-positive", "fridge", fuse="30 A", fuse_distance="150 mm")}
    drop = 0.020 * (3.4 * 1.91 + 4 * 0.03 + 0.4 * 0.554 + 0.06 + 0.2)
    assert value("power.circuit-drop", edits, part="fridge") == pytest.approx(drop)


def test_a_cable_between_batteries_of_two_uses_is_live_from_both_ends() -> None:
    straight = OTHER | {f"{C}.split": lead("battery-positive", "auxiliary-positive", fuse="50 A", fuse_distance="1 mm")}
    found = of_part("power.main-fuse", f"{C}.split", straight)
    assert (found.kind, found.level, found.subject) == ("fail", "error", f"{C}.split.end")


def test_an_auxiliary_battery_without_cables_is_no_silence() -> None:
    found = of_part("power.main-fuse", "batteries.second", OTHER)
    assert (found.kind, found.subject) == ("fail", C)
    assert "auxiliary-positive" in found.message


def test_cables_in_rings_of_rings_are_left_to_a_person_at_once() -> None:
    """Each of nine leads from a node back to it: the ways through them are hundreds of thousands."""
    rings = {f"{C}.ring{n}": lead("knot", "knot", fuse="30 A", fuse_distance="150 mm") for n in range(9)}
    load = [f for f in trial("power.fuse-cable-match", rings) if ".ring" in f.part and f.demand == "load"]
    assert [f.kind for f in load] == ["review"] * 9
    assert "too many rings to follow" in load[0].message


# -- fuses ------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("fuse", "kind", "level"),
    # 50 mm² in an engine space: 270 · 0.85 = 229.5 A; 350 A crank the engine
    [("225 A", "pass", None), ("400 A", "fail", "note")],
)
def test_the_fuse_of_a_starter_cable_is_chosen_for_cranking(fuse: str, kind: str, level: str | None) -> None:
    edits = {f"{C}.battery.fuse": fuse, f"{C}.battery.fused": None, f"{C}.battery.fuse_distance": "150 mm"}
    found = of_part("power.fuse-cable-match", f"{C}.battery", edits, demand="cable")
    assert (found.kind, found.level, found.subject) == (kind, level, f"{C}.battery.fuse")
    # the starter cable behind it is not reported again
    assert of_part("power.fuse-cable-match", f"{C}.starter", edits).kind == "notApplicable"


def test_a_fuse_for_cranking_protects_no_thin_cable() -> None:
    edits = {
        f"{C}.battery.fuse": "400 A",
        f"{C}.battery.fused": None,
        f"{C}.battery.fuse_distance": "150 mm",
        f"{C}.cab.fuse": None,
        f"{C}.cab.fused": False,
    }
    found = of_part("power.fuse-cable-match", f"{C}.cab", edits)
    # 10 mm²: 90 · 0.85 = 76.5 A, of which 70 A is the fuse below
    assert (found.kind, found.level, found.subject) == ("fail", "error", f"{C}.cab.size")
    # no cable of the table carries 400 A in an engine space
    assert found.advice == ()


def test_one_fuse_too_big_is_reported_once() -> None:
    # 10 mm² of the cab's cable carries 76.5 A, the 4 mm² of the lamps behind it 26.8 A
    edits = {f"{C}.cab.fuse": "100 A", f"{C}.lamps.fuse": None, f"{C}.lamps.fused": False}
    failed = [f.subject for f in trial("power.fuse-cable-match", edits) if f.kind == "fail"]
    assert failed == [f"{C}.cab.fuse"]


# -- intake heater ----------------------------------------------------------------------------------------------------
def test_a_heater_fed_in_two_lengths_has_one_relay() -> None:
    onwards = {"role": "intake-heater", "start": "heater-relay", "end": "intake-heater", "size": "16 mm2"}
    edits: dict[str, Any] = {
        f"{C}.heater.end": "heater-relay",
        f"{C}.heater.relay_rating": None,
        f"{C}.heater2": onwards
        | LAID
        | {"length": "0.5 m", "returns_by": "engine", "return_length": "0 m", "fused": False, "relay_rating": "100 A"},
    }
    judged = [(f.part.rsplit(".", 1)[-1], f.demand, f.kind) for f in trial("power.intake-heater", edits)]
    assert {kind for _, _, kind in judged} == {"pass"}
    assert [part for part, demand, _ in judged if demand == "relay"] == ["heater2"]
    weak = trial("power.intake-heater", edits | {f"{C}.heater2": edits[f"{C}.heater2"] | {"relay_rating": "70 A"}})
    assert [f.subject for f in weak if f.kind == "fail"] == [f"{C}.heater2.relay_rating"]
    thin = trial("power.intake-heater", edits | {f"{C}.heater2": edits[f"{C}.heater2"] | {"size": "6 mm2"}})
    assert [f.subject for f in thin if f.kind == "fail"] == [f"{C}.heater2.size"]


# -- a main switch in the ground lead ---------------------------------------------------------------------------------
IN_GROUND: dict[str, Any] = {
    f"{C}.battery.end": "starter",
    f"{C}.starter": None,
    f"{C}.cab.start": "battery-positive",
    f"{G}.engine.end": "isolator",
    f"{G}.frame.start": "isolator",
    f"{G}.main": {"start": "isolator", "end": "battery-negative", "size": "50 mm2", "length": "0.3 m"},
}


def test_a_switch_in_the_ground_lead_counts_on_the_way_back() -> None:
    # back: 0.9 + 0.3 m of 50 mm², four joints, switch 0.1 mΩ
    assert value("power.crank-return", IN_GROUND) == pytest.approx(1.2 * 0.386 + 0.12 + 0.1)


def test_a_switch_in_the_ground_lead_cuts_the_alternator_off() -> None:
    assert one("power.isolation-shutdown", IN_GROUND).kind == "pass"
    live = one("power.isolation-shutdown", IN_GROUND | {"electrics.isolator.breaks_field": False})
    assert (live.kind, live.level, live.subject) == ("fail", "warning", "electrics.isolator.breaks_field")


def test_a_switch_in_the_ground_lead_and_the_control_unit() -> None:
    # back by a conductor of its own to the battery it keeps its feed, back through the frame it loses it
    by_frame = {f"{C}.ecm.returns_by": "frame", f"{C}.ecm.return_length": "0.3 m"}
    found = one("power.isolation-shutdown", IN_GROUND | by_frame)
    assert (found.kind, found.subject) == ("fail", "electrics.isolator.off_delay")
    waits = {"electrics.isolator.off_delay": "45 s"}
    assert one("power.isolation-shutdown", IN_GROUND | by_frame | waits).kind == "pass"


def test_a_switch_that_cuts_nothing_is_noticed() -> None:
    nowhere = {f"{C}.battery.end": "starter", f"{C}.starter": None, f"{C}.cab.start": "battery-positive"}
    found = one("power.isolation-shutdown", nowhere)
    assert (found.kind, found.level, found.subject) == ("fail", "warning", "electrics.isolator")


# -- two straps, two cables -------------------------------------------------------------------------------------------
HALF = {"start": "engine", "end": "battery-negative", "size": "25 mm2", "length": "0.9 m"}
TWO_STRAPS: dict[str, Any] = {f"{G}.engine.size": "25 mm2", f"{G}.second": HALF}


def test_two_straps_between_the_same_points_count_together() -> None:
    # each 0.9 m of 25 mm² (0.780 mΩ/m) with two joints, half of that for both
    assert value("power.crank-return", TWO_STRAPS) == pytest.approx((0.9 * 0.780 + 0.06) / 2)
    found = one("power.grounding", TWO_STRAPS)
    assert found.kind == "pass"
    thin = one("power.grounding", TWO_STRAPS | {f"{G}.second": HALF | {"size": "16 mm2"}})
    # 25 and 16 mm² against 50
    assert (thin.kind, thin.level) == ("fail", "warning")
    assert thin.found == pytest.approx(41e-6)


def test_two_starter_cables_side_by_side() -> None:
    # 0.6 m of 50 mm² to the switch, then twice 1.2 m of 25 mm²; two joints each, switch 0.1 mΩ
    twin = {"role": "starter", "start": "isolator", "end": "starter", "size": "25 mm2", "length": "1.2 m"}
    edits = {f"{C}.starter.size": "25 mm2", f"{C}.twin": twin | LAID | {"fused": False, "sleeved": True}}
    feed = 0.6 * 0.386 + 0.06 + 0.1 + (1.2 * 0.780 + 0.06) / 2
    assert value("power.crank-feed", edits) == pytest.approx(feed)
    # 0.8896 + 0.4074 mΩ
    found = one("power.crank-loop", edits | {"engine.starter.circuit_resistance_max": "1.29 mohm"})
    assert found.kind == "fail"


@pytest.mark.parametrize(("volts", "kind"), [("12.47 V", "pass"), ("12.53 V", "review")])
def test_the_laws_of_cold_cranking_are_those_of_twelve_volts(volts: str, kind: str) -> None:
    assert one("power.crank-voltage", {"electrics.batteries.main.voltage": volts}, demand="starter").kind == kind


@pytest.mark.parametrize(("volts", "known"), [("13.1 V", True), ("13.3 V", False), ("10.9 V", True), ("10.7 V", False)])
def test_a_system_within_a_tenth_of_twelve_volts_is_one_of_twelve(volts: str, known: bool) -> None:
    edits = {"electrics.nominal_voltage": volts, "engine.ecm.min_voltage_crank": None}
    found = one("power.crank-voltage", edits, demand="control-unit")
    assert ("not for" not in found.message) == known, found.message
