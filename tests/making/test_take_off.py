"""The take-off: its numbers by hand, its marks, what is bought together, and what is not known."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.declare.listings import Sheet, listing, lists_on
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.inspecting.results import Inspection, Suppression
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base
from swaplint.making.takeoff import Doubt, Row, TakeOff, orders, take_off
from swaplint.solving.whole import inspect_whole
from swaplint.spec.loading import load_text


def taken_off(text: str) -> TakeOff:
    """The take-off of a spec of a few lines."""
    base = rule_base()
    inspection, _ = inspect_whole(base, load_text(text, model=base.model), remedies="none")
    made = take_off(base, inspection)
    assert made.problems == []
    return made


def rows(made: TakeOff, name: str) -> dict[str, Row]:
    """The rows of a list, by what they are called."""
    return {str(row.cells["what"].value): row for row in made.rows[name]}


CABLES = """
[build]
stage = "plan"
[electrics.cables.cab]
role = "cab-feed"
start = "battery-positive"
end = "cab-fuses"
size = "10 mm2"
length = "4.2 m"
fuse = "60 A"
fuse_distance = "150 mm"
returns_by = "frame"
[electrics.cables.pump]
role = "fuel-pump"
start = "cab-fuses"
end = "fuel-pump"
size = "2.5 mm2"
length = { value = "3 m", tol = "0.2 m", basis = "assumed" }
joints = 4
fuse = "15 A"
relay_rating = "20 A"
switched_by = ["ecm-relay"]
returns_by = "own-conductor"
return_length = "3.4 m"
[electrics.cables.lamps]
role = "lamps"
start = "cab-fuses"
end = "head-lamps"
size = "2.5 mm2"
[electrics.grounds.engine]
start = "engine"
end = "battery-negative"
size = "10 mm2"
length = "0.6 m"
"""


def test_cables_by_hand() -> None:
    made = taken_off(CABLES)
    cables = rows(made, "cables")
    # 4.2 m · 1.15, 3 m · 1.15, its return 3.4 m · 1.15, 0.6 m · 1.15
    by_hand = {"cab": 4.83, "pump": 3.45, "pump, return": 3.91, "ground, engine": 0.69}
    assert {name: cables[name].cells["to_cut"].value for name in by_hand} == pytest.approx(by_hand)
    assert [cables[name].cells["lugs"].value for name in ("cab", "pump", "lamps")] == [2.0, 4.0, 2.0]
    assert cables["pump"].cells["run"].source == "electrics.cables.pump.length"
    assert cables["pump"].cells["to_cut"].source == "power.cable-to-cut"
    assert cables["pump"].cells["to_cut"].unit == "m"


def test_cables_of_one_size_are_bought_together() -> None:
    bought = {order.cells[0][1].value: order for order in orders(taken_off(CABLES), "cables")}
    assert bought[10e-6].amount.value == pytest.approx(4.83 + 0.69)
    assert bought[2.5e-6].amount.value == pytest.approx(3.45 + 3.91)
    assert bought[2.5e-6].not_known == ("lamps",)
    assert bought[10e-6].parts == ("cab", "ground, engine")


def test_what_rests_on_an_assumption_is_marked() -> None:
    made = taken_off(CABLES)
    assumed = Doubt("assumed", "electrics.cables.pump.length")
    assert [row.part for row in made.rows["cables"] if assumed in row.doubts] == ["electrics.cables.pump"]


def test_what_nobody_states_is_named() -> None:
    made = taken_off(CABLES)
    lamps = rows(made, "cables")["lamps"]
    assert lamps.unknown == ("electrics.cables.lamps.length",)
    assert lamps.cells["to_cut"].value is None
    gaps = {path for gap in made.gaps["cables"] for path in gap.unknown}
    assert gaps == {"electrics.network", "electrics.cables.lamps.returns_by"}, "is there a bus, or a conductor back?"


def test_fuses() -> None:
    fuses = rows(taken_off(CABLES), "fuses")
    assert fuses["cab"].cells["fuse"].value == 60.0
    assert fuses["cab"].cells["after"].value == pytest.approx(0.15)
    assert fuses["pump"].cells["relay"].value == 20.0
    assert fuses["pump"].cells["switched_by"].value == ("ecm-relay",)
    assert fuses["lamps"].unknown == ("electrics.cables.lamps.fuse",), "not stating a fuse is not having none"


def test_a_cable_without_a_fuse_is_not_in_the_fuse_plan() -> None:
    made = taken_off(CABLES.replace('fuse = "60 A"', "fused = false"))
    assert "cab" not in rows(made, "fuses")


def test_a_link_between_batteries_and_a_cable_that_is_not_there_are_not_in_the_fuse_plan() -> None:
    link = '[electrics.cables.link]\nrole = "battery-link"\nstart = "a"\nend = "b"\nfuse = "100 A"\n'
    gone = "[electrics.cables.gone]\nfitted = false\n"
    assert set(rows(taken_off(CABLES + link + gone), "fuses")) == {"cab", "pump", "lamps"}
    # without a fuse, but with a relay, it is
    relayed = '[electrics.cables.horn]\nrole = "other"\nfused = false\nrelay_rating = "20 A"\n'
    horn = rows(taken_off(CABLES + relayed), "fuses")["horn"]
    assert horn.cells["relay"].value == 20.0
    assert "fuse" not in horn.cells or horn.cells["fuse"].value is None


def test_what_a_failing_rule_would_change_is_marked_with_it() -> None:
    base = rule_base()
    spec = sound_spec(base, {"plumbing.fuel.supply.bore": "5 mm"})
    inspection, _ = inspect_whole(base, spec, remedies="none")
    lines = rows(take_off(base, inspection), "lines")
    assert Doubt("fails", "fuel.suction-loss") in lines["fuel supply"].doubts
    assert lines["fuel return"].doubts == ()


def test_what_rests_on_an_estimate_is_marked() -> None:
    base = rule_base()
    mount = "vehicle.mounts.front_left"
    spec = sound_spec(base, {f"{mount}.axial_stiffness": None, f"{mount}.sink_load": "90 kg", f"{mount}.sink": "4 mm"})
    inspection, _ = inspect_whole(base, spec, remedies="none")
    hood = rows(take_off(base, inspection), "gaps")["hood"]
    assert hood.doubts[0] == Doubt("estimated", f"{mount}.axial_stiffness")


def test_a_fail_of_one_part_marks_that_part_alone() -> None:
    base = rule_base()
    spec = sound_spec(base, {"electrics.cables.lamps.length": "12 m"})
    inspection, _ = inspect_whole(base, spec, remedies="none")
    fails = Doubt("fails", "power.circuit-drop")
    marked = {row.part for row in take_off(base, inspection).rows["cables"] if fails in row.doubts}
    assert marked == {"electrics.cables.lamps"}
    for finding in inspection.findings:
        finding.suppression = Suppression("short trips only") if finding.kind == "fail" else None
    assert not any(row.doubts for row in take_off(base, inspection).rows["cables"]), "somebody signed for it"


LINES = """
[plumbing.exhaust.pipes.tail]
tube_outer = "63.5 mm"
tube_wall = "1.5 mm"
side_by_side = 2
length = "3 m"
[plumbing.cooling]
system_volume = "20 L"
coolant.glycol = "40 %"
coolant.chemistry = "organic-acid"
[engine.aftertreatment.devices]
[engine.oil.fill]
volume = "7.5 L"
standards = ["API CK-4", "API CJ-4"]
[driveline]
gearbox.fitted = false
transfer.fitted = false
[driveline.axles.rear.oil]
volume = "2.2 L"
standards = ["API GL-5"]
[vehicle]
brakes = { assist = "none", fluid = { volume = "0.9 L", standards = ["DOT 4"] } }
steering = { assist = "hydraulic", fluid = { volume = "1.2 L", standards = ["ATF type A"] } }
[plumbing.air_conditioning]
refrigerant = "R134a"
charge = "0.7 kg"
[plumbing.hoses]
heater_feed = { carries = "heater-feed", bore = "16 mm", length = "1.4 m", marked = "SAE J20 R3" }
steering_pressure = { carries = "steering-pressure", bore = "10 mm", length = "1.1 m", marked = "own", kept = true }
"""


def test_pipes_and_fluids_by_hand() -> None:
    made = taken_off(LINES)
    assert rows(made, "lines")["exhaust, tail"].cells["to_cut"].value == pytest.approx(2 * 3 * 1.15)
    hoses = {name: row for name, row in rows(made, "lines").items() if name.endswith(" hose")}
    # what is kept is not cut; what the steering returns by is needed, and nobody states it
    assert set(hoses) == {"heater feed hose", "steering return hose", "refrigerant suction hose"}, hoses
    assert hoses["heater feed hose"].cells["to_cut"].value == pytest.approx(1.4 * 1.15)
    assert hoses["steering return hose"].cells["run"].unknown == ("plumbing.hoses.steering-return.length",)
    fluids = rows(made, "fluids")
    to_buy = {name: row.cells["to_buy"].value for name, row in fluids.items() if "to_buy" in row.cells}
    assert to_buy == {
        "coolant, mixed": pytest.approx(0.020 * 1.05),
        "of it glycol": pytest.approx(0.4 * 0.020 * 1.05),
        "engine oil": pytest.approx(0.0075 * 1.05),
        "rear axle oil": pytest.approx(0.0022 * 1.05),
        "brake fluid": pytest.approx(0.0009 * 1.05),
        "steering fluid": pytest.approx(0.0012 * 1.05),
    }
    assert fluids["refrigerant"].cells["fill"].value == 0.7
    assert fluids["engine oil"].cells["kind"].value == "API CK-4 or API CJ-4"


@pytest.mark.parametrize(
    ("material", "says"), [("hose", "hose, SAE J30R9"), ("steel", "steel")], ids=["a hose", "a pipe"]
)
def test_a_fuel_hose_is_bought_by_its_class(material: str, says: str) -> None:
    made = taken_off(
        f"[plumbing.fuel.supply]\nmaterial = '{material}'\nhose_class = 'SAE J30R9'\nbore = '10 mm'\nlength = '3 m'\n"
    )
    assert rows(made, "lines")["fuel supply"].cells["material"].value == says


def test_an_engine_without_reductant_has_no_line_for_it() -> None:
    line = "[plumbing.reductant]\nline_length = '2 m'\n"
    devices = "[engine.aftertreatment.devices.{0}]\nkind = '{0}'\n"
    assert "reductant" in rows(taken_off(line + devices.format("selective-catalyst")), "lines")
    assert "reductant" not in rows(taken_off(line + devices.format("oxidation-catalyst")), "lines")


def test_a_line_without_a_length_is_to_be_measured() -> None:
    made = taken_off("[plumbing.charge_air.pipes.hot]\nbore = '63 mm'\n")
    assert rows(made, "lines")["charge air, hot"].cells["to_cut"].unknown == ("plumbing.charge_air.pipes.hot.length",)
    (order,) = [order for order in orders(made, "lines") if order.is_known and order.cells[0][1].value == 0.063]
    assert (order.amount.value, order.not_known) == (None, ("charge air, hot",))


def test_the_bus_is_cut_by_the_metre() -> None:
    made = taken_off(
        "[electrics.network]\ncable = 'shielded'\n[electrics.network.wires]\n"
        "front = { kind = 'trunk', start = 'a', end = 'b', length = '4 m' }\n"
        "cab = { kind = 'stub', start = 'b', end = 'c', length = '0.6 m' }\n"
    )
    (order,) = [order for order in orders(made, "cables") if order.parts[0].startswith("bus")]
    assert order.amount.value == pytest.approx(4.6 * 1.15)


@pytest.mark.parametrize(
    # a metric thread within 0.02 mm of whole millimetres; 3/8 in is 9.525 mm
    ("diameter", "size"),
    [
        ("10.019 mm", "M10"),
        ("9.981 mm", "M10"),
        ("10.021 mm", 10.021e-3),
        ("9.979 mm", 9.979e-3),
        ("0.375 in", 9.525e-3),
    ],
)
def test_a_bolt_is_named_by_its_thread(diameter: str, size: str | float) -> None:
    made = taken_off(f"[driveline.adapter]\nbolt_diameter = '{diameter}'\nengine_side.pattern = 'SAE 3'\n")
    cell = rows(made, "fasteners")["adapter, engine side"].cells["size"].value
    assert cell == (size if isinstance(size, str) else pytest.approx(size))


def test_an_adapter_by_the_name_of_its_pattern() -> None:
    made = taken_off(
        "[driveline.adapter]\nbolt_diameter = '10 mm'\nbolt_class = '8.8'\nbolt_engagement = '20 mm'\ndowels = 0\n"
        "engine_side.pattern = 'SAE 3'\ngearbox_side.holes = 8\ngearbox_side.bolt_circle = '300 mm'\n"
        "[driveline.adapter_pieces]\n"
    )
    bolts = rows(made, "fasteners")
    # SAE J617 number 3: twelve holes on a circle of 16 7/8 in
    assert bolts["adapter, engine side"].cells["pieces"].value == 12
    assert bolts["adapter, engine side"].cells["circle"].value == pytest.approx(16.875 * 0.0254)
    assert bolts["adapter, gearbox side"].cells["pieces"].value == 8
    (order,) = orders(made, "fasteners")
    assert order.amount.value == 20
    assert [cell.value for _, cell in order.cells] == ["bolt", "M10", "8.8"]


@pytest.mark.parametrize("stated", ["", "[electrics]\ncables = {}\n"])
def test_a_list_that_is_not_known_is_not_an_empty_one(stated: str) -> None:
    made = taken_off(stated)
    unknown = {path for gap in made.gaps["cables"] for path in gap.unknown}
    assert made.rows["cables"] == []
    assert "electrics.grounds" in unknown
    assert "electrics.cables" in unknown, "no build does without cables"


@pytest.mark.parametrize("sheet", ["take-off", "hand-over"])
def test_every_list_has_rows_on_the_sound_spec(sheet: Sheet) -> None:
    base = rule_base()
    made = take_off(base, Inspection(sound_spec(base), "commission"), sheet)
    assert [name for name in lists_on(sheet) if not made.rows[name]] == []
    assert [row.part for of_list in made.rows.values() for row in of_list if row.doubts or row.unknown] == []


def _with(function: Any) -> TakeOff:
    """A take-off by one listing of a stranger."""
    one = listing("acme.things", "belts")(function)
    base = RuleBase([LoadedPack("acme", "1", False, listings=[one])], [])
    return take_off(base, Inspection(load_text(""), "plan"))


def test_no_listing_goes_on_for_ever() -> None:
    one = listing("acme.things", "belts", each=lambda build: map(str, range(10**9)))(lambda build, part: None)
    made = take_off(RuleBase([LoadedPack("acme", "1", False, listings=[one])], []), Inspection(load_text(""), "plan"))
    (problem,) = made.problems
    assert "lists more than" in problem.what


@pytest.mark.parametrize(
    ("cells", "says"),
    [
        ({"what": lambda: "a belt", "length": lambda: 1.5}, "gave 1.5 in a cell"),
        ({"what": lambda: "a belt", "width": lambda: "9 mm"}, "no column of belts"),
        ({"kind": lambda: "V"}, "a row without 'what'"),
        ("a belt", "a str instead of cells"),
        ({"what": lambda: [].pop()}, "raised IndexError"),
    ],
)
def test_what_a_stranger_lists_wrongly_costs_only_that(cells: Any, says: str) -> None:
    made = _with(lambda build: cells)
    (problem,) = made.problems
    assert says in problem.what
    assert problem.what.endswith("what it lists is missing")


def test_what_a_row_rests_on_is_named_as_it_is_known_there() -> None:
    from swaplint.making.takeoff import Doubt
    from swaplint.reports.takeoff_words import doubts_words
    from swaplint.units.showing import showing_in

    part = "electrics.cables.feed"
    doubts = [
        Doubt("assumed", f"{part}.length"),
        Doubt("fallback", "a bend of 25 mm"),
        Doubt("assumed", "engine.speed.idle"),
    ]
    assert doubts_words(doubts, part) == "assumed: length and engine.speed.idle; fallback: a bend of 25 mm"
    # in words, the number of a fallback is told in the reader's units: 25 mm are 0.984 in
    with showing_in("inch-pound"):
        assert "mm" not in doubts_words(doubts, part)
