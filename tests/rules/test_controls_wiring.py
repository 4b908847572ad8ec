"""What the controls pack finds by walking the wiring: other control units, key off, relays, the key switch, stopping.

Conductors at 20 °C, mΩ/m, from IEC 60228, class 5: 1 mm² 19.5, 10 mm² 1.91, 50 mm² 0.386. Each cable has two joints of
0.03 mΩ, a motor starts with four times its running current, a relay closes on three times its rating, and its coil
takes 0.15 A at 12 V (common practice).
"""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import of_part, one, trial, value

C = "electrics.cables"
KEY = "electrics.key_switch.terminals"
LAID: dict[str, Any] = {"insulation_temp": "105 degC", "place": "cab", "bundled_with": 1}


def wire(start: str, end: str, **more: Any) -> dict[str, Any]:
    own = {"role": "switched-feed", "start": start, "end": end, "size": "1 mm2", "length": "1 m", "current": "1 A"}
    return own | LAID | {"returns_by": "own-conductor", "return_length": "1 m", "fuse": "5 A"} | more


# -- other control units ----------------------------------------------------------------------------------------------
def feed(kind: str, **more: Any) -> dict[str, Any]:
    return {"kind": kind, "current": "1 A", "fuse": "5 A", "live_in_crank": True, "drop_max": "0.5 V"} | more


D = "electrics.controllers.display"
DISPLAY: dict[str, Any] = {
    D: {
        "essential": True,
        "wiring_kept": False,
        "ground_pins": 2,
        "ground_pins_used": 2,
        "hold_up_time": "50 ms",
        "min_voltage_crank": "7 V",
        "feeds": {"main": feed("constant"), "key": feed("switched")},
    },
    f"{C}.display_main": wire("cab-fuses", "display-main"),
    f"{C}.display_key": wire("key-run", "display-key"),
}


def test_the_feed_of_another_control_unit_loses_what_the_way_there_and_back_loses() -> None:
    # battery cable 0.6 · 0.386 + 0.06, cab feed 2.5 · 1.91 + 0.06, its own 19.5 + 0.06 there and back; 1 A
    expected = 0.2916 + 4.835 + 2 * 19.56
    assert value("controls.feed-drop", DISPLAY, part="display.feeds.main") == pytest.approx(expected / 1000)


@pytest.mark.parametrize(
    ("edits", "part", "demand", "kind"),
    [
        ({}, "display.feeds.main", "fuse", "pass"),
        ({f"{C}.display_main": None}, "display.feeds.main", "fed", "fail"),
        ({f"{C}.display_main.fuse": "7.5 A"}, "display.feeds.main", "fuse", "fail"),
        ({f"{C}.display_main.start": "key-run"}, "display.feeds.main", "constant", "fail"),
        ({f"{D}.feeds.main.current": "12 A"}, "display.feeds.main", "loss", "fail"),  # 44.25 mΩ · 12 A = 0.531 V
        ({f"{D}.feeds.main.current": "11 A"}, "display.feeds.main", "loss", "pass"),  # 0.487 V
        ({f"{D}.ground_pins_used": 1}, "controllers.display", "ground-pins", "fail"),
        ({f"{D}.feeds": {}}, "controllers.display", "asks", "open"),
    ],
)
def test_another_control_unit_is_asked_what_the_engines_is(
    edits: dict[str, Any], part: str, demand: str, kind: str
) -> None:
    found = of_part("controls.controller-feed", part, DISPLAY | edits, demand=demand)
    assert (found.kind, found.level) == (kind, "error" if kind == "fail" else None)


def test_one_that_the_vehicle_can_do_without_only_warns() -> None:
    edits = DISPLAY | {f"{D}.essential": False, f"{C}.display_main": None}
    assert of_part("controls.controller-feed", "display.feeds.main", edits, demand="fed").level == "warning"


def test_wiring_that_stays_is_not_asked_and_silence_is_a_question() -> None:
    kept = DISPLAY | {f"{D}.wiring_kept": True, f"{C}.display_main": None}
    assert {f.kind for f in trial("controls.controller-feed", kept)} == {"notApplicable"}
    silent = trial("controls.controller-feed", {"electrics.controllers": None, "vehicle.modules": None})
    assert {u for f in silent for u in f.unknown} == {"electrics.controllers", "vehicle.modules"}
    untold = trial("controls.controller-feed", {D: {"wiring_kept": False}})
    assert {u for f in untold for u in f.unknown} >= {f"{D}.feeds", f"{D}.ground_pins_used"}


