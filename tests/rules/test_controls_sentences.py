"""What the rules of the controls say in each of their branches, each sentence read for what it says of that build.

The numbers in them, by hand: 2 m of 4 mm² there and back with two joints each are 2·(2·4.95 + 0.06) = 19.92 mΩ, at 15 A
0.2988 V; fed from the key 0.2916 + 4.835 + 8.04 mΩ lie before it, at 26 A 0.8603 V. The switched feed has 2.4 m of
1 mm² there and back, 2·46.86 mΩ, behind the same: at 2 A 0.2138 V; a metre of it there and back is 2·19.56 mΩ. The
pedal's lead of 2.4 m goes 1.8 m, of which 5 % and 0.15 m are slack: 0.36 m are left, and 0.27 m lack on a way of 2.4 m.
Holes are 2 mm wider than √(50² + 28²), √(40² + 25²) and √(60² + 28²) mm. A motor draws four times its 10 A as it
starts, a contact closes on three times its 40 A. In the coldest start the battery holds 9.958 V (tests of power).
"""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import trial

C, KEY = "electrics.cables", "electrics.key_switch.terminals"
ELECTRIC = {"plumbing.cooling.fan.drive": "electric"}


def wire(start: str, end: str, **more: Any) -> dict[str, Any]:
    """A thin cable from one node to another."""
    laid: dict[str, Any] = {"role": "other", "start": start, "end": end, "size": "1 mm2", "length": "1 m"}
    back = {"current": "1 A", "returns_by": "own-conductor", "return_length": "1 m", "fuse": "5 A"}
    return laid | back | {"insulation_temp": "105 degC", "place": "cab", "bundled_with": 0} | more


OTHER_PEDAL = {
    "electrics.pedal.track_ratio": 1.9,
    "electrics.pedal.inverted": True,
    "electrics.pedal.tracks": 3,
    "electrics.pedal.connector": "another",
    "electrics.pedal.supply_voltage": "12 V",
    "electrics.pedal.idle_switch": True,
    "electrics.pedal.supplies": 1,
    "electrics.pedal.voltages_adapted": True,
    "electrics.pedal.returns_to_idle": False,
}
NO_SOCKET = {
    "electrics.diagnostic.connector": "other",
    "electrics.diagnostic.protocol": "SAE J1939",
    "electrics.diagnostic.in_reach": False,
    "electrics.diagnostic.needs_tool": True,
    "electrics.network": {"fitted": False},
    f"{C}.diagnostic": None,
}
BARE_SOCKET = {
    "electrics.diagnostic.protocol": "SAE J1939",
    f"{C}.diagnostic": {"role": "other", "start": "battery-positive", "end": "diagnostic", "fused": False},
}
FUEL_ON_BUS = {
    "electrics.lamps.fuel.driven_by": "bus",
    "electrics.lamps.fuel.colour": "red",
    "electrics.network.nodes.*.needs": [110],
}
NO_SIGNALS = {
    "electrics.signals.brake_switch": None,
    "electrics.signals.clutch_switch": None,
    "electrics.signals.key_reader": None,
    "vehicle.modules.body.needs": ["old-code"],
}
HOT_AND_WET = {
    "electrics.ecm.temperature": "110 degC",
    "electrics.ecm.height": "250 mm",
    "engine.ecm.ip_codes": ["IP6K9K"],
    "electrics.ecm.tilt": "31 deg",
}
TIGHT_HOLE = {
    "electrics.routes.ecm-bulkhead.moves_with_engine": True,
    "electrics.openings.bulkhead.grommet": "plain",
    "engine.harness.cluster.connector.width": "60 mm",
    "engine.harness.pedal.pre_terminated": False,
}
MECHANICAL: dict[str, Any] = {
    "engine.ecm.fitted": False,
    "engine.stop": {"kind": "solenoid-to-run", "pull_current": "12 A", "hold_current": "1 A"},
    f"{C}.stop": wire("key-run", "stop-solenoid"),
}
BY_CABLE: dict[str, Any] = {
    "engine.pedal.fitted": False,
    "engine.throttle.travel": "40 mm",
    "electrics.throttle": {
        "travel": "42 mm",
        "stop": True,
        "springs": 2,
        "returns_to_idle": True,
        "slack_at_full_roll": True,
    },
}
STIFF = {"travel": "30 mm", "stop": False, "springs": 1, "returns_to_idle": False, "slack_at_full_roll": False}
BOX = "driveline.gearbox.controller"
AUTOMATIC: dict[str, Any] = {
    "driveline.gearbox.kind": "automatic",
    f"{BOX}.needs": ["engine-torque", "vehicle-speed"],
    f"{BOX}.limits_torque": True,
    f"{BOX}.shift_speed_max": "3300 r/min",
    "engine.transmission_messages.sends": ["engine-torque"],
    "engine.transmission_messages.accepts_torque_limit": True,
}
D = "electrics.controllers.display"
FEED = {"current": "1 A", "fuse": "5 A", "live_in_crank": True, "drop_max": "0.5 V"}
DISPLAY: dict[str, Any] = {
    D: {
        "essential": True,
        "wiring_kept": False,
        "ground_pins": 2,
        "ground_pins_used": 2,
        "hold_up_time": "50 ms",
        "min_voltage_crank": "7 V",
        "feeds": {"main": {"kind": "constant", **FEED}, "key": {"kind": "switched", **FEED}},
    },
    f"{C}.display_main": wire("cab-fuses", "display-main"),
    f"{C}.display_key": wire("key-run", "display-key"),
}


