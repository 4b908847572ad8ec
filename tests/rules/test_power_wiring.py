"""The wiring as the power pack walks it: what feeds what, what the key does, which control units there are. By hand."""

from __future__ import annotations

from typing import Any

import pytest
from asked import build, wires
from swaplint_rules.power import key, network, units
from swaplint_rules.power import quantities as q

from swaplint.api import OutsideRange, name_of
from swaplint.kit.trial import value

C = "electrics.cables"
BOX = "driveline.gearbox"
AUTOMATIC = {f"{BOX}.kind": "automatic", f"{BOX}.controller": {"after_run_time": "0 s"}}


# -- the wiring as a network -------------------------------------------------------------------------------------------
def test_so_many_cables_are_looked_at_behind_one(monkeypatch: pytest.MonkeyPatch) -> None:
    # w0 itself, w1 and w2 behind it, w3 behind that: four, of 1 A each where nothing hangs behind
    tree = wires(("battery-positive", "one"), ("one", "two"), ("one", "three"), ("two", "four"))
    monkeypatch.setattr(q, "MOST_LOOKS", 4)
    assert value("power.feeder-current", tree, part="w0") == pytest.approx(2.0)
    monkeypatch.setattr(q, "MOST_LOOKS", 3)
    with pytest.raises(OutsideRange, match="too many rings"):
        value("power.feeder-current", tree, part="w0")


def test_the_nearer_of_two_batteries_feeds_a_node() -> None:
    near, far = ("auxiliary-positive", "lamp"), [("battery-positive", "middle"), ("middle", "lamp")]
    for ways, names in (((near, *far), ["w0"]), (far, ["w0", "w1"])):
        made = build(wires(*ways))
        assert [cable.end for cable in key.feeding(made, "lamp")] == [way[1] for way in ways[: len(names)]]
        assert [str(cable.start) for cable in key.feeding(made, "lamp")] == [way[0] for way in ways[: len(names)]]


def test_a_ring_of_cables_is_walked_once_from_whichever_side_it_is_met() -> None:
    """Behind `from` two cables lead into a ring of three nodes, with lamps at two of them.

    From `to-one` on: a lamp of 10 A, and by `there` one of 20 A, by `on` and `back` the 10 A again: 40 A. From `to-two`
    on: 20 A, and by `on` and `back` 10 A, by `there` the 20 A again: 50 A.
    """
    ends = {"from": ("battery-positive", "fork"), "to-one": ("fork", "one"), "to-two": ("fork", "two")}
    ends |= {"there": ("one", "two"), "on": ("two", "three"), "back": ("three", "one")}
    ends |= {"lamp-one": ("one", "a"), "lamp-two": ("two", "b")}
    made = wires(*ends.values()) | {f"{C}.w6.current": "10 A", f"{C}.w7.current": "20 A"}
    behind = [value("power.feeder-current", made, part=f"w{list(ends).index(name)}") for name in list(ends)[:3]]
    assert behind == pytest.approx([90.0, 40.0, 50.0])


@pytest.mark.parametrize(
    ("second", "diode", "fed"),
    # two cables lead to the lamp past w2: the second drawn one way or the other, with a diode or without
    [
        (("middle", "lamp"), False, True),
        (("lamp", "middle"), False, True),
        (("middle", "lamp"), True, True),
        (("lamp", "middle"), True, False),
    ],
)
def test_a_diode_lets_no_current_come_from_the_end_of_a_cable(second: tuple[str, str], diode: bool, fed: bool) -> None:
    ways = wires(("battery-positive", "middle"), second, ("cab-fuses", "lamp"))
    made = build({**ways, f"{C}.w1.diode": diode})
    found = network.from_its_end(made, made.electrics.cables["w2"])
    assert [str(cable.end) for cable in found or []] == (["middle", second[1]] if fed else [])


# -- the key -----------------------------------------------------------------------------------------------------------
FEED = ("cab-fuses", "pump")


@pytest.mark.parametrize(
    ("relay", "unit", "live_in"),
    [
        # the control unit's relay output is live in run and in crank, its output for the starter in crank
        ("ecm-relay", {}, {"run", "crank"}),
        ("ecm-start", {}, {"crank"}),
        ("key-accessory", {}, {"accessory", "run"}),
        # without its switched feed the control unit sleeps
        ("ecm-relay", {f"{C}.ecm_switched.start": "key-start"}, {"crank"}),
        ("ecm-relay", {f"{C}.ecm_switched.start": "nowhere"}, set()),
        # with none wired it is taken to be woken otherwise
        ("ecm-relay", {f"{C}.ecm_switched": None}, {"run", "crank"}),
    ],
)
def test_when_a_relay_is_closed(relay: str, unit: dict[str, Any], live_in: set[str]) -> None:
    made = build(wires(FEED, switched_by=[relay]) | unit)
    assert {at for at in ("off", "accessory", "run", "crank") if "pump" in key.live(made, at)} == live_in


def test_an_output_of_the_control_unit_that_feeds_a_cable_is_live_too() -> None:
    made = build(wires(("ecm-relay", "pump")))
    assert "pump" in key.live(made, "run")
    assert "pump" not in key.live(made, "off")
    assert "ecm-relay" not in key.live(build(), "run")  # where nothing hangs on it nobody asks