BOX = "driveline.gearbox.controller"
AUTOMATIC: dict[str, Any] = {
    "driveline.gearbox.kind": "automatic",
    f"{BOX}.feeds": {"main": feed("constant"), "key": feed("switched")},
    f"{C}.gearbox_main": wire("battery-positive", "gearbox-main", fuse_distance="100 mm"),
    f"{C}.gearbox_key": wire("key-run", "gearbox-key"),
}


def test_the_gearbox_controller_without_its_feed_is_an_error() -> None:
    assert of_part("controls.controller-feed", "controller.feeds.main", AUTOMATIC, demand="fuse").kind == "pass"
    cut = AUTOMATIC | {f"{C}.gearbox_main": None}
    found = of_part("controls.controller-feed", "controller.feeds.main", cut, demand="fed")
    assert (found.kind, found.level) == ("fail", "error")
    assert "gearbox controller" in found.message


@pytest.mark.parametrize(
    ("edits", "demand", "kind"),
    [
        ({}, "live", "pass"),
        ({f"{C}.display_key.start": "key-accessory"}, "live", "fail"),  # dead in crank
        ({f"{C}.display_key.start": "key-accessory", f"{D}.feeds.key.live_in_crank": False}, "live", "pass"),
        ({f"{C}.display_key.start": "cab-fuses"}, "dead-in-off", "fail"),
        ({f"{D}.hold_up_time": "10 ms"}, "break", "pass"),  # the terminal run is dead for 10 ms
        ({f"{D}.hold_up_time": "9 ms"}, "break", "fail"),
    ],
)
def test_another_control_unit_is_alive_when_it_must_be(edits: dict[str, Any], demand: str, kind: str) -> None:
    assert of_part("controls.controller-live", "display.feeds.key", DISPLAY | edits, demand=demand).kind == kind


def test_another_control_unit_needs_its_volts_in_the_coldest_crank() -> None:
    demand = "controller.display"
    volts = value("power.crank-voltage")
    just = {f"{D}.min_voltage_crank": f"{volts - 0.01:.3f} V"}
    assert one("power.crank-voltage", DISPLAY | just, demand=demand).kind == "pass"
    more = {f"{D}.min_voltage_crank": f"{volts + 0.01:.3f} V"}
    assert one("power.crank-voltage", DISPLAY | more, demand=demand).kind == "fail"
    untold = one("power.crank-voltage", DISPLAY | {f"{D}.min_voltage_crank": None}, demand=demand)
    assert (untold.kind, untold.unknown) == ("open", (f"{D}.min_voltage_crank",))


@pytest.mark.parametrize(("needs", "kind"), [("0 s", "pass"), ("5 s", "fail")])
def test_a_main_switch_leaves_another_control_unit_its_after_run(needs: str, kind: str) -> None:
    # the display hangs on the cab's fuses, which the main switch cuts off at once; 15 s to spare
    found = one("power.isolation-shutdown", DISPLAY | {f"{D}.after_run_time": needs}, demand="after-run.display")
    assert found.kind == kind
    delayed = DISPLAY | {f"{D}.after_run_time": "5 s", "electrics.isolator.off_delay": "20 s"}
    assert one("power.isolation-shutdown", delayed, demand="after-run.display").kind == "pass"


# -- key off ----------------------------------------------------------------------------------------------------------
LAMP_WIRE = wire("key-run", "alternator-excitation")


