"""The power pack on feeders, converters, split charging, further alternators, glow plugs and wire gauges.

Worked out by hand: conductors at 20 °C, mΩ/m, from IEC 60228, class 5: 10 mm² 1.91, 35 mm² 0.554, 50 mm² 0.386; two
joints of 0.03 mΩ on each cable, a hot alternator gives 0.85 of its curve, a converter takes in a ninth more than it
gives (common practice). 5833 circular mils, the least of vehicle cable 12, are 2.9556 mm² (a cable seller's table).
"""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import of_part, one, trial, value

C = "electrics.cables"
FAST: dict[str, Any] = {"insulation_temp": "105 degC", "place": "engine-space", "bundled_with": 0}


# -- feeders ----------------------------------------------------------------------------------------------------------
def test_a_feeder_carries_its_branches_together() -> None:
    # behind the cab's fuses: key 8, lamps 6, diagnostic 2, fan 10; the solenoid pulls for seconds and is left out
    assert value("power.feeder-current", part="cables.cab") == pytest.approx(30)  # as stated: more than 26
    more = {f"{C}.lamps.current": "16 A"}
    assert value("power.feeder-current", more, part="cables.cab") == pytest.approx(36)
    # behind the key switch the switched feed of the control unit, 2 A; a heated glass of 12 A at the terminal run
    glass = {"role": "other", "start": "key-run", "end": "glass", "current": "12 A"}
    assert value("power.feeder-current", {f"{C}.glass": glass}, part="cables.key") == pytest.approx(14)
    # and one feeder feeds another: 14 + 6 + 2 + 10
    assert value("power.feeder-current", {f"{C}.glass": glass}, part="cables.cab") == pytest.approx(32)
    half = more | {f"{C}.lamps.current": "56 A", f"{C}.cab.branch_share": "50 %"}
    assert value("power.feeder-current", half, part="cables.cab") == pytest.approx(38)


@pytest.mark.parametrize(
    ("edits", "kind"),
    [
        ({f"{C}.lamps.current": "20 A"}, "pass"),  # 40 A, 80 % of 50 A
        ({f"{C}.lamps.current": "21 A"}, "fail"),
        ({f"{C}.lamps.current": "21 A", f"{C}.cab.branch_share": "90 %"}, "pass"),
        ({f"{C}.lamps.current": None}, "open"),
    ],
)
def test_the_fuse_of_a_feeder_stands_its_branches(edits: dict[str, Any], kind: str) -> None:
    found = of_part("power.fuse-cable-match", "cables.cab", edits, demand="load")
    assert found.kind == kind
    if kind == "open":
        assert found.unknown == (f"{C}.lamps.current",)


def test_the_voltage_lost_on_a_feeder_counts_its_branches() -> None:
    # out 2.5 · 1.91 + 0.06, lead back 0.4 · 1.91 + 0.06, ground 0.4 · 0.554 + 0.06, frame 0.2; ahead of it 0.6 · 0.386
    # + 0.06, all mΩ, at 36 A
    loop = 4.835 + 0.824 + 0.2816 + 0.2 + 0.2916
    found = value("power.circuit-drop", {f"{C}.lamps.current": "16 A"}, part="cables.cab")
    assert found == pytest.approx(36 * loop / 1000)


def test_feeders_in_a_ring_are_walked_once() -> None:
    ring = {f"{C}.ring": {"role": "other", "start": "head-lamps", "end": "cab-fuses", "current": "1 A"}}
    assert value("power.feeder-current", ring, part="cables.cab") == pytest.approx(30)