@pytest.mark.parametrize(
    ("rule", "part", "edits", "demand", "kind", "says"),
    [
        ("pedal-match", "", {}, "connector", "pass",
         "Pedal, connector: Sound pedal 6-way (invented); the control unit expects Sound pedal 6-way (invented)."),
        ("pedal-match", "", {}, "idle-switch", "pass",
         "Pedal, idle switch: no; the control unit expects no."),
        ("pedal-match", "", {}, "inverted", "pass",
         "Pedal, one track falling as the other rises: no; the control unit expects no."),
        ("pedal-match", "", {}, "returns-to-idle", "pass",
         "With one spring off, or one wire off, the engine goes to idle."),
        ("pedal-match", "", {}, "supplies", "pass",
         "Pedal, supplies: 2; the control unit expects 2."),
        ("pedal-match", "", {}, "supply-voltage", "pass",
         "Pedal, supply voltage: 5 V; the control unit expects 5 V."),
        ("pedal-match", "", {}, "track-ratio", "pass",
         "Pedal, ratio of the tracks: 2; the control unit expects 2."),
        ("pedal-match", "", {}, "tracks", "pass",
         "Pedal, tracks: 2; the control unit expects 2."),
        ("pedal-match", "", {}, "unchanged-voltages", "pass",
         "Nothing changes the pedal's voltages."),
        ("pedal-match", "", OTHER_PEDAL, "connector", "fail",
         "Pedal, connector: another; the control unit expects Sound pedal 6-way (invented). Fit the pedal that the "
         "engine's data sheet names."),
        ("pedal-match", "", OTHER_PEDAL, "idle-switch", "fail",
         "Pedal, idle switch: yes; the control unit expects no. Fit the pedal that the engine's data sheet names."),
        ("pedal-match", "", OTHER_PEDAL, "inverted", "fail",
         "Pedal, one track falling as the other rises: yes; the control unit expects no. Fit the pedal that the "
         "engine's data sheet names."),
        ("pedal-match", "", OTHER_PEDAL, "returns-to-idle", "fail",
         "With one spring or one wire off the engine does not go to idle: find out why before it is driven."),
        ("pedal-match", "", OTHER_PEDAL, "supplies", "fail",
         "Pedal, supplies: 1; the control unit expects 2. Fit the pedal that the engine's data sheet names."),
        ("pedal-match", "", OTHER_PEDAL, "supply-voltage", "fail",
         "Pedal, supply voltage: 12 V; the control unit expects 5 V. Fit the pedal that the engine's data sheet "
         "names."),
        ("pedal-match", "", OTHER_PEDAL, "track-ratio", "fail",
         "Pedal, ratio of the tracks: 1.9; the control unit expects 2. Fit the pedal that the engine's data sheet "
         "names."),
        ("pedal-match", "", OTHER_PEDAL, "tracks", "fail",
         "Pedal, tracks: 3; the control unit expects 2. Fit the pedal that the engine's data sheet names."),
        ("pedal-match", "", OTHER_PEDAL, "unchanged-voltages", "fail",
         "Resistors or a box change the pedal's voltages on the way to the control unit: take them out, fit the "
         "right pedal."),
        ("tach-signal", "", {}, "", "pass",
         "The source gives 2 pulses for each turn, the gauge is built for 2: it reads right."),
        ("tach-signal", "", {"electrics.tach.source": "bus", "electrics.network.fitted": False}, "", "fail",
         "The tachometer reads the bus, and the vehicle has none: it stays at zero. State the device that shows the "
         "speed, with what it needs, or take the engine's output or the alternator."),
        ("tach-signal", "", {"electrics.tach.source": "bus", "electrics.network.nodes.*.needs": [110]}, "", "fail",
         "The tachometer reads the bus, and no device on it takes engine speed (190): it stays at zero. State the "
         "device that shows the speed, with what it needs, or take the engine's output or the alternator."),
        ("diagnostic-access", "", {}, "connector", "pass",
         "The connector is SAE J1962; the engine's tool plugs into SAE J1962."),
        ("diagnostic-access", "", {}, "constant-feed", "pass",
         "The diagnostic connector is fed from the battery, whatever the key says."),
        ("diagnostic-access", "", {}, "fuse", "pass",
         "A fuse protects its feed."),
        ("diagnostic-access", "", {}, "in-reach", "pass",
         "It is in reach from the driver's seat."),
        ("diagnostic-access", "", {}, "no-tool", "pass",
         "One gets at it without a tool."),
        ("diagnostic-access", "", {}, "protocol", "pass",
         "Its wires carry ISO 15765-4; the engine's tool speaks ISO 15765-4."),
        ("diagnostic-access", "", NO_SOCKET, "bus", "fail",
         "Its wires carry SAE J1939, and the vehicle has no bus: lay one from the engine to the connector."),
        ("diagnostic-access", "", NO_SOCKET, "connector", "fail",
         "The connector is of another kind; the engine's tool plugs into SAE J1962."),
        ("diagnostic-access", "", NO_SOCKET, "constant-feed", "fail",
         "No constant feed leads from the battery to the node diagnostic: it takes one, fused."),
        ("diagnostic-access", "", NO_SOCKET, "in-reach", "fail",
         "It is out of reach from the driver's seat: move it there."),
        ("diagnostic-access", "", NO_SOCKET, "no-tool", "fail",
         "One gets at it only with a tool: free it."),
        ("diagnostic-access", "", NO_SOCKET, "protocol", "fail",
         "Its wires carry SAE J1939; the engine's tool speaks ISO 15765-4."),
        ("diagnostic-access", "", NO_SOCKET, "fuse", "notApplicable",
         "No cable leads to the node diagnostic."),
        ("diagnostic-access", "", BARE_SOCKET, "fuse", "fail",
         "No fuse protects the feed of the diagnostic connector."),
        ("diagnostic-access", "", BARE_SOCKET, "bus", "pass",
         "The vehicle has the bus that its wires carry."),
        ("diagnostic-access", "", {"electrics.diagnostic": {"fitted": False}}, "fitted", "fail",
         "There is no diagnostic connector: fit one to SAE J1962."),
        ("key-feed-crank", "switched", {}, "dead-in-off", "pass",
         "The feed switched is dead with the key off."),
        ("key-feed-crank", "switched", {}, "live", "pass",
         "Fed from terminal run of the key switch, the feed switched is live in run and crank."),
        ("key-feed-crank", "switched", {}, "break", "pass",
         "The feed is dead for 10 ms while the key turns to crank; the control unit rides through 50 ms."),
        ("key-feed-crank", "switched", {f"{C}.ecm_switched.start": "key-accessory"}, "live", "fail",
         "Fed from terminal accessory of the key switch, the feed switched is dead in crank. Live in both: terminal "
         "run. Take it from there."),
        ("key-feed-crank", "switched", {f"{C}.ecm_switched.start": "key-nothing"}, "live", "fail",
         "Fed from terminal nothing of the key switch, the feed switched is dead in run and crank. Live in both: "
         "terminal run. Take it from there."),
        ("key-feed-crank", "switched", {f"{C}.ecm_switched.start": "cab-fuses"}, "dead-in-off", "fail",
         "The feed switched stays live with the key off, and the engine runs on. Live in both: terminal run. Take it "
         "from there."),
        ("key-feed-crank", "switched", {f"{C}.ecm_switched.start": "cab-fuses"}, "live", "pass",
         "Fed from battery-positive, the feed switched is live in run and crank."),
        ("key-feed-crank", "switched",
         {f"{C}.ecm_switched.start": "cab-fuses", f"{C}.ecm_switched.switched_by": ["key-run", "key-start"]},
         "live", "pass",
         "Fed from battery-positive through a relay closed by key-run or key-start, the feed switched is live in run "
         "and crank."),
        ("key-feed-crank", "switched", {f"{KEY}.run.gap": "60 ms"}, "break", "fail",
         "The feed is dead for 60 ms while the key turns to crank; the control unit rides through 50 ms. It restarts "
         "in every start: take a terminal that does not break, or a relay that run and crank close, each through a "
         "diode."),
        ("key-feed-crank", "switched", {f"{C}.key.start": "nowhere"}, "live", "fail",
         "Fed from terminal run of the key switch, the feed switched is dead in run and crank. The key switch itself "
         "gets no current then: lead it there from the battery, to the node key."),
        ("key-feed-crank", "switched", {f"{KEY}.run.live_in": ["run"]}, "live", "fail",
         "Fed from terminal run of the key switch, the feed switched is dead in crank. No terminal is live in both: "
         "use a relay whose coil is fed from run or crank, each through a diode."),
        ("ecm-feed", "ecm", {}, "ground-pins", "pass",
         "3 of the control unit's 3 ground pins are used; all of them must be, at the point that its sheet names."),
        ("ecm-feed", "feeds.main", {}, "constant", "pass",
         "The constant feed main comes from battery-positive."),
        ("ecm-feed", "feeds.main", {}, "fuse", "pass",
         "The feed main has a fuse of 20 A; the engine maker asks for 20 A."),
        ("ecm-feed", "feeds.switched", {}, "fuse", "pass",
         "The feed switched has a fuse of 5 A; the engine maker asks for 5 A."),
        ("ecm-feed", "feeds.main", {}, "loss", "pass",
         "0.2988 V are lost on the feed main at 15 A, there and back."),
        ("ecm-feed", "feeds.switched", {}, "loss", "pass",
         "0.2138 V are lost on the feed switched at 2 A, there and back."),
        ("ecm-feed", "main",
         {"engine.ecm.feeds.main.current": "26 A", f"{C}.ecm.fuse": "25 A", f"{C}.ecm.start": "key-run"},
         "loss", "fail",
         "0.8603 V are lost on the feed main at 26 A, there and back. It takes more copper, or a shorter way."),
        ("ecm-feed", "main",
         {"engine.ecm.feeds.main.current": "26 A", f"{C}.ecm.fuse": "25 A", f"{C}.ecm.start": "key-run"},
         "constant", "fail",
         "The constant feed main comes from terminal run of the key switch. It must stay live whatever the key says: "
         "take it from the battery through its own fuse."),
        ("ecm-feed", "main",
         {"engine.ecm.feeds.main.current": "26 A", f"{C}.ecm.fuse": "25 A", f"{C}.ecm.start": "key-run"},
         "fuse", "fail",
         "The feed main has a fuse of 25 A; the engine maker asks for 20 A."),
        ("ecm-feed", "main", {f"{C}.ecm.fuse": None, f"{C}.ecm.fused": False}, "fuse", "fail",
         "The feed main has no fuse: it takes 20 A."),
        ("ecm-feed", "main", {f"{C}.ecm.fuse": "60 A"}, "fuse", "notApplicable",
         "The fuse is too big for its cable already: see power.fuse-cable-match."),
        ("ecm-feed", "main", {f"{C}.ecm": None}, "fed", "fail",
         "The engine asks for a feed main, and no cable leads from the battery or the key switch to ecm-main."),
        ("start-interlock", "", {}, "interlock", "pass",
         "Interlock of the starter: a clutch switch, on a manual gearbox."),
        ("start-interlock", "", {}, "only-in-crank", "pass",
         "The solenoid is live with the key in crank."),
        ("start-interlock", "", {}, "switch-rating", "pass",
         "The relay is rated 40 A, the solenoid pulls in with 25 A."),
        ("start-interlock", "",
         {f"{C}.solenoid.relay_rating": "20 A", f"{C}.solenoid.switched_by": ["key-run"],
          "electrics.start.interlock": "none"},
         "switch-rating", "fail",
         "The relay is rated 20 A, the solenoid pulls in with 25 A. Fit one of a higher rating."),
        ("start-interlock", "",
         {f"{C}.solenoid.relay_rating": "20 A", f"{C}.solenoid.switched_by": ["key-run"],
          "electrics.start.interlock": "none"},
         "only-in-crank", "fail",
         "The solenoid is live with the key in run and crank; it must be live in crank and nowhere else."),
        ("start-interlock", "",
         {f"{C}.solenoid.relay_rating": "20 A", f"{C}.solenoid.switched_by": ["key-run"],
          "electrics.start.interlock": "none"},
         "interlock", "fail",
         "Interlock of the starter: none, on a manual gearbox. Put a clutch or neutral switch in the coil circuit of "
         "the start relay."),
        ("start-interlock", "",
         {f"{C}.solenoid.switched_by": ["cab-fuses"], "driveline.gearbox.kind": "automatic"},
         "interlock", "fail",
         "Interlock of the starter: a clutch switch, on an automatic gearbox. Put a neutral switch in the coil "
         "circuit of the start relay."),
        ("start-interlock", "",
         {f"{C}.solenoid.switched_by": ["cab-fuses"], "driveline.gearbox.kind": "automatic"},
         "only-in-crank", "fail",
         "The solenoid is live with the key in off, accessory, run and crank; it must be live in crank and nowhere "
         "else."),
        ("start-interlock", "",
         {f"{C}.solenoid.switched_by": ["nothing"], "driveline.gearbox.kind": "automatic",
          "electrics.start.interlock": "neutral"},
         "only-in-crank", "fail",
         "The solenoid is live with the key in no position; it must be live in crank and nowhere else."),
        ("start-interlock", "",
         {f"{C}.solenoid.switched_by": ["nothing"], "driveline.gearbox.kind": "automatic",
          "electrics.start.interlock": "neutral"},
         "interlock", "pass",
         "Interlock of the starter: a neutral switch, on an automatic gearbox."),
        ("start-interlock", "",
         {f"{C}.solenoid.start": "key-start", f"{C}.solenoid.switched_by": None},
         "switch-rating", "fail",
         "The solenoid is fed by the key switch itself, rated 10 A, and pulls in with 25 A."),
        ("start-interlock", "",
         {f"{C}.solenoid.switched_by": None, f"{C}.solenoid.relay_rating": None},
         "switch-rating", "fail",
         "Nothing switches the solenoid: it takes a relay."),
        ("key-off-stops", "", {}, "alternator", "pass",
         "No wire leads from the ignition circuit to the alternator's excitation terminal."),
        ("key-off-stops", "", {}, "fan", "pass",
         "A fan that runs on feeds nothing that must be dead."),
        ("key-off-stops", "", {}, "held", "pass",
         "As the key is turned off ecm-switched loses its feed."),
        ("key-off-stops", "", {f"{C}.help": wire("cab-fuses", "key-run", switched_by=["key-run"])}, "held", "fail",
         "ecm-switched stays live as the key is turned off: the relay between cab-fuses and key-run feeds what "
         "closes it. Close it by the key itself."),
        ("key-off-stops", "",
         {f"{C}.{n}": wire("cab-fuses", "key-run", switched_by=["key-run"]) for n in "ab"},
         "held", "fail",
         "ecm-switched stays live as the key is turned off: relays hold each other closed. Close one of them by the "
         "key itself."),
        ("key-off-stops", "", {f"{C}.lamp": wire("key-run", "alternator-excitation")}, "alternator", "fail",
         "While it turns the alternator feeds ecm-switched backwards through its excitation wire, key off. A diode "
         "in that wire, towards the alternator, stops it."),
        ("key-off-stops", "", {f"{C}.lamp": wire("key-run", "alternator-excitation", diode=True)}, "alternator", "pass",
         "What the alternator gives at its excitation terminal does not reach back."),
        ("key-off-stops", "", {"engine.alternator.excitation": "lamp-wire"}, "alternator", "review",
         "The alternator is excited through a wire with the charge lamp, and no cable ends at alternator-excitation: "
         "state it, with its diode."),
        ("key-off-stops", "",
         {f"{C}.fan.switched_by": ["key-start"], f"{C}.fan_too": wire("key-run", "fan")},
         "fan", "fail",
         "A fan that runs on, or is turned by the wind, feeds ecm-switched backwards with the key off. Feed it "
         "through a relay from the battery, not from the ignition circuit."),
        ("key-off-stops", "", {f"{C}.pump": wire("cab-fuses", "pump", role="fuel-pump")}, "fuel-pump", "fail",
         "The fuel pump at pump runs on with the key off. Feed it through a relay that the engine's control unit or "
         "the key closes: a pump that runs on empties the tank through a torn hose."),
        ("key-off-stops", "",
         {f"{C}.pump": wire("cab-fuses", "pump", role="fuel-pump", switched_by=["key-run"])},
         "fuel-pump", "pass",
         "The fuel pump loses its feed as the key is turned off."),
        ("key-off-stops", "", {f"{C}.ecm_switched.start": "cab-fuses"}, "", "notApplicable",
         "Live with the key off in any case is ecm-switched: see controls.key-feed-crank."),
        ("warning-lamps", "", {}, "bus.temperature", "pass",
         "A device on the bus takes coolant temperature (110) for the lamp for coolant-temperature."),
        ("warning-lamps", "", {}, "colour.oil", "pass",
         "The lamp for oil-pressure is red, as it must be."),
        ("warning-lamps", "", {}, "complete", "pass",
         "Lamps for brake, charge, coolant-temperature, fuel-level, malfunction, oil-pressure, parking-brake, "
         "particulate-filter, vacuum, wait-to-start."),
        ("warning-lamps", "", {}, "output.filter", "pass",
         "The engine has a lamp output for particulate-filter."),
        ("warning-lamps", "", {}, "bears.filter", "pass",
         "The lamp for particulate-filter takes 60 mA; the output gives 300 mA."),
        ("warning-lamps", "", {}, "seen.filter", "pass",
         "The lamp for particulate-filter takes 60 mA; the control unit sees one from 20 mA."),
        ("warning-lamps", "", {"electrics.lamps.oil": None, "electrics.lamps.glow": None}, "complete", "fail",
         "No lamp for oil-pressure (from a switch or sender of its own), wait-to-start (from the engine output): fit "
         "them."),
        ("warning-lamps", "", {"electrics.lamps.fuel": None}, "complete", "fail",
         "No lamp for fuel-level (from a switch or sender of its own): fit it."),
        ("warning-lamps", "", FUEL_ON_BUS, "bus.fuel", "fail",
         "The lamp for fuel-level is driven by the bus, and no device on it takes fuel level (96): it never lights. "
         "State the device that lights it, with what it needs, or give the lamp a switch or sender of its own."),
        ("warning-lamps", "", FUEL_ON_BUS, "colour.fuel", "fail",
         "The lamp for fuel-level is red, and must be amber."),
        ("warning-lamps", "", {"electrics.lamps.oil.driven_by": "engine-output"}, "output.oil", "fail",
         "The engine has no lamp output for oil-pressure: it takes a switch or sender of its own."),
        ("immobiliser-signals", "engine", {}, "", "pass",
         "The engine gets brake-switch from brake_switch, clutch-switch from clutch_switch, vehicle-speed from "
         "speed_sensor."),
        ("immobiliser-signals", "immobiliser", {}, "", "pass",
         "The immobiliser gets coded-key from key_reader."),
        ("immobiliser-signals", "modules.body", {}, "", "pass",
         "The body gets engine-running from the engine."),
        ("immobiliser-signals", "engine", NO_SIGNALS, "", "fail",
         "The engine waits for brake-switch, clutch-switch, which nobody gives: fit a switch, sender or emulator. "
         "Without it the vehicle does not start, or does not run right."),
        ("immobiliser-signals", "immobiliser", NO_SIGNALS, "", "fail",
         "The immobiliser waits for coded-key, which nobody gives: fit a switch, sender or emulator. Without it the "
         "vehicle does not start, or does not run right."),
        ("immobiliser-signals", "modules.body", NO_SIGNALS, "", "fail",
         "The body waits for old-code, which nobody gives: fit a switch, sender or emulator."),
        ("immobiliser-signals", "body", {"vehicle.modules.body.needs": []}, "", "pass",
         "The body gets all that it waits for: nothing."),
        ("fan-output", "", ELECTRIC, "driven", "pass",
         "The relay of the fan is closed by ecm-fan."),
        ("fan-output", "", ELECTRIC, "match", "pass",
         "The engine's output is made for a relay, the fan's control takes a coil's current."),
        ("fan-output", "", ELECTRIC, "coil", "pass",
         "The coil takes 0.2 A; the engine's output gives 0.5 A."),
        ("fan-output", "", ELECTRIC, "contact", "pass",
         "The relay contact is rated 40 A, the fan runs at 10 A."),
        ("fan-output", "", {**ELECTRIC, "electrics.fan_control.takes": "pulse-width"}, "match", "fail",
         "The engine's output is made for a relay, the fan's control takes pulses."),
        ("fan-output", "", {**ELECTRIC, f"{C}.fan.switched_by": ["key-run"]}, "driven", "fail",
         "The relay of the fan is closed by key-run, not by ecm-fan, the engine's output."),
        ("fan-output", "", {**ELECTRIC, f"{C}.fan": None}, "driven", "fail",
         "The relay of the fan is closed by nothing, not by ecm-fan, the engine's output."),
        ("fan-output", "",
         {**ELECTRIC, "electrics.fan_control.takes": "own-thermo-switch", f"{C}.fan": None},
         "fed", "fail",
         "No cable of role fan is stated, and the fan stands still: state it."),
        ("fan-output", "",
         {**ELECTRIC, "electrics.fan_control.takes": "own-thermo-switch", f"{C}.fan": None},
         "match", "fail",
         "The fan runs on a thermo-switch of its own: the engine can neither ask for it nor know of it."),
        ("relay-rating", "fan", {}, "making", "pass",
         "As it is switched on the consumer draws 40 A; the contact may close on 120 A."),
        ("relay-rating", "fan", {}, "contact", "pass",
         "The contact is rated 40 A; it carries 10 A."),
        ("relay-rating", "fan", {f"{C}.fan.live_in_crank": True}, "live-in-crank", "fail",
         "fan is dead while the engine is cranked. Live in both: terminal run. Take it from there."),
        ("relay-rating", "fan",
         {f"{C}.fan.live_in_crank": True, f"{C}.fan.switched_by": ["key-accessory"]},
         "live-in-crank", "fail",
         "fan is dead while the engine is cranked: key-accessory, which closes its relay, drops out in crank. Live "
         "in both: terminal run. Take it from there."),
        ("relay-rating", "fan",
         {f"{C}.fan.live_in_crank": True, f"{C}.fan.switched_by": ["key-run"]},
         "live-in-crank", "pass",
         "fan stays live while the engine is cranked."),
        ("relay-rating", "fan",
         {f"{C}.fan.live_in_crank": True, f"{C}.fan.switched_by": ["key-run"]},
         "coil-holds", "pass",
         "In the coldest start the battery holds 9.958 V; the relay to fan lets go below 3.6 V at its coil."),
        ("key-load", "terminals.run", {}, "", "pass",
         "2 A hang on the terminal, which bears 15 A."),
        ("key-load", "terminals.start", {}, "", "pass",
         "0.15 A hang on the terminal, which bears 10 A."),
        ("key-load", "run", {f"{KEY}.run.rating": "1 A"}, "", "fail",
         "2 A hang on the terminal, which bears 1 A: put a relay into what takes most."),
        ("ecm-environment", "", {}, "protection", "pass",
         "Protected to IP67; its place sees spray, which takes IP67, or IP66 and better against jets."),
        ("ecm-environment", "", {}, "tilt", "pass",
         "It is turned 0° away from the way up that its maker shows, 30° are allowed: water must run off its "
         "connectors and vent."),
        ("ecm-environment", "", {}, "temperature", "pass",
         "70 °C where it is mounted; it bears 105 °C."),
        ("ecm-environment", "", HOT_AND_WET, "temperature", "fail",
         "110 °C where it is mounted; it bears 105 °C. More distance to the exhaust, a shield or a place in the cab "
         "cools it."),
        ("ecm-environment", "", HOT_AND_WET, "tilt", "fail",
         "It is turned 31° away from the way up that its maker shows, 30° are allowed: water must run off its "
         "connectors and vent."),
        ("ecm-environment", "", HOT_AND_WET, "protection", "fail",
         "Protected to IP6K9K; 250 mm above ground it stands in water when wading 300 mm, which takes IP67. Give it "
         "a drier place."),
        ("harness-reach", "pedal", {}, "reach", "pass",
         "The lead pedal has 2.4 m for a way of 1.8 m."),
        ("harness-reach", "pedal", {}, "coil", "pass",
         "The lead pedal has 2.4 m for a way of 1.8 m; beyond the usual slack 0.36 m are left, 0.5 m can be coiled "
         "up."),
        ("harness-reach", "pedal", {"electrics.routes.bulkhead-pedal.length": "1.4 m"}, "reach", "fail",
         "The lead pedal has 2.4 m for a way of 2.4 m: with the usual slack it is short by 0.27 m."),
        ("harness-reach", "pedal", {"electrics.routes.bulkhead-pedal.length": "1.4 m"}, "coil", "pass",
         "The lead pedal has 2.4 m for a way of 2.4 m; beyond the usual slack 0 m are left, 0.5 m can be coiled up."),
        ("harness-reach", "cluster", {"engine.harness.cluster.end": "roof"}, "route", "fail",
         "No route leads from 'ecm' to 'roof', where the lead cluster goes."),
        ("bulkhead-pass", "harness.cluster", {}, "split.bulkhead", "pass",
         "A split grommet closes round the lead cluster behind its connector."),
        ("bulkhead-pass", "harness.pedal", {}, "edge.bulkhead", "pass",
         "The opening bulkhead has a split grommet."),
        ("bulkhead-pass", "harness.pedal", {}, "split.bulkhead", "pass",
         "A split grommet closes round the lead pedal behind its connector."),
        ("bulkhead-pass", "harness.cluster", {}, "hole.bulkhead", "pass",
         "The connector of the lead cluster takes a hole of 59.31 mm; the opening bulkhead has 64 mm."),
        ("bulkhead-pass", "harness.cluster", {}, "bend.bulkhead-cluster", "pass",
         "The tightest bend on the route bulkhead-cluster is 80 mm; the lead cluster of 14 mm needs 70 mm."),
        ("bulkhead-pass", "harness.cluster", {}, "bend.ecm-bulkhead", "pass",
         "The tightest bend on the route ecm-bulkhead is 80 mm; the lead cluster of 14 mm needs 70 mm."),
        ("bulkhead-pass", "harness.pedal", {}, "hole.bulkhead", "pass",
         "The connector of the lead pedal takes a hole of 49.17 mm; the opening bulkhead has 64 mm."),
        ("bulkhead-pass", "harness.pedal", {}, "straight.ecm-bulkhead", "pass",
         "40 mm of ecm-bulkhead are straight behind a connector; 30 mm or more are usual."),
        ("bulkhead-pass", "harness.pedal", {}, "bend.bulkhead-pedal", "pass",
         "The tightest bend on the route bulkhead-pedal is 80 mm; the lead pedal of 10 mm needs 50 mm."),
        ("bulkhead-pass", "harness.pedal", {}, "bend.ecm-bulkhead", "pass",
         "The tightest bend on the route ecm-bulkhead is 80 mm; the lead pedal of 10 mm needs 50 mm."),
        ("bulkhead-pass", "harness.cluster", TIGHT_HOLE, "bend.ecm-bulkhead", "fail",
         "The tightest bend on the route ecm-bulkhead is 80 mm; the lead cluster of 14 mm needs 140 mm where it "
         "moves."),
        ("bulkhead-pass", "harness.pedal", TIGHT_HOLE, "bend.ecm-bulkhead", "fail",
         "The tightest bend on the route ecm-bulkhead is 80 mm; the lead pedal of 10 mm needs 100 mm where it moves."),
        ("bulkhead-pass", "harness.cluster", TIGHT_HOLE, "hole.bulkhead", "fail",
         "The connector of the lead cluster takes a hole of 68.21 mm; the opening bulkhead has 64 mm."),
        ("bulkhead-pass", "harness.cluster", TIGHT_HOLE, "split.bulkhead", "fail",
         "No grommet but a split one closes round the lead cluster behind its connector: fit one."),
        ("bulkhead-pass", "harness.pedal", TIGHT_HOLE, "edge.bulkhead", "pass",
         "The opening bulkhead has a plain grommet."),
        ("bulkhead-pass", "harness.pedal", TIGHT_HOLE, "hole.bulkhead", "pass",
         "The lead pedal is finished in the vehicle: its loose end passes 64 mm."),
        ("bulkhead-pass", "pedal", {"electrics.openings.bulkhead.grommet": "none"}, "edge.bulkhead", "fail",
         "The opening bulkhead has a bare edge: line it with a grommet."),
        ("bulkhead-pass", "pedal", {"electrics.openings.bulkhead": None}, "opening.ecm-bulkhead", "fail",
         "The opening 'bulkhead' is not stated."),
        ("engine-stop", "", MECHANICAL, "fed", "pass",
         "The node stop-solenoid is live in run, crank of the key."),
        ("engine-stop", "", MECHANICAL, "switch-rating", "pass",
         "The stop solenoid is fed by the key switch itself, rated 15 A, and pulls in with 12 A."),
        ("engine-stop", "", {**MECHANICAL, f"{C}.stop.start": "key-accessory"}, "fed", "fail",
         "The node stop-solenoid is live in run of the key; it must be live in run and in crank, and dead in off, "
         "where the engine stops."),
        ("engine-stop", "", {**MECHANICAL, f"{C}.stop": None}, "fed", "fail",
         "No cable leads from the battery or the key switch to the node stop-solenoid."),
        ("engine-stop", "", {**MECHANICAL, "engine.stop.pull_current": "16 A"}, "switch-rating", "fail",
         "The stop solenoid is fed by the key switch itself, rated 15 A, and pulls in with 16 A."),
        ("engine-stop", "",
         {**MECHANICAL, "engine.stop.kind": "solenoid-to-stop", "electrics.stop": {"cable": False}},
         "fed", "fail",
         "The stop solenoid is fed from terminal run of the key switch, which is dead with the key off: it needs "
         "current just then."),
        ("engine-stop", "",
         {**MECHANICAL, "engine.stop.kind": "solenoid-to-stop", "electrics.stop": {"cable": False}},
         "cable", "fail",
         "No cable works the engine's stop lever from the seat: fit one."),
        ("engine-stop", "",
         {**MECHANICAL, "engine.stop.kind": "solenoid-to-stop", f"{C}.stop.start": "cab-fuses",
          "electrics.stop": {"cable": True}},
         "switch-rating", "fail",
         "Nothing switches the stop solenoid: it takes a relay."),
        ("engine-stop", "",
         {**MECHANICAL, "engine.stop.kind": "solenoid-to-stop", f"{C}.stop.start": "cab-fuses",
          "electrics.stop": {"cable": True}},
         "fed", "pass",
         "The stop solenoid is fed from battery-positive."),
        ("engine-stop", "",
         {**MECHANICAL, "engine.stop.kind": "lever", "electrics.stop": {"cable": True, "in_reach": False}},
         "cable", "fail",
         "A cable works the engine's stop lever; it is out of the driver's reach."),
        ("engine-stop", "",
         {**MECHANICAL, "engine.stop.kind": "lever", "electrics.stop": {"cable": True, "in_reach": True}},
         "cable", "pass",
         "A cable works the engine's stop lever, in the driver's reach."),
        ("engine-stop", "", {**MECHANICAL, "engine.stop.kind": "ignition"}, "fed", "fail",
         "No cable leads from the battery or the key switch to the node ignition."),
        ("engine-stop", "", {**MECHANICAL, "engine.stop.kind": "control-unit"}, "device", "fail",
         "Its control unit stops the engine, and the engine has none."),
        ("engine-stop", "", {}, "", "notApplicable",
         "The engine's control unit stops it."),
        ("throttle-cable", "", BY_CABLE, "returns-to-idle", "pass",
         "With any one spring off, and with the cable off, the engine goes to idle."),
        ("throttle-cable", "", BY_CABLE, "slack", "pass",
         "The cable stays slack at idle while the engine rolls in its mounts."),
        ("throttle-cable", "", BY_CABLE, "springs", "pass",
         "2 springs bring the lever back to idle; two are usual, each on its own."),
        ("throttle-cable", "", BY_CABLE, "stop", "pass",
         "A stop under the pedal keeps the foot from straining cable and lever."),
        ("throttle-cable", "", BY_CABLE, "travel", "pass",
         "The pedal moves the cable 42 mm; from idle to full the lever takes 40 mm."),
        ("throttle-cable", "", {**BY_CABLE, "electrics.throttle": STIFF}, "returns-to-idle", "fail",
         "With one spring or the cable off the engine does not go to idle: find out why before it is driven."),
        ("throttle-cable", "", {**BY_CABLE, "electrics.throttle": STIFF}, "springs", "fail",
         "1 spring brings the lever back to idle; two are usual, each on its own."),
        ("throttle-cable", "", {**BY_CABLE, "electrics.throttle": STIFF}, "travel", "fail",
         "The pedal moves the cable 30 mm; from idle to full the lever takes 40 mm."),
        ("throttle-cable", "", {**BY_CABLE, "electrics.throttle": STIFF}, "slack", "fail",
         "The cable pulls while the engine rolls in its mounts, and the engine revs by itself: give it slack, or "
         "hold its outer cable at the engine."),
        ("throttle-cable", "", {**BY_CABLE, "electrics.throttle": STIFF}, "stop", "fail",
         "No stop under the pedal keeps the foot from straining cable and lever: fit one."),
        ("throttle-cable", "", {**BY_CABLE, "electrics.throttle": {"fitted": False}}, "fitted", "fail",
         "The engine is worked by a cable, and none is fitted."),
        ("throttle-cable", "", {**BY_CABLE, "engine.throttle": {"fitted": False}}, "", "notApplicable",
         "The engine has no lever for a throttle cable."),
        ("transmission-messages", "", AUTOMATIC, "signals", "pass",
         "The gearbox controller gets all that it waits for."),
        ("transmission-messages", "", AUTOMATIC, "torque-limit", "pass",
         "The controller asks the engine for less torque while it shifts, and the engine gives it."),
        ("transmission-messages", "", AUTOMATIC, "shift-speed", "pass",
         "It shifts up at 3300 r/min at the latest; the engine is rated at 3400 r/min."),
        ("transmission-messages", "",
         {**AUTOMATIC, f"{BOX}.needs": ["gear-lever"], "engine.transmission_messages.accepts_torque_limit": False},
         "signals", "fail",
         "The gearbox controller waits for gear-lever, which nobody gives: find a source for it."),
        ("transmission-messages", "",
         {**AUTOMATIC, f"{BOX}.needs": ["gear-lever"], "engine.transmission_messages.accepts_torque_limit": False},
         "torque-limit", "fail",
         "The controller asks the engine for less torque while it shifts, and the engine does not accept that: the "
         "clutches slip and burn."),
        ("transmission-messages", "",
         {**AUTOMATIC, f"{BOX}.needs": [], f"{BOX}.limits_torque": None},
         "signals", "pass",
         "The gearbox controller waits for no signal."),
        ("transmission-messages", "", {**AUTOMATIC, BOX: {"fitted": False}}, "", "notApplicable",
         "The gearbox has no electronic controller."),
        ("transmission-messages", "", {}, "", "notApplicable",
         "The gearbox is shifted by hand."),
        ("controller-feed", "controllers.display", DISPLAY, "asks", "pass",
         "2 feeds are stated for the control unit display: it has at least one."),
        ("controller-feed", "controllers.display", DISPLAY, "ground-pins", "pass",
         "2 of the control unit display's 2 ground pins are used; all of them must be, at the point that its sheet "
         "names."),
        ("controller-feed", "feeds.key", DISPLAY, "fuse", "pass",
         "The feed key has a fuse of 5 A; the maker of the control unit display asks for 5 A."),
        ("controller-feed", "feeds.main", DISPLAY, "constant", "pass",
         "The constant feed main comes from battery-positive."),
        ("controller-feed", "feeds.main", DISPLAY, "fuse", "pass",
         "The feed main has a fuse of 5 A; the maker of the control unit display asks for 5 A."),
        ("controller-feed", "feeds.key", DISPLAY, "loss", "pass",
         "0.05229 V are lost on the feed key at 1 A, there and back."),
        ("controller-feed", "feeds.main", DISPLAY, "loss", "pass",
         "0.04425 V are lost on the feed main at 1 A, there and back."),
        ("controller-feed", "modules.body", DISPLAY, "", "notApplicable",
         "The wiring of the control unit body stays as the vehicle's maker laid it."),
        ("controller-feed", "feeds.main", {**DISPLAY, f"{C}.display_main": None}, "fed", "fail",
         "The control unit display asks for a feed main, and no cable leads from the battery or the key switch to "
         "display-main."),
        ("controller-feed", "display", {**DISPLAY, f"{D}.ground_pins_used": 1}, "ground-pins", "fail",
         "1 of the control unit display's 2 ground pins are used; all of them must be, at the point that its sheet "
         "names."),
        ("controller-live", "feeds.key", DISPLAY, "dead-in-off", "pass",
         "The feed key is dead with the key off."),
        ("controller-live", "feeds.key", DISPLAY, "live", "pass",
         "Fed from terminal run of the key switch, the feed key is live in run and crank."),
        ("controller-live", "feeds.key", DISPLAY, "break", "pass",
         "The feed is dead for 10 ms while the key turns to crank; the control unit display rides through 50 ms."),
        ("controller-live", "key", {**DISPLAY, f"{C}.display_key.start": "cab-fuses"}, "dead-in-off", "fail",
         "The feed key stays live with the key off, and the control unit display with it. Live in both: terminal "
         "run. Take it from there."),
        ("controller-live", "key", {**DISPLAY, f"{D}.hold_up_time": "9 ms"}, "break", "fail",
         "The feed is dead for 10 ms while the key turns to crank; the control unit display rides through 9 ms. It "
         "restarts in every start: take a terminal that does not break, or a relay that run and crank close, each "
         "through a diode."),
        ("controller-live", "key", {**DISPLAY, f"{C}.display_key": None}, "", "notApplicable",
         "No cable leads to display-key: see controls.controller-feed."),
    ],
)  # fmt: skip
def test_what_is_said(rule: str, part: str, edits: dict[str, Any], demand: str, kind: str, says: str) -> None:
    found = [f for f in trial(f"controls.{rule}", edits) if f.part.endswith(part) and f.demand == demand]
    told = [(f.kind, f.message.split(" Common-practice fallback: ")[0]) for f in found]
    assert told == [(kind, says)]