@pytest.mark.parametrize(
    ("edits", "demand", "kind"),
    [
        ({}, "held", "pass"),
        # a relay whose coil is fed from what it feeds
        ({f"{C}.help": wire("cab-fuses", "key-run", switched_by=["key-run"])}, "held", "fail"),
        # two relays that hold each other
        (
            {
                f"{C}.a": wire("cab-fuses", "key-run", switched_by=["b-out"]),
                f"{C}.b": wire("cab-fuses", "b-out", switched_by=["key-run"]),
            },
            "held",
            "fail",
        ),
        # the same with the second coil on the accessory terminal, which is dead in off
        (
            {
                f"{C}.a": wire("cab-fuses", "key-run", switched_by=["b-out"]),
                f"{C}.b": wire("cab-fuses", "b-out", switched_by=["key-accessory"]),
            },
            "held",
            "pass",
        ),
        # the control unit's own relay feeds the pin that keeps the control unit awake
        ({f"{C}.main": wire("cab-fuses", "ecm-switched", switched_by=["ecm-relay"])}, "held", "fail"),
        ({f"{C}.lamp": LAMP_WIRE}, "alternator", "fail"),
        ({f"{C}.lamp": LAMP_WIRE | {"diode": True}}, "alternator", "pass"),
        # a diode the wrong way round: from the alternator towards the key
        ({f"{C}.lamp": wire("alternator-excitation", "key-run", diode=True)}, "alternator", "fail"),
        # a fan that the control unit runs from the battery, joined to the ignition circuit: it holds all of it
        ({f"{C}.fan_too": wire("key-run", "fan")}, "held", "fail"),
        # the fan's own relay open: only the fan that runs on gives current, straight, then behind an open relay
        ({f"{C}.fan.switched_by": ["key-start"], f"{C}.fan_too": wire("key-run", "fan")}, "fan", "fail"),
        ({f"{C}.fan_too": wire("key-run", "fan", switched_by=["key-start"])}, "fan", "pass"),
        ({"engine.alternator.excitation": "lamp-wire"}, "alternator", "review"),
        ({"engine.alternator.excitation": None}, "alternator", "open"),
    ],
)
def test_key_off_stops_the_engine(edits: dict[str, Any], demand: str, kind: str) -> None:
    found = one("controls.key-off-stops", edits, demand=demand)
    assert found.kind == kind
    if kind == "fail":
        assert found.level == ("error" if demand == "held" else "warning")


def test_the_relay_that_holds_is_named() -> None:
    helping = one("controls.key-off-stops", {f"{C}.help": wire("cab-fuses", "key-run", switched_by=["key-run"])})
    assert helping.subject == f"{C}.help.switched_by"
    main = {f"{C}.main": wire("cab-fuses", "ecm-switched", switched_by=["ecm-relay"])}
    assert one("controls.key-off-stops", main).subject == f"{C}.main.switched_by"


def test_a_fuel_pump_stops_with_the_key() -> None:
    pump = {f"{C}.pump": wire("cab-fuses", "pump", role="fuel-pump", switched_by=["ecm-relay"], relay_rating="20 A")}
    assert one("controls.key-off-stops", pump, demand="fuel-pump").kind == "pass"
    bare = {f"{C}.pump": wire("cab-fuses", "pump", role="fuel-pump")}
    found = one("controls.key-off-stops", bare, demand="fuel-pump")
    assert (found.kind, found.level, found.subject) == ("fail", "warning", f"{C}.pump.switched_by")


def test_what_is_live_with_the_key_off_in_any_case_is_told_elsewhere() -> None:
    edits = {f"{C}.ecm_switched.start": "cab-fuses"}
    assert one("controls.key-off-stops", edits).kind == "notApplicable"
    assert of_part("controls.key-feed-crank", "feeds.switched", edits, demand="dead-in-off").kind == "fail"


# -- stop device ------------------------------------------------------------------------------------------------------
S = f"{C}.stop"
MECHANICAL: dict[str, Any] = {
    "engine.ecm.fitted": False,
    "engine.stop": {"kind": "solenoid-to-run", "pull_current": "12 A", "hold_current": "1 A"},
    S: wire("key-run", "stop-solenoid"),
}


@pytest.mark.parametrize(
    ("edits", "demand", "kind"),
    [
        ({}, "fed", "pass"),
        ({f"{S}.start": "key-accessory"}, "fed", "fail"),  # the engine would stop in every start
        ({f"{S}.start": "cab-fuses"}, "fed", "fail"),  # and here never
        ({S: None}, "fed", "fail"),
        ({}, "switch-rating", "pass"),  # the terminal run bears 15 A
        ({"engine.stop.pull_current": "15.1 A"}, "switch-rating", "fail"),
        (
            {f"{S}": wire("cab-fuses", "stop-solenoid", switched_by=["key-run"], relay_rating="10 A")},
            "switch-rating",
            "fail",
        ),
        ({"engine.stop.kind": "solenoid-to-stop", f"{S}.start": "cab-fuses"}, "fed", "pass"),
        ({"engine.stop.kind": "solenoid-to-stop"}, "fed", "fail"),  # dead just when it must pull
        ({"engine.stop.kind": "solenoid-to-stop", "electrics.stop": {"cable": False}}, "cable", "fail"),
        ({"engine.stop.kind": "lever", "electrics.stop": {"cable": True, "in_reach": True}}, "cable", "pass"),
        ({"engine.stop.kind": "lever", "electrics.stop": {"cable": True, "in_reach": False}}, "cable", "fail"),
        ({"engine.stop.kind": "control-unit"}, "device", "fail"),  # and it has none
    ],
)
def test_the_stop_device_has_what_it_needs(edits: dict[str, Any], demand: str, kind: str) -> None:
    assert one("controls.engine-stop", MECHANICAL | edits, demand=demand).kind == kind