# -- converters -------------------------------------------------------------------------------------------------------
def test_a_load_is_fed_through_the_converter_of_its_voltage() -> None:
    # 2 A at 24 V take 53.3 W; the converter for 5 V has plenty, which is of no use to them
    two = {
        "electrics.loads.radio.voltage": "24 V",
        "electrics.loads.sockets": {"voltage": "5 V", "current": "4 A"},
        "electrics.converters": {
            "radio": {"output_voltage": "24 V", "power": "50 W"},
            "sockets": {"output_voltage": "5 V", "power": "200 W"},
        },
    }
    found = one("power.system-voltage", two, demand="converter-power")
    assert (found.kind, found.subject) == ("fail", "electrics.converters.radio.power")
    enough = two | {"electrics.converters.radio.power": "54 W"}
    assert one("power.system-voltage", enough, demand="converter-power").kind == "pass"
    # 4 A at 5 V take 22.2 W
    weak = enough | {"electrics.converters.sockets.power": "22 W"}
    assert one("power.system-voltage", weak, demand="converter-power").subject == "electrics.converters.sockets.power"
    # 40 A at 5 V take 222 W, more than the 200 W that are there: the larger one is the one that is too small
    more = enough | {"electrics.loads.sockets.current": "40 A"}
    assert one("power.system-voltage", more, demand="converter-power").subject == "electrics.converters.sockets.power"


# -- split charging ---------------------------------------------------------------------------------------------------
S = "electrics.split_charging"
SECOND: dict[str, Any] = {
    "electrics.batteries.second": {"use": "auxiliary", "voltage": "12 V"},
    S: {"kind": "relay", "closed_by": ["alternator-excitation"], "rating": "100 A", "drop": "0.1 V"},
}


def test_a_converter_that_charges_the_auxiliary_batteries_takes_for_itself() -> None:
    # the cab heater's fan, 10 A for 30 % of the time at idle, through a converter: 3/0.9 A, a third of an ampere more
    on_auxiliary = {**SECOND, "electrics.loads.fan.bank": "auxiliary"}
    converter = {
        **on_auxiliary,
        "electrics.split_charging.kind": "converter",
        "electrics.split_charging.output_voltage": "12 V",
    }
    assert value("power.demand-idle", on_auxiliary) == pytest.approx(value("power.demand-idle"))
    assert value("power.demand-idle", converter) - value("power.demand-idle") == pytest.approx(3 / 0.9 - 3)


@pytest.mark.parametrize(
    ("edits", "demand", "kind"),
    [
        ({}, "charged", "pass"),
        ({}, "closed", "pass"),
        ({f"{S}.closed_by": ["key-run"]}, "closed", "fail"),  # live in crank: the starter draws through it
        ({f"{S}.closed_by": ["key-accessory"]}, "closed", "pass"),
        ({f"{S}.closed_by": ["cab-fuses"]}, "closed", "fail"),  # live in off
        ({f"{S}.closed_by": ["nothing-there"]}, "closed", "fail"),  # never live
        ({}, "rating", "pass"),  # the alternator gives 100 A
        ({f"{S}.rating": "99 A"}, "rating", "fail"),
        ({f"{S}.drop": "0.25 V"}, "drop", "pass"),
        ({f"{S}.drop": "0.26 V", f"{S}.sense_behind": False}, "drop", "fail"),
        ({f"{S}.drop": "0.7 V", f"{S}.kind": "diodes", f"{S}.sense_behind": True}, "drop", "pass"),
        ({"electrics.batteries.second.voltage": "6 V"}, "voltage", "fail"),  # one of 6 V at 12 V
        ({f"{S}.kind": "converter", f"{S}.output_voltage": "12 V"}, "voltage", "pass"),
        ({f"{S}.kind": "converter", f"{S}.output_voltage": "24 V"}, "voltage", "fail"),
        ({S: None}, "", "open"),
        ({S: {"fitted": False}}, "charged", "fail"),
    ],
)
def test_split_charging(edits: dict[str, Any], demand: str, kind: str) -> None:
    found = one("power.split-charging", SECOND | edits, demand=demand)
    assert found.kind == kind
    if kind == "fail":
        assert found.level == ("error" if demand in ("charged", "voltage") else "warning")


def test_a_build_of_one_battery_has_nothing_to_split() -> None:
    assert one("power.split-charging").kind == "notApplicable"


# -- further alternators ----------------------------------------------------------------------------------------------
def flat(charges: str) -> dict[str, Any]:
    """An alternator that gives 50 A at every speed: 42.5 A hot."""
    points = [{"rotor_speed": "500 r/min", "current": "50 A"}, {"rotor_speed": "18000 r/min", "current": "50 A"}]
    return {"charges": charges, "voltage": "12 V", "rated_current": "50 A", "pulley_ratio": 2.8, "output": points}


