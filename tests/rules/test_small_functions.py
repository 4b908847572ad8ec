"""Small functions of the packs, asked directly: what they give where no rule's verdict tells it apart."""

from __future__ import annotations

import math
from typing import Any

import pytest
from swaplint_rules.mass import engine_place
from swaplint_rules.power import quantities as power
from swaplint_rules.power import units

from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base, value

SECOND = {"voltage": "12 V", "cca": "800 A", "cca_standard": "EN 50342-1", "capacity": "95 Ah"}
B = "electrics.batteries"


def build(edits: dict[str, Any] | None = None) -> Any:
    return View(sound_spec(rule_base(), edits or {}).build).build


@pytest.mark.parametrize(("more", "share"), [(0, 1.0), (1, 1 / 2), (2, 2 / 3), (3, 3 / 4)])
def test_a_link_carries_what_the_strings_beyond_it_give(more: int, share: float) -> None:
    assert power.link_share(build({f"{B}.more{n}": SECOND for n in range(more)})) == pytest.approx(share)


def test_the_hottest_battery_says_how_hot_the_engine_space_is() -> None:
    hot = {"place": "engine-space", "place_temperature": "75 degC"}
    edits = {f"{B}.second": SECOND | hot, f"{B}.third": SECOND | hot | {"place_temperature": "60 degC"}}
    made = build(edits | {f"{B}.main.place": "cab", "electrics.cables.fan.place_temperature": None})
    cable = made.electrics.cables["fan"]
    assert cable.place == "engine-space"
    assert power.air_around(made, cable) == pytest.approx(348.15)


def test_the_balance_in_standing_work_is_what_is_given_less_what_is_taken() -> None:
    standing = {"build.duty.stationary_power": "20 kW", "build.duty.stationary_speed": "1500 r/min"}
    given, taken = value("power.output-stationary", standing), value("power.demand-stationary", standing)
    assert value("power.balance-stationary", standing) == pytest.approx(given - taken)
    assert taken > 0.0


def test_which_control_units_the_vehicle_cannot_do_without() -> None:
    made = build({"driveline.gearbox.kind": "automatic", "driveline.gearbox.controller": {"fitted": True}})
    assert units.is_vital(made.engine.ecm)
    assert units.is_vital(made.driveline.gearbox.controller)
    for blocks in (True, False):
        body = build({"vehicle.modules.body.blocks_start": blocks}).vehicle.modules["body"]
        assert units.is_vital(body) is blocks


@pytest.mark.parametrize(
    ("edits", "section"),
    [({"vehicle.modules": None}, "vehicle"), ({"electrics.controllers": None}, "electrics")],
)
def test_who_does_not_say_whether_there_are_other_control_units(edits: dict[str, Any], section: str) -> None:
    made = build(edits)
    (silent,) = units.nobody_says(made)
    assert silent is getattr(made, section)
    with pytest.raises(Exception, match=f"{section}.(modules|controllers)"):
        units.ask_whether(made, silent)
    assert units.nobody_says(build()) == []


@pytest.mark.parametrize(
    ("faces", "place"),
    [
        # 100 mm behind the axle; the centre of gravity 300 mm behind the block's front face and 40 mm to its left
        ("front", 0.100 + 0.300),
        ("rear", 0.100 - 0.300),
        ("left", 0.100 + 0.040),
        ("right", 0.100 - 0.040),
    ],
)
def test_where_the_drawing_has_the_engines_centre_of_gravity(faces: str, place: float) -> None:
    edits = {
        "vehicle.engine_place.front_faces": faces,
        "vehicle.engine_place.x": "100 mm",
        "vehicle.engine_place.pitch": "0 deg",
        "engine.centre_of_gravity.x": "300 mm",
        "engine.centre_of_gravity.y": "40 mm",
    }
    assert engine_place._drawn(build(edits)) == pytest.approx(place)


def test_a_pitched_engine_stands_shorter_along_the_vehicle() -> None:
    edits = {"vehicle.engine_place.x": "0 mm", "vehicle.engine_place.pitch": "10 deg"}
    made = build(edits | {"engine.centre_of_gravity.x": "300 mm"})
    assert engine_place._drawn(made) == pytest.approx(0.3 * math.cos(math.radians(10)))


@pytest.mark.parametrize("missing", ["vehicle.engine_place.x", "engine.centre_of_gravity.x"])
def test_the_ledgers_place_of_the_engine_is_held_against_a_drawing_that_is_whole(missing: str) -> None:
    assert engine_place.drawn_and_listed(build())
    assert not engine_place.drawn_and_listed(build({missing: None}))