@pytest.mark.parametrize(
    ("start", "said", "not_said"),
    [
        ("key-run", "is live in run, crank of the key.", "it must be live"),
        ("key-accessory", "; it must be live in run and in crank, and dead in off", "of the key."),
    ],
)
def test_it_is_said_when_the_stop_device_is_live(start: str, said: str, not_said: str) -> None:
    found = one("controls.engine-stop", MECHANICAL | {f"{S}.start": start}, demand="fed")
    assert said in found.message
    assert not_said not in found.message


def test_an_engine_without_a_control_unit_is_asked_what_stops_it() -> None:
    found = one("controls.engine-stop", {"engine.ecm.fitted": False})
    assert (found.kind, found.unknown) == ("open", ("engine.stop.kind",))
    assert one("controls.engine-stop").kind == "notApplicable"


def test_the_stop_solenoid_is_walked_with_the_key_off_too() -> None:
    lamp = MECHANICAL | {f"{C}.lamp": LAMP_WIRE}
    assert one("controls.key-off-stops", lamp, demand="alternator").kind == "fail"
    assert one("controls.key-off-stops", MECHANICAL, demand="held").kind == "pass"


# -- throttle cable ---------------------------------------------------------------------------------------------------
T = "electrics.throttle"
CABLE: dict[str, Any] = {
    "engine.pedal.fitted": False,
    "engine.throttle.travel": "40 mm",
    T: {"travel": "40 mm", "stop": True, "springs": 2, "returns_to_idle": True, "slack_at_full_roll": True},
}


@pytest.mark.parametrize(
    ("edits", "demand", "kind", "level"),
    [
        ({}, "travel", "pass", None),
        ({f"{T}.travel": "39.9 mm"}, "travel", "fail", "warning"),
        ({f"{T}.springs": 1}, "springs", "fail", "warning"),
        ({f"{T}.returns_to_idle": False}, "returns-to-idle", "fail", "error"),
        ({f"{T}.returns_to_idle": None}, "returns-to-idle", "open", None),
        ({f"{T}.fitted": False}, "fitted", "fail", "error"),
    ],
)
def test_the_throttle_cable(edits: dict[str, Any], demand: str, kind: str, level: str | None) -> None:
    found = one("controls.throttle-cable", CABLE | edits, demand=demand)
    assert (found.kind, found.level) == (kind, level)


def test_a_pedal_with_sensors_needs_no_cable() -> None:
    assert one("controls.throttle-cable").kind == "notApplicable"


# -- relays and the key switch ----------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("edits", "demand", "kind", "level"),
    [
        ({f"{C}.fan.relay_rating": "10 A"}, "contact", "pass", None),  # it carries 10 A
        ({f"{C}.fan.relay_rating": "9 A"}, "contact", "fail", "error"),
        ({f"{C}.fan.relay_rating": "13.4 A"}, "making", "pass", None),  # 4 · 10 A against 3 · 13.4 A
        ({f"{C}.fan.relay_rating": "13.2 A"}, "making", "fail", "warning"),
        ({f"{C}.fan.relay_making": "39 A"}, "making", "fail", "warning"),
        ({f"{C}.fan.inrush": "120 A"}, "making", "pass", None),  # 3 · 40 A
        ({f"{C}.fan.relay_rating": None}, "contact", "open", None),
        ({f"{C}.fan.live_in_crank": True}, "live-in-crank", "fail", "error"),  # ecm-fan is not live then
        ({f"{C}.fan.live_in_crank": True, f"{C}.fan.switched_by": ["key-run"]}, "live-in-crank", "pass", None),
    ],
)
def test_a_relay_bears_what_it_carries(edits: dict[str, Any], demand: str, kind: str, level: str | None) -> None:
    found = of_part("controls.relay-rating", "cables.fan", edits, demand=demand)
    assert (found.kind, found.level) == (kind, level)