def test_alternators_on_the_same_batteries_add_up() -> None:
    second = {"electrics.alternators.second": flat("starting")}
    for when in ("idle", "cruise"):
        assert value(f"power.output-{when}", second) == pytest.approx(value(f"power.output-{when}") + 42.5)
    joined = SECOND | {"electrics.alternators.second": flat("auxiliary")}
    assert value("power.output-idle", joined) == pytest.approx(value("power.output-idle") + 42.5)


APART: dict[str, Any] = SECOND | {
    S: {"fitted": False},
    "electrics.alternators.second": flat("auxiliary"),
    "electrics.loads.fan.bank": "auxiliary",
}


def test_an_alternator_of_their_own_is_named_where_nothing_splits_the_charge() -> None:
    own = one("power.split-charging", APART, demand="charged")
    assert (own.kind, own.message) == ("pass", "An alternator of their own charges the auxiliary batteries.")
    none = one("power.split-charging", SECOND | {S: {"fitted": False}}, demand="charged")
    assert (none.kind, "Nothing charges the auxiliary batteries" in none.message) == ("fail", True)


def test_auxiliary_batteries_with_an_alternator_of_their_own_are_balanced_alone() -> None:
    # the cab's fan, 10 A at a duty of 0.3 at idle, hangs on them, and no longer on the others
    assert value("power.output-idle", APART) == pytest.approx(value("power.output-idle"))
    assert value("power.demand-idle", APART) == pytest.approx(value("power.demand-idle") - 3)
    found = one("power.auxiliary-balance", APART, demand="idle")
    assert found.kind == "pass"
    assert found.found == pytest.approx(42.5)
    assert one("power.split-charging", APART, demand="charged").kind == "pass"


@pytest.mark.parametrize(
    ("current", "demand", "kind"),
    [
        ("141 A", "idle", "pass"),  # 0.3 · 141 = 42.3
        ("142 A", "idle", "fail"),  # 42.6
        ("354 A", "cruise", "pass"),  # 1.2 · 0.1 · 354 = 42.48
        ("355 A", "cruise", "fail"),  # 42.6
    ],
)
def test_the_limits_of_the_balance_of_the_auxiliary_batteries(current: str, demand: str, kind: str) -> None:
    edits = APART | {"electrics.loads.fan.current": current}
    assert one("power.auxiliary-balance", edits, demand=demand).kind == kind


# -- glow plugs, and what closes the heater's relay -------------------------------------------------------------------
G = "engine.glow_plugs"
PLUGS: dict[str, Any] = {
    G: {"current": "60 A", "on_time": "8 s", "on_while_cranking": True, "fuse": "80 A"},
    f"{C}.plugs": FAST
    | {
        "role": "glow-plugs",
        "start": "battery-positive",
        "end": "glow-plugs",
        "switched_by": ["key-run"],
        "relay_rating": "70 A",
        "size": "10 mm2",
        "length": "1 m",
        "returns_by": "engine",
        "return_length": "0 m",
        "fuse": "80 A",
        "fuse_distance": "150 mm",
    },
}
TIMER = FAST | {
    "role": "other",
    "start": "key-run",
    "end": "glow-timer",
    "size": "1 mm2",
    "length": "1 m",
    "fuse": "5 A",
}


@pytest.mark.parametrize(
    ("edits", "demand", "kind"),
    [
        ({}, "rating", "pass"),  # 90 A · 0.85 · 1.3 for 8 s
        ({f"{G}.current": "99 A"}, "rating", "pass"),  # 99.45 A
        ({f"{G}.current": "100 A"}, "rating", "fail"),
        ({f"{C}.plugs.relay_rating": "59 A"}, "relay", "fail"),
        ({}, "closed", "fail"),  # on as long as the key stays in run, where 8 s are meant
        ({f"{C}.plugs.switched_by": ["glow-timer"], f"{C}.timer": TIMER}, "closed", "pass"),
        ({f"{C}.plugs.switched_by": ["key-accessory"]}, "closed", "fail"),  # dead in crank, where they go on heating
        ({f"{C}.plugs.switched_by": ["key-accessory"], f"{G}.on_while_cranking": False}, "closed", "fail"),
        ({f"{C}.plugs.switched_by": ["ecm-heater"]}, "closed", "pass"),
        ({f"{C}.plugs.fuse": "60 A"}, "fuse", "fail"),
    ],
)
def test_glow_plugs_are_judged_as_a_heater(edits: dict[str, Any], demand: str, kind: str) -> None:
    assert of_part("power.intake-heater", "cables.plugs", PLUGS | edits, demand=demand).kind == kind