def advised(rule: str, edits: dict[str, Any], demand: str, part: str = "") -> list[tuple[str, Any]]:
    found = [f for f in trial(f"controls.{rule}", edits) if f.demand == demand and f.part.endswith(part)]
    return [(one.field, one.value) for f in found for one in f.advice]


def test_a_place_as_hot_as_the_control_unit_bears_needs_no_cooling() -> None:
    (found,) = [f for f in trial("controls.ecm-environment", {"electrics.ecm.temperature": "105 degC"})
                if f.demand == "temperature"]  # fmt: skip
    assert (found.kind, found.message) == ("pass", "105 °C where it is mounted; it bears 105 °C.")


@pytest.mark.parametrize("correction", [None, 1.1])
def test_a_tachometer_that_reads_wrong_is_set_right_where_it_is_stated(correction: float | None) -> None:
    # built for 3 pulses where 2 come: 1.5 sets it right
    edits = {"electrics.tach.pulses_per_rev": 3, "electrics.tach.correction": correction}
    (found,) = trial("controls.tach-signal", edits)
    assert found.subject == f"electrics.tach.{'pulses_per_rev' if correction is None else 'correction'}"
    assert [(one.field, one.value) for one in found.advice] == [("electrics.tach.correction", pytest.approx(1.5))]