def test_a_relay_in_the_starter_cable_closes_on_the_cranking_current() -> None:
    # 350 A crank the engine; a contact of 100 A may close on three times that where its sheet is silent
    edits: dict[str, Any] = {f"{C}.battery.switched_by": ["key-run"], f"{C}.battery.relay_rating": "100 A"}
    weak = of_part("controls.relay-rating", f"{C}.battery", edits, demand="making")
    assert (weak.kind, weak.level) == ("fail", "warning")
    assert (
        of_part("controls.relay-rating", f"{C}.battery", edits | {f"{C}.battery.relay_making": "350 A"}).kind == "pass"
    )


@pytest.mark.parametrize(
    ("drop_out", "kind"),
    # 12.4 - 0.35·(4900/680·0.96842) = 9.957 V at the battery in the coldest start
    [("9.95 V", "pass"), ("9.96 V", "fail"), (None, "pass")],
)
def test_a_relay_holds_while_the_starter_pulls_the_voltage_down(drop_out: str | None, kind: str) -> None:
    pump = {
        "role": "fuel-pump",
        "start": "cab-fuses",
        "end": "lift-pump",
        "switched_by": ["key-run"],
        "relay_rating": "30 A",
        "current": "5 A",
        "coil_drop_out": drop_out,
    }
    edits = {f"{C}.pump": {field: value for field, value in pump.items() if value is not None}}
    found = of_part("controls.relay-rating", f"{C}.pump", edits, demand="coil-holds")
    assert (found.kind, found.level) == (kind, "warning" if kind == "fail" else None)


def test_a_relay_carries_all_branches_behind_it() -> None:
    # a relay in the feed of the cab: key 8, lamps 6, diagnostic 2 and fan 10 A, with 30 A stated
    edits = {f"{C}.cab.switched_by": ["key-run"], f"{C}.cab.relay_rating": "35 A", f"{C}.lamps.current": "16 A"}
    assert of_part("controls.relay-rating", "cables.cab", edits, demand="contact").kind == "fail"  # 36 A
    less = edits | {f"{C}.lamps.current": "15 A"}
    assert of_part("controls.relay-rating", "cables.cab", less, demand="contact").kind == "pass"  # 35 A


def test_a_fuel_pump_whose_coil_drops_out_in_crank() -> None:
    pump = {
        f"{C}.pump": wire("cab-fuses", "pump", role="fuel-pump", switched_by=["key-accessory"], relay_rating="20 A")
    }
    found = of_part("controls.relay-rating", "cables.pump", pump, demand="live-in-crank")
    assert found.kind == "fail"
    assert "key-accessory" in found.message
    bare = {f"{C}.pump": wire("key-accessory", "pump", role="fuel-pump")}
    assert of_part("controls.relay-rating", "cables.pump", bare, demand="live-in-crank").subject == f"{C}.pump.start"


def test_what_hangs_on_a_terminal_of_the_key_switch() -> None:
    assert value("controls.key-load", part="run") == pytest.approx(2.0)  # the switched feed of the control unit
    coils = {f"{C}.fan.switched_by": ["key-run"]}
    assert value("controls.key-load", coils, part="run") == pytest.approx(2.15)
    assert value("controls.key-load", coils | {f"{C}.fan.coil_current": "0.3 A"}, part="run") == pytest.approx(2.3)
    # a coil of the same power takes half of that at 24 V
    assert value("controls.key-load", coils | {"electrics.nominal_voltage": "24 V"}, part="run") == pytest.approx(2.075)
    assert of_part("controls.key-load", "run", {f"{KEY}.run.rating": "2 A"}).kind == "pass"
    less = of_part("controls.key-load", "run", {f"{KEY}.run.rating": "1.9 A"})
    assert (less.kind, less.level) == ("fail", "error")
    unrated = {f"{KEY}.run.rating": None, f"{C}.ecm_switched.current": "11 A"}  # 10 A, common practice
    found = of_part("controls.key-load", "run", unrated)
    assert (found.kind, found.level) == ("fail", "warning")


