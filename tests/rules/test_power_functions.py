"""Small functions of the power pack, asked directly, and what a rule says at their edges. Each number by hand."""

from __future__ import annotations

from typing import Any

import pytest
from advising import advised
from swaplint_rules.power import charging_quantities as charge
from swaplint_rules.power import hanging, installation, key, network, units
from swaplint_rules.power import quantities as q
from told import edited, told

from swaplint.api import OutsideRange, name_of
from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import of_part, one, rule_base, trial, value

C, G = "electrics.cables", "electrics.grounds"
BOX = "driveline.gearbox"
AUTOMATIC = {f"{BOX}.kind": "automatic", f"{BOX}.controller": {"after_run_time": "0 s"}}


def build(edits: dict[str, Any] | str | None = None) -> Any:
    return View(sound_spec(rule_base(), edited(edits) if isinstance(edits, str) else edits or {}).build).build


def wires(*joined: tuple[str, str], **more: Any) -> dict[str, Any]:
    """Cables w0, w1 ... from node to node."""
    laid = {"role": "other", "size": "4 mm2", "length": "1 m", "current": "1 A", "insulation_temp": "105 degC"}
    laid |= {"place": "cab", "bundled_with": 0, "fused": False, "sleeved": True} | more
    return {f"{C}.w{number}": {**laid, "start": start, "end": end} for number, (start, end) in enumerate(joined)}


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


# -- the charge balance ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("when", ["idle", "cruise", "stationary"])
def test_a_balance_is_what_is_given_less_what_is_taken(when: str) -> None:
    standing = {"build.duty.stationary_power": "20 kW", "build.duty.stationary_speed": "1500 r/min"}
    given, taken = value(f"power.output-{when}", standing), value(f"power.demand-{when}", standing)
    assert value(f"power.balance-{when}", standing) == pytest.approx(given - taken)
    assert taken > 0.0


def test_a_separator_of_which_nobody_says_the_kind_is_none_yet() -> None:
    device = {"closed_by": ["key-run"], "rating": "100 A"}
    assert not charge.has_split_charging(build({"electrics.split_charging": device}))
    assert charge.has_split_charging(build({"electrics.split_charging": device | {"kind": "relay"}}))
    assert not charge.has_split_charging(build({"electrics.split_charging": {"fitted": False}}))


@pytest.mark.parametrize(
    ("volts", "amperes"),
    # 10 A at 6 V are 66.67 W through a converter, 5.556 A at 12 V; at 24 V they are 22.2 A there, and 10 A behind it
    [("6 V", 10 * 6 / 0.9 / 12), ("12 V", 10.0), ("24 V", 10.0)],
)
def test_the_smaller_current_counts_on_either_side_of_a_converter(volts: str, amperes: float) -> None:
    made = build({"electrics.loads.fan.current": "10 A", "electrics.loads.fan.voltage": volts})
    assert hanging.current_of(made, made.electrics.loads["fan"]) == pytest.approx(amperes)


def test_a_consumer_counts_as_it_is_where_nobody_states_the_vehicles_voltage() -> None:
    made = build({"electrics.nominal_voltage": None, "electrics.loads.fan.current": "10 A"})
    assert hanging.current_of(made, made.electrics.loads["fan"]) == pytest.approx(10.0)


@pytest.mark.parametrize(
    ("current", "first", "last"),
    # the first of two cables is said to carry 7 A; the last one takes what is left
    [("10 A", 7.0, 3.0), ("7 A", 7.0, 0.0), ("5 A", 5.0, 0.0)],
)
def test_what_each_of_two_cables_takes_of_a_consumer(current: str, first: float, last: float) -> None:
    made = wires(("cab-fuses", "both"), ("battery-positive", "both"), current="7 A")
    made |= {"electrics.loads.fan.current": current, "electrics.loads.fan.fed_by": ["w0", "w1"]}
    drawn = build(made)
    taken = [hanging.hung(drawn, drawn.electrics.cables[name]) for name in ("w0", "w1")]
    assert taken == pytest.approx([first, last])