def test_the_first_of_two_extensions_is_to_be_longer() -> None:
    # 0.27 m lack on a way of 2.4 m; 0.1 and 0.05 m are added already, so that 0.12 m still lack
    edits = {
        "electrics.routes.bulkhead-pedal.length": "1.4 m",
        "electrics.extensions.one": {"lead": "pedal", "length": "0.1 m"},
        "electrics.extensions.two": {"lead": "pedal", "length": "0.05 m"},
    }
    assert advised("harness-reach", edits, "reach", "pedal") == [
        ("electrics.extensions.one.length", pytest.approx(0.1 + 0.12))
    ]


@pytest.mark.parametrize(("nominal", "volts"), [("12 V", 3.6), ("24 V", 7.2)])
def test_a_relay_lets_go_at_three_tenths_of_the_voltage_it_is_made_for(nominal: str, volts: float) -> None:
    edits = {
        "electrics.nominal_voltage": nominal,
        f"{C}.fan.live_in_crank": True,
        f"{C}.fan.switched_by": ["key-run"],
        "electrics.batteries.second": {"voltage": "12 V", "cca": "800 A", "cca_standard": "EN 50342-1"},
    }
    (found,) = [f for f in trial("controls.relay-rating", edits)
                if f.demand == "coil-holds" and f.part.endswith("cables.fan")]  # fmt: skip
    assert found.limit is not None
    assert found.limit.value == pytest.approx(volts)


def test_a_feed_of_the_engine_without_a_cable_is_told_by_the_rule_of_feeds() -> None:
    (found,) = trial("controls.key-feed-crank", {f"{C}.ecm_switched": None})
    assert (found.kind, found.message) == (
        "notApplicable",
        "No cable leads to ecm-switched: see controls.ecm-feed.",
    )


def test_a_system_of_one_volt_takes_no_resistor() -> None:
    # (1 - 1) V: nothing is left for a resistor, and nothing breaks over it
    edits = {"electrics.nominal_voltage": "1 V", "electrics.lamps.glow.current": "19 mA"}
    (found,) = [f for f in trial("controls.warning-lamps", edits) if f.demand == "seen.glow"]
    assert (found.kind, "A resistor of 0 Ω or less" in found.message) == ("fail", True)