@pytest.mark.parametrize(
    ("feed", "live"),
    # the switch is fed by the cab's fuses, by nothing that is live, or nobody says by what: then its terminals are
    [({}, True), ({f"{C}.key.start": "nowhere"}, False), ({f"{C}.key": None}, True)],
)
def test_the_terminals_of_a_key_switch_are_live_unless_its_feed_is_dead(feed: dict[str, Any], live: bool) -> None:
    made = build(feed)
    assert ("ecm-switched" in key.live(made, "run")) is live
    assert "ecm-switched" not in key.live(made, "accessory")


HELPER = ("cab-fuses", "key-run")
LAMP = ("key-run", "alternator-excitation")
AWAKE_ITSELF = {f"{C}.ecm_switched": None}


@pytest.mark.parametrize(
    ("edits", "also", "node", "held"),
    [
        ({}, "", "ecm-switched", False),
        # a relay that closes itself, one that the key closes, one that its own load keeps closed
        (wires(HELPER, switched_by=["key-run"]), "", "ecm-switched", True),
        (wires(HELPER, switched_by=["key-accessory"]), "", "ecm-switched", False),
        (wires(FEED, switched_by=["key-run", "pump"]), "", "pump", True),
        (wires(FEED, switched_by=["key-run"]), "", "pump", False),
        # what another source gives at the alternator, and a diode against it
        (wires(LAMP), "", "ecm-switched", False),
        (wires(LAMP), "alternator-excitation", "ecm-switched", True),
        (wires(LAMP, diode=True), "alternator-excitation", "ecm-switched", False),
        # an output of the control unit closes it in run while the unit is awake: woken by its feed, or otherwise
        (wires(FEED, switched_by=["ecm-relay", "pump"]), "", "pump", True),
        (wires(FEED, switched_by=["ecm-relay"]), "", "pump", False),
        (AWAKE_ITSELF | wires(FEED, switched_by=["ecm-relay", "pump"]), "", "pump", True),
        (wires(FEED, switched_by=["ecm-relay", "pump"]) | {f"{C}.ecm_switched.start": "nowhere"}, "", "pump", False),
        # and it stays live as long as the unit's feed does
        (wires(FEED, HELPER) | {f"{C}.w0.switched_by": ["ecm-relay"]}, "", "pump", True),
    ],
)
def test_what_stays_live_as_the_key_is_turned_off(edits: dict[str, Any], also: str, node: str, held: bool) -> None:
    assert (node in key.held(build(edits), frozenset({also} - {""}))) is held


def test_a_relay_that_is_thought_away_holds_nothing() -> None:
    made = build(wires(HELPER, switched_by=["key-run"]))
    assert "ecm-switched" not in key.held(made, without=f"{C}.w0")
    assert "ecm-switched" in key.held(made, without=f"{C}.fan")


# -- control units -----------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("edits", "found"),
    [
        ({"vehicle.modules": {}, "electrics.controllers": {}}, []),
        ({"vehicle.modules": {"body": {}, "none": {"fitted": False}}, "electrics.controllers": {}}, ["body"]),
        ({"vehicle.modules": None, "electrics.controllers": {"display": {}}}, ["display"]),
        ({"vehicle.modules": {"body": {}}, "electrics.controllers": {"display": {}}}, ["body", "display"]),
        # an automatic gearbox has one, where it is fitted; a manual one has none
        ({"vehicle.modules": {}, "electrics.controllers": {}, **AUTOMATIC}, ["controller"]),
        ({"vehicle.modules": {}, "electrics.controllers": {}, **AUTOMATIC, f"{BOX}.kind": "manual"}, []),
        ({"vehicle.modules": {}, "electrics.controllers": {}, **AUTOMATIC, f"{BOX}.controller.fitted": False}, []),
    ],
)
def test_which_control_units_there_are_besides_the_engines(edits: dict[str, Any], found: list[str]) -> None:
    assert [name_of(unit) for unit in units.others(build(edits))] == found


@pytest.mark.parametrize(
    ("edits", "asked"),
    [
        ({f"{BOX}.kind": None}, f"{BOX}.kind"),
        ({f"{BOX}.kind": "automatic", f"{BOX}.controller": None}, f"{BOX}.controller"),
        ({"vehicle.modules": None}, "vehicle.modules"),
        ({"electrics.controllers": None}, "electrics.controllers"),
    ],
)
def test_what_is_asked_of_who_does_not_say_whether_there_are_others(edits: dict[str, Any], asked: str) -> None:
    made = build(edits)
    (silent,) = units.nobody_says(made)
    with pytest.raises(Exception, match=asked.replace(".", r"\.")):
        units.ask_whether(made, silent)


def test_a_feed_belongs_to_the_unit_that_asks_for_it() -> None:
    feeds = {"main": {"kind": "constant", "current": "1 A", "fuse": "5 A"}}
    made = build(
        {"vehicle.modules": {"body": {"feeds": feeds}}, "electrics.controllers": {"display": {"feeds": feeds}}}
    )
    for unit in (made.engine.ecm, made.vehicle.modules["body"], made.electrics.controllers["display"]):
        assert units.unit_of(made, unit.feeds["main"]) is unit