def test_batteries_of_two_voltages_are_no_bank() -> None:
    second = {"voltage": "6 V", "cca": "800 A", "cca_standard": "EN 50342-1", "capacity": "95 Ah"}
    with pytest.raises(OutsideRange, match="different nominal voltages"):
        q.in_series(build({"electrics.batteries.second": second}))


@pytest.mark.parametrize(
    ("role", "twins", "share", "sum_of_all"),
    # the fan's 10 A and a radio of 6 A, on one of so many cables between the same nodes
    [("other", 1, None, 16.0), ("other", 2, None, 8.0), ("other", 2, "50 %", 4.0), ("starter", 1, None, 16.0)],
)
def test_what_hangs_on_cables_side_by_side(role: str, twins: int, share: str | None, sum_of_all: float) -> None:
    feeds = wires(
        *[("cab-fuses", "both")] * twins, role=role, current="7 A", **({"branch_share": share} if share else {})
    )
    loads = {"fan": ("10 A", ["w0"]), "radio": ("6 A", ["w0"])}
    for name, (current, fed_by) in loads.items():
        feeds |= {f"electrics.loads.{name}.current": current, f"electrics.loads.{name}.fed_by": fed_by}
    found = next(f for f in trial("power.consumers-fed", feeds) if f.part == f"{C}.w0")
    assert found.message.startswith(f"Consumers and branches on it take {sum_of_all:g} A together; it is said to carry")


def test_what_hangs_on_a_heaters_cable_is_a_matter_of_the_heater() -> None:
    # the heater takes 80 A by the engine's sheet; a twentieth more is let pass
    for current, kind in (("84 A", "pass"), ("84.1 A", "fail")):
        edits = {"electrics.loads.radio.current": current, "electrics.loads.radio.fed_by": ["heater"]}
        found = next(f for f in trial("power.consumers-fed", edits) if f.part == f"{C}.heater")
        assert (found.kind, found.subject) == (kind, "engine.intake_heater.current")


def test_the_margin_of_an_alternator_that_gives_nothing_is_what_lacks_of_one_ampere() -> None:
    flat = [{"rotor_speed": "500 r/min", "current": "0 A"}, {"rotor_speed": "18000 r/min", "current": "0 A"}]
    own = {"charges": "auxiliary", "voltage": "12 V", "rated_current": "50 A", "pulley_ratio": 2.8, "output": flat}
    edits = {"electrics.batteries.second": {"use": "auxiliary", "voltage": "12 V"}, "electrics.alternators.own": own}
    edits |= {"electrics.split_charging": {"fitted": False}, "electrics.loads.fan.bank": "auxiliary"}
    # 30 % of 10 A
    assert one("power.auxiliary-balance", edits, demand="idle").margin == pytest.approx(-3.0)


# -- fuses, grounds and the main switch --------------------------------------------------------------------------------
THIN = "electrics.cables.fan.size = 0.5 mm2; electrics.cables.fan.place = cab; electrics.cables.fan.bundled_with = 0; "
THIN += "electrics.cables.fan.insulation_temp = 105 degC; electrics.cables.fan.fuse = "


@pytest.mark.parametrize(
    ("fuse", "kind", "says"),
    # no table knows 0.5 mm²; the next gauge, 18 AWG, carries 20 A at 105 °C (33 CFR 183.425)
    [("20 A", "review", ""), ("21 A", "fail", "the next copper gauge may carry 20 A where it lies, and this one less")],
)
def test_a_fuse_beyond_the_next_gauge_is_too_big_for_a_size_that_no_table_has(fuse: str, kind: str, says: str) -> None:
    found = told("power.fuse-cable-match cable @cables.fan", THIN + fuse)
    assert (found.kind, says in found.message) == (kind, True)


