"""Every row of what is cut, fused, poured and bolted for the sound spec, from the spec's own lines, by hand.

Cable, hose and pipe are cut 15 % longer than their run, fluids are bought 5 % more than a fill takes.
"""

from __future__ import annotations

import functools
from typing import Any

import pytest

from swaplint.host.packs import RuleBase
from swaplint.inspecting.inspection import inspect
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base
from swaplint.making.takeoff import Row, take_off


@functools.cache
def rows(name: str) -> dict[str, Row]:
    """The rows of a list, by what they are called."""
    base = rule_base()
    unjudged, _ = inspect(RuleBase([], [], base.model), sound_spec(base, {}))
    made = take_off(base, unjudged)
    assert made.problems == []
    return {str(row.cells["what"].value): row for row in made.rows[name]}


def cells(row: Row, *names: str) -> list[Any]:
    return [row.cells[name].value if name in row.cells else None for name in names]


BUS = "bus cable, unshielded"
CABLES = [  # what, ends, mm², m, lugs
    ("battery", "battery-positive to isolator", 50, 0.6, 2),
    ("starter", "isolator to starter", 50, 1.2, 2),
    ("alternator", "alternator to battery-positive", 25, 1.2, 2),
    ("heater", "battery-positive to intake-heater", 16, 1.2, 2),
    ("ecm", "battery-positive to ecm-main", 4, 2.0, 2),
    ("cab", "isolator to cab-fuses", 10, 2.5, 2),
    ("lamps", "cab-fuses to head-lamps", 4, 3.0, 2),
    ("tail_lamps", "battery-positive to tail-lamps", 4, 4.0, 2),
    ("heaters", "battery-positive to heaters", 6, 3.0, 2),
    ("key", "cab-fuses to key", 2.5, 1.0, 2),
    ("ecm_switched", "key-run to ecm-switched", 1, 2.4, 2),
    ("solenoid", "cab-fuses to solenoid", 4, 2.5, 2),
    ("diagnostic", "cab-fuses to diagnostic", 1, 1.0, 2),
    ("fan", "cab-fuses to fan", 6, 2.0, 2),
    ("ground, engine", "engine to battery-negative", 50, 0.9, 2),
    ("ground, frame", "battery-negative to frame", 35, 0.4, 2),
    ("ground, cab", "cab to frame", 16, 0.3, 2),
    ("ecm, return", "back from ecm-main", 4, 2.0, None),
    ("ecm_switched, return", "back from ecm-switched", 1, 2.4, None),
    ("bus trunk, front", "front-end to engine-tee", BUS, 0.3, None),
    ("bus trunk, middle", "engine-tee to cluster-tee", BUS, 3.0, None),
    ("bus trunk, cab", "cluster-tee to body-tee", BUS, 1.5, None),
    ("bus trunk, back", "body-tee to back-end", BUS, 0.3, None),
    ("bus stub, engine", "engine-tee to engine", BUS, 0.5, None),
    ("bus stub, cluster", "cluster-tee to cluster", BUS, 0.6, None),
    ("bus stub, body", "body-tee to body", BUS, 0.4, None),
]
FUSES = [  # what, A, m after the source, relay, closed by
    ("alternator", 125, 0.15, None, None),
    ("heater", 100, 0.15, 100, None),
    ("ecm", 20, 0.15, None, None),
    ("cab", 50, 0.15, None, None),
    ("lamps", 10, None, None, None),
    ("tail_lamps", 10, 0.15, None, None),
    ("heaters", 30, 0.15, None, None),
    ("key", 15, None, None, None),
    ("ecm_switched", 5, None, None, None),
    ("solenoid", 30, None, 40, ("key-start",)),
    ("diagnostic", 7.5, None, None, None),
    ("fan", 20, None, 40, ("ecm-fan",)),
]
LINES = [  # what, bore or outside diameter in mm, of what, m
    ("coolant, upper", 38, "coolant hose", 0.7),
    ("coolant, lower", 38, "coolant hose", 0.7),
    ("coolant, fill line", 22, "coolant hose", 0.8),
    ("fuel supply", 10, "steel", 3.8),
    ("fuel return", 8, "steel", 4.0),
    ("tank vent", 8, None, 1.2),
    ("air duct, inlet", 102, None, 0.5),
    ("air duct, filter_to_turbo", 89, None, 0.7),
    ("charge air, hot", 63, None, 0.9),
    ("charge air, cold", 63, None, 1.1),
    ("crankcase breather", 19, None, 0.6),
    ("exhaust, down", 88.9, None, 0.9),
    ("exhaust, tail", 88.9, None, 2.4),
    ("heater feed hose", 16, "SAE J20 R3", 1.4),
    ("heater return hose", 16, "SAE J20 R3", 1.6),
    ("brake vacuum hose", 10, "SAE J1403", 1.2),
    ("steering pressure hose", 10, "SAE J188", 1.1),
    ("steering return hose", 12, "SAE J189", 1.2),
]
FLUIDS = [  # what, of which kind, L
    ("coolant, mixed", "organic-acid, 50 % glycol", 16),
    ("of it glycol", "organic-acid", 8),
    ("brake fluid", "DOT 4", 0.9),
    ("clutch fluid", "DOT 4", 0.25),
    ("steering fluid", "ATF type A", 1.1),
    ("engine oil", "API CK-4 or API CJ-4", 7.5),
    ("gearbox oil", "API GL-4", 2.5),
    ("transfer case oil", "API GL-4 or API MT-1", 1.8),
    ("front axle oil", "API GL-5", 1.6),
    ("rear axle oil", "API GL-5", 2.2),
]
MOUNTED: tuple[Any, ...] = ("bolt", 4, "M10", "8.8", 0.016, 45, None)
BOLTED: list[tuple[Any, ...]] = [  # what, kind, pieces, size, strength, m of thread, N·m, m of circle
    ("adapter, engine side", "bolt", 12, "M10", "8.8", 0.018, 45, 0.381),
    ("adapter, gearbox side", "bolt", 10, "M10", "8.8", 0.018, 45, 0.33),
    ("adapter", "dowel", 2, 0.012, None, 0.01, None, None),
    *((f"mount {place}", *MOUNTED) for place in ("front_left", "front_right", "rear_left", "rear_right")),
]