def test_glow_plugs_that_glow_in_cranking_take_from_the_battery() -> None:
    less = value("power.crank-voltage") - value("power.crank-voltage", PLUGS)
    assert less == pytest.approx(60 * value("power.battery-resistance") / 1000)
    bare = {G: PLUGS[G]}
    found = next(f for f in trial("power.intake-heater", bare) if f.part == G)
    assert (found.kind, found.demand) == ("fail", "stated")


# -- wire gauges ------------------------------------------------------------------------------------------------------
def test_a_size_of_vehicle_cable_is_its_own_copper() -> None:
    sae, awg = {f"{C}.lamps.size": "12 SAE"}, {f"{C}.lamps.size": "12 AWG"}
    # 17.2414 / 2.9556 · 1.02 = 5.950 mΩ/m over 3 m, and two joints
    assert value("power.cable-resistance", sae, part="cables.lamps") == pytest.approx(3 * 5.950 + 0.06, rel=1e-4)
    # 45 A for 12 AWG, 3.3088 mm², as much for each mm²; engine space 0.85, three conductors 0.7
    expected = 45 * 2.9556 / 3.3088 * 0.85 * 0.7
    assert value("power.cable-rating", sae, part="cables.lamps") == pytest.approx(expected, rel=1e-4)
    assert value("power.cable-rating", awg, part="cables.lamps") == pytest.approx(45 * 0.85 * 0.7)


@pytest.mark.parametrize(
    ("size", "gauge", "kind"),
    [
        ("12 AWG", "SAE", "fail"),
        ("12 AWG", "AWG", "pass"),
        ("12 AWG", None, "open"),
        ("3 AWG", "SAE", "review"),  # no such row in the table
        ("12 SAE", None, "notApplicable"),
        ("4 mm2", None, "notApplicable"),
    ],
)
def test_a_gauge_number_says_which_series(size: str, gauge: str | None, kind: str) -> None:
    edits: dict[str, Any] = {f"{C}.lamps.size": size}
    if gauge is not None:
        edits[f"{C}.lamps.gauge"] = gauge
    found = one("power.wire-gauge", edits)
    assert found.kind == kind
    if kind == "fail":
        assert "2.956 mm² (12 SAE)" in found.message


# -- main switch ------------------------------------------------------------------------------------------------------
def test_what_runs_through_the_main_switch() -> None:
    assert value("power.main-switch-current") == pytest.approx(30)  # the feed of the cab; the alternator is ahead of it
    more = {f"{C}.lamps.current": "16 A"}
    assert value("power.main-switch-current", more) == pytest.approx(36)
    behind = {f"{C}.alternator.end": "isolator"}
    assert value("power.main-switch-current", behind) == pytest.approx(100)  # its rated current
    # in the ground lead: control unit 15, tail lamps 6, heaters 23.5 and cab 30; the alternator's 100 A are more
    ground = {
        f"{C}.battery.end": "starter",
        f"{C}.starter": None,
        f"{C}.cab.start": "battery-positive",
        "electrics.grounds.engine.end": "isolator",
        "electrics.grounds.switch": {
            "start": "isolator",
            "end": "battery-negative",
            "size": "50 mm2",
            "length": "0.2 m",
        },
    }
    assert value("power.main-switch-current", ground) == pytest.approx(100)
    assert value("power.main-switch-current", ground | {f"{C}.lamps.current": "80 A"}) == pytest.approx(144.5)