# -- lamps on the bus, round connectors -------------------------------------------------------------------------------
def test_a_lamp_on_the_bus_has_somebody_to_light_it() -> None:
    demand, cluster = "bus.temperature", "electrics.network.nodes.cluster.needs"
    assert one("controls.warning-lamps", demand=demand).kind == "pass"  # the cluster takes 110
    deaf = one("controls.warning-lamps", {cluster: [190, 100]}, demand=demand)
    assert (deaf.kind, deaf.level) == ("fail", "error")
    none = one("controls.warning-lamps", {"electrics.network.fitted": False}, demand=demand)
    assert (none.kind, none.level) == ("fail", "error")
    untold = one("controls.warning-lamps", {cluster: None}, demand=demand)
    assert (untold.kind, untold.unknown) == ("open", (cluster,))
    filter_lamp = {"electrics.lamps.filter.driven_by": "bus"}
    assert one("controls.warning-lamps", filter_lamp, demand="bus.filter").unknown == (
        "electrics.lamps.filter.parameter",
    )
    stated = filter_lamp | {"electrics.lamps.filter.parameter": 3697}
    assert one("controls.warning-lamps", stated, demand="bus.filter").kind == "fail"


@pytest.mark.parametrize(("diameter", "kind"), [("62 mm", "pass"), ("62.1 mm", "fail")])
def test_a_round_connector_passes_by_its_diameter(diameter: str, kind: str) -> None:
    edits = {"engine.harness.pedal.connector": {"diameter": diameter}}  # a hole of 64 mm, 2 mm of room
    assert of_part("controls.bulkhead-pass", "harness.pedal", edits, demand="hole.bulkhead").kind == kind


def test_without_a_cable_nobody_knows_whether_the_key_stops_the_engine() -> None:
    for rule in ("controls.key-off-stops", "controls.relay-rating", "controls.key-load", "power.fuse-cable-match"):
        findings = trial(rule, {"electrics.cables": {}})
        assert [(f.kind, f.due, f.unknown) for f in findings] == [("open", True, ("electrics.cables",))], rule


@pytest.mark.parametrize(
    ("rule", "table"),
    [
        ("power.crank-loop", "electrics.grounds"),
        ("power.battery-location", "electrics.batteries"),
        ("power.charge-balance", "electrics.loads"),
        ("controls.key-off-stops", "electrics.key_switch.terminals"),
        ("controls.ecm-feed", "engine.ecm.feeds"),
        ("controls.harness-reach", "engine.harness"),
        ("controls.bulkhead-pass", "electrics.routes"),
        ("network.bus-load", "electrics.network.wires"),
        ("network.signal-availability", "electrics.network.nodes"),
    ],
)
def test_an_empty_table_is_a_question(rule: str, table: str) -> None:
    asked = [f for f in trial(rule, {table: {}}) if f.kind == "open"]
    assert asked
    assert all(f.due and table in f.unknown for f in asked)


@pytest.mark.parametrize(("rating", "hot"), [("2 A", False), ("1 A", True)])
def test_a_relay_is_asked_for_only_where_the_switch_bears_too_little(rating: str, hot: bool) -> None:
    # 2 A hang on the terminal of the sound spec, the switched feed of the control unit
    edits = {"electrics.key_switch.terminals.run.rating": rating}
    found = of_part("controls.key-load", "run", edits)
    assert ("put a relay" in found.message, found.kind) == (hot, "fail" if hot else "pass")


@pytest.mark.parametrize(("size", "thin"), [("2.5 mm2", False), ("0.5 mm2", True)])
def test_more_copper_is_asked_for_only_where_too_much_is_lost(size: str, thin: bool) -> None:
    found = [f for f in trial("controls.ecm-feed", {"electrics.cables.ecm.size": size}) if f.demand == "loss"]
    found = [f for f in found if f.subject == "electrics.cables.ecm.size"]
    assert [("more copper" in f.message, f.kind) for f in found] == [(thin, "fail" if thin else "pass")]


def test_of_two_relays_in_a_row_the_weaker_must_bear_the_solenoid() -> None:
    # 40 A in the solenoid's own line, 20 A in the one that feeds it; the solenoid pulls in with 25 A
    edits = {"electrics.cables.cab.relay_rating": "20 A", "electrics.cables.cab.switched_by": ["key-start"]}
    found = one("controls.start-interlock", edits, demand="switch-rating")
    assert (found.kind, found.found, found.subject) == ("fail", 20.0, "electrics.cables.cab.relay_rating")
