"""Small functions of the power pack, asked directly, and what a rule says at their edges. Each number by hand."""

from __future__ import annotations

from typing import Any

import pytest
from advising import advised
from asked import build, wires
from swaplint_rules.power import charging_quantities as charge
from swaplint_rules.power import hanging, installation, network
from swaplint_rules.power import quantities as q
from told import told

from swaplint.api import OutsideRange
from swaplint.kit.trial import of_part, one, trial, value

C, G = "electrics.cables", "electrics.grounds"
ONE_OF_24 = {"unit": {"output_voltage": "24 V", "power": "100 W"}}


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


@pytest.mark.parametrize(
    ("edits", "demand"),
    [
        ({}, False),
        ({"electrics.loads.radio.voltage": "24 V"}, False),
        ({"electrics.converters": ONE_OF_24}, False),
        ({"electrics.converters": ONE_OF_24, "electrics.loads.radio.voltage": "24 V"}, True),
    ],
)
def test_a_converter_is_judged_where_a_consumer_hangs_on_it(edits: dict[str, Any], demand: bool) -> None:
    assert ("converter-power" in {found.demand for found in trial("power.system-voltage", edits)}) is demand


def test_an_alternator_is_the_node_of_its_name() -> None:
    second = {"charges": "starting", "voltage": "12 V", "rated_current": "50 A", "pulley_ratio": 2.8}
    made = build({"electrics.alternators.second": second})
    assert network.node_of(made, made.engine.alternator) == "alternator"
    assert network.node_of(made, made.electrics.alternators["second"]) == "second"


def test_the_weakest_of_several_batteries_counts_for_all() -> None:
    weaker = {"voltage": "12 V", "cca": "600 A", "cca_standard": "EN 50342-1", "capacity": "95 Ah"}
    assert value("power.bank-rating", {"electrics.batteries.second": weaker}) == pytest.approx(1200.0)


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


@pytest.mark.parametrize(
    ("size", "more"),
    # the number of a gauge says its rating; what 4 mm² may carry lies, by area, between two gauges: 50.6 A over 45 A
    [("12 AWG", 1.0), ("12 SAE", 1.0), ("4 mm2", 50.6 / 45.0)],
)
def test_what_the_table_of_gauges_has_for_a_cable(size: str, more: float) -> None:
    made = build({f"{C}.lamps.size": size})
    lamps = made.electrics.cables["lamps"]
    rating = q.cable_rating(made, lamps)
    assert q.published_rating(made, lamps, rating) == pytest.approx(more * rating, rel=1e-3)


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


@pytest.mark.parametrize(
    ("returns", "metres"),
    # 4 m out; a return conductor of less than half of that is taken as as long as the way out
    [("own-conductor; 3 m", "7 m"), ("own-conductor; 1.9 m", "8 m"), ("frame; 0.3 m", "4.3 m")],
)
def test_how_much_cable_there_is_there_and_back(returns: str, metres: str) -> None:
    by, _, back = returns.partition("; ")
    edits = f"{C}.tail_lamps.returns_by = {by}; {C}.tail_lamps.return_length = {back}"
    assert f"over {metres} of cable" in told("power.circuit-drop drop @tail_lamps", edits).message


def test_a_heater_is_advised_the_size_that_bears_it_for_its_time() -> None:
    # 20 s: 1.3 times the rating. 105 A need 80.8 A, which 10 mm² (90 * 0.85 = 76.5 A) miss and 16 mm² (110.5 A) bear
    edits = f"engine.intake_heater.current = 105 A; {C}.heater.size = 6 mm2"
    assert advised(told("power.intake-heater rating @cables.heater", edits)) == {
        f"{C}.heater.size": pytest.approx(16e-6)
    }


def test_a_cable_as_strong_as_the_alternator_is_held_against_its_curve_too() -> None:
    # 25 mm² carry 170 * 0.85 = 144.5 A, and a curve up to 200 A is that of another alternator than one of 144.5 A
    edits: dict[str, Any] = {"engine.alternator.rated_current": "144.5 A"}
    edits["engine.alternator.output"] = [
        {"rotor_speed": "1500 r/min", "current": "0 A"}, {"rotor_speed": "6000 r/min", "current": "200 A"}
    ]  # fmt: skip
    assert of_part("power.alternator-cable", "cables.alternator", edits, demand="rating").kind == "review"


def test_a_battery_that_no_bolt_holds() -> None:
    found = of_part("power.battery-location", "main", {"electrics.batteries.main.hold_down_bolts": 0})
    assert found.message.startswith("0 bolts hold 0 kN; 2 times the weight of 23 kg is 0.4511 kN")


def test_twenty_kelvin_are_a_whole_margin_of_a_batterys_heat() -> None:
    # it gets up to 50 °C of 60
    found = of_part("power.battery-location", "main", demand="temperature")
    assert found.margin == pytest.approx(10 / 20)


def test_whether_the_cab_is_insulated_is_a_question_of_the_cabs_ground_alone() -> None:
    found = {f.demand: f.kind for f in trial("power.grounding", {"electrics.cab_insulated": None}, stage="build")}
    assert (found["ground.engine"], found["ground.frame"], found["ground.cab"]) == ("pass", "pass", "open")
    assert "ground.cab" not in {f.demand for f in trial("power.grounding", {"electrics.cab_insulated": False})}