@pytest.mark.parametrize(
    ("edits", "demand", "kind"),
    [
        ({"electrics.isolator.rating": "30 A"}, "lasting", "pass"),
        ({"electrics.isolator.rating": "29 A"}, "lasting", "fail"),
        ({"electrics.isolator.rating_cranking": "350 A"}, "cranking", "pass"),
        ({"electrics.isolator.rating_cranking": "349 A"}, "cranking", "fail"),
        ({"electrics.isolator.rating": None}, "lasting", "open"),
        ({"electrics.isolator.fitted": False}, "there", "review"),  # four cables lead to it
    ],
)
def test_the_main_switch_bears_it(edits: dict[str, Any], demand: str, kind: str) -> None:
    assert one("power.main-switch-rating", edits, demand=demand).kind == kind


def test_a_starter_cable_that_feeds_another_load_is_none_of_its_own_consumers() -> None:
    # the glass of 12 A hangs on the starter's stud; the starter cable itself is no consumer's cable
    glass = {"role": "other", "start": "starter", "end": "glass", "current": "12 A"}
    edits = {f"{C}.glass": glass, f"{C}.starter.relay_rating": "300 A", f"{C}.starter.current": "250 A"}
    found = of_part("controls.relay-rating", "cables.starter", edits, demand="contact")
    assert (found.kind, found.limit.value if found.limit else None) == ("pass", 250)
    assert value("power.feeder-current", edits, part="cables.cab") == pytest.approx(30)


# -- consumers and their cables ---------------------------------------------------------------------------------------
L = "electrics.loads"


@pytest.mark.parametrize(
    ("edits", "part", "kind"),
    [
        # lamps of 12 A on two cables of 6 A: what the first does not carry, the second must, 6.3 A at most
        ({}, "cables.tail_lamps", "pass"),
        ({f"{L}.lamps.current": "60 A"}, "cables.tail_lamps", "fail"),
        ({f"{L}.lamps.current": "12.3 A"}, "cables.tail_lamps", "pass"),
        ({f"{L}.lamps.current": "12.4 A"}, "cables.tail_lamps", "fail"),
        ({f"{L}.lamps.fed_by": ["lamps"]}, "cables.lamps", "fail"),
        # old wiring behind the cab's feed: branches 8 + 6 + 2 + 10 = 26 A, and 5.5 A make 31.5, 1.05 times 30 A
        ({f"{L}.radio": {"current": "5.5 A", "voltage": "12 V", "fed_by": ["cab"]}}, "cables.cab", "pass"),
        ({f"{L}.radio": {"current": "5.6 A", "voltage": "12 V", "fed_by": ["cab"]}}, "cables.cab", "fail"),
        # 24 V of 3 A in a 12 V vehicle take in 3 · 24/0.9/12 = 6.67 A; the cable behind the converter carries 3 A
        ({f"{L}.radio": {"current": "3 A", "voltage": "24 V", "fed_by": ["diagnostic"]}}, "cables.diagnostic", "fail"),
        ({f"{L}.radio": {"current": "2 A", "voltage": "24 V", "fed_by": ["diagnostic"]}}, "cables.diagnostic", "pass"),
        # a cable that is named twice carries it once
        (
            {f"{L}.radio": {"current": "2 A", "voltage": "12 V", "fed_by": ["diagnostic"] * 2}},
            "cables.diagnostic",
            "pass",
        ),
        # on nothing that is listed
        ({f"{L}.lamps.fed_by": None}, "loads.lamps", "open"),
        ({f"{L}.lamps.fed_by": []}, "loads.lamps", "fail"),
        ({f"{L}.lamps.fed_by": ["lamp"]}, "loads.lamps", "fail"),
        ({f"{C}.tail_lamps.fitted": False}, "loads.lamps", "fail"),
        ({f"{L}.winch": {"current": "5 A", "voltage": "12 V"}}, "loads.winch", "open"),
        ({f"{L}.winch": {"current": "4.9 A", "voltage": "12 V"}}, "loads.winch", "notApplicable"),
        # a node of its own name: a dash in the one is an underline in the other
        ({f"{L}.head_lamps": {"current": "6 A", "voltage": "12 V"}}, "loads.head_lamps", "pass"),
    ],
)
def test_every_consumer_hangs_on_a_cable_that_carries_it(edits: dict[str, Any], part: str, kind: str) -> None:
    assert of_part("power.consumers-fed", part, edits).kind == kind