@pytest.mark.parametrize(
    ("fuse", "kind", "says"),
    # 270 A are 1.35 times 200 A
    [("200 A", "pass", False), ("199 A", "fail", True)],
)
def test_a_fuse_lasts_while_somebody_cranks(fuse: str, kind: str, says: bool) -> None:
    edits = f"engine.starter.cranking_current = 270 A; {C}.starter.fused = True; {C}.starter.fuse = {fuse}"
    found = told("power.fuse-cable-match cranking @cables.starter", edits)
    assert (found.kind, "blows" in found.message) == (kind, says)


@pytest.mark.parametrize(("fuse", "kind"), [("99 A", "fail"), ("100 A", "pass"), ("101 A", "fail")])
def test_the_heaters_fuse_is_the_one_that_its_maker_asks_for(fuse: str, kind: str) -> None:
    assert told("power.intake-heater fuse @cables.heater", f"{C}.heater.fuse = {fuse}").kind == kind


@pytest.mark.parametrize(
    ("distance", "demand", "kind"),
    # up to 450 mm a sleeve would do; beyond nothing does
    [("450 mm", "bare-distance", "review"), ("451 mm", "distance", "fail")],
)
def test_how_near_to_the_battery_an_unsleeved_fuse_is(distance: str, demand: str, kind: str) -> None:
    found = told("power.main-fuse @cables.cab", f"{C}.cab.fuse_distance = {distance}")
    assert (found.demand, found.kind) == (demand, kind)


def test_two_straps_whose_sizes_add_up_to_the_starter_cables_are_as_thick() -> None:
    edits = {f"{C}.{name}.size": "95 mm2" for name in ("battery", "starter")}
    edits |= {f"{G}.engine.size": "70 mm2", f"{G}.second": {"start": "engine", "end": "battery-negative"}}
    edits |= {f"{G}.second.size": "25 mm2", f"{G}.second.length": "0.9 m"}
    assert one("power.grounding", edits, demand="thickness").kind == "pass"
    assert one("power.grounding", {**edits, f"{G}.second.size": "16 mm2"}, demand="thickness").kind == "fail"


def test_the_engines_ground_is_compared_with_a_starter_cable_that_leads_there() -> None:
    found = one("power.grounding", {f"{C}.starter.end": "somewhere"}, demand="thickness")
    assert (found.kind, found.message) == ("pass", "The engine has its ground.")


@pytest.mark.parametrize(
    ("returns_by", "frame", "engine", "cut"),
    # the main switch stands in the ground of the frame, of the engine, or of none of the two
    [
        ("frame", "isolator", "battery-negative", True),
        ("engine", "isolator", "battery-negative", False),
        ("frame", "battery-negative", "isolator", False),
        ("engine", "battery-negative", "isolator", True),
        ("own-conductor", "isolator", "isolator", False),
    ],
)
def test_what_a_switch_in_one_ground_cuts_off(returns_by: str, frame: str, engine: str, cut: bool) -> None:
    grounds = {f"{G}.frame.start": frame, f"{G}.engine.end": engine}
    grounds[f"{G}.main"] = {"start": "isolator", "end": "battery-negative", "size": "50 mm2", "length": "0.3 m"}
    made = build({**grounds, f"{C}.ecm.returns_by": returns_by, f"{C}.ecm.return_length": "0.3 m"})
    assert installation._cut_off(made, made.electrics.cables["ecm"], "ecm-main") is cut


def test_a_cable_whose_return_has_a_size_of_its_own_is_sized_by_its_way_out() -> None:
    # 20 A lose 18 mΩ of 3 % of 12 V: 4 m back of 6 mm² take 4 * 3.30 and the lugs of both 4 * 0.03; 4.68 mΩ are left
    # for 4 m, 1.17 mΩ/m, which 16 mm² (1.21) miss and 25 mm² (0.780) meet
    cable = f"{C}.tail_lamps"
    edits = {f"{cable}.returns_by": "own-conductor", f"{cable}.return_length": "4 m", f"{cable}.return_size": "6 mm2"}
    found = of_part("power.circuit-drop", "tail_lamps", {**edits, f"{cable}.current": "20 A"}, demand="drop")
    assert (found.kind, advised(found)) == ("fail", {f"{cable}.size": pytest.approx(25e-6)})