@pytest.mark.parametrize(("what", "ends", "size", "run", "lugs"), CABLES)
def test_cables(what: str, ends: str, size: float | str, run: float, lugs: int | None) -> None:
    row = rows("cables")[what]
    of = {"size": size * 1e-6, "material": None} if isinstance(size, int | float) else {"size": None, "material": size}
    assert cells(row, "ends", "material", "lugs") == [ends, of["material"], lugs]
    assert cells(row, "size", "run", "to_cut") == [pytest.approx(of["size"]), run, pytest.approx(1.15 * run)]


@pytest.mark.parametrize(("what", "fuse", "after", "relay", "closed_by"), FUSES)
def test_fuses(what: str, fuse: float, after: float | None, relay: float | None, closed_by: Any) -> None:
    assert cells(rows("fuses")[what], "fuse", "after", "relay", "switched_by") == [fuse, after, relay, closed_by]


@pytest.mark.parametrize(("what", "across", "material", "run"), LINES)
def test_lines(what: str, across: float, material: str | None, run: float) -> None:
    row = rows("lines")[what]
    diameter = "outside" if what.startswith("exhaust") else "bore"
    assert cells(row, diameter, "material", "run", "to_cut", "wall") == [
        pytest.approx(across / 1000),
        material,
        run,
        pytest.approx(1.15 * run),
        0.002 if what.startswith("exhaust") else None,
    ]


@pytest.mark.parametrize(("what", "kind", "litres"), FLUIDS)
def test_fluids(what: str, kind: str, litres: float) -> None:
    found = cells(rows("fluids")[what], "kind", "fill", "to_buy")
    assert found == [kind, pytest.approx(litres / 1000), pytest.approx(1.05 * litres / 1000)]


@pytest.mark.parametrize("stated", BOLTED, ids=lambda stated: str(stated[0]))
def test_fasteners(stated: tuple[Any, ...]) -> None:
    what, *by_hand = stated
    found = cells(rows("fasteners")[what], "kind", "pieces", "size", "strength", "engaged", "torque", "circle")
    assert found == [one if one is None or isinstance(one, str) else pytest.approx(one) for one in by_hand]


def test_no_row_is_left_out() -> None:
    lists: list[tuple[str, list[Any]]] = [("cables", CABLES), ("fuses", FUSES), ("lines", LINES), ("fluids", FLUIDS)]
    for name, table in [*lists, ("fasteners", BOLTED)]:
        assert set(rows(name)) - {"refrigerant"} == {str(row[0]) for row in table}, name
    assert cells(rows("fluids")["refrigerant"], "kind", "fill", "to_buy") == ["R134a", 0.75, None]


def test_what_is_made() -> None:
    plate = ["plates", 1, 0.08, None, 0.006, 0.06, "S235", 0.004]
    names = ("shape", "pieces", "depth", "width", "wall", "length", "steel", "throat")
    assert {what: cells(row, *names) for what, row in rows("steel").items()} == {
        "bracket of mount front_left": plate,
        "bracket of mount front_right": plate,
        "cross-member rear": ["box", None, 0.06, 0.04, 0.004, 0.7, "S235", None],
    }
    flange = "Sound flange {} (invented)"
    of_shafts = ("length", "tube", "wall", "material", "ends")
    assert {what: cells(row, *of_shafts) for what, row in rows("shafts").items()} == {
        "front": [0.7, 0.0635, 0.0024, "steel", f"{flange.format(100)} / {flange.format(96)}"],
        "rear": [1.1, 0.0762, 0.0021, "steel", f"{flange.format(100)} / {flange.format(100)}"],
    }
    assert cells(rows("belts")["accessory"], "kind") == ["ribbed, 6 ribs"]
    assert cells(rows("holes")["bulkhead"], "hole", "grommet", "passes") == [0.064, "split", "ecm-bulkhead"]


def test_what_the_build_needs_and_nobody_supplies_is_to_buy() -> None:
    # a shroud is needed, reductant is not: no line names either any more
    base = rule_base()
    edits = {
        "supply[2].functions": ["radiator", "charge-air-cooler", "cooling-fan", "expansion-tank"],
        "supply[3].functions": ["exhaust-pipes", "exhaust-flex", "silencer", "heat-shields"],
    }
    unjudged, _ = inspect(RuleBase([], [], base.model), sound_spec(base, edits))
    found = [cells(row, "what", "by") for row in take_off(base, unjudged).rows["parts"]]
    assert [one for one in found if one[1] in (None, "nobody yet")] == [["the shroud around the fan", "nobody yet"]]
